//! The start page: each role begins where its work is.

use crate::domain::register::person::Role;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

/// Leads to the first page of the role.
///
/// # Errors
/// Never by itself.
pub async fn show(context: Context) -> PageResult {
    Ok(respond::redirect(match context.actor().role {
        Role::Manager => "/due",
        Role::Technician => "/today",
        Role::Owner => "/condition",
    }))
}
