//! Turnovers with their waivers and the items they are known to have asked. Decides nothing: which stage follows is the domain's.

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use super::coded::{part_code, read_code, read_part};
use super::schema::{turnover_items, turnover_waivers, turnovers};
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, FixtureId, PersonId, TurnoverId, UnitId};
use crate::domain::turnover::{ItemKey, KnownItem, Turnover, TurnoverFacts, Waiver, WaiverFacts};
use crate::error::{Error, Result};
use crate::on_each;

/// The codes of the stages in which a turnover is open.
pub(in crate::store) const OPEN: [&str; 3] = ["found", "repaired", "ready"];

/// Rows of one statement.
const CHUNK: usize = 500;

#[derive(Queryable)]
pub(super) struct Row {
    id: i64,
    building_id: i64,
    unit_id: i64,
    move_out_on: NaiveDate,
    move_in_on: NaiveDate,
    stage: String,
    opened_at: NaiveDateTime,
    opened_by: Option<i64>,
    ready_at: Option<NaiveDateTime>,
    ready_by: Option<i64>,
    closed_at: Option<NaiveDateTime>,
    closed_by: Option<i64>,
    signed_name: String,
    note: String,
    signature: String,
    signed_at: Option<NaiveDateTime>,
}

impl Row {
    pub(super) fn read(self) -> Result<Turnover> {
        Ok(Turnover {
            id: TurnoverId(self.id),
            building: BuildingId(self.building_id),
            unit: UnitId(self.unit_id),
            facts: TurnoverFacts {
                move_out_on: self.move_out_on,
                move_in_on: self.move_in_on,
                note: self.note,
            },
            stage: read_code(&self.stage)?,
            opened_at: self.opened_at,
            opened_by: self.opened_by.map(PersonId),
            ready_at: self.ready_at,
            ready_by: self.ready_by.map(PersonId),
            closed_at: self.closed_at,
            closed_by: self.closed_by.map(PersonId),
            signed_name: self.signed_name,
            signature: self.signature,
            signed_at: self.signed_at,
        })
    }
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = turnovers, treat_none_as_default_value = false, treat_none_as_null = true)]
struct Columns<'a> {
    building_id: i64,
    unit_id: i64,
    move_out_on: NaiveDate,
    move_in_on: NaiveDate,
    stage: &'static str,
    opened_at: NaiveDateTime,
    opened_by: Option<i64>,
    ready_at: Option<NaiveDateTime>,
    ready_by: Option<i64>,
    closed_at: Option<NaiveDateTime>,
    closed_by: Option<i64>,
    signed_name: &'a str,
    note: &'a str,
    signature: &'a str,
    signed_at: Option<NaiveDateTime>,
}

impl<'a> Columns<'a> {
    fn of(value: &'a Turnover) -> Self {
        Self {
            building_id: value.building.0,
            unit_id: value.unit.0,
            move_out_on: value.facts.move_out_on,
            move_in_on: value.facts.move_in_on,
            stage: value.stage.code(),
            opened_at: value.opened_at,
            opened_by: value.opened_by.map(|person| person.0),
            ready_at: value.ready_at,
            ready_by: value.ready_by.map(|person| person.0),
            closed_at: value.closed_at,
            closed_by: value.closed_by.map(|person| person.0),
            signed_name: &value.signed_name,
            note: &value.facts.note,
            signature: &value.signature,
            signed_at: value.signed_at,
        }
    }
}

fn missing() -> Error {
    Error::not_found("such turnover")
}

/// Inserts a turnover; its `id` is not looked at.
///
/// # Errors
/// When one of the unit is open, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, value: &Turnover) -> Result<TurnoverId> {
    let id = diesel::insert_into(turnovers::table)
        .values(Columns::of(value))
        .returning(turnovers::id)
        .get_result(&mut **tx)?;
    Ok(TurnoverId(id))
}

/// Writes a turnover as it is now.
///
/// # Errors
/// When the database refuses, or there is none with its key.
pub fn update(tx: &mut Tx<'_>, value: &Turnover) -> Result<()> {
    let changed = diesel::update(turnovers::table.find(value.id.0))
        .set(Columns::of(value))
        .execute(&mut **tx)?;
    if changed == 1 { Ok(()) } else { Err(missing()) }
}

/// One turnover within a scope.
///
/// # Errors
/// [`Error::NotFound`] when there is none that may be seen.
pub fn find(conn: &mut AnyConnection, scope: &Scope, id: TurnoverId) -> Result<Turnover> {
    let row: Option<Row> = turnovers::table.find(id.0).first(conn).optional()?;
    let found = row.ok_or_else(missing)?.read()?;
    if scope.sees(found.building) {
        Ok(found)
    } else {
        Err(missing())
    }
}

