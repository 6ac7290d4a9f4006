//! Checks: adding one's own, copying one, changing one's own, offering and withdrawing. Managers alone.
//!
//! A built-in check is never changed by hand: a copy is, and stays as it is when ours is updated. Each change is a new version, so that
//! old answers keep the procedure as it was asked.

mod add;
mod change;
mod copy;
mod offer;

pub use add::add;
pub use change::change;
pub use copy::copy;
pub use offer::offer;

use crate::actions::register::rights;
use crate::domain::register::CheckId;
use crate::domain::register::person::Actor;
use crate::domain::trade::Check;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::exchange::csv::checks::Kept;
use crate::store::AnyConnection;
use crate::store::audit::Subject;
use crate::store::checks::{self, StoredCheck};

fn managers_only(actor: &Actor) -> Result<()> {
    rights::manager(actor, "change checks")
}

/// A check as files know it.
#[must_use]
pub fn kept(stored: &StoredCheck) -> Kept<'_> {
    Kept {
        id: stored.id,
        origin: stored.origin,
        active: stored.active,
        check: &stored.check,
    }
}

/// The check with this code.
fn find(conn: &mut AnyConnection, code: &str) -> Result<StoredCheck> {
    checks::by_code(conn, code.trim())?.ok_or_else(|| Error::not_found("such check"))
}

fn subject(id: CheckId) -> Subject {
    Subject {
        kind: "check",
        id: id.0,
    }
}

/// Holds a check to what the catalogue's own are held to.
fn hold(check: &Check) -> Result<()> {
    catalogue::validate_check(check).map_err(|error| Error::refused(format!("{error}.")))
}
