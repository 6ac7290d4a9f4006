//! The stored due rows: reading them, and writing the difference to what was computed.
//!
//! Nothing else writes `due_rows`. A row is in use from a turn on and until another; what replaces it may be laid beside it for the
//! turn that follows.

use chrono::NaiveDate;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, QueryFragment, QueryId};
use diesel::sql_types::{BigInt, Text};
use diesel::sqlite::Sqlite;
use diesel::upsert::excluded;

use super::changes::Changes;
use super::ground::{Place, Selection, part_code, part_of};
use super::mark;
use super::turns::live;
use crate::domain::due::{Basis, DueItem, DueRow, Window};
use crate::domain::register::{CheckId, FixtureId, ScheduleId};
use crate::error::{Error, Result};
use crate::store::schema::due_rows;
use crate::store::{AnyConnection, Tx};

/// Rows a statement.
const CHUNK: usize = 400;

#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = due_rows, treat_none_as_default_value = false)]
pub struct Row {
    pub fixture_id: i64,
    pub part: String,
    pub check_id: i64,
    pub building_id: i64,
    pub unit_id: i64,
    pub schedule_id: i64,
    pub basis: String,
    pub counts_from: NaiveDate,
    pub opens: NaiveDate,
    pub due: NaiveDate,
    pub last_day: NaiveDate,
    pub moved_from: Option<NaiveDate>,
}

/// What makes a row one.
pub type Key = (i64, String, i64);

impl Row {
    pub fn new(place: &Place, row: &DueRow) -> Self {
        let window = row.item.window;
        Self {
            fixture_id: row.fixture.0,
            part: part_code(row.part).to_owned(),
            check_id: row.check.0,
            building_id: place.building.0,
            unit_id: place.unit.0,
            schedule_id: row.schedule.0,
            basis: row.item.basis.code().to_owned(),
            counts_from: row.item.counts_from,
            opens: window.opens(),
            due: window.due(),
            last_day: window.last_day(),
            moved_from: row.item.moved_from,
        }
    }

    pub fn key(&self) -> Key {
        (self.fixture_id, self.part.clone(), self.check_id)
    }

    /// The row as a value, when it can be one.
    pub fn value(&self) -> Result<DueRow> {
        let broken = || Error::internal(format!("due row {:?} says what can't be", self.key()));
        let window = Window::from_days(self.opens, self.due, self.last_day).ok_or_else(broken)?;
        Ok(DueRow {
            fixture: FixtureId(self.fixture_id),
            part: part_of(&self.part)?,
            check: CheckId(self.check_id),
            schedule: ScheduleId(self.schedule_id),
            item: DueItem {
                basis: Basis::from_code(&self.basis).ok_or_else(broken)?,
                counts_from: self.counts_from,
                window,
                moved_from: self.moved_from,
            },
        })
    }
}

/// A row with the turns in which it is in use.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = due_rows, treat_none_as_default_value = false)]
pub(super) struct Kept {
    pub since: i64,
    pub until: i64,
    #[diesel(embed)]
    pub row: Row,
}

/// The rows of a selection that are in use.
pub fn load(conn: &mut AnyConnection, selection: Selection<'_>) -> Result<Vec<Row>> {
    let live = live(conn)?;
    let kept = load_from(conn, selection, live)?;
    Ok(kept
        .into_iter()
        .filter(|kept| kept.since <= live)
        .map(|kept| kept.row)
        .collect())
}

/// The rows of a selection that are in use in a turn or come into use after it.
fn load_from(conn: &mut AnyConnection, selection: Selection<'_>, live: i64) -> Result<Vec<Kept>> {
    let rows = due_rows::table.filter(due_rows::until.gt(live));
    Ok(match selection {
        Selection::Fixtures(ids) => rows
            .filter(due_rows::fixture_id.eq_any(ids))
            .select(Kept::as_select())
            .load(conn)?,
        Selection::Building(building) => rows
            .filter(due_rows::building_id.eq(building.0))
            .select(Kept::as_select())
            .load(conn)?,
    })
}

/// When rows come into use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InUse {
    /// As soon as they are written.
    AtOnce,
    /// With the next turn; until then those that stand are shown.
    NextTurn,
}

