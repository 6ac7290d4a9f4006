//! Deficiencies and what happened to them. Decides nothing: which state follows which is the domain's.

use std::collections::HashMap;

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::coded::{part_code, read_code, read_part};
use super::schema::{deficiencies, deficiency_events};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{
    BuildingId, CheckId, DeficiencyId, FixtureId, PersonId, ResultId, TagId, UnitId,
};
use crate::domain::result::{Deficiency, DeficiencyStatus, EventKind};
use crate::error::{Error, Result};
use crate::on_each;

/// Rows of one statement.
const CHUNK: usize = 500;

#[derive(Queryable)]
struct Row {
    id: i64,
    building_id: i64,
    unit_id: i64,
    tag_id: Option<i64>,
    fixture_id: Option<i64>,
    part: String,
    check_id: Option<i64>,
    result_id: Option<i64>,
    source: String,
    title: String,
    detail: String,
    severity: String,
    opened_at: NaiveDateTime,
    correct_by: Option<NaiveDateTime>,
    assignee_id: Option<i64>,
    vendor: String,
    status: String,
    repaired_at: Option<NaiveDateTime>,
    parts_used: String,
    minutes: Option<f64>,
    cost_minor: Option<i64>,
    closed_at: Option<NaiveDateTime>,
    closed_how: Option<String>,
    repeats_id: Option<i64>,
    own_severity: Option<String>,
}

impl Row {
    fn read(self) -> Result<Deficiency> {
        let severity = read_code(&self.severity)?;
        let own = self.own_severity.as_deref().map(read_code).transpose()?;
        Ok(Deficiency {
            id: DeficiencyId(self.id),
            building: BuildingId(self.building_id),
            unit: UnitId(self.unit_id),
            tag: self.tag_id.map(TagId),
            fixture: self.fixture_id.map(FixtureId),
            part: read_part(&self.part)?,
            check: self.check_id.map(CheckId),
            result: self.result_id.map(ResultId),
            origin: read_code(&self.source)?,
            title: self.title,
            detail: self.detail,
            severity,
            own_severity: own.unwrap_or(severity),
            opened_at: self.opened_at,
            correct_by: self.correct_by,
            assignee: self.assignee_id.map(PersonId),
            vendor: self.vendor,
            status: read_code(&self.status)?,
            repaired_at: self.repaired_at,
            parts_used: self.parts_used,
            minutes: self.minutes,
            cost_minor: self.cost_minor,
            closed_at: self.closed_at,
            closed_how: self.closed_how.as_deref().map(read_code).transpose()?,
            repeats: self.repeats_id.map(DeficiencyId),
        })
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = deficiencies)]
#[diesel(treat_none_as_default_value = false)]
#[diesel(treat_none_as_null = true)]
struct Columns<'a> {
    building_id: i64,
    unit_id: i64,
    tag_id: Option<i64>,
    fixture_id: Option<i64>,
    part: &'static str,
    check_id: Option<i64>,
    result_id: Option<i64>,
    source: &'static str,
    title: &'a str,
    detail: &'a str,
    severity: &'static str,
    opened_at: NaiveDateTime,
    correct_by: Option<NaiveDateTime>,
    assignee_id: Option<i64>,
    vendor: &'a str,
    status: &'static str,
    repaired_at: Option<NaiveDateTime>,
    parts_used: &'a str,
    minutes: Option<f64>,
    cost_minor: Option<i64>,
    closed_at: Option<NaiveDateTime>,
    closed_how: Option<&'static str>,
    repeats_id: Option<i64>,
    own_severity: Option<&'static str>,
}

