//! Places of a unit and the fixtures that stood there one after the other.

use std::collections::HashMap;

use super::pairs::pairs;
use super::unit::room_named;
use super::{Reading, Site, fixture, prior};
use crate::domain::register::Service;
use crate::domain::register::inventory::{FixtureLine, TagInventory, UnitInventory};
use crate::domain::register::tag::read_label;
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::record::{Record, Said};
use crate::exchange::csv::fleet::statement::{FixtureSaid, TagSaid};

pub(super) fn settle_all(said: &[TagSaid], unit: &mut UnitInventory, site: &Site<'_>, reading: &mut Reading) {
    let known: HashMap<String, usize> = unit
        .tags
        .iter()
        .enumerate()
        .map(|(at, tag)| (tag.label.clone(), at))
        .collect();
    for tag in said {
        let at = known.get(&tag.label).copied();
        let before = at.and_then(|at| unit.tags.get(at));
        let after = settle(tag, before, unit, site, reading);
        match at.and_then(|at| unit.tags.get_mut(at)) {
            Some(place) => *place = after,
            None => unit.tags.push(after),
        }
    }
}

fn settle(
    said: &TagSaid,
    known: Option<&TagInventory>,
    unit: &UnitInventory,
    site: &Site<'_>,
    reading: &mut Reading,
) -> TagInventory {
    let empty = Record::new(said.place.clone());
    let record = said.record.as_ref().unwrap_or(&empty);
    if said.record.is_none() && known.is_none() {
        reading.problems.push(Problem::new(
            &said.place.file,
            said.place.line,
            "tag",
            &said.label,
            format!(
                "There is no place {} in unit {}, neither in tags.csv nor in the register.",
                said.label, unit.facts.label
            ),
            "Add a row for it to tags.csv, or mend the label.",
        ));
    }
    if let Err(errors) = read_label(&said.label) {
        reading.problems.extend(record.problems_of(&errors, &[]));
    }
    let mut tag = TagInventory {
        id: known.and_then(|tag| tag.id),
        label: said.label.clone(),
        room: room(record, known, unit, reading),
        prior_done: known.map(|tag| tag.prior_done.clone()).unwrap_or_default(),
        fixtures: known.map(|tag| tag.fixtures.clone()).unwrap_or_default(),
    };
    let positions = fixtures(&said.fixtures, &mut tag, site, reading);
    replacements(&said.fixtures, &positions, &mut tag, reading);
    if known.is_none_or(|known| known.fixtures != tag.fixtures) {
        one_after_the_other(&said.fixtures, &positions, &tag, reading);
    }
    prior::settle(&said.prior_done, &mut tag, site, reading);
    tag
}

fn room(
    record: &Record,
    known: Option<&TagInventory>,
    unit: &UnitInventory,
    reading: &mut Reading,
) -> Option<String> {
    match record.said("room") {
        Said::Nothing => known.and_then(|tag| tag.room.clone()),
        Said::Empty => None,
        Said::Text(name) => {
            let room = room_named(&unit.rooms, name.trim()).and_then(|at| unit.rooms.get(at));
            if room.is_none() {
                reading.problems.push(record.problem(
                    "room",
                    format!(
                        "There is no room “{}” in unit {}, neither in rooms.csv nor in the register.",
                        name.trim(),
                        unit.facts.label
                    ),
                    "Add a row for it to rooms.csv, or mend the name.",
                ));
            }
            room.map(|room| room.name.clone())
        }
    }
}

