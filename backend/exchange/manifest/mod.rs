//! What the record of a turnover was made from, as canonical JSON: UTF-8 without blanks, fields in the order in which they stand here,
//! rows by their keys. Its SHA-256 is printed on the record, so that rows which were altered later can be told.
//!
//! Beside the rows stand the names they had (of places, checks, people); names may change and are not compared.

mod compare;

use std::collections::BTreeMap;

use chrono::NaiveDateTime;
use serde_json::{Map, Value, json};
use uuid::Uuid;

pub use compare::{Difference, List, differences};

use crate::domain::code::Coded as _;
use crate::domain::register::ResultId;
use crate::domain::result::{Deficiency, Entry};
use crate::domain::turnover::{Turnover, Waiver};

/// What the bytes are.
pub const MEDIA_TYPE: &str = "application/json";
/// Of the form; a later one reads this one too.
pub const VERSION: u64 = 1;

/// A photo as it is announced and kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoRow {
    /// Made by the phone.
    pub client_id: Uuid,
    /// The client id of the answer that it shows.
    pub of: Uuid,
    /// Who took it.
    pub person: i64,
    /// UTC.
    pub taken_at: NaiveDateTime,
    /// UTC.
    pub announced_at: NaiveDateTime,
    /// Of the bytes that the phone sends, hexadecimal.
    pub sent_sha256: String,
    /// How many these are.
    pub sent_bytes: i64,
    /// UTC; none while it is to come.
    pub received_at: Option<NaiveDateTime>,
    /// Of the bytes as kept, hexadecimal; empty while it is to come.
    pub sha256: String,
}

/// The rows that a record is made from, as they are stored.
#[derive(Debug, Clone, Copy)]
pub struct Rows<'a> {
    /// The turnover as it is after the closing.
    pub turnover: &'a Turnover,
    /// Its results.
    pub results: &'a [(ResultId, Entry)],
    /// The deficiencies that were open at the closing.
    pub left: &'a [Deficiency],
    /// Those that were closed since the opening.
    pub put_right: &'a [Deficiency],
    /// Its waivers, in the order in which they were given.
    pub waivers: &'a [Waiver],
    /// Its photos.
    pub photos: &'a [PhotoRow],
}

/// The names that stand beside the rows, by key.
#[derive(Debug, Clone, Default)]
pub struct Names {
    /// Code of the building.
    pub building: String,
    /// Label of the unit.
    pub unit: String,
    /// Labels of places.
    pub places: BTreeMap<i64, String>,
    /// Codes of checks.
    pub checks: BTreeMap<i64, String>,
    /// Names of people.
    pub people: BTreeMap<i64, String>,
}

/// The rows as JSON, without names.
#[must_use]
pub fn rows(rows: Rows<'_>) -> Value {
    let mut results: Vec<&(ResultId, Entry)> = rows.results.iter().collect();
    results.sort_by_key(|(id, _)| *id);
    let mut photos: Vec<&PhotoRow> = rows.photos.iter().collect();
    photos.sort_by_key(|photo| photo.client_id);
    let sorted = |list: &[Deficiency]| {
        let mut list: Vec<&Deficiency> = list.iter().collect();
        list.sort_by_key(|one| one.id);
        list.into_iter().map(deficiency).collect::<Vec<Value>>()
    };
    json!({
        "turnover": turnover(rows.turnover),
        "results": results.into_iter().map(|(id, entry)| result(*id, entry)).collect::<Vec<Value>>(),
        "left": sorted(rows.left),
        "put_right": sorted(rows.put_right),
        "waivers": rows.waivers.iter().map(waiver).collect::<Vec<Value>>(),
        "photos": photos.into_iter().map(photo).collect::<Vec<Value>>(),
    })
}

/// The bytes of a manifest: the record's number, the rows, the names.
#[must_use]
pub fn bytes(number: i64, rows: Rows<'_>, names: &Names) -> Vec<u8> {
    let mut all = Map::new();
    all.insert("v".to_owned(), json!(VERSION));
    all.insert("record".to_owned(), json!(number));
    if let Value::Object(parts) = self::rows(rows) {
        all.extend(parts);
    }
    all.insert(
        "names".to_owned(),
        json!({
            "building": names.building,
            "unit": names.unit,
            "places": keyed(&names.places),
            "checks": keyed(&names.checks),
            "people": keyed(&names.people),
        }),
    );
    Value::Object(all).to_string().into_bytes()
}