impl<'a> Columns<'a> {
    fn of(value: &'a Deficiency) -> Self {
        Self {
            building_id: value.building.0,
            unit_id: value.unit.0,
            tag_id: value.tag.map(|tag| tag.0),
            fixture_id: value.fixture.map(|fixture| fixture.0),
            part: part_code(value.part),
            check_id: value.check.map(|check| check.0),
            result_id: value.result.map(|result| result.0),
            source: value.origin.code(),
            title: &value.title,
            detail: &value.detail,
            severity: value.severity.code(),
            opened_at: value.opened_at,
            correct_by: value.correct_by,
            assignee_id: value.assignee.map(|person| person.0),
            vendor: &value.vendor,
            status: value.status.code(),
            repaired_at: value.repaired_at,
            parts_used: &value.parts_used,
            minutes: value.minutes,
            cost_minor: value.cost_minor,
            closed_at: value.closed_at,
            closed_how: value.closed_how.map(Coded::code),
            repeats_id: value.repeats.map(|repeats| repeats.0),
            own_severity: (value.own_severity != value.severity).then_some(value.own_severity.code()),
        }
    }
}

/// Something that happened to a deficiency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// To which one.
    pub deficiency: DeficiencyId,
    /// UTC.
    pub at: NaiveDateTime,
    /// Who; none for the command line.
    pub person: Option<PersonId>,
    /// What.
    pub kind: EventKind,
    /// In words.
    pub text: String,
    /// The result behind it.
    pub result: Option<ResultId>,
}

/// Inserts a deficiency; its `id` is not looked at.
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, value: &Deficiency) -> Result<DeficiencyId> {
    let id = diesel::insert_into(deficiencies::table)
        .values(Columns::of(value))
        .returning(deficiencies::id)
        .get_result(&mut **tx)?;
    Ok(DeficiencyId(id))
}

/// Writes a deficiency as it is now.
///
/// # Errors
/// When the database refuses, or there is none with its key.
pub fn update(tx: &mut Tx<'_>, value: &Deficiency) -> Result<()> {
    let changed = diesel::update(deficiencies::table.find(value.id.0))
        .set(Columns::of(value))
        .execute(&mut **tx)?;
    if changed == 1 { Ok(()) } else { Err(missing()) }
}

/// Appends what happened.
///
/// # Errors
/// When the database refuses.
pub fn append_event(tx: &mut Tx<'_>, event: &Event) -> Result<()> {
    append_events(tx, std::slice::from_ref(event))
}

/// Appends what happened, in bulk.
///
/// # Errors
/// When the database refuses.
pub fn append_events(tx: &mut Tx<'_>, events: &[Event]) -> Result<()> {
    for chunk in events.chunks(CHUNK) {
        let rows: Vec<_> = chunk
            .iter()
            .map(|event| {
                (
                    deficiency_events::deficiency_id.eq(event.deficiency.0),
                    deficiency_events::at.eq(event.at),
                    deficiency_events::person_id.eq(event.person.map(|person| person.0)),
                    deficiency_events::kind.eq(event.kind.code()),
                    deficiency_events::text.eq(event.text.as_str()),
                    deficiency_events::result_id.eq(event.result.map(|result| result.0)),
                )
            })
            .collect();
        on_each!(&mut **tx, inner => diesel::insert_into(deficiency_events::table).values(&rows).execute(inner))?;
    }
    Ok(())
}

fn missing() -> Error {
    Error::not_found("such deficiency")
}

/// One deficiency within a scope.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn find(conn: &mut AnyConnection, scope: &Scope, id: DeficiencyId) -> Result<Deficiency> {
    let row: Option<Row> = deficiencies::table.find(id.0).first(conn).optional()?;
    let found = row.ok_or_else(missing)?.read()?;
    if scope.sees(found.building) {
        Ok(found)
    } else {
        Err(missing())
    }
}

/// The deficiencies that stand (are not closed) in a unit, gravest and then oldest first.
///
/// # Errors
/// When the database does not answer.
pub fn standing_in(conn: &mut AnyConnection, units: &[UnitId]) -> Result<Vec<Deficiency>> {
    let mut found = Vec::new();
    for chunk in units.chunks(CHUNK) {
        let rows: Vec<Row> = deficiencies::table
            .filter(deficiencies::unit_id.eq_any(chunk.iter().map(|unit| unit.0)))
            .filter(deficiencies::status.ne(DeficiencyStatus::Closed.code()))
            .load(conn)?;
        for row in rows {
            found.push(row.read()?);
        }
    }
    found.sort_by_key(|one| (std::cmp::Reverse(one.severity.rank()), one.opened_at, one.id));
    Ok(found)
}

