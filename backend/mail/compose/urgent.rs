//! The mail that keeps an emergency for the record. It says so in its first line: nobody is called by it. What was noted stays out of it,
//! since a note may name people.

use askama::Template;
use chrono::NaiveDateTime;
use chrono_tz::Tz;

use super::Letter;
use crate::domain::register::{Building, Unit};
use crate::domain::trade::urgent::Urgency;
use crate::error::{Error, Result};
use crate::language::Language;

/// What was said.
#[derive(Debug, Clone, Copy)]
pub struct Said<'a> {
    /// What it is.
    pub kind: Urgency,
    /// Where, when that was said.
    pub building: Option<&'a Building>,
    /// Where, when that was said.
    pub unit: Option<&'a Unit>,
    /// Who said it.
    pub who: &'a str,
    /// UTC.
    pub said_at: NaiveDateTime,
    /// UTC, when the server heard of it.
    pub received_at: NaiveDateTime,
}

#[derive(Template)]
#[template(path = "mail/urgent.txt")]
struct Text<'a> {
    told: &'a Told<'a>,
}

#[derive(Template)]
#[template(path = "mail/urgent.html")]
struct Html<'a> {
    told: &'a Told<'a>,
}

struct Told<'a> {
    what: &'static str,
    place: String,
    address: String,
    who: &'a str,
    said: String,
    received: String,
}

/// The mail; instants in the zone of the building, else of the reader.
///
/// # Errors
/// When the template fails.
pub fn letter(said: &Said<'_>, reader: Tz) -> Result<Letter> {
    let zone = said.building.map_or(reader, |building| building.facts.time_zone);
    let place = match (said.building, said.unit) {
        (Some(building), Some(unit)) => format!("{}, unit {}", building.facts.name, unit.facts.label),
        (Some(building), None) => building.facts.name.clone(),
        (None, _) => "no place was named".to_owned(),
    };
    let address = said
        .building
        .map(|building| building.facts.address.replace('\n', ", "));
    let told = Told {
        what: said.kind.name(),
        address: address.unwrap_or_default(),
        who: said.who,
        said: Language::ENGLISH.moment_in_full(said.said_at, zone),
        received: Language::ENGLISH.moment_in_full(said.received_at, zone),
        place,
    };
    Ok(Letter {
        subject: format!("For the record: {}, {}", told.what.to_lowercase(), told.place),
        text: Text { told: &told }.render().map_err(Error::internal)?,
        html: Html { told: &told }.render().map_err(Error::internal)?,
    })
}
