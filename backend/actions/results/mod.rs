//! Results: taking answers, and what follows from them. Every way in (page, command line, re-check) goes through `record`.

pub mod by_label;
pub mod follow_ups;
pub mod record;
pub mod take;

pub use record::{Answer, Gone, RecordResults, Recorded, record};

use crate::actions::register::rights;
use crate::domain::register::person::Actor;
use crate::error::Result;

/// Managers and technicians record; owners read.
///
/// # Errors
/// When the person is an owner.
pub(crate) fn staff_only(actor: &Actor) -> Result<()> {
    rights::staff(actor, "record results and deficiencies")
}
