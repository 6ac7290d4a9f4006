//! Stores the calendars that an import wants, within its transaction; the import notes them.

use crate::domain::register::person::Scope;
use crate::error::Result;
use crate::exchange::csv::calendars::Wanted;
use crate::store::{Tx, buildings, calendars, due};

/// Stores them and marks the due rows stale; whoever calls renews them after the transaction.
///
/// # Errors
/// When the database refuses.
pub fn take_in(tx: &mut Tx<'_>, wanted: &[Wanted]) -> Result<()> {
    for one in wanted {
        let building = buildings::by_code(tx, &Scope::All, &one.building)?;
        calendars::set(tx, building.id, &one.calendar)?;
    }
    if wanted.is_empty() {
        return Ok(());
    }
    due::mark_stale(tx)
}
