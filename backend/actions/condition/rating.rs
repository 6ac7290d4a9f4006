//! A building's figures on a day, each with the rows that make it: the score, the share of current checks, the facility condition index.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};

use super::ground::Ground;
use super::office::Figures;
use super::{Standing, read_building};
use crate::clock::Now;
use crate::domain::condition::index::Index;
use crate::domain::condition::score::{Area, Defect, Score, counted, method_on, score};
use crate::domain::condition::share::{self, Share};
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, Unit, UnitId, UnitKind};
use crate::domain::trade::life::Item;
use crate::error::{Error, Result};
use crate::exchange::catalogue::Years;
use crate::store::lists::rating::{self, Asked, OpenOn};
use crate::store::{AnyConnection, buildings, units};

/// A unit and how many of its scored checks were answered.
#[derive(Debug, Clone)]
pub struct Inspected {
    /// Which.
    pub unit: Unit,
    /// Scored checks that were asked.
    pub asked: usize,
    /// Of these, answered in the period.
    pub answered: usize,
}

impl Inspected {
    /// Whether it counts as inspected.
    #[must_use]
    pub const fn counts(&self) -> bool {
        self.asked > 0 && self.answered == self.asked
    }
}

/// How an open deficiency stands to the score.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Role {
    /// It is scored as this deficiency of the standard.
    Scored {
        /// What it is scored as.
        defect: Defect,
        /// The name of that deficiency.
        name: String,
    },
    /// It is not scored, because.
    Left(&'static str),
}

/// An open deficiency with what it takes away and what it costs.
#[derive(Debug, Clone)]
pub struct Row {
    /// The deficiency.
    pub open: OpenOn,
    /// Label of the unit.
    pub unit: String,
    /// How it stands to the score.
    pub role: Role,
    /// What it costs to put right, minor units.
    pub remedy_minor: i64,
    /// Where that comes from, in words.
    pub remedy_basis: &'static str,
}

/// What everything of a kind would cost anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Value {
    /// Which kind.
    pub item: Item,
    /// How many stand there.
    pub standing: i64,
    /// One costs, minor units.
    pub each_minor: i64,
}

/// A building's figures.
#[derive(Debug, Clone)]
pub struct Rating {
    /// Which building.
    pub building: Building,
    /// The local date they speak of.
    pub as_of: NaiveDate,
    /// The local date today.
    pub today: NaiveDate,
    /// The condition of each fixture.
    pub standing: Standing,
    /// Units, with whether they were inspected.
    pub units: Vec<Inspected>,
    /// Open deficiencies, gravest first.
    pub rows: Vec<Row>,
    /// The score; none when no unit counts as inspected.
    pub score: Option<Score>,
    /// Current checks by their title.
    pub shares: BTreeMap<String, Share>,
    /// What stands there and what it would cost anew.
    pub values: Vec<Value>,
    /// The facility condition index; none when nothing there has a price.
    pub index: Option<Index>,
    /// The figures they were reckoned with.
    pub figures: Figures,
}

impl Rating {
    /// All checks together.
    #[must_use]
    pub fn share(&self) -> Share {
        self.shares
            .values()
            .fold(Share::default(), |all, one| all.and(*one))
    }

    /// The deficiencies that are scored.
    pub fn defects(&self) -> impl Iterator<Item = &Defect> {
        self.rows.iter().filter_map(|row| match &row.role {
            Role::Scored { defect, .. } => Some(defect),
            Role::Left(_) => None,
        })
    }

    /// How many units count as inspected.
    #[must_use]
    pub fn units_inspected(&self) -> u32 {
        let count = self.units.iter().filter(|unit| unit.counts()).count();
        u32::try_from(count).unwrap_or(u32::MAX)
    }
}

/// The score of defects by the method that held on a day; none when no unit was inspected.
pub(super) fn scored(known: &Years, defects: &[Defect], units: u32, day: NaiveDate) -> Result<Option<Score>> {
    let method = method_on(&known.methods, day)
        .ok_or_else(|| Error::internal("the catalogue has no method of scoring"))?;
    Ok(score(method, defects, units).ok())
}

/// Reads a building's figures on a day; today when no day is given.
///
/// # Errors
/// When there is no such building within `scope`, or the day lies before it joined or after today.
pub fn rate(
    conn: &mut AnyConnection,
    scope: &Scope,
    now: Now,
    code: &str,
    as_of: Option<NaiveDate>,
) -> Result<Rating> {
    let ground = Ground::load(conn)?;
    let building = buildings::by_code(conn, scope, code)?;
    of_building(conn, &ground, now, building, as_of)
}

/// Reads the figures of a building at hand; today when no day is given. Whoever calls has checked that the person may see it.
///
/// # Errors
/// When the day lies before it joined or after today.
pub fn of_building(
    conn: &mut AnyConnection,
    ground: &Ground,
    now: Now,
    building: Building,
    as_of: Option<NaiveDate>,
) -> Result<Rating> {
    let standing = read_building(conn, Some(&ground.book), now, building, as_of)?;
    let (building, day) = (standing.building.clone(), standing.as_of);
    let past = (day != standing.today).then_some(&ground.book);
    let asked = rating::asked(conn, building.id, day, past)?;
    let (known, figures) = (ground.known, &ground.figures);
    let mut shares: BTreeMap<String, Share> = BTreeMap::new();
    for one in &asked {
        let title = ground
            .named
            .get(&one.check)
            .map_or("?", |(_, title)| title.as_str());
        shares
            .entry(title.to_owned())
            .or_default()
            .add(if one.last_day < day {
                share::Standing::Overdue
            } else {
                share::Standing::Current
            });
    }
    let is_scored = |one: &&Asked| {
        ground
            .named
            .get(&one.check)
            .is_some_and(|(code, _)| known.scored_on(code, day).is_some())
    };
    let scored_checks: Vec<&Asked> = asked.iter().filter(is_scored).collect();
    let units = inspected(conn, &building, day, known, &scored_checks)?;
    let rows = rows(conn, &building, day, known, figures, &units)?;
    let values = values(conn, &building, day, figures)?;
    let mut found = Rating {
        as_of: day,
        today: standing.today,
        index: Index::new(
            rows.iter().map(|row| row.remedy_minor).sum(),
            values.iter().map(|value| value.standing * value.each_minor).sum(),
        ),
        building,
        standing,
        units,
        rows,
        score: None,
        shares,
        values,
        figures: figures.clone(),
    };
    let defects: Vec<Defect> = found.defects().cloned().collect();
    found.score = scored(known, &defects, found.units_inspected(), day)?;
    Ok(found)
}

