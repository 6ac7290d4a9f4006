//! Changes a check of the office's own, as a new version.

use actix_web::{HttpRequest, web};

use super::form;
use crate::actions::checks;
use crate::domain::trade::{CheckText, Origin};
use crate::error::{Error, Result};
use crate::store;
use crate::store::checks::StoredCheck;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Form, to_mend};
use crate::web::respond;

/// Shows the form as the check stands.
///
/// # Errors
/// When there is no such check, or it is built in.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let stored = find(&context, code.into_inner()).await?;
    let check = &stored.check;
    let changed = Some((check.title.clone(), check.version));
    form::show(&context, &request, changed, CheckText::of(check), Vec::new())
}

/// Changes it.
///
/// # Errors
/// When there is no such check, it is built in, or somebody changed it meanwhile.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let code = code.into_inner();
    let stored = find(&context, code.clone()).await?;
    let text = form::text(&form);
    let version = form.text("version").parse().unwrap_or(0);
    let (asked, address) = (text.clone(), format!("/checks/{code}"));
    let changed = context
        .act(move |db, actor, now| checks::change(db, actor, now, &code, version, &asked))
        .await;
    match changed.map_err(to_mend) {
        Ok(()) => Ok(respond::redirect_saying(
            &address,
            "Check changed. Old answers keep the version they were asked by.",
        )),
        Err(Ok(errors)) => {
            let title = stored.check.title.clone();
            form::show(&context, &request, Some((title, version)), text, errors)
        }
        Err(Err(other)) => Err(other.into()),
    }
}

async fn find(context: &Context, code: String) -> Result<StoredCheck> {
    context
        .read(move |conn, _| {
            let stored =
                store::checks::by_code(conn, &code)?.ok_or_else(|| Error::not_found("such check"))?;
            if stored.origin == Origin::Builtin {
                return Err(Error::refused(format!(
                    "Check {code} is built in and is kept up to date by us. Copy it and change the copy."
                )));
            }
            Ok(stored)
        })
        .await
}
