//! Corrects the age of a part.

use actix_web::{HttpRequest, web};

use super::form::{self, Page};
use crate::actions::register::change_part;
use crate::domain::register::{Part, PartId};
use crate::store::fixtures::Placed;
use crate::store::parts;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

/// Shows the form with the part as it is.
///
/// # Errors
/// When there is no such part.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let (placed, part) = load(&context, PartId(*key)).await?;
    let mut fields = Fields::default();
    if let Some(date) = part.facts.installed.date() {
        fields.set("installed_on", date.to_string());
    }
    if part.facts.installed.is_estimated() {
        fields.set("installed_estimated", "yes");
    }
    let chrome = Chrome::new(&context, &request, &heading(&context, &placed, &part));
    let now = (fields, Vec::new());
    respond::page(&Page::new(chrome, "part-save", &placed, Vec::new(), now))
}

/// Changes the part to what was typed.
///
/// # Errors
/// When there is no such part.
pub async fn submit(context: Context, request: HttpRequest, key: web::Path<i64>, form: Form) -> PageResult {
    let id = PartId(*key);
    let (placed, part) = load(&context, id).await?;
    let typed = form::read(&form);
    match context
        .act(move |db, actor, now| change_part::change(db, actor, now, id, &typed))
        .await
    {
        Ok(()) => Ok(respond::redirect_saying(
            &format!("/fixtures/{}#parts", part.fixture),
            &context.say("part-changed").to_string(),
        )),
        Err(error) => {
            let again = (form.0, to_mend(error)?);
            let chrome = Chrome::new(&context, &request, &heading(&context, &placed, &part));
            respond::form_again(&Page::new(chrome, "part-save", &placed, Vec::new(), again))
        }
    }
}

fn heading(context: &Context, placed: &Placed, part: &Part) -> String {
    let kind = context.language().word(part.facts.kind).to_lowercase();
    let said = context.say("part-change-of").with("part", kind);
    said.with("tag", &placed.tag.label).into()
}

async fn load(context: &Context, id: PartId) -> Result<(Placed, Part), PageError> {
    let found = context
        .read(move |conn, actor| parts::by_key(conn, &actor.scope, id))
        .await?;
    Ok(found)
}
