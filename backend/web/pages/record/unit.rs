//! Recording a whole unit: what is in its window there, or what a visit, a turnover or a check asks for.

use actix_web::{HttpRequest, web};

use super::page::{self, Place};
use crate::domain::register::UnitId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Shows the questions of a unit.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn show(context: Context, unit: web::Path<i64>, request: HttpRequest) -> PageResult {
    page::show(context, request, Place::Unit(UnitId(*unit))).await
}

/// Records the answers.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn submit(context: Context, unit: web::Path<i64>, request: HttpRequest, form: Form) -> PageResult {
    page::submit(context, request, form, Place::Unit(UnitId(*unit))).await
}
