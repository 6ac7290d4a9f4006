//! What a schedule said before each change of it. Append-only.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use serde::{Deserialize, Serialize};

use super::{By, Row, read};
use crate::domain::due::Schedule;
use crate::domain::register::{CheckId, PersonId, ScheduleId};
use crate::error::{Error, Result};
use crate::store::schema::{former_schedules, people, schedule_checks, schedules};
use crate::store::{AnyConnection, Tx};

/// A row of `schedules` with the keys of its checks.
#[derive(Serialize, Deserialize)]
struct Kept {
    row: Row,
    checks: Vec<i64>,
}

/// A schedule as it was before a change.
#[derive(Debug, Clone)]
pub struct Former {
    /// What it said.
    pub schedule: Schedule,
    /// When that was replaced, UTC.
    pub replaced_at: NaiveDateTime,
    /// By whom; none for the command line.
    pub replaced_by: Option<PersonId>,
    /// Their name; empty for the command line.
    pub name: String,
}

/// Keeps what a schedule says, before it is changed.
pub(super) fn keep(tx: &mut Tx<'_>, schedule: ScheduleId, by: By) -> Result<()> {
    let row: Row = schedules::table
        .find(schedule.0)
        .select(Row::as_select())
        .first(&mut **tx)?;
    let checks = schedule_checks::table
        .filter(schedule_checks::schedule_id.eq(schedule.0))
        .order(schedule_checks::check_id)
        .select(schedule_checks::check_id)
        .load(&mut **tx)?;
    let version = row.version;
    let terms = serde_json::to_string(&Kept { row, checks }).map_err(Error::internal)?;
    diesel::insert_into(former_schedules::table)
        .values((
            former_schedules::schedule_id.eq(schedule.0),
            former_schedules::version.eq(version),
            former_schedules::terms.eq(terms),
            former_schedules::replaced_at.eq(by.at),
            former_schedules::replaced_by.eq(by.person.map(|person| person.0)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// What a schedule said before its last change; none when it was never changed.
///
/// # Errors
/// When the database does not answer.
pub fn former(conn: &mut AnyConnection, schedule: ScheduleId) -> Result<Option<Former>> {
    type Found = (String, NaiveDateTime, Option<i64>, Option<String>);
    let found: Option<Found> = former_schedules::table
        .left_join(people::table)
        .filter(former_schedules::schedule_id.eq(schedule.0))
        .order(former_schedules::version.desc())
        .select((
            former_schedules::terms,
            former_schedules::replaced_at,
            former_schedules::replaced_by,
            people::name.nullable(),
        ))
        .first(conn)
        .optional()?;
    let Some((terms, replaced_at, replaced_by, name)) = found else {
        return Ok(None);
    };
    let kept: Kept = serde_json::from_str(&terms).map_err(Error::internal)?;
    Ok(Some(Former {
        schedule: read(kept.row, kept.checks.into_iter().map(CheckId).collect())?,
        replaced_at,
        replaced_by: replaced_by.map(PersonId),
        name: name.unwrap_or_default(),
    }))
}
