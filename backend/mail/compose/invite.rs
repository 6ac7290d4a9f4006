//! The mail that invites a person.

use askama::Template;
use chrono::NaiveDateTime;

use super::{Letter, at};
use crate::domain::register::PersonFacts;
use crate::domain::register::person::Role;
use crate::error::{Error, Result};
use crate::store::outbox::LINK_PLACE;

#[derive(Template)]
#[template(path = "mail/invite.txt")]
struct Text<'a> {
    said: &'a Said<'a>,
}

#[derive(Template)]
#[template(path = "mail/invite.html")]
struct Html<'a> {
    said: &'a Said<'a>,
}

struct Said<'a> {
    name: &'a str,
    inviter: &'a str,
    site: &'a str,
    role: &'static str,
    link: &'static str,
    until: String,
}

/// The invitation of a person by `inviter`, whose link is good until `until` (UTC).
///
/// # Errors
/// When the template fails.
pub fn letter(
    person: &PersonFacts,
    as_role: Role,
    inviter: &str,
    public_url: &str,
    until: NaiveDateTime,
) -> Result<Letter> {
    let said = Said {
        name: &person.name,
        inviter,
        site: public_url,
        role: role(as_role),
        link: LINK_PLACE,
        until: at(until, person.time_zone),
    };
    Ok(Letter {
        subject: "Your invitation to Anglestop".to_owned(),
        text: Text { said: &said }.render().map_err(Error::internal)?,
        html: Html { said: &said }.render().map_err(Error::internal)?,
    })
}

const fn role(role: Role) -> &'static str {
    match role {
        Role::Manager => "As a manager you plan the checks and see every building.",
        Role::Technician => "As a technician you see what is due in your buildings and record what you find.",
        Role::Owner => "As an owner you read the condition of your buildings.",
    }
}
