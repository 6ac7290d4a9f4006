//! What a fleet becomes when a file is laid over it: a statement and what is known of a building give the building as it should be.
//!
//! Everything known stays unless the file says otherwise; what the file leaves out is never taken away. Each value goes through the
//! same readers as a form does. Every fault is found in one pass: a unit that can't be read does not hide the next one.

mod building;
mod fixture;
mod pairs;
mod parts;
mod place;
mod prior;
mod unit;

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use chrono_tz::Tz;

use super::record::{Place, Record};
use super::statement::Statement;
use crate::clock::Now;
use crate::domain::register::inventory::Inventory;
use crate::domain::trade::{FixtureKind, PartKind};
use crate::exchange::csv::Problem;

/// What a check is asked of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct AskedOf {
    /// Kinds of fixture.
    pub kinds: Vec<FixtureKind>,
    /// Kinds of part; empty when it is asked of the fixture.
    pub parts: Vec<PartKind>,
}

/// What a file may refer to.
#[derive(Debug, Clone)]
pub struct Context {
    /// When the file is read.
    pub now: Now,
    /// Checks by code.
    pub checks: BTreeMap<String, AskedOf>,
    /// Mail addresses of the technicians, lower case.
    pub technicians: BTreeSet<String>,
}

/// What is found while a file is read, building by building.
#[derive(Debug, Default)]
pub struct Reading {
    /// What must be mended before anything is taken.
    pub problems: Vec<Problem>,
    /// What is taken, but may not be meant.
    pub notes: Vec<Problem>,
    /// The portfolios that were named.
    pub portfolios: Portfolios,
}

/// The portfolios that a file names, by code.
#[derive(Debug, Default)]
pub struct Portfolios {
    named: BTreeMap<String, Option<(String, Place)>>,
}

impl Portfolios {
    /// Says that there is this portfolio, perhaps with its name; a second, different name is a problem.
    pub fn say(&mut self, code: &str, name: Option<String>, record: &Record) -> Option<Problem> {
        let known = self.named.entry(code.to_owned()).or_default();
        match (known.as_ref(), name) {
            (_, None) => None,
            (None, Some(name)) => {
                *known = Some((name, record.place.clone()));
                None
            }
            (Some((before, _)), Some(name)) if *before == name => None,
            (Some((before, place)), Some(_)) => Some(record.problem(
                "portfolio_name",
                format!(
                    "Portfolio {code} is called “{before}” in {}, line {}.",
                    place.file, place.line
                ),
                "Give each portfolio one name.",
            )),
        }
    }

    /// Code and name of each; none when no name was given.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Option<&str>)> {
        self.named
            .iter()
            .map(|(code, named)| (code.as_str(), named.as_ref().map(|(name, _)| name.as_str())))
    }
}

/// The building that a statement speaks of, while it is settled.
struct Site<'c> {
    context: &'c Context,
    code: String,
    joined_on: NaiveDate,
    /// The building's local date.
    today: NaiveDate,
}

/// Lays a statement over what is known of the building: the building as it should be, nothing when it can't be read. With problems
/// in `reading` the answer is not to be used.
#[must_use]
pub fn settle(
    statement: &Statement,
    known: Option<&Inventory>,
    context: &Context,
    reading: &mut Reading,
) -> Option<Inventory> {
    let wanted = building::settle(statement, known, context, reading);
    let facts = wanted.as_ref().map(|inventory| &inventory.facts);
    let today = context
        .now
        .date_in(facts.map_or(Tz::UTC, |facts| facts.time_zone));
    let site = Site {
        context,
        code: statement.code.clone(),
        joined_on: facts.map_or(today, |facts| facts.joined_on),
        today,
    };
    let mut units = known.map(|inventory| inventory.units.clone()).unwrap_or_default();
    unit::settle_all(&statement.units, &mut units, &site, reading);
    let mut wanted = Inventory { units, ..wanted? };
    wanted.sort();
    Some(wanted)
}
