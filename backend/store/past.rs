//! Visits that were made long ago, in bulk. Only an invented fleet is written so; an office's own visits are planned and closed one by
//! one.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use super::Tx;
use super::schema::visits;
use crate::domain::register::{BuildingId, PersonId, UnitId, VisitId};
use crate::error::Result;

/// A visit that was made, or an attempt.
#[derive(Debug, Clone)]
pub struct PastVisit {
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// Local date.
    pub on: NaiveDate,
    /// Who went.
    pub technician: PersonId,
    /// Why there was no access; none when it was done.
    pub no_access: Option<String>,
    /// UTC, when it was closed.
    pub closed_at: NaiveDateTime,
}

/// Stores a visit of the past.
///
/// # Errors
/// When the database refuses.
pub fn visit(tx: &mut Tx<'_>, past: &PastVisit) -> Result<VisitId> {
    let status = if past.no_access.is_some() {
        "no_access"
    } else {
        "done"
    };
    let id: i64 = diesel::insert_into(visits::table)
        .values((
            visits::building_id.eq(past.building.0),
            visits::unit_id.eq(past.unit.0),
            visits::on_date.eq(past.on),
            visits::technician_id.eq(Some(past.technician.0)),
            visits::status.eq(status),
            visits::reason.eq(past.no_access.as_deref().unwrap_or_default()),
            visits::note.eq(""),
            visits::created_at.eq(past.closed_at),
            visits::created_by.eq(Some(past.technician.0)),
            visits::closed_at.eq(Some(past.closed_at)),
        ))
        .returning(visits::id)
        .get_result(&mut **tx)?;
    Ok(VisitId(id))
}
