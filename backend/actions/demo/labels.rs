//! Labels of the first building's places, as if they had been printed and stuck on.

use crate::actions::labels::{self, Choice};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::error::Result;
use crate::store::{Db, buildings};

/// Labels every place of the first building that was made.
pub(super) fn live(db: &Db, now: Now) -> Result<()> {
    let all = db.read(|conn| buildings::list(conn, &Scope::All))?;
    let Some(first) = all.into_iter().min_by_key(|building| building.id) else {
        return Ok(());
    };
    let choice = Choice {
        building: first.facts.code,
        ..Choice::default()
    };
    labels::make(db, &Actor::operator(), now, &choice)?;
    Ok(())
}