fn inspected(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    known: &Years,
    asked: &[&Asked],
) -> Result<Vec<Inspected>> {
    let within = Days::new(u64::from(known.inspected_within_days.0));
    let after = day.checked_sub_days(within).unwrap_or(NaiveDate::MIN);
    let answered = rating::answered(conn, building.id, after, day)?;
    let mut of_unit: BTreeMap<UnitId, (usize, usize)> = BTreeMap::new();
    for one in asked {
        let counts = of_unit.entry(one.unit).or_default();
        counts.0 += 1;
        counts.1 += usize::from(answered.contains(&(one.tag, one.part, one.check)));
    }
    let all = units::of_building(conn, building.id)?;
    Ok(all
        .into_iter()
        .filter(|unit| unit.facts.kind == UnitKind::Unit)
        .map(|unit| {
            let (asked, answered) = of_unit.get(&unit.id).copied().unwrap_or_default();
            Inspected {
                unit,
                asked,
                answered,
            }
        })
        .collect())
}

fn rows(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    known: &Years,
    figures: &Figures,
    inspected: &[Inspected],
) -> Result<Vec<Row>> {
    let labels: BTreeMap<UnitId, String> = units::of_building(conn, building.id)?
        .into_iter()
        .map(|unit| (unit.id, unit.facts.label))
        .collect();
    let rental: BTreeMap<UnitId, bool> = inspected
        .iter()
        .map(|unit| (unit.unit.id, unit.counts()))
        .collect();
    let usual = rating::usual_costs(conn, building.id, rating::end(building, day))?;
    let open = rating::open_on(conn, building, day)?;
    Ok(open
        .into_iter()
        .map(|open| {
            let of_check = open.check.as_ref().and_then(|check| usual.get(check));
            let by_severity = figures
                .lives
                .remedy
                .get(&open.severity)
                .map_or(0, |(cost, _)| *cost);
            let (remedy_minor, remedy_basis) = match (open.cost_minor, of_check) {
                (Some(own), _) => (own, "its own cost"),
                (None, Some(usual)) => (*usual, "the middle cost of earlier ones here"),
                (None, None) => (by_severity, "the usual cost of its severity"),
            };
            Row {
                role: role(building, day, known, &open, rental.get(&open.unit).copied()),
                unit: labels.get(&open.unit).cloned().unwrap_or_default(),
                remedy_minor,
                remedy_basis,
                open,
            }
        })
        .collect())
}

/// How a deficiency stands to the score; `inspected` is none for a common area.
fn role(building: &Building, day: NaiveDate, known: &Years, open: &OpenOn, inspected: Option<bool>) -> Role {
    let Some(check) = &open.check else {
        return Role::Left("reported, not found by a check");
    };
    if known.unscored.contains_key(check) {
        return Role::Left("alarms are never scored");
    }
    let Some(scored) = known.scored_on(check, day) else {
        return Role::Left("no deficiency of the standard");
    };
    let is_outside = open
        .place
        .as_ref()
        .is_some_and(|(_, kind)| known.outside.contains(kind));
    let (area, place) = match inspected {
        _ if is_outside => (Area::Outside, String::new()),
        None => (Area::Inside, building.facts.code.clone()),
        Some(true) => (Area::Unit, open.unit.to_string()),
        Some(false) => return Role::Left("its unit does not count as inspected"),
    };
    Role::Scored {
        defect: Defect::new(area, &place, &scored.deficiency, open.own_severity),
        name: scored.name.clone(),
    }
}

fn values(
    conn: &mut AnyConnection,
    building: &Building,
    day: NaiveDate,
    figures: &Figures,
) -> Result<Vec<Value>> {
    let mut standing: BTreeMap<Item, i64> = BTreeMap::new();
    for one in rating::aged(conn, building.id, day)? {
        // A part is renewed with its fixture, so only fixtures have a value of their own here.
        if matches!(one.item, Item::Fixture(_)) {
            *standing.entry(one.item).or_default() += 1;
        }
    }
    Ok(standing
        .into_iter()
        .filter_map(|(item, standing)| {
            let each_minor = figures.lives.of.get(&item)?.replacement_minor;
            Some(Value {
                item,
                standing,
                each_minor,
            })
        })
        .collect())
}

/// The rows, by position, that the score does not count again, so that a page can say so.
#[must_use]
pub fn repeated(rating: &Rating) -> BTreeSet<usize> {
    let counted = counted(rating.defects());
    let rows = rating.rows.iter().enumerate();
    rows.filter(|(_, row)| match &row.role {
        Role::Scored { defect, .. } => !counted.iter().any(|one| std::ptr::eq(*one, defect)),
        Role::Left(_) => false,
    })
    .map(|(at, _)| at)
    .collect()
}