/// The turnover of a unit that is open, when one is. Callers give a unit that the asker may see.
///
/// # Errors
/// When the database does not answer.
pub fn open_of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Option<Turnover>> {
    let row: Option<Row> = turnovers::table
        .filter(turnovers::unit_id.eq(unit.0))
        .filter(turnovers::stage.eq_any(OPEN))
        .first(conn)
        .optional()?;
    row.map(Row::read).transpose()
}

/// The latest turnover of a unit, open or not, when there was any. Callers give a unit that the asker may see.
///
/// # Errors
/// When the database does not answer.
pub fn latest_of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Option<Turnover>> {
    let row: Option<Row> = turnovers::table
        .filter(turnovers::unit_id.eq(unit.0))
        .order((turnovers::opened_at.desc(), turnovers::id.desc()))
        .first(conn)
        .optional()?;
    row.map(Row::read).transpose()
}

/// Appends a waiver.
///
/// # Errors
/// When the database refuses.
pub fn insert_waiver(tx: &mut Tx<'_>, turnover: TurnoverId, value: &Waiver) -> Result<()> {
    diesel::insert_into(turnover_waivers::table)
        .values((
            turnover_waivers::turnover_id.eq(turnover.0),
            turnover_waivers::deficiency_id.eq(value.deficiency.0),
            turnover_waivers::reason.eq(&value.facts.reason),
            turnover_waivers::person_id.eq(value.person.map(|person| person.0)),
            turnover_waivers::signed_name.eq(&value.facts.signed_name),
            turnover_waivers::until_on.eq(value.facts.until_on),
            turnover_waivers::created_at.eq(value.created_at),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The waivers of a turnover, in the order in which they were given.
///
/// # Errors
/// When the database does not answer.
pub fn waivers(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Vec<Waiver>> {
    let rows: Vec<(i64, String, Option<i64>, String, NaiveDate, NaiveDateTime)> = turnover_waivers::table
        .filter(turnover_waivers::turnover_id.eq(turnover.0))
        .order(turnover_waivers::id)
        .select((
            turnover_waivers::deficiency_id,
            turnover_waivers::reason,
            turnover_waivers::person_id,
            turnover_waivers::signed_name,
            turnover_waivers::until_on,
            turnover_waivers::created_at,
        ))
        .load(conn)?;
    let read = rows.into_iter().map(
        |(deficiency, reason, person, signed_name, until_on, created_at)| Waiver {
            deficiency: DeficiencyId(deficiency),
            person: person.map(PersonId),
            created_at,
            facts: WaiverFacts {
                reason,
                signed_name,
                until_on,
            },
        },
    );
    Ok(read.collect())
}

/// Notes items that the checklist has; those that are known already must not be among them.
///
/// # Errors
/// When the database refuses.
pub fn insert_items(tx: &mut Tx<'_>, turnover: TurnoverId, items: &[KnownItem]) -> Result<()> {
    for chunk in items.chunks(CHUNK) {
        let rows: Vec<_> = chunk
            .iter()
            .map(|item| {
                (
                    turnover_items::turnover_id.eq(turnover.0),
                    turnover_items::fixture_id.eq(item.key.fixture.0),
                    turnover_items::part.eq(part_code(item.key.part)),
                    turnover_items::check_id.eq(item.key.check.0),
                    turnover_items::stage.eq(item.key.stage.code()),
                    turnover_items::added_on.eq(item.added_on),
                )
            })
            .collect();
        on_each!(&mut **tx, inner => diesel::insert_into(turnover_items::table).values(&rows).execute(inner))?;
    }
    Ok(())
}

/// The items that a turnover is known to have had.
///
/// # Errors
/// When the database does not answer.
pub fn known_items(conn: &mut AnyConnection, turnover: TurnoverId) -> Result<Vec<KnownItem>> {
    let rows: Vec<(i64, String, i64, String, Option<NaiveDate>)> = turnover_items::table
        .filter(turnover_items::turnover_id.eq(turnover.0))
        .select((
            turnover_items::fixture_id,
            turnover_items::part,
            turnover_items::check_id,
            turnover_items::stage,
            turnover_items::added_on,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(fixture, part, check, stage, added_on)| {
            Ok(KnownItem {
                key: ItemKey {
                    fixture: FixtureId(fixture),
                    part: read_part(&part)?,
                    check: CheckId(check),
                    stage: read_code(&stage)?,
                },
                added_on,
            })
        })
        .collect()
}
