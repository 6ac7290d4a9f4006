//! Units of a building, their households and rooms.

use std::collections::HashMap;

use super::pairs::{Fits, pairs};
use super::{Reading, Site, place};
use crate::domain::register::inventory::{HouseholdLine, RoomLine, UnitInventory};
use crate::domain::register::room::{MOST_ROOMS, read_name};
use crate::domain::register::typed::{Typed, a_year_ahead, iso_date};
use crate::domain::register::{HouseholdFacts, HouseholdText, Occupancy, UnitFacts, UnitKind, UnitText};
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::cells;
use crate::exchange::csv::fleet::columns::{HOUSEHOLD, UNIT_FACTS};
use crate::exchange::csv::fleet::record::{Overlay, Record};
use crate::exchange::csv::fleet::statement::{RoomSaid, UnitSaid};

pub(super) fn settle_all(
    said: &[UnitSaid],
    units: &mut Vec<UnitInventory>,
    site: &Site<'_>,
    reading: &mut Reading,
) {
    let known: HashMap<String, usize> = units
        .iter()
        .enumerate()
        .map(|(at, unit)| (unit.facts.label.clone(), at))
        .collect();
    let mut alike: HashMap<String, String> = units
        .iter()
        .map(|unit| (unit.facts.label.to_lowercase(), unit.facts.label.clone()))
        .collect();
    for unit in said {
        let at = known.get(&unit.label).copied();
        if at.is_none() {
            let other = alike.insert(unit.label.to_lowercase(), unit.label.clone());
            reading.problems.extend(other.map(|other| clash(unit, &other)));
        }
        let before = at.and_then(|at| units.get(at));
        let after = settle(unit, before, site, reading);
        match at.and_then(|at| units.get_mut(at)) {
            Some(place) => *place = after,
            None => units.push(after),
        }
    }
}

fn clash(unit: &UnitSaid, other: &str) -> Problem {
    Problem::new(
        &unit.place.file,
        unit.place.line,
        "unit",
        &unit.label,
        format!("“{}” and “{other}” differ in nothing but capitals.", unit.label),
        "Write both alike when they are one unit, or give one of them another label.",
    )
}

fn settle(
    said: &UnitSaid,
    known: Option<&UnitInventory>,
    site: &Site<'_>,
    reading: &mut Reading,
) -> UnitInventory {
    let empty = Record::new(said.place.clone());
    let record = said.record.as_ref().unwrap_or(&empty);
    if said.record.is_none() && known.is_none() {
        reading.problems.push(Problem::new(
            &said.place.file,
            said.place.line,
            "unit",
            &said.label,
            format!(
                "There is no unit {} in {}, neither in units.csv nor in the register.",
                said.label, site.code
            ),
            "Add a row for it to units.csv, or mend the label.",
        ));
    }
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay.over(&UNIT_FACTS, cells::unit(known));
    }
    let text = UnitText {
        label: said.label.clone(),
        kind: overlay.text("unit_kind"),
        floor: overlay.text("floor"),
        riser: overlay.text("riser"),
        occupancy: overlay.text("occupancy"),
    };
    let facts = UnitFacts::read(&text).unwrap_or_else(|errors| {
        let columns = [("label", "unit"), ("kind", "unit_kind")];
        reading.problems.extend(record.problems_of(&errors, &columns));
        known.map_or_else(|| placeholder(&said.label), |known| known.facts.clone())
    });
    in_turnover(record, &facts, known, reading);
    let mut typed = Typed::new();
    let spread_ppm = typed.whole("spread_ppm", "Spread", &overlay.text("spread_ppm"), 0..=999_999);
    report(typed, record, reading);
    let mut unit = UnitInventory {
        id: known.and_then(|unit| unit.id),
        turnover: known.and_then(|unit| unit.turnover),
        spread_ppm: spread_ppm.or(known.and_then(|unit| unit.spread_ppm)),
        facts,
        households: known.map(|unit| unit.households.clone()).unwrap_or_default(),
        rooms: known.map(|unit| unit.rooms.clone()).unwrap_or_default(),
        tags: known.map(|unit| unit.tags.clone()).unwrap_or_default(),
    };
    households(&said.households, &mut unit, site, reading);
    rooms(&said.rooms, &mut unit, reading);
    place::settle_all(&said.tags, &mut unit, site, reading);
    unit
}

