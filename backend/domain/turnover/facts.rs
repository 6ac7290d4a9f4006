//! What a checklist is made of, as values: the unit as it stands, the checks, what falls due, what is wrong, what was answered.
//! Decides nothing.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::Turnover;
use super::item::{Answer, ItemKey};
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, TagId};
use crate::domain::result::Deficiency;
use crate::domain::trade::check::BuildingFacts;
use crate::domain::trade::{Check, FixtureKind, PartKind};

/// A place of the unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Which.
    pub tag: TagId,
    /// Its label, such as `WC-1`.
    pub label: String,
    /// The name of its room; empty when none was named.
    pub room: String,
    /// What stands there now; none when nothing does.
    pub kind: Option<FixtureKind>,
}

/// A fixture in service.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Which.
    pub fixture: FixtureId,
    /// What it is.
    pub kind: FixtureKind,
    /// Its place.
    pub tag: TagId,
    /// Its parts in service.
    pub parts: Vec<PartKind>,
    /// First local day it counts.
    pub stood_from: NaiveDate,
}

/// A check with whether turnovers may ask for it.
#[derive(Debug, Clone)]
pub struct Offered {
    /// The procedure.
    pub check: Arc<Check>,
    /// False when it was withdrawn, or is off until chosen and nobody chose it. A deficiency of it is re-checked all the same.
    pub is_on: bool,
}

/// A due item of the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueBy {
    /// Of which fixture.
    pub fixture: FixtureId,
    /// Of which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// Local date.
    pub due: NaiveDate,
}

/// An item that the checklist is known to have had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KnownItem {
    /// Which.
    pub key: ItemKey,
    /// The local date it was added after the opening; none when it was there from the opening on.
    pub added_on: Option<NaiveDate>,
}

/// Somebody's word about a deficiency that no check can ask again: that it failed again, or why it could not be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Word {
    /// About which.
    pub deficiency: DeficiencyId,
    /// UTC.
    pub at: NaiveDateTime,
}

/// Everything a checklist is made of.
#[derive(Debug, Clone)]
pub struct Facts<'a> {
    /// The turnover.
    pub turnover: &'a Turnover,
    /// The unit's local date.
    pub today: NaiveDate,
    /// The building's zone.
    pub zone: Tz,
    /// What is known of the building, its age as on the day of the move-in.
    pub building: BuildingFacts,
    /// Every place of the unit in the order of the walk, places without a room last.
    pub places: &'a [Place],
    /// What is in service in the unit.
    pub standing: &'a [Standing],
    /// Every check there is, by key; keys grow in the order of the catalogue.
    pub checks: &'a BTreeMap<CheckId, Offered>,
    /// The due items of the unit that fall due by the day of the move-in.
    pub due: &'a [DueBy],
    /// The deficiencies of the unit that are not closed.
    pub deficiencies: &'a [Deficiency],
    /// The results of this turnover, in the order in which they were done.
    pub answers: &'a [Answer],
    /// The items it is known to have had; none when nobody kept them, and then none is late.
    pub known: Option<&'a [KnownItem]>,
    /// Words about deficiencies.
    pub words: &'a [Word],
    /// The checks that tell a distance and were answered of a fixture, this turnover left aside.
    pub measured: &'a HashMap<FixtureId, Vec<String>>,
}
