//! The stored due rows: reading them, and writing the difference to what was computed.
//!
//! Nothing else writes `due_items`.

use std::collections::HashMap;

use chrono::NaiveDate;
use diesel::prelude::*;
use diesel::upsert::excluded;

use super::ground::{Place, Selection, part_code, part_of};
use super::mark;
use crate::domain::due::{Basis, DueItem, DueRow, Window};
use crate::domain::register::{CheckId, FixtureId, ScheduleId};
use crate::error::{Error, Result};
use crate::store::schema::due_items;
use crate::store::{AnyConnection, Tx};

/// Rows a statement.
const CHUNK: usize = 400;

#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = due_items, treat_none_as_default_value = false)]
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

/// The stored rows of a selection.
pub fn load(conn: &mut AnyConnection, selection: Selection<'_>) -> Result<Vec<Row>> {
    Ok(match selection {
        Selection::Fixtures(ids) => due_items::table
            .filter(due_items::fixture_id.eq_any(ids))
            .select(Row::as_select())
            .load(conn)?,
        Selection::Building(building) => due_items::table
            .filter(due_items::building_id.eq(building.0))
            .select(Row::as_select())
            .load(conn)?,
    })
}

/// Makes the stored rows of a selection what was computed; rows that are right are not touched.
pub fn write(tx: &mut Tx<'_>, selection: Selection<'_>, computed: Vec<Row>) -> Result<()> {
    let mut stored: HashMap<Key, Row> = load(tx, selection)?
        .into_iter()
        .map(|row| (row.key(), row))
        .collect();
    let wanted: Vec<Row> = computed
        .into_iter()
        .filter(|row| stored.remove(&row.key()).is_none_or(|known| known != *row))
        .collect();
    if !stored.is_empty() || !wanted.is_empty() {
        mark::renew(tx)?;
    }
    for (fixture, part, check) in stored.into_keys() {
        let gone = due_items::table
            .filter(due_items::fixture_id.eq(fixture))
            .filter(due_items::part.eq(part))
            .filter(due_items::check_id.eq(check));
        diesel::delete(gone).execute(&mut **tx)?;
    }
    for chunk in wanted.chunks(CHUNK) {
        put(tx, chunk)?;
    }
    Ok(())
}

fn put(tx: &mut Tx<'_>, chunk: &[Row]) -> Result<()> {
    crate::on_each!(&mut **tx, inner => diesel::insert_into(due_items::table)
        .values(chunk)
        .on_conflict((due_items::fixture_id, due_items::part, due_items::check_id))
        .do_update()
        .set((
            due_items::building_id.eq(excluded(due_items::building_id)),
            due_items::unit_id.eq(excluded(due_items::unit_id)),
            due_items::schedule_id.eq(excluded(due_items::schedule_id)),
            due_items::basis.eq(excluded(due_items::basis)),
            due_items::counts_from.eq(excluded(due_items::counts_from)),
            due_items::opens.eq(excluded(due_items::opens)),
            due_items::due.eq(excluded(due_items::due)),
            due_items::last_day.eq(excluded(due_items::last_day)),
            due_items::moved_from.eq(excluded(due_items::moved_from)),
        ))
        .execute(inner)
        .map(|_written| ()))?;
    Ok(())
}
