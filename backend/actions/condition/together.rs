//! The figures of a portfolio: its buildings reckoned one after the other, kept as sums, so that any number of them fits in memory.

use chrono::NaiveDate;

use super::ahead::{self, Ahead};
use super::ground::Ground;
use super::rating::{self, Rating, scored};
use crate::clock::Now;
use crate::domain::condition::index::{Bands, Index};
use crate::domain::condition::score::{Defect, Score};
use crate::domain::condition::share::Share;
use crate::domain::forecast::{Forecast, Standing, forecast};
use crate::domain::register::Building;
use crate::error::{Error, Result};
use crate::store::AnyConnection;

/// One building's figures, without the rows that make them.
#[derive(Debug, Clone)]
pub struct Line {
    /// Its code.
    pub code: String,
    /// Its name.
    pub name: String,
    /// The score; none when no unit counts as inspected.
    pub score: Option<Score>,
    /// Units that count as inspected.
    pub inspected: u32,
    /// Units in all.
    pub units: usize,
    /// Open deficiencies.
    pub open: usize,
    /// Current checks.
    pub share: Share,
    /// The facility condition index; none when nothing there has a price.
    pub index: Option<Index>,
}

/// A portfolio's figures on a day.
#[derive(Debug, Clone)]
pub struct Rated {
    /// A line a building that had joined by then.
    pub lines: Vec<Line>,
    /// The score of all; none when no unit counts as inspected.
    pub score: Option<Score>,
    /// Current checks of all.
    pub share: Share,
    /// The index of all; none when nothing has a price.
    pub index: Option<Index>,
    /// The bands of the index.
    pub bands: Bands,
}

/// Reckons buildings together on a day, today when none is given; each on its own local date. Whoever calls has checked that the
/// person may see them. Buildings that had not joined by then are left out.
///
/// # Errors
/// When the day lies too far ahead or the database does not answer.
pub fn rate(
    conn: &mut AnyConnection,
    now: Now,
    buildings: Vec<Building>,
    as_of: Option<NaiveDate>,
) -> Result<Rated> {
    let ground = Ground::load(conn)?;
    let mut lines = Vec::new();
    let mut defects: Vec<Defect> = Vec::new();
    let mut day = None;
    let (mut deferred_minor, mut replacement_minor) = (0, 0);
    for building in buildings.into_iter().filter(|one| joined(one, now, as_of)) {
        let found = rating::of_building(conn, &ground, now, building, as_of)?;
        defects.extend(found.defects().cloned());
        day = day.max(Some(found.as_of));
        // A building whose kinds have no price still has costs that are deferred.
        deferred_minor += found.rows.iter().map(|row| row.remedy_minor).sum::<i64>();
        replacement_minor += found.index.map_or(0, |index| index.replacement_minor);
        lines.push(line(&found));
    }
    let inspected = lines.iter().map(|line| line.inspected).sum();
    let score = match day {
        Some(day) => scored(ground.known, &defects, inspected, day)?,
        None => None,
    };
    Ok(Rated {
        score,
        share: lines
            .iter()
            .fold(Share::default(), |all, line| all.and(line.share)),
        index: Index::new(deferred_minor, replacement_minor),
        bands: ground.figures.bands,
        lines,
    })
}

fn joined(building: &Building, now: Now, as_of: Option<NaiveDate>) -> bool {
    let day = as_of.unwrap_or_else(|| now.date_in(building.facts.time_zone));
    building.facts.had_joined(day)
}

fn line(found: &Rating) -> Line {
    Line {
        code: found.building.facts.code.clone(),
        name: found.building.facts.name.clone(),
        score: found.score.clone(),
        inspected: found.units_inspected(),
        units: found.units.len(),
        open: found.rows.len(),
        share: found.share(),
        index: found.index,
    }
}

/// One building's part of what is expected.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its code.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Replacements expected in all years.
    pub replacements: f64,
    /// What they cost, minor units.
    pub cost_minor: i64,
    /// What is due in the next budget year, minor units.
    pub budget_minor: i64,
}

/// Looks ahead from today for buildings together. Whoever calls has checked that the person may see them. Buildings that have not
/// joined yet are left out.
///
/// # Errors
/// When the years are out of range or the database does not answer.
pub fn look_ahead(
    conn: &mut AnyConnection,
    now: Now,
    buildings: Vec<Building>,
    years: usize,
) -> Result<(Forecast, Vec<Part>)> {
    let ground = Ground::load(conn)?;
    let mut standing: Vec<Standing> = Vec::new();
    let mut parts = Vec::new();
    for building in buildings.into_iter().filter(|one| joined(one, now, None)) {
        let found = ahead::of_building(conn, &ground, now, building, None, years)?;
        parts.push(part(&found));
        standing.extend(found.standing);
    }
    let all = forecast(&standing, &ground.figures.lives, years).map_err(Error::refused)?;
    Ok((all, parts))
}

fn part(found: &Ahead) -> Part {
    let total = &found.forecast.total.expected;
    Part {
        code: found.building.facts.code.clone(),
        name: found.building.facts.name.clone(),
        replacements: total.replacements,
        cost_minor: total.cost_minor,
        budget_minor: found.due().map(|row| row.cost_minor).sum(),
    }
}
