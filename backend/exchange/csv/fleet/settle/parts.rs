//! The parts of a fixture: named together in one cell, or each in a row of its own.

use super::fixture::{estimated, stood};
use super::pairs::{Fits, pairs};
use super::{Reading, Site};
use crate::domain::code::Coded;
use crate::domain::register::inventory::{FixtureLine, PartLine, Stood};
use crate::domain::register::typed::iso_date;
use crate::domain::register::{Installed, PartFacts, PartText, Service};
use crate::domain::trade::PartKind;
use crate::exchange::csv::fleet::cells::{self, NO_PARTS};
use crate::exchange::csv::fleet::columns::PART;
use crate::exchange::csv::fleet::record::{Overlay, Record, Said};
use crate::exchange::csv::fleet::statement::{FixtureSaid, PartsSaid};

/// The parts of one cell as facts, nothing when it says nothing; looked at even when the fixture itself can't be read.
pub(super) fn in_one_cell(
    said: &FixtureSaid,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Option<Vec<PartFacts>> {
    match (&said.parts, said.record.said("parts")) {
        (PartsSaid::Now, Said::Empty) => Some(Vec::new()),
        (PartsSaid::Now, Said::Text(list)) => Some(listed(list, &said.record, site, reading)),
        _ => None,
    }
}

/// Settles the parts of `fixture`, which is itself settled; `known` is what it was before, `cell` what one cell says.
pub(super) fn settle(
    said: &FixtureSaid,
    cell: Option<&[PartFacts]>,
    known: Option<&FixtureLine>,
    fixture: &mut FixtureLine,
    site: &Site<'_>,
    reading: &mut Reading,
) {
    match (&said.parts, cell) {
        (PartsSaid::Each(records), _) => each(records, fixture, site, reading),
        (_, Some(parts)) => now(parts, fixture, site),
        (_, None) => standard(known, fixture, site),
    }
    leave_with(fixture);
    one_of_each(said, fixture, reading);
}

/// A new fixture gets the standard parts of its kind: as old as it, by estimate when it is older than the register.
fn standard(known: Option<&FixtureLine>, fixture: &mut FixtureLine, site: &Site<'_>) {
    if known.is_some() {
        return;
    }
    let installed = match fixture.facts.installed {
        Installed::On(date) if date < site.joined_on => Installed::About(date),
        same => same,
    };
    let kinds = fixture.facts.kind.standard_parts().iter();
    fixture.parts = kinds
        .map(|&kind| new(PartFacts { kind, installed }, fixture.stood))
        .collect();
}

/// A part that is there as long as its fixture, but not before it was installed.
fn new(facts: PartFacts, stood: Stood) -> PartLine {
    let from = facts
        .installed
        .date()
        .map_or(stood.from, |installed| installed.max(stood.from));
    PartLine {
        id: None,
        stood: Stood {
            from: stood.until.map_or(from, |until| from.min(until)),
            ..stood
        },
        facts,
    }
}

/// The list of one cell: `wax_seal=2019-05-02;supply_line=2019~;stop`, or `none`.
fn listed(list: &str, record: &Record, site: &Site<'_>, reading: &mut Reading) -> Vec<PartFacts> {
    if list.trim() == NO_PARTS {
        return Vec::new();
    }
    let mut parts: Vec<PartFacts> = Vec::new();
    for item in list.split(';').map(str::trim).filter(|item| !item.is_empty()) {
        let (kind, date) = item.split_once('=').unwrap_or((item, ""));
        let (date, estimated) = match date.trim().strip_suffix('~') {
            Some(date) => (date, "yes"),
            None => (date, ""),
        };
        let text = PartText {
            kind: kind.trim().to_owned(),
            installed_on: date.trim().to_owned(),
            installed_estimated: estimated.to_owned(),
        };
        match PartFacts::read(&text, site.today) {
            Ok(facts) if parts.iter().any(|other| other.kind == facts.kind) => {
                reading.problems.push(record.problem(
                    "parts",
                    format!("{} stands twice in the list.", facts.kind),
                    "Name each part once; a fixture has one of each kind.",
                ));
            }
            Ok(facts) => parts.push(facts),
            Err(errors) => {
                let columns = ["kind", "installed_on", "installed_estimated"].map(|field| (field, "parts"));
                reading.problems.extend(record.problems_of(&errors, &columns));
            }
        }
    }
    parts
}

/// Makes the parts that are there those of the list. One that is left out is retired today, or left with its fixture unseen.
fn now(list: &[PartFacts], fixture: &mut FixtureLine, site: &Site<'_>) {
    let fixture_stood = fixture.stood;
    let there: Vec<bool> = fixture
        .parts
        .iter()
        .map(|part| cells::is_there_with(part, fixture))
        .collect();
    for (part, is_there) in fixture.parts.iter_mut().zip(&there) {
        let listed = list.iter().find(|facts| facts.kind == part.facts.kind);
        match listed {
            _ if !is_there => {}
            Some(facts) => part.facts = *facts,
            None if part.stood.is_in_service() => {
                part.stood.status = Service::Retired;
                part.stood.until = Some(fixture_stood.until.unwrap_or(site.today).max(part.stood.from));
            }
            None => {}
        }
    }
    let is_missing = |facts: &&PartFacts| {
        let mut known = fixture.parts.iter().zip(&there);
        !known.any(|(part, is_there)| *is_there && part.facts.kind == facts.kind)
    };
    let added: Vec<PartLine> = list
        .iter()
        .filter(is_missing)
        .map(|facts| new(*facts, fixture_stood))
        .collect();
    fixture.parts.extend(added);
}

const RULES: [Fits<Record, PartLine>; 3] = [
    |record, part| {
        is_kind(record, part)
            && iso_date(record.text("stood_from")) == Some(part.stood.from)
            && iso_date(record.text("stood_until")) == part.stood.until
    },
    |record, part| is_kind(record, part) && iso_date(record.text("stood_from")) == Some(part.stood.from),
    |record, part| {
        is_kind(record, part) && record.text("stood_until").is_empty() && part.stood.is_in_service()
    },
];

fn is_kind(record: &Record, part: &PartLine) -> bool {
    record.text("part") == part.facts.kind.code()
}

fn each(records: &[Record], fixture: &mut FixtureLine, site: &Site<'_>, reading: &mut Reading) {
    for (record, pair) in records.iter().zip(pairs(records, &fixture.parts, &RULES)) {
        let known = pair.and_then(|at| fixture.parts.get(at));
        let Some(part) = one(record, known, fixture, site, reading) else {
            continue;
        };
        match pair.and_then(|at| fixture.parts.get_mut(at)) {
            Some(place) => *place = part,
            None => fixture.parts.push(part),
        }
    }
}

fn one(
    record: &Record,
    known: Option<&PartLine>,
    fixture: &FixtureLine,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Option<PartLine> {
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay.over(&PART[1..], cells::part(*known));
    }
    let text = PartText {
        kind: overlay.text("part"),
        installed_on: overlay.text("installed_on"),
        installed_estimated: estimated(record, &overlay, known.map(|part| part.facts.installed)),
    };
    let facts = PartFacts::read(&text, site.today)
        .map_err(|errors| {
            reading
                .problems
                .extend(record.problems_of(&errors, &[("kind", "part")]))
        })
        .ok();
    let stood = stood(record, &overlay, Some(fixture.stood.from), site, reading);
    Some(PartLine {
        id: known.and_then(|part| part.id),
        facts: facts?,
        stood: stood?,
    })
}

/// No part stays in service when its fixture is not.
fn leave_with(fixture: &mut FixtureLine) {
    let stood = fixture.stood;
    let Some(until) = stood.until else { return };
    for part in fixture.parts.iter_mut().filter(|part| part.stood.is_in_service()) {
        part.stood.status = stood.status;
        part.stood.until = Some(until.max(part.stood.from));
    }
}

fn one_of_each(said: &FixtureSaid, fixture: &FixtureLine, reading: &mut Reading) {
    for kind in PartKind::ALL {
        let in_service = fixture
            .parts
            .iter()
            .filter(|part| part.facts.kind == *kind && part.stood.is_in_service());
        if in_service.count() > 1 {
            let column = if matches!(said.parts, PartsSaid::Each(_)) {
                "part"
            } else {
                "parts"
            };
            reading.problems.push(said.record.problem(
                column,
                format!("Two parts {kind} would be in service on one fixture."),
                "Say when the first one left: status replaced or retired, with stood_until.",
            ));
        }
    }
}
