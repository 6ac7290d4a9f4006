//! Results: appended, never changed. Knows how they are kept and found, not what they mean.

use std::collections::HashMap;

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use uuid::Uuid;

use super::coded::{part_code, read_code, read_part};
use super::schema::{checks, results, turnovers, visits};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::{
    BuildingId, CheckId, FixtureId, PersonId, ResultId, TagId, TurnoverId, UnitId, VisitId,
};
use crate::domain::result::{Entry, Outcome, Turn, turn};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::on_each;

/// Rows of one statement.
const CHUNK: usize = 500;

#[derive(Queryable)]
struct Row {
    id: i64,
    client_id: String,
    building_id: i64,
    unit_id: i64,
    tag_id: i64,
    fixture_id: i64,
    part: String,
    check_id: i64,
    check_version: i64,
    outcome: String,
    reason: String,
    reading: String,
    note: String,
    done_at: NaiveDateTime,
    done_on: NaiveDate,
    received_at: NaiveDateTime,
    person_id: Option<i64>,
    turnover_id: Option<i64>,
    turnover_stage: Option<String>,
    visit_id: Option<i64>,
    asked: String,
    detail: String,
}

impl Row {
    fn read(self) -> Result<(ResultId, Entry)> {
        let turnover = match (self.turnover_id, self.turnover_stage) {
            (Some(id), Some(stage)) => Some((TurnoverId(id), read_code(&stage)?)),
            _ => None,
        };
        let entry = Entry {
            client_id: self.client_id.parse().map_err(Error::internal)?,
            building: BuildingId(self.building_id),
            unit: UnitId(self.unit_id),
            tag: TagId(self.tag_id),
            fixture: FixtureId(self.fixture_id),
            part: read_part(&self.part)?,
            check: CheckId(self.check_id),
            check_version: self.check_version,
            outcome: read_code(&self.outcome)?,
            reason: self.reason,
            reading: self.reading,
            note: self.note,
            done_at: self.done_at,
            done_on: self.done_on,
            received_at: self.received_at,
            person: self.person_id.map(PersonId),
            turnover,
            visit: self.visit_id.map(VisitId),
            asked: self.asked,
            detail: self.detail,
        };
        Ok((ResultId(self.id), entry))
    }
}

#[derive(Insertable)]
#[diesel(table_name = results)]
#[diesel(treat_none_as_default_value = false)]
struct NewRow<'a> {
    client_id: String,
    building_id: i64,
    unit_id: i64,
    tag_id: i64,
    fixture_id: i64,
    part: &'static str,
    check_id: i64,
    check_version: i64,
    outcome: &'static str,
    reason: &'a str,
    reading: &'a str,
    note: &'a str,
    done_at: NaiveDateTime,
    done_on: NaiveDate,
    received_at: NaiveDateTime,
    person_id: Option<i64>,
    turnover_id: Option<i64>,
    turnover_stage: Option<&'static str>,
    visit_id: Option<i64>,
    asked: &'a str,
    detail: &'a str,
}

impl<'a> NewRow<'a> {
    fn of(entry: &'a Entry) -> Self {
        Self {
            client_id: entry.client_id.to_string(),
            building_id: entry.building.0,
            unit_id: entry.unit.0,
            tag_id: entry.tag.0,
            fixture_id: entry.fixture.0,
            part: part_code(entry.part),
            check_id: entry.check.0,
            check_version: entry.check_version,
            outcome: entry.outcome.code(),
            reason: &entry.reason,
            reading: &entry.reading,
            note: &entry.note,
            done_at: entry.done_at,
            done_on: entry.done_on,
            received_at: entry.received_at,
            person_id: entry.person.map(|person| person.0),
            turnover_id: entry.turnover.map(|(turnover, _)| turnover.0),
            turnover_stage: entry.turnover.map(|(_, stage)| stage.code()),
            visit_id: entry.visit.map(|visit| visit.0),
            asked: &entry.asked,
            detail: &entry.detail,
        }
    }
}

/// Appends a result. Whether its client id is new is asked before, with [`by_client_ids`].
///
/// # Errors
/// When the database refuses.
pub fn append(tx: &mut Tx<'_>, entry: &Entry) -> Result<ResultId> {
    let id = diesel::insert_into(results::table)
        .values(NewRow::of(entry))
        .returning(results::id)
        .get_result(&mut **tx)?;
    Ok(ResultId(id))
}

/// Appends results whose deficiencies are written elsewhere, such as an invented history.
///
/// # Errors
/// When the database refuses.
pub fn append_many(tx: &mut Tx<'_>, entries: &[Entry]) -> Result<()> {
    for chunk in entries.chunks(CHUNK) {
        let rows: Vec<_> = chunk.iter().map(NewRow::of).collect();
        on_each!(&mut **tx, inner => diesel::insert_into(results::table).values(&rows).execute(inner))?;
    }
    Ok(())
}

/// The results that are there already under these client ids.
///
/// # Errors
/// When the database does not answer.
pub fn by_client_ids(conn: &mut AnyConnection, ids: &[Uuid]) -> Result<HashMap<Uuid, (ResultId, Entry)>> {
    let mut found = HashMap::new();
    for chunk in ids.chunks(CHUNK) {
        let wanted: Vec<String> = chunk.iter().map(Uuid::to_string).collect();
        let rows: Vec<Row> = results::table
            .filter(results::client_id.eq_any(wanted))
            .load(conn)?;
        for row in rows {
            let (id, entry) = row.read()?;
            found.insert(entry.client_id, (id, entry));
        }
    }
    Ok(found)
}