/// The manifest in bytes; none when they are no JSON.
#[must_use]
pub fn read(bytes: &[u8]) -> Option<Value> {
    serde_json::from_slice(bytes).ok()
}

fn keyed(names: &BTreeMap<i64, String>) -> Map<String, Value> {
    names
        .iter()
        .map(|(key, name)| (key.to_string(), json!(name)))
        .collect()
}

/// With nine decimals always, so that instants sort as their texts do.
fn instant(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%dT%H:%M:%S%.9fZ").to_string()
}

fn maybe(at: Option<NaiveDateTime>) -> Value {
    at.map_or(Value::Null, |at| json!(instant(at)))
}

fn turnover(one: &Turnover) -> Value {
    json!({
        "id": one.id.0,
        "building_id": one.building.0,
        "unit_id": one.unit.0,
        "move_out_on": one.facts.move_out_on.to_string(),
        "move_in_on": one.facts.move_in_on.to_string(),
        "note": one.facts.note,
        "stage": one.stage.code(),
        "opened_at": instant(one.opened_at),
        "opened_by": one.opened_by.map(|person| person.0),
        "ready_at": maybe(one.ready_at),
        "ready_by": one.ready_by.map(|person| person.0),
        "closed_at": maybe(one.closed_at),
        "closed_by": one.closed_by.map(|person| person.0),
        "signed_name": one.signed_name,
        "signature": one.signature,
        "signed_at": maybe(one.signed_at),
    })
}

fn result(id: ResultId, entry: &Entry) -> Value {
    json!({
        "id": id.0,
        "client_id": entry.client_id.to_string(),
        "building_id": entry.building.0,
        "unit_id": entry.unit.0,
        "tag_id": entry.tag.0,
        "fixture_id": entry.fixture.0,
        "part": entry.part.map(|part| part.code()),
        "check_id": entry.check.0,
        "check_version": entry.check_version,
        "stage": entry.turnover.map(|(_, stage)| stage.code()),
        "visit_id": entry.visit.map(|visit| visit.0),
        "outcome": entry.outcome.code(),
        "reading": entry.reading,
        "reason": entry.reason,
        "note": entry.note,
        "detail": entry.detail,
        "asked": entry.asked,
        "done_at": instant(entry.done_at),
        "done_on": entry.done_on.to_string(),
        "received_at": instant(entry.received_at),
        "person_id": entry.person.map(|person| person.0),
    })
}

fn deficiency(one: &Deficiency) -> Value {
    json!({
        "id": one.id.0,
        "tag_id": one.tag.map(|tag| tag.0),
        "check_id": one.check.map(|check| check.0),
        "result_id": one.result.map(|result| result.0),
        "origin": one.origin.code(),
        "title": one.title,
        "severity": one.severity.code(),
        "status": one.status.code(),
        "opened_at": instant(one.opened_at),
        "correct_by": maybe(one.correct_by),
        "repaired_at": maybe(one.repaired_at),
        "closed_at": maybe(one.closed_at),
        "closed_how": one.closed_how.map(|how| how.code()),
    })
}

fn waiver(one: &Waiver) -> Value {
    json!({
        "deficiency_id": one.deficiency.0,
        "reason": one.facts.reason,
        "signed_name": one.facts.signed_name,
        "until_on": one.facts.until_on.to_string(),
        "person_id": one.person.map(|person| person.0),
        "created_at": instant(one.created_at),
    })
}

fn photo(one: &PhotoRow) -> Value {
    json!({
        "client_id": one.client_id.to_string(),
        "result_client_id": one.of.to_string(),
        "person_id": one.person,
        "taken_at": instant(one.taken_at),
        "announced_at": instant(one.announced_at),
        "sent_sha256": one.sent_sha256,
        "sent_bytes": one.sent_bytes,
        "received_at": maybe(one.received_at),
        "sha256": one.sha256,
    })
}