/// An open turnover moves the occupancy by itself; without one the state is taken, but nothing will move it on.
fn in_turnover(record: &Record, facts: &UnitFacts, known: Option<&UnitInventory>, reading: &mut Reading) {
    let before = known.map(|unit| unit.facts.occupancy);
    if before == Some(facts.occupancy) {
        return;
    }
    if known.is_some_and(|unit| unit.turnover.is_some()) {
        reading.problems.push(record.problem(
            "occupancy",
            format!(
                "A turnover of unit {} is open and moves its occupancy by itself.",
                facts.label
            ),
            "Leave the cell blank, or close or cancel the turnover first.",
        ));
    } else if facts.occupancy == Occupancy::Turnover {
        reading.notes.push(record.problem(
            "occupancy",
            format!(
                "Unit {} is said to be in turnover, but no turnover of it is open.",
                facts.label
            ),
            "Open one on the unit's page after the import, or write vacant.",
        ));
    }
}

fn placeholder(label: &str) -> UnitFacts {
    UnitFacts {
        label: label.to_owned(),
        kind: UnitKind::Unit,
        floor: 1,
        riser: None,
        occupancy: Occupancy::Occupied,
    }
}

/// Tells what `typed` found of a record whose columns are named as its fields.
pub(super) fn report(typed: Typed, record: &Record, reading: &mut Reading) {
    if let Err(errors) = typed.finish(()) {
        reading.problems.extend(record.problems_of(&errors, &[]));
    }
}

fn households(said: &[Record], unit: &mut UnitInventory, site: &Site<'_>, reading: &mut Reading) {
    let by_name: Fits<Record, HouseholdLine> = |record, line| {
        record.text("household") == line.facts.name
            && iso_date(record.text("moved_in_on")) == Some(line.facts.moved_in_on)
    };
    let by_day: Fits<Record, HouseholdLine> =
        |record, line| iso_date(record.text("moved_in_on")) == Some(line.facts.moved_in_on);
    let pairs = pairs(said, &unit.households, &[by_name, by_day]);
    let mut placed = Vec::new();
    for (record, pair) in said.iter().zip(pairs) {
        let known = pair.and_then(|at| unit.households.get(at));
        let Some(line) = household(record, known, site, reading) else {
            continue;
        };
        let lives_there = line.moved_out_on.is_none_or(|out| site.today < out);
        if unit.facts.kind == UnitKind::CommonArea && lives_there {
            reading.problems.push(record.problem(
                "household",
                format!("{} is a common area, where nobody lives.", unit.facts.label),
                "Take the household out, give the day it moved out, or make the unit_kind unit.",
            ));
        }
        let at = match pair {
            Some(at) => {
                if let Some(place) = unit.households.get_mut(at) {
                    *place = line;
                }
                at
            }
            None => {
                unit.households.push(line);
                unit.households.len() - 1
            }
        };
        placed.push((record, at));
    }
    one_at_a_time(&placed, unit, reading);
}