/// The deficiencies of a unit that were closed since an instant, in the order of their numbers.
///
/// # Errors
/// When the database does not answer.
pub fn closed_in_since(
    conn: &mut AnyConnection,
    unit: UnitId,
    since: NaiveDateTime,
) -> Result<Vec<Deficiency>> {
    let rows: Vec<Row> = deficiencies::table
        .filter(deficiencies::unit_id.eq(unit.0))
        .filter(deficiencies::closed_at.ge(since))
        .order(deficiencies::id)
        .load(conn)?;
    rows.into_iter().map(Row::read).collect()
}

/// Every deficiency of these places, closed ones too, in the order of their numbers.
///
/// # Errors
/// When the database does not answer.
pub fn at_tags(conn: &mut AnyConnection, tags: &[TagId]) -> Result<Vec<Deficiency>> {
    let mut found = Vec::new();
    for chunk in tags.chunks(CHUNK) {
        let rows: Vec<Row> = deficiencies::table
            .filter(deficiencies::tag_id.eq_any(chunk.iter().map(|tag| tag.0)))
            .order(deficiencies::id)
            .load(conn)?;
        for row in rows {
            found.push(row.read()?);
        }
    }
    Ok(found)
}

/// What happened to these deficiencies, in the order in which it happened.
///
/// # Errors
/// When the database does not answer.
pub fn events_of(conn: &mut AnyConnection, ids: &[DeficiencyId]) -> Result<Vec<Event>> {
    let mut found = Vec::new();
    for chunk in ids.chunks(CHUNK) {
        found.extend(read_events(
            deficiency_events::table
                .filter(deficiency_events::deficiency_id.eq_any(chunk.iter().map(|id| id.0)))
                .order((deficiency_events::at, deficiency_events::id))
                .load(conn)?,
        )?);
    }
    Ok(found)
}

/// The checks that deficiencies failed; reports have none.
///
/// # Errors
/// When the database does not answer.
pub fn checks_of(conn: &mut AnyConnection, ids: &[DeficiencyId]) -> Result<HashMap<DeficiencyId, CheckId>> {
    let mut found = HashMap::new();
    for chunk in ids.chunks(CHUNK) {
        let rows: Vec<(i64, Option<i64>)> = deficiencies::table
            .filter(deficiencies::id.eq_any(chunk.iter().map(|id| id.0)))
            .select((deficiencies::id, deficiencies::check_id))
            .load(conn)?;
        let with_check = rows
            .into_iter()
            .filter_map(|(id, check)| Some((DeficiencyId(id), CheckId(check?))));
        found.extend(with_check);
    }
    Ok(found)
}

type EventRow = (i64, i64, NaiveDateTime, Option<i64>, String, String, Option<i64>);

fn read_events(rows: Vec<EventRow>) -> Result<Vec<Event>> {
    rows.into_iter()
        .map(|(_, deficiency, at, person, kind, text, result)| {
            Ok(Event {
                deficiency: DeficiencyId(deficiency),
                at,
                person: person.map(PersonId),
                kind: read_code(&kind)?,
                text,
                result: result.map(ResultId),
            })
        })
        .collect()
}

/// The deficiency that a failing result opened or was added to; none when it did neither.
///
/// # Errors
/// When the database does not answer.
pub fn of_result(conn: &mut AnyConnection, result: ResultId) -> Result<Option<DeficiencyId>> {
    let found: Option<i64> = deficiency_events::table
        .filter(deficiency_events::result_id.eq(result.0))
        .filter(deficiency_events::kind.eq_any([EventKind::Opened.code(), EventKind::FailedAgain.code()]))
        .order(deficiency_events::id)
        .select(deficiency_events::deficiency_id)
        .first(conn)
        .optional()?;
    Ok(found.map(DeficiencyId))
}
