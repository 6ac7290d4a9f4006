//! One fixture: which known one a line speaks of, what it is, and from when to when it stood.

use chrono::NaiveDate;

use super::pairs::Fits;
use super::{Reading, Site, parts};
use crate::domain::code::Coded;
use crate::domain::register::inventory::{FixtureLine, Stood};
use crate::domain::register::typed::{Typed, a_year_ahead, iso_date};
use crate::domain::register::{FixtureFacts, FixtureText, Installed, Service};
use crate::exchange::csv::Cell;
use crate::exchange::csv::fleet::cells;
use crate::exchange::csv::fleet::columns::{FIXTURE, NOTE};
use crate::exchange::csv::fleet::record::{Overlay, Record, Said};
use crate::exchange::csv::fleet::statement::FixtureSaid;

/// Which known fixture of the place a line speaks of, the strictest rule first.
pub(super) const RULES: [Fits<FixtureSaid, FixtureLine>; 6] = [
    |line, known| {
        from(line) == Some(known.stood.from)
            && until(line) == known.stood.until
            && status(line) == known.stood.status
            && is_kind(line, known)
    },
    |line, known| from(line) == Some(known.stood.from) && is_kind(line, known),
    |line, known| from(line) == Some(known.stood.from),
    |line, known| status(line) == Service::InService && known.stood.is_in_service(),
    |line, known| from(line).is_none() && until(line).is_some() && until(line) == known.stood.until,
    |line, known| from(line).is_none() && until(line).is_some() && known.stood.is_in_service(),
];

fn from(line: &FixtureSaid) -> Option<NaiveDate> {
    iso_date(line.record.text("stood_from"))
}

fn until(line: &FixtureSaid) -> Option<NaiveDate> {
    iso_date(line.record.text("stood_until"))
}

fn status(line: &FixtureSaid) -> Service {
    Service::from_code(line.record.text("status")).unwrap_or(Service::InService)
}

fn is_kind(line: &FixtureSaid, known: &FixtureLine) -> bool {
    let kind = line.record.text("kind");
    kind.is_empty() || kind == known.facts.kind.code()
}

pub(super) fn settle(
    said: &FixtureSaid,
    known: Option<&FixtureLine>,
    free_since: Option<NaiveDate>,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Option<FixtureLine> {
    let record = &said.record;
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay
            .over(&FIXTURE, cells::fixture(known))
            .over(&[NOTE], [Cell::text(&known.facts.note)]);
    }
    let text = FixtureText {
        kind: overlay.text("kind"),
        maker: overlay.text("maker"),
        model: overlay.text("model"),
        installed_on: overlay.text("installed_on"),
        installed_estimated: estimated(record, &overlay, known.map(|line| line.facts.installed)),
        note: overlay.text("note"),
    };
    let facts = FixtureFacts::read(&text, site.today)
        .map_err(|errors| reading.problems.extend(record.problems_of(&errors, &[])))
        .ok();
    let installed = facts.as_ref().and_then(|facts| facts.installed.date());
    let free_since = free_since.filter(|_| record.text("stood_until").is_empty());
    let first_day = [Some(site.joined_on), installed, free_since]
        .into_iter()
        .flatten()
        .max();
    let stood = stood(record, &overlay, first_day, site, reading);
    let cell = parts::in_one_cell(said, site, reading);
    let (facts, stood) = (facts?, stood?);
    let mut line = FixtureLine {
        id: known.and_then(|line| line.id),
        stood,
        replaces: known.and_then(|line| line.replaces),
        facts,
        parts: known.map(|line| line.parts.clone()).unwrap_or_default(),
    };
    parts::settle(said, cell.as_deref(), known, &mut line, site, reading);
    Some(line)
}

/// A new date with nothing beside it is no estimate, whatever the old one was; the same date stays what it was.
pub(super) fn estimated(record: &Record, overlay: &Overlay<'_>, known: Option<Installed>) -> String {
    let is_new = match (record.said("installed_on"), record.said("installed_estimated")) {
        (Said::Nothing, _) | (_, Said::Text(_)) => false,
        (Said::Empty, _) => true,
        (Said::Text(text), _) => known.and_then(Installed::date) != iso_date(text.trim()),
    };
    if is_new {
        String::new()
    } else {
        overlay.text("installed_estimated")
    }
}

/// Status and days, each told by its own column.
pub(super) fn stood(
    record: &Record,
    overlay: &Overlay<'_>,
    first_day: Option<NaiveDate>,
    site: &Site<'_>,
    reading: &mut Reading,
) -> Option<Stood> {
    let mut typed = Typed::new();
    let status = typed.choice("status", &overlay.text("status"), Service::InService);
    let latest = a_year_ahead(site.today);
    let ahead = "that is more than a year ahead";
    let from_text = overlay.text("stood_from");
    let from = typed
        .date("stood_from", "First day", &from_text, latest, ahead)
        .or(first_day);
    // A line that is back in service has no last day, whatever was known.
    let until_text = match (status, record.said("stood_until")) {
        (Service::InService, Said::Nothing) => String::new(),
        _ => overlay.text("stood_until"),
    };
    let until = typed.date("stood_until", "Last day", &until_text, latest, ahead);
    match (status, until_text.trim().is_empty()) {
        (Service::InService, false) => typed.refuse(
            "stood_until",
            "It is in service, but has a day on which it left. Make the status retired or replaced, or leave stood_until blank.",
        ),
        (Service::Retired | Service::Replaced, true) => typed.refuse(
            "stood_until",
            format!("It is {status}, but the day it left is missing. Give stood_until, the first day it no longer stood there."),
        ),
        _ => {}
    }
    if let (Some(from), Some(until)) = (from, until)
        && until < from
    {
        typed.refuse(
            "stood_until",
            format!("It left on {until}, before its first day {from}. Mend stood_from or stood_until."),
        );
    }
    match typed.finish(()) {
        Ok(()) => Some(Stood {
            status,
            from: from?,
            until,
        }),
        Err(errors) => {
            reading.problems.extend(record.problems_of(&errors, &[]));
            None
        }
    }
}
