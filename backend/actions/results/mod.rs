//! Results: taking answers, and what follows from them. Every way in (page, command line, re-check) goes through [`record`].

pub mod follow_ups;
pub mod record;
pub mod take;

pub use record::{Answer, RecordResults, Recorded, record};

use crate::domain::register::person::{Actor, Role};
use crate::error::{Error, Result};

/// Managers and technicians record; owners read.
///
/// # Errors
/// [`Error::Forbidden`] for an owner.
pub(crate) fn staff_only(actor: &Actor) -> Result<()> {
    match actor.role {
        Role::Manager | Role::Technician => Ok(()),
        Role::Owner => Err(Error::Forbidden(
            "Results and deficiencies are recorded by managers and technicians. Tell the office what you saw.".to_owned(),
        )),
    }
}
