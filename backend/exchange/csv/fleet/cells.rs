//! Entities as cells, in the order of their columns: what is written, what a blank leaves as it is, and what a change is told by.

use std::borrow::Cow;

use crate::domain::code::Coded;
use crate::domain::register::Installed;
use crate::domain::register::inventory::{
    FixtureLine, HouseholdLine, Inventory, PartLine, Stood, UnitInventory,
};
use crate::exchange::csv::Cell;

/// The cell that says that a fixture has no parts.
pub const NO_PARTS: &str = "none";

/// Cells of a building, after its code.
#[must_use]
pub fn building(inventory: &Inventory) -> [Cell<'_>; 10] {
    let facts = &inventory.facts;
    [
        Cell::text(&facts.name),
        Cell::text(&facts.address),
        Cell::Code(facts.time_zone.name()),
        Cell::text(facts.code_profile.as_str()),
        Cell::Code(facts.length_unit.code()),
        Cell::Whole(facts.notice_hours),
        Cell::Date(facts.joined_on),
        Cell::whole(facts.built_year),
        Cell::Code(facts.base_joint.code()),
        Cell::text(inventory.technician.as_deref().unwrap_or_default()),
    ]
}

/// Cells of a unit, after its label.
#[must_use]
pub fn unit(unit: &UnitInventory) -> [Cell<'_>; 5] {
    [
        Cell::Code(unit.facts.kind.code()),
        Cell::Whole(unit.facts.floor),
        Cell::whole(unit.facts.riser),
        Cell::Code(unit.facts.occupancy.code()),
        Cell::whole(unit.spread_ppm),
    ]
}

/// Cells of a household, after its unit.
#[must_use]
pub fn household(line: &HouseholdLine) -> [Cell<'_>; 7] {
    let facts = &line.facts;
    [
        Cell::text(&facts.name),
        Cell::text(&facts.language),
        Cell::text(&facts.contact),
        Cell::text(&facts.agreed_hours),
        Cell::text(&facts.no_entry_days),
        Cell::Date(facts.moved_in_on),
        Cell::date(line.moved_out_on),
    ]
}

/// Cells of a fixture, after its place.
#[must_use]
pub fn fixture(line: &FixtureLine) -> [Cell<'_>; 8] {
    let facts = &line.facts;
    let [on, estimated] = installed(facts.installed);
    let [status, from, until] = stood(line.stood);
    [
        Cell::Code(facts.kind.code()),
        Cell::text(&facts.maker),
        Cell::text(&facts.model),
        on,
        estimated,
        status,
        from,
        until,
    ]
}

/// Cells of a part, after the number of its fixture.
#[must_use]
pub fn part(line: PartLine) -> [Cell<'static>; 6] {
    let [on, estimated] = installed(line.facts.installed);
    let [status, from, until] = stood(line.stood);
    [
        Cell::Code(line.facts.kind.code()),
        on,
        estimated,
        status,
        from,
        until,
    ]
}

/// Whether a part was there to the end of its fixture, or is there now.
#[must_use]
pub fn is_there_with(part: &PartLine, fixture: &FixtureLine) -> bool {
    part.stood.is_in_service() || (!fixture.stood.is_in_service() && part.stood.until == fixture.stood.until)
}

/// The parts that are there, or were there to the end, in one cell.
#[must_use]
pub fn parts(fixture: &FixtureLine) -> Cell<'static> {
    let there: Vec<String> = fixture
        .parts
        .iter()
        .filter(|part| is_there_with(part, fixture))
        .map(|part| {
            let kind = part.facts.kind.code();
            match part.facts.installed {
                Installed::Unknown => kind.to_owned(),
                Installed::On(date) => format!("{kind}={date}"),
                Installed::About(date) => format!("{kind}={date}~"),
            }
        })
        .collect();
    if there.is_empty() {
        Cell::Code(NO_PARTS)
    } else {
        Cell::Text(Cow::Owned(there.join(";")))
    }
}

fn installed(installed: Installed) -> [Cell<'static>; 2] {
    let estimated = match installed {
        Installed::Unknown => Cell::Blank,
        Installed::On(_) => Cell::Code("no"),
        Installed::About(_) => Cell::Code("yes"),
    };
    [Cell::date(installed.date()), estimated]
}

fn stood(stood: Stood) -> [Cell<'static>; 3] {
    [
        Cell::Code(stood.status.code()),
        Cell::Date(stood.from),
        Cell::date(stood.until),
    ]
}
