//! Repair, replace or wait at one deficiency, reckoned with figures that somebody gives. Records nothing.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::of_deficiency::{self, Column};
use crate::actions::deficiencies::Titles;
use crate::actions::water::Instead;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Role;
use crate::domain::result::money;
use crate::error::{FieldError, Result};
use crate::store::{deficiencies, spots};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/water/choice.html")]
struct ChoicePage {
    chrome: Chrome,
    id: i64,
    title: String,
    may_set: bool,
    columns: Vec<Column>,
    from: Vec<String>,
    repair: String,
    replace: String,
    errors: Vec<FieldError>,
}

/// Shows the choice with the figures of the address, else with what is kept.
///
/// # Errors
/// When there is no such deficiency that may be seen.
pub async fn show(context: Context, request: HttpRequest, deficiency: web::Path<i64>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let mut errors = Vec::new();
    let instead = Instead {
        repair_minor: figure(&asked, "repair", &mut errors),
        replace_minor: figure(&asked, "replace", &mut errors),
    };
    let (now, language, id) = (context.now, context.language(), DeficiencyId(*deficiency));
    let (title, matter) = context
        .read(move |conn, actor| {
            let one = deficiencies::find(conn, &actor.scope, id)?;
            let unit = spots::unit(conn, &actor.scope, one.unit)?;
            let matter = of_deficiency::load(conn, now, language, (&one, &unit), instead)?;
            Ok((Titles::load(conn, language)?.of(&one), matter))
        })
        .await?;
    let shown = |name: &str, kept: Option<i64>| match asked.text(name) {
        "" => kept.map_or_else(String::new, money::text),
        typed => typed.to_owned(),
    };
    let is_again = !errors.is_empty();
    let page = ChoicePage {
        chrome: Chrome::new(
            &context,
            &request,
            &context
                .say("choice-title")
                .with("number", id.to_string())
                .to_string(),
        )
        .spoken(),
        id: id.0,
        title,
        may_set: context.actor().role == Role::Manager,
        repair: shown("repair", matter.known.repair_minor),
        replace: shown("replace", matter.known.replace_minor),
        columns: matter.columns,
        from: matter.from,
        errors: language.errors(errors),
    };
    if is_again {
        respond::form_again(&page)
    } else {
        respond::page(&page)
    }
}

fn figure(asked: &Fields, name: &str, errors: &mut Vec<FieldError>) -> Option<i64> {
    let read: Result<i64, String> = match asked.text(name) {
        "" => return None,
        typed => money::parse(typed),
    };
    read.map_err(|sentence| errors.push(FieldError::new(name, sentence)))
        .ok()
}
