//! The rows that a record is made from, at its closing and at any day after it.

use crate::domain::register::DeficiencyId;
use crate::domain::register::ResultId;
use crate::domain::register::person::Scope;
use crate::domain::result::{Deficiency, Entry, EventKind};
use crate::domain::turnover::{Turnover, Waiver};
use crate::error::{Error, Result};
use crate::exchange::manifest::{Names, PhotoRow, Rows};
use crate::store::deficiencies::Event;
use crate::store::lists::deficiencies::names as names_of;
use crate::store::lists::turnovers::Survey;
use crate::store::photos::{self, Photo};
use crate::store::{AnyConnection, deficiencies, results, turnovers};

/// Rows of a turnover.
pub(super) struct Gathered {
    turnover: Turnover,
    results: Vec<(ResultId, Entry)>,
    left: Vec<Deficiency>,
    pub put_right: Vec<Deficiency>,
    waivers: Vec<Waiver>,
    pub photos: Vec<Photo>,
    photo_rows: Vec<PhotoRow>,
}

impl Gathered {
    pub fn rows(&self) -> Rows<'_> {
        Rows {
            turnover: &self.turnover,
            results: &self.results,
            left: &self.left,
            put_right: &self.put_right,
            waivers: &self.waivers,
            photos: &self.photo_rows,
        }
    }
}

/// At the closing: what is open in the unit then, and what was closed since the opening.
pub(super) fn at_closing(conn: &mut AnyConnection, turnover: Turnover, survey: &Survey) -> Result<Gathered> {
    let left = survey.deficiencies.clone();
    let put_right = deficiencies::closed_in_since(conn, turnover.unit, turnover.opened_at)?;
    gather(conn, turnover, left, put_right)
}

/// On a later day: the deficiencies that the record has, as far as they are there.
pub(super) fn later(
    conn: &mut AnyConnection,
    turnover: Turnover,
    left: &[DeficiencyId],
    put_right: &[DeficiencyId],
) -> Result<Gathered> {
    let left = these(conn, left)?;
    let put_right = these(conn, put_right)?;
    gather(conn, turnover, left, put_right)
}

fn these(conn: &mut AnyConnection, ids: &[DeficiencyId]) -> Result<Vec<Deficiency>> {
    let mut found = Vec::with_capacity(ids.len());
    for id in ids {
        match deficiencies::find(conn, &Scope::All, *id) {
            Ok(one) => found.push(one),
            Err(Error::NotFound(_)) => {}
            Err(other) => return Err(other),
        }
    }
    Ok(found)
}

fn gather(
    conn: &mut AnyConnection,
    turnover: Turnover,
    left: Vec<Deficiency>,
    put_right: Vec<Deficiency>,
) -> Result<Gathered> {
    let photos = photos::of_turnover(conn, turnover.id)?;
    let photo_rows = photos.iter().map(|photo| PhotoRow {
        client_id: photo.client_id,
        of: photo.of,
        person: photo.person.0,
        taken_at: photo.taken_at,
        announced_at: photo.announced_at,
        sent_sha256: photo.sent_sha256.clone(),
        sent_bytes: photo.sent_bytes,
        received_at: photo.received_at,
        sha256: photo.sha256.clone(),
    });
    Ok(Gathered {
        results: results::of_turnover(conn, turnover.id)?,
        waivers: turnovers::waivers(conn, turnover.id)?,
        photo_rows: photo_rows.collect(),
        turnover,
        left,
        put_right,
        photos,
    })
}

/// What was done about the deficiencies of a record.
pub(super) fn repairs(conn: &mut AnyConnection, gathered: &Gathered) -> Result<Vec<Event>> {
    let all = gathered.left.iter().chain(&gathered.put_right);
    let ids: Vec<DeficiencyId> = all.map(|one| one.id).collect();
    let mut events = deficiencies::events_of(conn, &ids)?;
    events.retain(|event| event.kind == EventKind::Repaired);
    Ok(events)
}

/// The names that stand beside the rows.
pub(super) fn names(conn: &mut AnyConnection, survey: &Survey, gathered: &Gathered) -> Result<Names> {
    let takers: Vec<_> = gathered.photos.iter().map(|photo| photo.person).collect();
    let mut people = survey.names.clone();
    people.extend(names_of(conn, &takers)?);
    let places = survey.list.places.iter();
    let items = survey.list.items.iter();
    Ok(Names {
        building: survey.building.facts.code.clone(),
        unit: survey.unit.facts.label.clone(),
        places: places.map(|place| (place.tag.0, place.label.clone())).collect(),
        checks: items
            .map(|item| (item.key.check.0, item.check.code.to_string()))
            .collect(),
        people: people.into_iter().map(|(id, name)| (id.0, name)).collect(),
    })
}
