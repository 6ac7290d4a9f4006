//! Parts as stored. Callers give a fixture that the asker may see.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use diesel::prelude::*;

use super::schema::parts;
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{FixtureId, Installed, Part, PartFacts, PartId, Service};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::fixtures::Placed;

pub(super) type Row = (
    i64,
    i64,
    String,
    Option<NaiveDate>,
    bool,
    String,
    NaiveDate,
    Option<NaiveDate>,
);

pub(super) fn part((id, fixture, kind, on, estimated, status, stood_from, stood_until): Row) -> Result<Part> {
    Ok(Part {
        id: PartId(id),
        fixture: FixtureId(fixture),
        status: Coded::from_code(&status).map_err(Error::internal)?,
        stood_from,
        stood_until,
        facts: PartFacts {
            kind: Coded::from_code(&kind).map_err(Error::internal)?,
            installed: Installed::from_row((on, estimated)),
        },
    })
}

/// Stores a part in service.
///
/// # Errors
/// When one of its kind is in service on the fixture, or the database refuses.
pub fn insert(
    tx: &mut Tx<'_>,
    fixture: FixtureId,
    facts: PartFacts,
    stood_from: NaiveDate,
) -> Result<PartId> {
    let id: i64 = diesel::insert_into(parts::table)
        .values((
            parts::fixture_id.eq(fixture.0),
            parts::kind.eq(facts.kind.code()),
            parts::installed_on.eq(facts.installed.date()),
            parts::installed_estimated.eq(facts.installed.is_estimated()),
            parts::status.eq(Service::InService.code()),
            parts::stood_from.eq(stood_from),
            parts::stood_until.eq(None::<NaiveDate>),
        ))
        .returning(parts::id)
        .get_result(&mut **tx)?;
    Ok(PartId(id))
}

/// Stores what a part is now.
///
/// # Errors
/// When another of its kind is in service on the fixture, or the database refuses.
pub fn update(tx: &mut Tx<'_>, part: &Part) -> Result<()> {
    diesel::update(parts::table.find(part.id.0))
        .set((
            parts::kind.eq(part.facts.kind.code()),
            parts::installed_on.eq(part.facts.installed.date()),
            parts::installed_estimated.eq(part.facts.installed.is_estimated()),
            parts::status.eq(part.status.code()),
            parts::stood_from.eq(part.stood_from),
            parts::stood_until.eq(part.stood_until),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The part with this key, with its fixture and place.
///
/// # Errors
/// When there is none within `scope`, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, scope: &Scope, id: PartId) -> Result<(Placed, Part)> {
    let row: Option<Row> = parts::table.find(id.0).first(conn).optional()?;
    let found = part(row.ok_or_else(|| Error::not_found("such part"))?)?;
    let placed = super::fixtures::by_key(conn, scope, found.fixture).map_err(|error| match error {
        Error::NotFound(_) => Error::not_found("such part"),
        other => other,
    })?;
    Ok((placed, found))
}

/// The part of a kind in service on a fixture.
///
/// # Errors
/// When the database does not answer.
pub fn in_service_on(conn: &mut AnyConnection, fixture: FixtureId, kind: PartKind) -> Result<Option<Part>> {
    let row: Option<Row> = parts::table
        .filter(parts::fixture_id.eq(fixture.0))
        .filter(parts::kind.eq(kind.code()))
        .filter(parts::status.eq(Service::InService.code()))
        .first(conn)
        .optional()?;
    row.map(part).transpose()
}

/// The parts of a fixture, those in service first in the order of the trade's list, then former ones, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn of_fixture(conn: &mut AnyConnection, fixture: FixtureId) -> Result<Vec<Part>> {
    let rows: Vec<Row> = parts::table
        .filter(parts::fixture_id.eq(fixture.0))
        .order((parts::stood_until.desc(), parts::id.desc()))
        .load(conn)?;
    let mut all: Vec<Part> = rows.into_iter().map(part).collect::<Result<_>>()?;
    all.sort_by_key(|part| match part.status {
        Service::InService => (0, Some(part.facts.kind)),
        Service::Retired | Service::Replaced => (1, None),
    });
    Ok(all)
}

/// The parts in service of several fixtures, in the order of the trade's list.
///
/// # Errors
/// When the database does not answer.
pub fn in_service_of(
    conn: &mut AnyConnection,
    fixtures: &[FixtureId],
) -> Result<BTreeMap<FixtureId, Vec<Part>>> {
    let mut found: BTreeMap<FixtureId, Vec<Part>> = BTreeMap::new();
    for chunk in fixtures.chunks(500) {
        let rows: Vec<Row> = parts::table
            .filter(parts::fixture_id.eq_any(chunk.iter().map(|id| id.0)))
            .filter(parts::status.eq(Service::InService.code()))
            .load(conn)?;
        for row in rows {
            let part = part(row)?;
            found.entry(part.fixture).or_default().push(part);
        }
    }
    for parts in found.values_mut() {
        parts.sort_by_key(|part| part.facts.kind);
    }
    Ok(found)
}
