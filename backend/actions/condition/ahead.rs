//! What of a building will have to be replaced in the years ahead, and what that costs, each figure with the fixtures that make it.

use std::collections::HashMap;

use chrono::{Datelike, NaiveDate};

use super::ground::Ground;
use super::office::Figures;
use super::read_building;
use crate::clock::Now;
use crate::domain::condition::{Condition, condition};
use crate::domain::forecast::{Forecast, Standing, forecast};
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, FixtureId, Installed};
use crate::domain::trade::life::{BestAge, Item, best_age};
use crate::error::{Error, Result};
use crate::store::lists::rating;
use crate::store::{AnyConnection, buildings};

/// Days of a mean year.
const YEAR_DAYS: f64 = 365.2425;

/// A fixture or a part with what remains to it.
#[derive(Debug, Clone)]
pub struct Row {
    /// The fixture, of a part the one it belongs to.
    pub fixture: FixtureId,
    /// Label of the unit.
    pub unit: String,
    /// Label of the place.
    pub tag: String,
    /// What it is.
    pub item: Item,
    /// When it was installed.
    pub installed: Installed,
    /// Its age, years; of unknown installation what it is taken for.
    pub age_years: f64,
    /// The condition of its fixture.
    pub condition: Condition,
    /// The age that counts, years.
    pub effective_age_years: f64,
    /// How long it still lives on average, years.
    pub mean_residual_years: f64,
    /// How likely it fails before the next budget year ends, 0 to 1.
    pub before_budget_end: f64,
    /// A new one, minor units.
    pub cost_minor: i64,
}

/// What is expected of a building.
#[derive(Debug, Clone)]
pub struct Ahead {
    /// Which building.
    pub building: Building,
    /// The local date from which it looks.
    pub as_of: NaiveDate,
    /// The local date today.
    pub today: NaiveDate,
    /// What is expected.
    pub forecast: Forecast,
    /// Everything that has a life, the likeliest to fail first.
    pub rows: Vec<Row>,
    /// First and last day of the next budget year.
    pub budget_year: (NaiveDate, NaiveDate),
    /// The figures it was reckoned with.
    pub figures: Figures,
    /// What stands there, as it was given to the forecast.
    pub standing: Vec<Standing>,
}

impl Ahead {
    /// What is more likely than not to fail before the next budget year ends.
    pub fn due(&self) -> impl Iterator<Item = &Row> {
        self.rows.iter().take_while(|row| row.before_budget_end >= 0.5)
    }

    /// The best age for a planned replacement of each kind that stands there, where planning pays.
    #[must_use]
    pub fn best_ages(&self) -> Vec<(Item, BestAge)> {
        let kinds = self.forecast.lines.iter().filter_map(|line| {
            let life = self.figures.lives.of.get(&line.item)?;
            let planned = to_float(life.replacement_minor);
            let failure = planned + to_float(life.failure_extra_minor);
            let best = best_age(&life.lifetime().ok()?, failure, planned)?;
            Some((line.item, best))
        });
        kinds.collect()
    }
}

/// Money as a floating-point number, to be reckoned with.
fn to_float(minor: i64) -> f64 {
    minor as f64
}

/// Looks ahead from a day; today when no day is given.
///
/// # Errors
/// When there is no such building within `scope`, the day has no condition, or the years are out of range.
pub fn look(
    conn: &mut AnyConnection,
    scope: &Scope,
    now: Now,
    code: &str,
    as_of: Option<NaiveDate>,
    years: usize,
) -> Result<Ahead> {
    let ground = Ground::load(conn)?;
    let building = buildings::by_code(conn, scope, code)?;
    of_building(conn, &ground, now, building, as_of, years)
}

/// Looks ahead from a day in a building at hand; today when no day is given. Whoever calls has checked that the person may see it.
///
/// # Errors
/// When the day has no condition, or the years are out of range.
pub fn of_building(
    conn: &mut AnyConnection,
    ground: &Ground,
    now: Now,
    building: Building,
    as_of: Option<NaiveDate>,
    years: usize,
) -> Result<Ahead> {
    let standing = read_building(conn, Some(&ground.book), now, building, as_of)?;
    let day = standing.as_of;
    let figures = ground.figures.clone();
    let budget_year = figures.next_budget_year(day);
    let until_end = to_float((budget_year.1 - day).num_days() + 1) / YEAR_DAYS;
    let lines: HashMap<FixtureId, (&str, &str, Condition)> = standing
        .lines
        .iter()
        .map(|line| {
            let word = condition(&line.record).0;
            (line.fixture, (line.unit.as_str(), line.tag.as_str(), word))
        })
        .collect();
    let mut rows = Vec::new();
    let mut stands = Vec::new();
    for one in rating::aged(conn, standing.building.id, day)? {
        let (unit, tag, word) = lines
            .get(&one.fixture)
            .copied()
            .unwrap_or(("", "", Condition::Unknown));
        let Some(life) = figures.lives.of.get(&one.item) else {
            stands.push(Standing {
                item: one.item,
                age_years: 0.0,
            });
            continue;
        };
        let lifetime = life.lifetime().map_err(Error::internal)?;
        let age_years = one.installed.date().map_or_else(
            || taken_for(&standing.building, day, life.mean_years),
            |date| to_float((day - date).num_days().max(0)) / YEAR_DAYS,
        );
        let effective_age_years = figures.lives.effective_age(age_years, word);
        stands.push(Standing {
            item: one.item,
            age_years: effective_age_years,
        });
        rows.push(Row {
            fixture: one.fixture,
            unit: unit.to_owned(),
            tag: tag.to_owned(),
            item: one.item,
            installed: one.installed,
            age_years,
            condition: word,
            effective_age_years,
            mean_residual_years: lifetime.mean_residual(effective_age_years),
            before_budget_end: lifetime.fails_within(effective_age_years, until_end),
            cost_minor: life.replacement_minor,
        });
    }
    rows.sort_by(|one, other| other.before_budget_end.total_cmp(&one.before_budget_end));
    Ok(Ahead {
        as_of: day,
        today: standing.today,
        building: standing.building,
        forecast: forecast(&stands, &figures.lives, years).map_err(Error::refused)?,
        rows,
        budget_year,
        figures,
        standing: stands,
    })
}

/// The age of what nobody knows the installation of: as old as it usually gets, but no older than its building.
fn taken_for(building: &Building, day: NaiveDate, mean_years: f64) -> f64 {
    let of_building = building
        .facts
        .built_year
        .map(|year| to_float((i64::from(day.year()) - year).max(0)));
    of_building.map_or(mean_years, |age| age.min(mean_years))
}