/// Settles the fixtures of a place and answers at which position each line of the file ended up. Those that left come first, so
/// that the one in service counts from the day the last one left when nothing else is said.
fn fixtures(
    said: &[FixtureSaid],
    tag: &mut TagInventory,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Vec<Option<usize>> {
    let mut positions = pairs(said, &tag.fixtures, &fixture::RULES);
    let (standing, left): (Vec<usize>, Vec<usize>) =
        (0..said.len()).partition(|&at| said[at].record.text("stood_until").is_empty());
    let mut first_standing: Option<&Record> = None;
    for at in left.into_iter().chain(standing) {
        let line = &said[at];
        let known = positions[at].and_then(|at| tag.fixtures.get(at));
        let free_since = tag.fixtures.iter().filter_map(|former| former.stood.until).max();
        let Some(settled) = fixture::settle(line, known, free_since, site, reading) else {
            continue;
        };
        if settled.stood.is_in_service() {
            if let Some(first) = first_standing {
                reading.problems.push(twice(&tag.label, &line.record, first));
                continue;
            }
            first_standing = Some(&line.record);
        }
        match positions[at].and_then(|at| tag.fixtures.get_mut(at)) {
            Some(place) => *place = settled,
            None => {
                tag.fixtures.push(settled);
                positions[at] = Some(tag.fixtures.len() - 1);
            }
        }
    }
    positions
}

fn twice(tag: &str, record: &Record, first: &Record) -> Problem {
    let problem = record.problem(
        "tag",
        format!(
            "{tag} of the same unit stands on line {} too, and only one fixture is in service at a place.",
            first.place.line
        ),
        "Take one of the rows out, give it another tag, or say when it left: status replaced or retired, with stood_until.",
    );
    Problem {
        value: tag.to_owned(),
        ..problem
    }
}

/// What replaced what: as the folder says by number, or, for a new fixture, the replaced one that left on the day it came.
fn replacements(
    said: &[FixtureSaid],
    positions: &[Option<usize>],
    tag: &mut TagInventory,
    reading: &mut Reading,
) {
    for (line, position) in said.iter().zip(positions) {
        let Some(at) = *position else { continue };
        let replaces = match line.record.said("replaces") {
            Said::Empty => None,
            Said::Text(number) => {
                let other = said
                    .iter()
                    .zip(positions)
                    .find(|(other, _)| other.number.as_deref() == Some(number.trim()))
                    .and_then(|(_, position)| *position);
                if other.is_none() || other == Some(at) {
                    reading.problems.push(line.record.problem(
                        "replaces",
                        format!("There is no other fixture {} at {}.", number.trim(), tag.label),
                        "Give the number of the fixture of this place that it replaced, or leave it blank.",
                    ));
                }
                other
            }
            Said::Nothing => match tag.fixtures.get(at) {
                Some(known) if known.id.is_some() => known.replaces,
                Some(new) => replaced_by(new, &tag.fixtures),
                None => None,
            },
        };
        if let Some(fixture) = tag.fixtures.get_mut(at) {
            fixture.replaces = replaces;
        }
    }
}

fn replaced_by(new: &FixtureLine, fixtures: &[FixtureLine]) -> Option<usize> {
    fixtures.iter().position(|other| {
        other.stood.status == Service::Replaced && other.stood.until == Some(new.stood.from) && other != new
    })
}

/// Two fixtures can't stand at one place at once.
fn one_after_the_other(
    said: &[FixtureSaid],
    positions: &[Option<usize>],
    tag: &TagInventory,
    reading: &mut Reading,
) {
    let mut order: Vec<(usize, &FixtureLine)> = tag.fixtures.iter().enumerate().collect();
    order.sort_by_key(|(_, line)| line.stood.order());
    for pair in order.windows(2) {
        let [(first, before), (second, after)] = pair else {
            continue;
        };
        if before.stood.until.is_some_and(|until| until <= after.stood.from) {
            continue;
        }
        let line = said
            .iter()
            .zip(positions)
            .rev()
            .find(|(_, position)| **position == Some(*second) || **position == Some(*first));
        if let Some((line, _)) = line {
            reading.problems.push(line.record.problem(
                "stood_from",
                format!(
                    "Two fixtures would stand at {} at once: one from {}, one from {}.",
                    tag.label, before.stood.from, after.stood.from
                ),
                "Give one of them another tag, or say when the first one left: status replaced or retired, with stood_until.",
            ));
        }
    }
}