/// Makes the stored rows of a selection what was computed; rows that are right are not touched.
pub fn write(tx: &mut Tx<'_>, selection: Selection<'_>, computed: Vec<Row>, in_use: InUse) -> Result<()> {
    let live = live(tx)?;
    let stored = load_from(tx, selection, live)?;
    let changes = match in_use {
        InUse::AtOnce => Changes::at_once(live, stored, computed),
        InUse::NextTurn => Changes::for_next_turn(live, stored, computed),
    };
    if in_use == InUse::AtOnce && !changes.is_empty() {
        mark::renew(tx)?;
    }
    for gone in &changes.gone {
        let gone = due_rows::table
            .filter(due_rows::fixture_id.eq(gone.row.fixture_id))
            .filter(due_rows::part.eq(&gone.row.part))
            .filter(due_rows::check_id.eq(gone.row.check_id))
            .filter(due_rows::since.eq(gone.since));
        diesel::delete(gone).execute(&mut **tx)?;
    }
    for chunk in changes.ended.chunks(CHUNK) {
        end(tx, chunk)?;
    }
    for chunk in changes.put.chunks(CHUNK) {
        put(tx, chunk)?;
    }
    Ok(())
}

/// Changes nothing of rows but the turn until which they are in use.
fn end(tx: &mut Tx<'_>, chunk: &[Kept]) -> Result<()> {
    let AnyConnection::Sqlite(inner) = &mut **tx else {
        return put(tx, chunk);
    };
    for kept in chunk {
        if Ended(kept).execute(inner)? != 1 {
            return Err(Error::internal(format!(
                "due row {:?} is not there to end",
                kept.row.key()
            )));
        }
    }
    Ok(())
}

/// The statement that changes until when one row is in use; diesel's own keeps no update prepared.
struct Ended<'k>(&'k Kept);

impl QueryId for Ended<'_> {
    type QueryId = Ended<'static>;
    const HAS_STATIC_QUERY_ID: bool = true;
}

impl QueryFragment<Sqlite> for Ended<'_> {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, Sqlite>) -> diesel::QueryResult<()> {
        let Kept { since, until, row } = self.0;
        out.push_sql("UPDATE due_rows SET until = ");
        out.push_bind_param::<BigInt, _>(until)?;
        out.push_sql(" WHERE fixture_id = ");
        out.push_bind_param::<BigInt, _>(&row.fixture_id)?;
        out.push_sql(" AND part = ");
        out.push_bind_param::<Text, _>(&row.part)?;
        out.push_sql(" AND check_id = ");
        out.push_bind_param::<BigInt, _>(&row.check_id)?;
        out.push_sql(" AND since = ");
        out.push_bind_param::<BigInt, _>(since)?;
        Ok(())
    }
}

impl RunQueryDsl<SqliteConnection> for Ended<'_> {}

/// Inserts rows, or makes those that are there under the same key say the same: one statement a row on SQLite, which keeps it
/// prepared (it keeps none that says what to do on a conflict); one for many on PostgreSQL, where each is a round trip.
fn put(tx: &mut Tx<'_>, chunk: &[Kept]) -> Result<()> {
    match &mut **tx {
        AnyConnection::Sqlite(inner) => {
            for kept in chunk {
                // Nothing refers to a due row, so that to replace it is to change it.
                diesel::replace_into(due_rows::table)
                    .values(kept)
                    .execute(inner)?;
            }
        }
        AnyConnection::Postgres(inner) => {
            diesel::insert_into(due_rows::table)
                .values(chunk)
                .on_conflict((
                    due_rows::fixture_id,
                    due_rows::part,
                    due_rows::check_id,
                    due_rows::since,
                ))
                .do_update()
                .set((
                    due_rows::until.eq(excluded(due_rows::until)),
                    due_rows::building_id.eq(excluded(due_rows::building_id)),
                    due_rows::unit_id.eq(excluded(due_rows::unit_id)),
                    due_rows::schedule_id.eq(excluded(due_rows::schedule_id)),
                    due_rows::basis.eq(excluded(due_rows::basis)),
                    due_rows::counts_from.eq(excluded(due_rows::counts_from)),
                    due_rows::opens.eq(excluded(due_rows::opens)),
                    due_rows::due.eq(excluded(due_rows::due)),
                    due_rows::last_day.eq(excluded(due_rows::last_day)),
                    due_rows::moved_from.eq(excluded(due_rows::moved_from)),
                ))
                .execute(inner)?;
        }
    }
    Ok(())
}
