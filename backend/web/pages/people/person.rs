//! One person: what they may do and where, and whether they may sign in.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::{Assigning, chosen, standing_word};
use crate::actions::people::change_role::{self, Assignment};
use crate::actions::people::{invite, standing};
use crate::domain::register::person::Standing;
use crate::domain::register::{Person, PersonId};
use crate::error::{Error, FieldError};
use crate::language::{self, Language};
use crate::store::{assignments, people};
use crate::web::choice::Fact;
use crate::web::chrome::{Chrome, role_word};
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/people/person.html")]
struct Page {
    chrome: Chrome,
    id: PersonId,
    name: String,
    role: &'static str,
    standing: Standing,
    facts: Vec<Fact>,
    assigning: Assigning,
    errors: Vec<FieldError>,
}

/// Shows a person.
///
/// # Errors
/// When there is none, or the database does not answer.
pub async fn show(context: Context, request: HttpRequest, person: web::Path<i64>) -> PageResult {
    respond::page(&page(&context, &request, PersonId(*person), None).await?)
}

/// Gives the person a role and places.
///
/// # Errors
/// When there is no such person, or the database does not answer.
pub async fn assign(
    context: Context,
    request: HttpRequest,
    person: web::Path<i64>,
    form: Form,
) -> PageResult {
    let person = PersonId(*person);
    let chosen = chosen(&form);
    let assigned = context
        .act(move |db, actor, now| {
            let (role, places) = chosen.map_err(Error::Fields)?;
            change_role::assign(db, actor, now, person, &Assignment { role, places })
        })
        .await;
    let errors = match assigned {
        Ok(()) => {
            return Ok(respond::redirect_saying(
                &format!("/people/{person}"),
                "Kept. It holds from their next page on.",
            ));
        }
        Err(Error::Fields(errors)) => errors,
        Err(Error::Refused(sentence)) => vec![FieldError::new("role", sentence)],
        Err(error) => return Err(error.into()),
    };
    respond::form_again(&page(&context, &request, person, Some((&form, errors))).await?)
}

/// Keeps the person out.
///
/// # Errors
/// When they are the only manager, or the database does not answer.
pub async fn disable(context: Context, person: web::Path<i64>, _: Form) -> PageResult {
    let person = PersonId(*person);
    context
        .act(move |db, actor, now| standing::disable(db, actor, now, person))
        .await?;
    Ok(respond::redirect_saying(
        &format!("/people/{person}"),
        "Disabled. Their sessions ended; what they recorded stays.",
    ))
}

/// Lets the person in again.
///
/// # Errors
/// When the database does not answer.
pub async fn enable(context: Context, person: web::Path<i64>, _: Form) -> PageResult {
    let person = PersonId(*person);
    let standing = context
        .act(move |db, actor, now| standing::enable(db, actor, now, person))
        .await?;
    let done = match standing {
        Standing::Active => "They may sign in again with their password.",
        Standing::Invited | Standing::Disabled => "They have no password yet: send the invitation again.",
    };
    Ok(respond::redirect_saying(&format!("/people/{person}"), done))
}

/// Writes the mail of the invitation once more.
///
/// # Errors
/// When the person waits for none, or the database does not answer.
pub async fn invite_again(context: Context, person: web::Path<i64>, _: Form) -> PageResult {
    let person = PersonId(*person);
    let public_url = context.app.settings.public_url.clone();
    context
        .act(move |db, actor, now| invite::again(db, actor, now, &public_url, person))
        .await?;
    Ok(respond::redirect_saying(
        &format!("/people/{person}"),
        "Another invitation is on its way. Earlier links stay good until one is taken.",
    ))
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    person: PersonId,
    wrong: Option<(&Fields, Vec<FieldError>)>,
) -> Result<Page, Error> {
    let (listed, theirs, places) = context
        .read(move |conn, _| {
            let listed = people::by_id(conn, person)?;
            let theirs = assignments::by_person(conn)?.remove(&person).unwrap_or_default();
            Ok((listed, theirs, super::places(conn)?))
        })
        .await?;
    let seen = listed.last_seen_at.map_or_else(
        || "never".to_owned(),
        |at| language::moment(at, context.zone(), context.today()),
    );
    let Person {
        id,
        role,
        standing,
        facts,
    } = listed.person;
    let (assigning, errors) = match wrong {
        Some((fields, errors)) => (Assigning::of_form(fields, places), errors),
        None => (Assigning::of_person(role, &theirs, places), Vec::new()),
    };
    Ok(Page {
        chrome: Chrome::new(context, request, &facts.name),
        id,
        facts: vec![
            Fact::new("Mail address", facts.email),
            Fact::new("Sign-in", standing_word(standing)),
            Fact::new("Last seen", seen),
            Fact::new("Time zone", facts.time_zone.name()),
            Fact::new("Language", Language::of(facts.language.as_str()).name()),
            Fact::new("Morning mail", format!("at {:02}:00 there", facts.digest_hour)),
        ],
        name: facts.name,
        role: role_word(role),
        standing,
        assigning,
        errors,
    })
}