/// One household at a time, as by page and command line: of two stays that overlap the later one's row is named.
fn one_at_a_time(placed: &[(&Record, usize)], unit: &UnitInventory, reading: &mut Reading) {
    for (record, at) in placed {
        let Some(stay) = unit.households.get(*at) else {
            continue;
        };
        let earlier = unit.households.iter().enumerate().find(|(other_at, other)| {
            let comes_before = (other.facts.moved_in_on, *other_at) < (stay.facts.moved_in_on, *at);
            comes_before && other.moved_out_on.is_none_or(|out| out > stay.facts.moved_in_on)
        });
        if let Some((_, other)) = earlier {
            let until = other.moved_out_on.map_or_else(
                || "no move-out of theirs is noted".to_owned(),
                |out| format!("they move out on {out}"),
            );
            reading.problems.push(record.problem(
                "moved_in_on",
                format!(
                    "{} moves in on {}, but {} lives there since {}, and {until}.",
                    stay.facts.name, stay.facts.moved_in_on, other.facts.name, other.facts.moved_in_on
                ),
                "Give the household before a move-out on or before that day, or mend the day.",
            ));
        }
    }
}

fn household(
    record: &Record,
    known: Option<&HouseholdLine>,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Option<HouseholdLine> {
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay.over(&HOUSEHOLD, cells::household(known));
    }
    let text = HouseholdText {
        name: overlay.text("household"),
        language: overlay.text("language"),
        contact: overlay.text("contact"),
        agreed_hours: overlay.text("agreed_hours"),
        no_entry_days: overlay.text("no_entry_days"),
        moved_in_on: overlay.text("moved_in_on"),
    };
    let mut typed = Typed::new();
    if text.moved_in_on.trim().is_empty() {
        typed.refuse(
            "moved_in_on",
            "The day of moving in is missing. Give it, such as 2024-06-01.",
        );
    }
    let latest = a_year_ahead(site.today);
    let out = overlay.text("moved_out_on");
    let moved_out_on = typed.date(
        "moved_out_on",
        "Move-out",
        &out,
        latest,
        "that is more than a year ahead",
    );
    if let (Some(out), Some(moved_in)) = (moved_out_on, iso_date(text.moved_in_on.trim()))
        && out < moved_in
    {
        typed.refuse(
            "moved_out_on",
            format!("Move-out {out} lies before move-in {moved_in}. Mend one of them."),
        );
    }
    report(typed, record, reading);
    match HouseholdFacts::read(&text, site.today) {
        Ok(facts) => Some(HouseholdLine {
            id: known.and_then(|line| line.id),
            moved_out_on,
            facts,
        }),
        Err(errors) => {
            reading
                .problems
                .extend(record.problems_of(&errors, &[("name", "household")]));
            None
        }
    }
}

fn rooms(said: &[RoomSaid], unit: &mut UnitInventory, reading: &mut Reading) {
    for room in said {
        let record = &room.record;
        let name = read_name(&room.name).unwrap_or_else(|errors| {
            reading.problems.extend(record.problems_of(&errors, &[]));
            room.name.clone()
        });
        let mut typed = Typed::new();
        let order = typed.whole(
            "room_order",
            "Place in the walk",
            record.text("room_order"),
            1..=999,
        );
        report(typed, record, reading);
        let last = unit.rooms.iter().map(|known| known.walk_order).max().unwrap_or(0);
        match room_named(&unit.rooms, &name).and_then(|at| unit.rooms.get_mut(at)) {
            Some(known) => known.walk_order = order.unwrap_or(known.walk_order),
            None => unit.rooms.push(RoomLine {
                id: None,
                name,
                walk_order: order.unwrap_or(last + 1),
            }),
        }
    }
    if unit.rooms.len() > MOST_ROOMS
        && let Some(last) = said.last()
    {
        reading.problems.push(last.record.problem(
            "room",
            format!(
                "Unit {} would have {} rooms; at most {MOST_ROOMS} fit.",
                unit.facts.label,
                unit.rooms.len()
            ),
            "Name rooms alike that are the same room.",
        ));
    }
}

/// The room of this name: exactly, or but for capitals.
pub(super) fn room_named(rooms: &[RoomLine], name: &str) -> Option<usize> {
    let lower = name.to_lowercase();
    rooms
        .iter()
        .position(|room| room.name == name)
        .or_else(|| rooms.iter().position(|room| room.name.to_lowercase() == lower))
}
