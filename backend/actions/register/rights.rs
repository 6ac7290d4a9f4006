//! Who may change the register. Knows roles, and nothing of what is changed.

use crate::domain::register::person::{Actor, Role};
use crate::error::{Error, Result};

/// Managers alone, to do `what`: "add a building".
///
/// # Errors
/// When the person is no manager.
pub fn manager(actor: &Actor, what: &str) -> Result<()> {
    if actor.role == Role::Manager {
        return Ok(());
    }
    Err(Error::Forbidden(format!(
        "Only a manager may {what}. Ask the manager of the building."
    )))
}

/// Managers and technicians, to do `what`.
///
/// # Errors
/// When the person is an owner.
pub fn staff(actor: &Actor, what: &str) -> Result<()> {
    if matches!(actor.role, Role::Manager | Role::Technician) {
        return Ok(());
    }
    Err(Error::Forbidden(format!(
        "Only managers and technicians may {what}. Ask the manager of the building."
    )))
}
