//! How long windows are open, so that a list need not look at rows that end long after any that is open.

use diesel::prelude::*;

use super::{is_stale, tenancy};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::schema::schedules;

/// Days that no window is open for.
const A_CENTURY: i64 = 36_525;

/// Days from the opening of a window to its last day, the most of any row in use.
///
/// # Errors
/// When the database does not answer.
pub fn widest_days(conn: &mut AnyConnection) -> Result<u64> {
    let widest = if is_stale(conn)? {
        // Rows in use may still be those of a schedule before it was changed, with a window as wide as it was then.
        A_CENTURY
    } else {
        let rows: Vec<(i64, i64)> = schedules::table
            .select((schedules::lead_days, schedules::grace_days))
            .load(conn)?;
        let by_schedule = rows.iter().map(|(lead, grace)| lead + grace);
        by_schedule.chain(tenancy::widths(conn)?).max().unwrap_or(0)
    };
    Ok(u64::try_from(widest).unwrap_or(0))
}
