//! Switches a schedule on or off, after showing what that means.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::impact::{self, View};
use crate::actions::schedules::{self, Switch};
use crate::domain::due::{Schedule, Terms};
use crate::error::{Error, Result};
use crate::store;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/schedules/confirm.html")]
struct Confirm {
    chrome: Chrome,
    about: String,
    to: &'static str,
    word: &'static str,
    back: String,
    impact: View,
}

/// Shows what switching means; switches once that is confirmed.
///
/// # Errors
/// When there is no such schedule.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let (code, to) = (code.into_inner(), asked(&form)?);
    let address = format!("/schedules/{code}");
    if !form.has("confirmed") {
        let schedule = context
            .read(move |conn, _| {
                store::schedules::by_code(conn, &code)?.ok_or_else(|| Error::not_found("such schedule"))
            })
            .await?;
        let title = format!("Switch {} {}?", schedule.terms.name, word(to));
        return confirm(&context, &request, &[schedule], to, (title, address)).await;
    }
    context
        .act(move |db, actor, now| schedules::switch(db, actor, now, &code, to))
        .await?;
    let said = match to {
        Switch::On => "Switched on. What it asks for is on the due list.",
        Switch::Off => "Switched off. Its results stay.",
    };
    Ok(respond::redirect_saying(&address, said))
}

/// The page that asks.
pub(super) async fn confirm(
    context: &Context,
    request: &HttpRequest,
    of: &[Schedule],
    to: Switch,
    (title, back): (String, String),
) -> PageResult {
    let changed: Vec<Schedule> = of.iter().map(|schedule| switched(schedule, to)).collect();
    let (now, today) = (context.now, context.today());
    let found = context
        .read(move |conn, _| {
            let book = store::schedules::book(conn)?;
            schedules::impact(conn, &book, now, &changed)
        })
        .await
        .map_err(PageError::from)?;
    respond::page(&Confirm {
        chrome: Chrome::new(context, request, &title),
        about: match to {
            Switch::On => "What it asks for comes due by its rule.".to_owned(),
            Switch::Off => {
                "What it asks for comes due no more, unless another schedule asks too; results stay."
                    .to_owned()
            }
        },
        to: word(to),
        word: match to {
            Switch::On => "Switch on",
            Switch::Off => "Switch off",
        },
        back,
        impact: impact::view(&found, today),
    })
}

fn switched(schedule: &Schedule, to: Switch) -> Schedule {
    Schedule {
        terms: Terms {
            active: to == Switch::On,
            ..schedule.terms.clone()
        },
        ..schedule.clone()
    }
}

pub(super) fn word(to: Switch) -> &'static str {
    match to {
        Switch::On => "on",
        Switch::Off => "off",
    }
}

/// What the form says: `to` is `on` or `off`.
pub(super) fn asked(fields: &Fields) -> Result<Switch> {
    match fields.text("to") {
        "on" => Ok(Switch::On),
        "off" => Ok(Switch::Off),
        _ => Err(Error::refused(
            "The form does not say on or off. Go back and press one of the two.",
        )),
    }
}
