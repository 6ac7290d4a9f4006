//! Stores the schedules that an import wants, within its transaction; the import notes them.

use super::by;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::exchange::csv::schedules::Wanted;
use crate::store::{Tx, due, schedules};

/// Stores new and changed schedules and marks the due rows stale; whoever calls renews them after the transaction.
///
/// # Errors
/// When the database refuses.
pub fn take_in(tx: &mut Tx<'_>, actor: &Actor, now: Now, wanted: &[Wanted]) -> Result<()> {
    for one in wanted {
        match &one.before {
            None => {
                schedules::insert(tx, &one.terms)?;
            }
            Some(before) => schedules::update(tx, before, &one.terms, by(actor, now))?,
        }
    }
    if wanted.is_empty() {
        return Ok(());
    }
    due::mark_stale(tx)
}
