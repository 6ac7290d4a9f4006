//! In which order the due rows of buildings changed, so that what was counted from them can be kept, and is counted again only where
//! something changed since. A database that is put back from a copy begins at an earlier number, so a server is stopped for that.

use std::collections::BTreeSet;

use diesel::prelude::*;

use crate::error::Result;
use crate::store::schema::due_marks;
use crate::store::{AnyConnection, Tx};

/// Under which key the last change of any building stands.
const ALL: i64 = 0;

/// The number of the last change of any due row; greater after each.
///
/// # Errors
/// When the database does not answer.
pub fn last_change(conn: &mut AnyConnection) -> Result<i64> {
    Ok(due_marks::table.find(ALL).select(due_marks::number).first(conn)?)
}

/// The buildings in which due rows changed after a change, at most `limit` of them.
///
/// # Errors
/// When the database does not answer.
pub fn changed_after(conn: &mut AnyConnection, number: i64, limit: i64) -> Result<Vec<i64>> {
    Ok(due_marks::table
        .filter(due_marks::number.gt(number))
        .filter(due_marks::building_id.ne(ALL))
        .select(due_marks::building_id)
        .limit(limit)
        .load(conn)?)
}

/// Notes that due rows of some buildings changed; nothing for none.
pub(super) fn renew(tx: &mut Tx<'_>, buildings: &BTreeSet<i64>) -> Result<()> {
    if buildings.is_empty() {
        return Ok(());
    }
    diesel::update(due_marks::table.find(ALL))
        .set(due_marks::number.eq(due_marks::number + 1))
        .execute(&mut **tx)?;
    let number = last_change(tx)?;
    for building in buildings {
        let changed = diesel::update(due_marks::table.find(building))
            .set(due_marks::number.eq(number))
            .execute(&mut **tx)?;
        if changed == 0 {
            diesel::insert_into(due_marks::table)
                .values((due_marks::building_id.eq(building), due_marks::number.eq(number)))
                .execute(&mut **tx)?;
        }
    }
    Ok(())
}
