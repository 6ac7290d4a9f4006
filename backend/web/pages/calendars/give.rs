//! Gives the calendar of a building to others, or takes that of another over; says first which calendars would be replaced.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::show;
use crate::actions::calendars::{self, Given, To};
use crate::domain::register::Building;
use crate::error::{FieldError, Result};
use crate::language;
use crate::store::buildings;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/calendars/give.html")]
struct GivePage {
    chrome: Chrome,
    /// Of the building whose page it is.
    code: String,
    name: String,
    home: String,
    sentence: String,
    replaced: String,
    fields: Fields,
    may_give: bool,
}

/// Shows what giving would do; gives it once that is confirmed.
///
/// # Errors
/// When there is no such building.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let page_of = form.text("from").to_owned();
    let (building, from) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let from = match page_of.trim() {
                "" => building.clone(),
                other => buildings::by_code(conn, &actor.scope, other)?,
            };
            Ok((building, from))
        })
        .await?;
    if form.has("from") && from.id == building.id && !form.has("to") {
        let errors = vec![FieldError::new(
            "from",
            "No building is chosen. Choose the one whose calendar it is.",
        )];
        return show::page(&context, &request, building, (form.0, errors)).await;
    }
    let to = if from.id == building.id {
        show::to(&form)
    } else {
        To::These(vec![building.facts.code.clone()])
    };
    let (source, wanted) = (from.id, to.clone());
    let found = context
        .read(move |conn, actor| calendars::receivers(conn, actor, source, &wanted))
        .await;
    let found = match found.map_err(to_mend) {
        Ok(found) => found,
        Err(errors) => return show::page(&context, &request, building, (form.0, errors?)).await,
    };
    if found.is_empty() || form.text("confirmed") != print(&found) {
        return respond::page(&page(&context, &request, (building, &from), &found, form.0)?);
    }
    let given = context
        .act(move |db, actor, now| calendars::give(db, actor, now, source, &to))
        .await?;
    Ok(respond::redirect_saying(
        &super::home(&building),
        &format!(
            "{} now {} the calendar of {}.",
            language::count(given, "building", "buildings"),
            if given == 1 { "has" } else { "have" },
            from.facts.name
        ),
    ))
}

/// What stands for the buildings that were looked at, so that only they can be confirmed.
fn print(found: &[Given]) -> String {
    let codes: Vec<&str> = found.iter().map(|one| one.code.as_str()).collect();
    codes.join(" ")
}

fn page(
    context: &Context,
    request: &HttpRequest,
    (building, from): (Building, &Building),
    found: &[Given],
    mut fields: Fields,
) -> Result<GivePage> {
    let own: Vec<&str> = found
        .iter()
        .filter(|one| one.is_replaced)
        .map(|one| one.code.as_str())
        .collect();
    let replaced = match own.as_slice() {
        [] => String::new(),
        [only] => format!("The calendar of {only} is replaced."),
        [first, ..] if own.len() > 12 => format!(
            "{} of them have one of their own, which is replaced: {first} and others.",
            language::grouped(own.len())
        ),
        several => format!(
            "{} of them have one of their own, which is replaced: {}.",
            several.len(),
            several.join(", ")
        ),
    };
    let sentence = if found.is_empty() {
        format!("All of them have the calendar of {} already.", from.facts.name)
    } else {
        let buildings = language::count(found.len(), "building gets", "buildings get");
        format!("{buildings} the calendar of {}.", from.facts.name)
    };
    fields.set("confirmed", print(found));
    Ok(GivePage {
        chrome: Chrome::new(context, request, "Give a calendar"),
        home: super::home(&building),
        code: building.facts.code,
        name: building.facts.name,
        sentence,
        replaced,
        may_give: !found.is_empty(),
        fields,
    })
}
