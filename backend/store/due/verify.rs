//! Comparing the stored due rows of a building with the ground state. There must be no difference.

use std::collections::{BTreeMap, HashMap};

use diesel::prelude::*;

use super::ground::Selection;
use super::rows::{self, Key, Row};
use super::{ALWAYS, BATCH, compute};
use crate::domain::due::Book;
use crate::domain::register::BuildingId;
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schema::{fixtures, tags, units};

/// A due row that is not what it should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The fixture's key.
    pub fixture: i64,
    /// The part's code, empty for the fixture itself.
    pub part: String,
    /// The check's key.
    pub check: i64,
    /// The row as stored, in words; none when it is missing.
    pub stored: Option<String>,
    /// The row as the ground state says, in words; none when it should not be there.
    pub computed: Option<String>,
}

/// Every difference in a building.
///
/// # Errors
/// When there is no such building or the database does not answer.
pub fn differences(conn: &mut AnyConnection, book: &Book, building: BuildingId) -> Result<Vec<Difference>> {
    let selection = Selection::Building(building);
    let mut pairs: BTreeMap<Key, (Option<Row>, Option<Row>)> = BTreeMap::new();
    for row in rows::load(conn, selection)? {
        let pair = pairs.entry(row.key()).or_default();
        pair.0 = Some(row);
    }
    for row in compute(conn, book, selection, ALWAYS)?.stored_rows() {
        let pair = pairs.entry(row.key()).or_default();
        pair.1 = Some(row);
    }
    Ok(pairs
        .into_iter()
        .filter(|(_, (stored, computed))| stored != computed)
        .map(|((fixture, part, check), (stored, computed))| Difference {
            fixture,
            part,
            check,
            stored: stored.as_ref().map(|row| words(row, book)),
            computed: computed.as_ref().map(|row| words(row, book)),
        })
        .collect())
}

/// What people call a fixture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Labels {
    /// The unit's label.
    pub unit: String,
    /// The label of its place.
    pub tag: String,
}

/// The labels of some fixtures, by key.
///
/// # Errors
/// When the database does not answer.
pub fn labels(conn: &mut AnyConnection, fixture_keys: &[i64]) -> Result<HashMap<i64, Labels>> {
    let mut found = HashMap::new();
    for chunk in fixture_keys.chunks(BATCH) {
        let rows: Vec<(i64, String, String)> = fixtures::table
            .inner_join(tags::table.inner_join(units::table))
            .filter(fixtures::id.eq_any(chunk))
            .select((fixtures::id, units::label, tags::label))
            .load(conn)?;
        found.extend(rows.into_iter().map(|(id, unit, tag)| (id, Labels { unit, tag })));
    }
    Ok(found)
}

fn words(row: &Row, book: &Book) -> String {
    let schedule = book
        .schedules()
        .find(|schedule| schedule.id.0 == row.schedule_id)
        .map_or_else(
            || row.schedule_id.to_string(),
            |schedule| schedule.terms.code.clone(),
        );
    let moved = row
        .moved_from
        .map(|day| format!(" moved from {day}"))
        .unwrap_or_default();
    format!(
        "{schedule}, {} {}, opens {}, due {}{moved}, last day {}, unit {}",
        row.basis, row.counts_from, row.opens, row.due, row.last_day, row.unit_id
    )
}
