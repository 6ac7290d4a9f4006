//! When checks were last done before the register knew of a place.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::{AskedOf, Reading, Site};
use crate::domain::register::inventory::{PriorCheck, TagInventory};
use crate::domain::register::typed::Typed;
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::record::Record;
use crate::exchange::csv::fleet::statement::PriorSaid;

/// Adds the days to a place whose fixtures and parts are settled.
pub(super) fn settle(said: &[PriorSaid], tag: &mut TagInventory, site: &Site<'_>, reading: &mut Reading) {
    let mut days: BTreeMap<PriorCheck, (NaiveDate, &PriorSaid)> = BTreeMap::new();
    for prior in said {
        let Some(asked) = site.context.checks.get(&prior.check) else {
            continue; // told where the column or row names it
        };
        let Some(day) = day(prior, site, reading) else {
            continue;
        };
        note_when_not_asked(prior, asked, tag, reading);
        let key = PriorCheck {
            check: prior.check.clone(),
            part: prior.part,
        };
        match days.get(&key) {
            Some((before, first)) if *before != day => {
                reading.problems.push(contradiction(prior, first, *before));
            }
            _ => drop(days.insert(key, (day, prior))),
        }
    }
    let (whole, exact): (Vec<_>, Vec<_>) = days
        .into_iter()
        .map(|(key, (day, _))| (key, day))
        .partition(|(key, _)| key.part.is_none() && is_on_parts(key, site));
    // A day without a part counts for each part; one that names the part comes after and holds.
    for (key, day) in whole {
        let asked = site.context.checks.get(&key.check);
        let parts = asked
            .map(|asked| parts_of(&key.check, asked, tag))
            .unwrap_or_default();
        tag.prior_done.extend(parts.into_iter().map(|key| (key, day)));
    }
    tag.prior_done.extend(exact);
}

fn is_on_parts(key: &PriorCheck, site: &Site<'_>) -> bool {
    site.context
        .checks
        .get(&key.check)
        .is_some_and(|asked| !asked.parts.is_empty())
}

fn day(prior: &PriorSaid, site: &Site<'_>, reading: &mut Reading) -> Option<NaiveDate> {
    let mut typed = Typed::new();
    let day = typed.date(
        "day",
        "Last done",
        &prior.day,
        site.today,
        "that is in the future",
    );
    if let Err(errors) = typed.finish(()) {
        let mut record = Record::new(prior.place.clone());
        // The column's name is the file's own, so the record's cell is told under `day` and named afterwards.
        record.say("day", &prior.day);
        let told = record.problems_of(&errors, &[]).into_iter();
        reading.problems.extend(told.map(|problem| Problem {
            column: prior.column.clone(),
            ..problem
        }));
    }
    day
}

fn contradiction(prior: &PriorSaid, first: &PriorSaid, before: NaiveDate) -> Problem {
    Problem::new(
        &prior.place.file,
        prior.place.line,
        &prior.column,
        &prior.day,
        format!(
            "Line {} says {before} of the same check at the same place.",
            first.place.line
        ),
        "Give one day, the last one.",
    )
}

/// The parts in service at the place that a check is asked of.
fn parts_of(check: &str, asked: &AskedOf, tag: &TagInventory) -> Vec<PriorCheck> {
    let Some(fixture) = tag.in_service() else {
        return Vec::new();
    };
    fixture
        .parts
        .iter()
        .filter(|part| part.stood.is_in_service())
        .filter(|part| asked.kinds.contains(&fixture.facts.kind) && asked.parts.contains(&part.facts.kind))
        .map(|part| PriorCheck {
            check: check.to_owned(),
            part: Some(part.facts.kind),
        })
        .collect()
}

fn note_when_not_asked(prior: &PriorSaid, asked: &AskedOf, tag: &TagInventory, reading: &mut Reading) {
    let Some(fixture) = tag.in_service() else {
        return;
    };
    let is_asked = asked.kinds.contains(&fixture.facts.kind)
        && match prior.part {
            Some(part) => asked.parts.contains(&part),
            None => asked.parts.is_empty() || !parts_of(&prior.check, asked, tag).is_empty(),
        };
    if !is_asked {
        reading.notes.push(Problem::new(
            &prior.place.file,
            prior.place.line,
            &prior.column,
            &prior.day,
            format!(
                "The check {} is not asked of what stands at {}.",
                prior.check, tag.label
            ),
            "It makes nothing come due there. Blank the cell if it was not meant.",
        ));
    }
}
