//! Opens a turnover: of the unit that the address names, or of one that is typed.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::turnovers::{Open, Stay, open};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{Building, Unit, UnitId};
use crate::domain::turnover::TurnoverText;
use crate::error::{Error, FieldError, Result};
use crate::store::{AnyConnection, buildings, households, units};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/turnovers/new.html")]
struct New {
    chrome: Chrome,
    unit: Option<(i64, String, String)>,
    household: Option<String>,
    buildings: Vec<Choice>,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// The unit, its building, and who lives there.
type Found = Option<(Building, Unit, Option<String>)>;

/// Shows the form.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let mut fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let now = context.now;
    let asked = fields.clone();
    let (found, choices) = context
        .read(move |conn, actor| Ok((find(conn, actor, now, &asked)?, choices(conn, actor)?)))
        .await?;
    if let Some((building, ..)) = &found {
        let today = now.date_in(building.facts.time_zone);
        if fields.text("move_out_on").is_empty() {
            fields.set("move_out_on", today.to_string());
        }
    }
    let chrome = Chrome::new(&context, &request, &context.say("turnover-start").to_string()).spoken();
    respond::page(&page(chrome, found, choices, fields, Vec::new()))
}

/// Opens the turnover.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let typed = fields.clone();
    let done = context
        .act(move |db, actor, now| {
            let (_, unit, _) = db
                .read(|conn| find(conn, actor, now, &typed))?
                .ok_or_else(|| Error::field("label", "Unit: fill this in, as on the door."))?;
            let command = Open {
                unit: unit.id,
                text: TurnoverText {
                    move_out_on: typed.text("move_out_on").to_owned(),
                    move_in_on: typed.text("move_in_on").to_owned(),
                    note: typed.text("note").to_owned(),
                },
                stay: if typed.has("stay") {
                    Stay::EndsOnMoveOut
                } else {
                    Stay::AsItIs
                },
            };
            open(db, actor, now, &command)
        })
        .await;
    match done {
        Ok(id) => Ok(respond::redirect_saying(
            &format!("/turnovers/{id}"),
            &context.say("turnover-opened-now").to_string(),
        )),
        Err(error) => {
            let errors = context.language().errors(to_mend(error)?);
            let now = context.now;
            let asked = fields.clone();
            let (found, choices) = context
                .read(move |conn, actor| {
                    let found = find(conn, actor, now, &asked).unwrap_or_default();
                    Ok((found, choices(conn, actor)?))
                })
                .await?;
            let chrome = Chrome::new(&context, &request, &context.say("turnover-start").to_string()).spoken();
            respond::form_again(&page(chrome, found, choices, fields, errors))
        }
    }
}

/// The unit that `unit` (key) or `building` and `label` name; nothing when they name none yet.
fn find(conn: &mut AnyConnection, actor: &Actor, now: Now, fields: &Fields) -> Result<Found> {
    let (building, unit) = if let Ok(key) = fields.text("unit").parse::<i64>() {
        units::by_key(conn, &actor.scope, UnitId(key))?
    } else {
        let (code, label) = (fields.text("building"), fields.text("label"));
        if code.is_empty() || label.is_empty() {
            return Ok(None);
        }
        let building = buildings::by_code(conn, &actor.scope, code)?;
        let unit = units::by_label(conn, building.id, label)?.ok_or_else(|| {
            Error::field(
                "label",
                format!(
                    "{} has no unit “{label}”. Write it as on the door; the building's page lists them.",
                    building.facts.name
                ),
            )
        })?;
        (building, unit)
    };
    let today = now.date_in(building.facts.time_zone);
    // Whose stay may be ended here is asked of a manager alone.
    let living = households::of_unit(conn, unit.id)?
        .into_iter()
        .filter(|_| actor.role == Role::Manager)
        .find(|household| household.lives_there_on(today))
        .map(|household| household.facts.name);
    Ok(Some((building, unit, living)))
}

fn choices(conn: &mut AnyConnection, actor: &Actor) -> Result<Vec<Choice>> {
    let all = buildings::list(conn, &actor.scope)?.into_iter();
    Ok(all
        .map(|one| Choice::new(one.facts.code.as_str(), one.facts.name.as_str()))
        .collect())
}

fn page(
    chrome: Chrome,
    found: Found,
    buildings: Vec<Choice>,
    fields: Fields,
    errors: Vec<FieldError>,
) -> New {
    let (unit, household) = match found {
        Some((building, unit, household)) => (
            Some((unit.id.0, unit.facts.label, building.facts.name)),
            household,
        ),
        None => (None, None),
    };
    New {
        chrome,
        unit,
        household,
        buildings,
        fields,
        errors,
    }
}
