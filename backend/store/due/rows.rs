//! The stored due rows: reading them, and writing the difference to what was computed.
//!
//! Nothing else writes `due_rows`. The rows of the live turn are in use; those of the turn that follows may be laid beside them.

use chrono::NaiveDate;
use diesel::prelude::*;
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
    let rows = due_rows::table
        .filter(due_rows::turn.eq(turn))
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

/// Makes the stored rows of a selection what was computed; rows that are right are not touched.
pub fn write(tx: &mut Tx<'_>, selection: Selection<'_>, computed: &[Row], in_use: InUse) -> Result<()> {
    let live = live(tx)?;
    if in_use == InUse::AtOnce {
        let changes = put_right(tx, selection, live, computed)?;
        mark::renew(tx, &changes.buildings())?;
        if !is_laying(stale_after(tx)?) {
            return Ok(());
        }
    }
    put_right(tx, selection, live + 1, computed)?;
    Ok(())
}

fn put_right(tx: &mut Tx<'_>, selection: Selection<'_>, turn: i64, computed: &[Row]) -> Result<Changes> {
    let stored = load_of(tx, selection, turn)?;
    let changes = Changes::between(stored, computed);
    for gone in &changes.gone {
        let gone = due_rows::table.find((gone.fixture_id, &gone.part, gone.check_id, turn));
        diesel::delete(gone).execute(&mut **tx)?;
    }
    for chunk in changes.put.chunks(CHUNK) {
        put(tx, turn, chunk)?;
    }
    Ok(changes)
}

/// Inserts rows, or makes those that are there under the same key say the same: one statement a row on SQLite, which keeps it
/// prepared (it keeps none that says what to do on a conflict); one for many on PostgreSQL, where each is a round trip.
fn put(tx: &mut Tx<'_>, turn: i64, chunk: &[Row]) -> Result<()> {
    let laid = chunk.iter().map(|row| (due_rows::turn.eq(turn), row));
    match &mut **tx {
        AnyConnection::Sqlite(inner) => {
            for laid in laid {
                // Nothing refers to a due row, so that to replace it is to change it.
                diesel::replace_into(due_rows::table)
                    .values(laid)
                    .execute(inner)?;
            }
        }
        AnyConnection::Postgres(inner) => {
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
