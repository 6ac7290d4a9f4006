//! The mail that invites a person.

use askama::Template;
use chrono::NaiveDateTime;

use super::Letter;
use crate::domain::register::PersonFacts;
use crate::domain::register::person::Role;
use crate::error::{Error, Result};
use crate::language::{Language, Said as Message};
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
    role: String,
    link: &'static str,
    until: String,
    language: Language,
}

impl Said<'_> {
    fn say(&self, key: &'static str) -> Message {
        self.language.say(key)
    }
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
    let language = Language::of(person.language.as_str());
    let said = Said {
        name: &person.name,
        inviter,
        site: public_url,
        role: language.say(role(as_role)).into(),
        link: LINK_PLACE,
        until: language.moment_in_full(until, person.time_zone),
        language,
    };
    Ok(Letter {
        subject: said.say("invite-subject").into(),
        text: Text { said: &said }.render().map_err(Error::internal)?,
        html: Html { said: &said }.render().map_err(Error::internal)?,
    })
}

const fn role(role: Role) -> &'static str {
    match role {
        Role::Manager => "invite-as-manager",
        Role::Technician => "invite-as-technician",
        Role::Owner => "invite-as-owner",
    }
}
