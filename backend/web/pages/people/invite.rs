//! Inviting a person: who, what for, where.

use actix_web::HttpRequest;
use askama::Template;

use super::{Assigning, Places, chosen};
use crate::actions::people::invite::{self, Invitation};
use crate::domain::register::PersonText;
use crate::error::{Error, FieldError};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/people/invite.html")]
struct Invite {
    chrome: Chrome,
    typed: PersonText,
    languages: Vec<Choice>,
    assigning: Assigning,
    errors: Vec<FieldError>,
}

fn page(
    context: &Context,
    request: &HttpRequest,
    fields: &Fields,
    places: Places,
    errors: Vec<FieldError>,
) -> Invite {
    Invite {
        chrome: Chrome::new(context, request, "Invite a person"),
        typed: typed(fields),
        languages: Choice::languages(),
        assigning: Assigning::of_form(fields, places),
        errors,
    }
}

fn typed(fields: &Fields) -> PersonText {
    PersonText {
        name: fields.text("name").to_owned(),
        email: fields.text("email").to_owned(),
        time_zone: fields.text("time_zone").to_owned(),
        digest_hour: fields.text("digest_hour").to_owned(),
        language: fields.text("language").to_owned(),
    }
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let places = context.read(|conn, _| super::places(conn)).await?;
    let mut fields = Fields::default();
    fields.set("time_zone", context.session.time_zone.clone());
    fields.set("language", "en");
    respond::page(&page(&context, &request, &fields, places, Vec::new()))
}

/// Adds the person and writes them a mail.
///
/// # Errors
/// When the database does not answer.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let person = typed(&form);
    let public_url = context.app.settings.public_url.clone();
    let chosen = chosen(&form);
    let invited = context
        .act(move |db, actor, now| {
            let (role, places) = chosen.map_err(Error::Fields)?;
            let invitation = Invitation { person, role, places };
            invite::by_mail(db, actor, now, &public_url, &invitation)
        })
        .await;
    match invited {
        Ok(id) => Ok(respond::redirect_saying(
            &format!("/people/{id}"),
            &format!(
                "{} is invited; a mail with a link is on its way.",
                form.text("name")
            ),
        )),
        Err(Error::Fields(errors)) => {
            let places = context.read(|conn, _| super::places(conn)).await?;
            respond::form_again(&page(&context, &request, &form, places, errors))
        }
        Err(error) => Err(error.into()),
    }
}
