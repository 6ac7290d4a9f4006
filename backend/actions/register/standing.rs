//! From which day on a fixture or part counts, and how one ends: the rules that adding, moving, retiring and replacing share.

use chrono::NaiveDate;

use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::typed::Typed;
use crate::domain::register::{Building, Fixture, Installed, Part, PartFacts, Service};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::fixtures::Placed;
use crate::store::{Tx, fixtures, parts};

use super::snapshot;

/// Which parts a fixture begins with.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum StartingParts {
    /// The standard parts of its kind.
    #[default]
    Standard,
    /// None; they are added one by one.
    None,
}

/// The first day that something counts in the register: when the building joined, or it was installed, or what stood there before
/// left, whichever is last.
#[must_use]
pub fn counts_from(building: &Building, installed: Installed, free_since: Option<NaiveDate>) -> NaiveDate {
    let joined = building.facts.joined_on;
    [installed.date(), free_since]
        .into_iter()
        .flatten()
        .fold(joined, NaiveDate::max)
}

/// How sure the age of a fixture's first parts is: of one installed while in the register they are as old as it, of an older one
/// that is an estimate.
#[must_use]
pub fn first_parts_installed(building: &Building, fixture: Installed) -> Installed {
    match fixture {
        Installed::On(date) if date < building.facts.joined_on => Installed::About(date),
        same => same,
    }
}

/// The day a change takes place (field `on`): today when empty, never before the thing stood there, never in the future.
///
/// # Errors
/// A sentence when it can't be used.
pub fn day_of_change(given: &str, stood_from: NaiveDate, today: NaiveDate) -> Result<NaiveDate> {
    let mut typed = Typed::new();
    let day = typed
        .date("on", "Day", given, today, "that is in the future")
        .unwrap_or(today);
    if day < stood_from {
        typed.refuse(
            "on",
            format!(
                "Day {day} lies before {stood_from}, when it came into the register. Give a day from then on."
            ),
        );
    }
    typed.finish(day).map_err(Error::Fields)
}

/// Refuses what is no longer in service.
///
/// # Errors
/// When it is retired or was replaced.
pub fn in_service(placed: &Placed) -> Result<()> {
    if placed.fixture.is_in_service() {
        return Ok(());
    }
    Err(Error::Conflict(format!(
        "This {} no longer stands at {}: it is {}. Go to what stands there now, or add a fixture at {}.",
        placed.fixture.facts.kind.name().to_lowercase(),
        placed.tag.label,
        placed.fixture.status.name().to_lowercase(),
        placed.tag.label
    )))
}

/// Ends a fixture and its parts on `on`, with `note` added to its own.
pub(super) fn end_fixture(
    tx: &mut Tx<'_>,
    fixture: &Fixture,
    status: Service,
    on: NaiveDate,
    note: &str,
) -> Result<Fixture> {
    let mut ended = fixture.clone();
    ended.status = status;
    ended.stood_until = Some(on);
    if !note.is_empty() {
        ended.facts.note = [fixture.facts.note.as_str(), note]
            .into_iter()
            .filter(|line| !line.is_empty())
            .collect::<Vec<_>>()
            .join("\n");
    }
    fixtures::update(tx, &ended)?;
    for part in parts::of_fixture(tx, fixture.id)? {
        if part.status == Service::InService {
            end_part(tx, part, status, on)?;
        }
    }
    Ok(ended)
}

/// Ends a part on `on`; one that came later than that day ends on the day it came.
pub(super) fn end_part(tx: &mut Tx<'_>, part: Part, status: Service, on: NaiveDate) -> Result<Part> {
    let ended = Part {
        status,
        stood_until: Some(on.max(part.stood_from)),
        ..part
    };
    parts::update(tx, &ended)?;
    Ok(ended)
}

/// Adds parts of these kinds, each from the day the fixture counts.
pub(super) fn add_parts(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    fixture: &Fixture,
    kinds: &[PartKind],
    installed: Installed,
) -> Result<()> {
    for &kind in kinds {
        let facts = PartFacts { kind, installed };
        add_part(tx, actor, now, fixture, facts, fixture.stood_from)?;
    }
    Ok(())
}

/// Adds one part and notes it.
pub(super) fn add_part(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    fixture: &Fixture,
    facts: PartFacts,
    stood_from: NaiveDate,
) -> Result<Part> {
    let id = parts::insert(tx, fixture.id, facts, stood_from)?;
    let part = Part {
        id,
        fixture: fixture.id,
        status: Service::InService,
        stood_from,
        stood_until: None,
        facts,
    };
    let subject = Subject {
        kind: "part",
        id: id.0,
    };
    audit::note(tx, actor, now, "add_part", subject, &(), &snapshot::part(&part))?;
    Ok(part)
}
