//! The stored due rows: reading them, and writing the difference to what was computed.
//!
//! Nothing else writes `due_rows`. The rows of the live turn are in use; those of the turn that follows may be laid beside them.

use chrono::NaiveDate;
use diesel::prelude::*;
use diesel::query_builder::{AstPass, QueryFragment, QueryId};
use diesel::sql_types::{BigInt, Nullable, Text};
use diesel::sqlite::Sqlite;
use diesel::upsert::excluded;

use super::changes::Changes;
use super::ground::{Place, Selection, part_code, part_of};
use super::mark;
use super::stale::{is_laying, stale_after};
use super::turns::live;
use crate::domain::due::{Basis, DueItem, DueRow, Window};
use crate::domain::register::{CheckId, FixtureId, ScheduleId};
use crate::error::{Error, Result};
use crate::store::among::among;
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

/// The rows of a selection that are in use.
pub fn load(conn: &mut AnyConnection, selection: Selection<'_>) -> Result<Vec<Row>> {
    let live = live(conn)?;
    load_of(conn, selection, live)
}

fn load_of(conn: &mut AnyConnection, selection: Selection<'_>, turn: i64) -> Result<Vec<Row>> {
    // The sum keeps both databases from an index of whole turns.
    let rows = due_rows::table
        .filter((due_rows::turn + 0).eq(turn))
        .select(Row::as_select());
    Ok(match selection {
        Selection::Fixtures(ids) => {
            let theirs = among(conn, "due_rows.fixture_id", ids);
            rows.filter(theirs).load(conn)?
        }
        Selection::Building(building) => rows.filter(due_rows::building_id.eq(building.0)).load(conn)?,
    })
}

/// When rows come into use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InUse {
    /// As soon as they are written, and with the next turn too where one is being laid.
    AtOnce,
    /// With the next turn; until then those that stand are shown.
    NextTurn,
}

/// Makes the stored rows of a selection what was computed; rows in use that are right are not touched.
pub fn write(tx: &mut Tx<'_>, selection: Selection<'_>, computed: &[Row], in_use: InUse) -> Result<()> {
    let live = live(tx)?;
    match in_use {
        InUse::AtOnce => {
            let changes = put_right(tx, selection, live, computed)?;
            mark::renew(tx, &changes.buildings)?;
            if is_laying(stale_after(tx)?) {
                put_right(tx, selection, live + 1, computed)?;
            }
            Ok(())
        }
        // All that was laid under an earlier change was swept before: what is there was put there at once, and says the same.
        InUse::NextTurn => put_all(tx, live + 1, computed),
    }
}

fn put_right(tx: &mut Tx<'_>, selection: Selection<'_>, turn: i64, computed: &[Row]) -> Result<Changes> {
    let stored = load_of(tx, selection, turn)?;
    let changes = Changes::between(stored, computed);
    for gone in &changes.gone {
        let gone = due_rows::table.find((gone.fixture_id, &gone.part, gone.check_id, turn));
        diesel::delete(gone).execute(&mut **tx)?;
    }
    put_all(tx, turn, &changes.put)?;
    Ok(changes)
}

fn put_all(tx: &mut Tx<'_>, turn: i64, rows: &[Row]) -> Result<()> {
    rows.chunks(CHUNK).try_for_each(|chunk| put(tx, turn, chunk))
}

/// Inserts rows, or makes those that are there under the same key say the same: one statement a row on SQLite, which keeps it
/// prepared; one for many on PostgreSQL, where each is a round trip.
fn put(tx: &mut Tx<'_>, turn: i64, chunk: &[Row]) -> Result<()> {
    match &mut **tx {
        AnyConnection::Sqlite(inner) => {
            for row in chunk {
                Put::new(turn, row).execute(inner)?;
            }
        }
        AnyConnection::Postgres(inner) => {
            let laid = chunk.iter().map(|row| (due_rows::turn.eq(turn), row));
            diesel::insert_into(due_rows::table)
                .values(laid.collect::<Vec<_>>())
                .on_conflict((
                    due_rows::fixture_id,
                    due_rows::part,
                    due_rows::check_id,
                    due_rows::turn,
                ))
                .do_update()
                .set((
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

/// The statement that puts one row in its place on SQLite. The query builder's own costs half as much again as the database does,
/// because it spells out every column anew to find that the statement is the same as before.
struct Put<'r> {
    turn: i64,
    row: &'r Row,
    /// Counts from, opens, due, last day, as SQLite keeps dates.
    days: [String; 4],
    moved_from: Option<String>,
}

impl<'r> Put<'r> {
    fn new(turn: i64, row: &'r Row) -> Self {
        Self {
            turn,
            row,
            days: [row.counts_from, row.opens, row.due, row.last_day].map(|day| day.to_string()),
            moved_from: row.moved_from.map(|day| day.to_string()),
        }
    }
}

impl QueryId for Put<'_> {
    type QueryId = Put<'static>;
    const HAS_STATIC_QUERY_ID: bool = true;
}

impl QueryFragment<Sqlite> for Put<'_> {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, Sqlite>) -> diesel::QueryResult<()> {
        out.push_sql(
            "INSERT INTO due_rows (fixture_id, check_id, turn, building_id, unit_id, schedule_id, part, basis, \
             counts_from, opens, due, last_day, moved_from) VALUES (",
        );
        let Row {
            fixture_id,
            part,
            check_id,
            building_id,
            unit_id,
            schedule_id,
            basis,
            counts_from: _,
            opens: _,
            due: _,
            last_day: _,
            moved_from: _,
        } = self.row;
        for key in [
            fixture_id,
            check_id,
            &self.turn,
            building_id,
            unit_id,
            schedule_id,
        ] {
            out.push_bind_param::<BigInt, _>(key)?;
            out.push_sql(", ");
        }
        for text in [part, basis].into_iter().chain(&self.days) {
            out.push_bind_param::<Text, _>(text)?;
            out.push_sql(", ");
        }
        out.push_bind_param::<Nullable<Text>, _>(&self.moved_from)?;
        out.push_sql(
            ") ON CONFLICT (fixture_id, part, check_id, turn) DO UPDATE SET building_id = excluded.building_id, \
             unit_id = excluded.unit_id, schedule_id = excluded.schedule_id, basis = excluded.basis, \
             counts_from = excluded.counts_from, opens = excluded.opens, due = excluded.due, last_day = excluded.last_day, \
             moved_from = excluded.moved_from",
        );
        Ok(())
    }
}

impl RunQueryDsl<SqliteConnection> for Put<'_> {}
