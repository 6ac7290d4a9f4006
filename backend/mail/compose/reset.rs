//! The mail that lets a person choose another password.

use askama::Template;
use chrono::NaiveDateTime;

use super::Letter;
use crate::domain::register::PersonFacts;
use crate::error::{Error, Result};
use crate::language::{Language, Said as Message};
use crate::store::outbox::LINK_PLACE;

#[derive(Template)]
#[template(path = "mail/reset.txt")]
struct Text<'a> {
    said: &'a Said<'a>,
}

#[derive(Template)]
#[template(path = "mail/reset.html")]
struct Html<'a> {
    said: &'a Said<'a>,
}

struct Said<'a> {
    name: &'a str,
    site: &'a str,
    link: &'static str,
    until: String,
    language: Language,
}

impl Said<'_> {
    fn say(&self, key: &'static str) -> Message {
        self.language.say(key)
    }
}

/// The mail for a person, whose link is good until `until` (UTC).
///
/// # Errors
/// When the template fails.
pub fn letter(person: &PersonFacts, public_url: &str, until: NaiveDateTime) -> Result<Letter> {
    let language = Language::of(person.language.as_str());
    let said = Said {
        name: &person.name,
        site: public_url,
        link: LINK_PLACE,
        until: language.moment_in_full(until, person.time_zone),
        language,
    };
    Ok(Letter {
        subject: said.say("reset-subject").into(),
        text: Text { said: &said }.render().map_err(Error::internal)?,
        html: Html { said: &said }.render().map_err(Error::internal)?,
    })
}
