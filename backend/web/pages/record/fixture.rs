//! Recording one fixture: what is in its window first, then what is not due yet and may be recorded all the same.

use actix_web::{HttpRequest, web};

use super::page::{self, Place};
use crate::domain::register::FixtureId;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;

/// Shows the questions of a fixture.
///
/// # Errors
/// When there is no such fixture that may be seen, or it is not in service.
pub async fn show(context: Context, fixture: web::Path<i64>, request: HttpRequest) -> PageResult {
    page::show(context, request, Place::Fixture(FixtureId(*fixture))).await
}

/// Records the answers.
///
/// # Errors
/// When there is no such fixture that may be seen, or it is not in service.
pub async fn submit(
    context: Context,
    fixture: web::Path<i64>,
    request: HttpRequest,
    form: Form,
) -> PageResult {
    page::submit(context, request, form, Place::Fixture(FixtureId(*fixture))).await
}
