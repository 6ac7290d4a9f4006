//! What people do with their own account: another password, their zone and hour, their sessions.

use serde::Serialize;

use super::hashing::{Compared, Hasher};
use super::invite::subject;
use super::reset::replace_password;
use super::throttle::{self, Origin};
use super::{choose, managers_alone, person_of, spoken};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{LanguageTag, PersonFacts, PersonId, PersonText};
use crate::error::{Error, Result};
use crate::store::sessions::{self, Keep};
use crate::store::{Db, audit, people};

/// Another password, asked for in a session.
pub struct NewPassword<'a> {
    /// The session that stays; every other one ends.
    pub session: i64,
    /// The password until now.
    pub current: &'a str,
    /// The one from now on.
    pub chosen: &'a str,
    /// Where the request comes from.
    pub origin: Origin,
}

/// Changes one's own password and ends one's other sessions.
///
/// # Errors
/// When the current password differs, was tried too often, or the new one can't be used.
pub fn change_password(
    db: &Db,
    hasher: &Hasher,
    actor: &Actor,
    now: Now,
    command: &NewPassword<'_>,
) -> Result<()> {
    let own = own(actor)?;
    let (person, kept, chosen) = db.read(|conn| {
        let person = person_of(conn, own)?;
        let kept = people::password_hash(conn, own)?;
        let chosen = choose(conn, &person, command.chosen)?;
        Ok((person, kept, chosen))
    })?;
    let counted = db.write(|tx| throttle::count(tx, now, &person.facts.email, command.origin))?;
    let current = crate::domain::register::password::Password::given(command.current);
    if hasher.compare(&current, kept.as_deref())? == Compared::Differs {
        return Err(Error::field(
            "current",
            "This is not your current password. Type it again, or sign out and set a new one by mail.",
        ));
    }
    let hash = hasher.hash(&chosen)?;
    db.write(|tx| {
        throttle::was_right(tx, &counted)?;
        replace_password(tx, now, actor, &person, &hash, Keep::One(command.session))
    })
}

#[derive(Serialize)]
struct Hours {
    time_zone: &'static str,
    digest_hour: i64,
}

/// Changes one's own zone and the hour of the morning mail; an empty hour stays as it was.
///
/// # Errors
/// When there is no such zone or hour.
pub fn set_hours(db: &Db, actor: &Actor, now: Now, time_zone: &str, digest_hour: &str) -> Result<()> {
    let own = own(actor)?;
    db.write(|tx| {
        let before = person_of(tx, own)?.facts;
        let text = PersonText {
            name: before.name.clone(),
            email: before.email.clone(),
            time_zone: time_zone.to_owned(),
            digest_hour: match digest_hour.trim() {
                "" => before.digest_hour.to_string(),
                typed => typed.to_owned(),
            },
            language: before.language.to_string(),
        };
        let after = PersonFacts::read(&text).map_err(Error::Fields)?;
        people::set_hours(tx, own, after.time_zone, after.digest_hour)?;
        let noted = |facts: &PersonFacts| Hours {
            time_zone: facts.time_zone.name(),
            digest_hour: facts.digest_hour,
        };
        audit::note(
            tx,
            actor,
            now,
            "set hours",
            subject(own),
            &noted(&before),
            &noted(&after),
        )
    })
}

#[derive(Serialize)]
struct Reads {
    language: String,
}

/// Changes the language that one reads, in pages and mails.
///
/// # Errors
/// When there is no such language.
pub fn set_language(db: &Db, actor: &Actor, now: Now, language: &str) -> Result<()> {
    keep_language(db, actor, now, own(actor)?, language)
}

/// Changes the language that somebody else reads; for whoever runs the server.
///
/// # Errors
/// When the actor is no manager, or there is no such language.
pub fn set_language_of(db: &Db, actor: &Actor, now: Now, person: PersonId, language: &str) -> Result<()> {
    managers_alone(actor)?;
    keep_language(db, actor, now, person, language)
}

fn keep_language(db: &Db, actor: &Actor, now: Now, person: PersonId, language: &str) -> Result<()> {
    let after = LanguageTag::read(language).map_err(|sentence| Error::field("language", sentence))?;
    spoken(&after).map_err(|wrong| Error::Fields(vec![wrong]))?;
    db.write(|tx| {
        let before = person_of(tx, person)?.facts.language;
        people::set_language(tx, person, &after)?;
        let noted = |language: &LanguageTag| Reads {
            language: language.to_string(),
        };
        audit::note(
            tx,
            actor,
            now,
            "set language",
            subject(person),
            &noted(&before),
            &noted(&after),
        )
    })
}

/// Ends one of one's own sessions.
///
/// # Errors
/// When it is not one's own.
pub fn end_session(db: &Db, actor: &Actor, session: i64) -> Result<()> {
    let own = own(actor)?;
    db.write(|tx| match sessions::end_own(tx, own, session)? {
        true => Ok(()),
        false => Err(Error::not_found("such session")),
    })
}

/// Ends all of one's own sessions but one, and says how many there were.
///
/// # Errors
/// When the database refuses.
pub fn end_other_sessions(db: &Db, actor: &Actor, session: i64) -> Result<usize> {
    let own = own(actor)?;
    db.write(|tx| sessions::end_all(tx, own, Keep::One(session)))
}

fn own(actor: &Actor) -> Result<PersonId> {
    actor.person.ok_or(Error::SignedOut)
}