/// A place where a check is answered: check, tag and part.
pub type Place = (CheckId, TagId, Option<PartKind>);

/// The latest answer (pass or fail) at each place of these tags that was done at or after `from`, with its turn.
///
/// # Errors
/// When the database does not answer.
pub fn latest_from(
    conn: &mut AnyConnection,
    tags: &[TagId],
    from: NaiveDateTime,
) -> Result<HashMap<Place, (Turn, Outcome)>> {
    let mut latest: HashMap<Place, (Turn, Outcome)> = HashMap::new();
    for chunk in tags.chunks(CHUNK) {
        let rows: Vec<(i64, i64, String, NaiveDateTime, String, String)> = results::table
            .filter(results::tag_id.eq_any(chunk.iter().map(|tag| tag.0)))
            .filter(results::done_at.ge(from))
            .filter(results::outcome.ne(Outcome::NotChecked.code()))
            .order((results::done_at, results::id))
            .select((
                results::check_id,
                results::tag_id,
                results::part,
                results::done_at,
                results::outcome,
                results::client_id,
            ))
            .load(conn)?;
        for (check, tag, part, done_at, outcome, client_id) in rows {
            let place = (CheckId(check), TagId(tag), read_part(&part)?);
            let this = turn(done_at, client_id.parse().map_err(Error::internal)?);
            if latest.get(&place).is_none_or(|(before, _)| *before <= this) {
                latest.insert(place, (this, read_code(&outcome)?));
            }
        }
    }
    Ok(latest)
}

/// What was received at an instant for these tags, in the order of recording.
///
/// # Errors
/// When the database does not answer.
pub fn received_at(
    conn: &mut AnyConnection,
    tags: &[TagId],
    at: NaiveDateTime,
) -> Result<Vec<(ResultId, Entry)>> {
    let rows: Vec<Row> = results::table
        .filter(results::tag_id.eq_any(tags.iter().map(|tag| tag.0)))
        .filter(results::received_at.eq(at))
        .order(results::id)
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// The results of a turnover, in the order in which they were done.
///
/// # Errors
/// When the database does not answer.
pub fn of_turnover(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Vec<(ResultId, Entry)>> {
    let rows: Vec<Row> = results::table
        .filter(results::turnover_id.eq(turnover.0))
        .order((results::done_at, results::id))
        .load(conn)?;
    in_turn(rows)
}

/// The codes of some checks that were answered at some places, by fixture; those that could not be checked are left aside, and the answers
/// of one turnover.
///
/// # Errors
/// When the database does not answer.
pub fn answered_at(
    conn: &mut AnyConnection,
    tags: &[TagId],
    codes: &[&str],
    but: Option<TurnoverId>,
) -> Result<HashMap<FixtureId, Vec<String>>> {
    let tags: Vec<i64> = tags.iter().map(|tag| tag.0).collect();
    let mut query = results::table
        .inner_join(checks::table)
        .filter(results::tag_id.eq_any(tags))
        .filter(checks::code.eq_any(codes.to_vec()))
        .filter(results::outcome.ne(Outcome::NotChecked.code()))
        .select((results::fixture_id, checks::code))
        .distinct()
        .into_boxed();
    if let Some(TurnoverId(but)) = but {
        query = query.filter(
            results::turnover_id
                .is_null()
                .or(results::turnover_id.ne(but))
                .assume_not_null(),
        );
    }
    let rows: Vec<(i64, String)> = query.load(conn)?;
    let mut found: HashMap<FixtureId, Vec<String>> = HashMap::new();
    for (fixture, code) in rows {
        found.entry(FixtureId(fixture)).or_default().push(code);
    }
    Ok(found)
}

/// The results that were recorded on a visit, in the order in which they were done.
///
/// # Errors
/// When the database does not answer.
pub fn of_visit(conn: &mut AnyConnection, visit: VisitId) -> Result<Vec<(ResultId, Entry)>> {
    let rows: Vec<Row> = results::table
        .filter(results::visit_id.eq(visit.0))
        .order((results::done_at, results::id))
        .load(conn)?;
    in_turn(rows)
}

/// Reads rows that come in the order in which they were done and recorded, into that of their turns.
fn in_turn(rows: Vec<Row>) -> Result<Vec<(ResultId, Entry)>> {
    let mut read = rows.into_iter().map(Row::read).collect::<Result<Vec<_>>>()?;
    read.sort_by_key(|(_, entry)| entry.turn());
    Ok(read)
}

/// Where a turnover is and the code of its stage, when there is such a turnover.
///
/// # Errors
/// When the database does not answer.
pub fn turnover_at(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Option<(UnitId, String)>> {
    let found: Option<(i64, String)> = turnovers::table
        .find(turnover.0)
        .select((turnovers::unit_id, turnovers::stage))
        .first(conn)
        .optional()?;
    Ok(found.map(|(unit, stage)| (UnitId(unit), stage)))
}

/// Where a visit goes and the code of its status, when there is such a visit.
///
/// # Errors
/// When the database does not answer.
pub fn visit_at(conn: &mut AnyConnection, visit: VisitId) -> Result<Option<(UnitId, String)>> {
    let found: Option<(i64, String)> = visits::table
        .find(visit.0)
        .select((visits::unit_id, visits::status))
        .first(conn)
        .optional()?;
    Ok(found.map(|(unit, status)| (UnitId(unit), status)))
}
