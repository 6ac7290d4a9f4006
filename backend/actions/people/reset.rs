//! Lets people choose another password through a link in their mail. Whoever asks hears the same, whether or not the address is known.

use super::hashing::Hasher;
use super::invite::{as_self, subject};
use super::sign_in::hash_of;
use super::throttle::{self, Origin};
use super::{choose, link, managers_alone, person_of};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Standing, address};
use crate::domain::register::{Person, PersonId};
use crate::error::{Error, Result};
use crate::mail::compose;
use crate::store::outbox::{self, MailKind, NewMail};
use crate::store::sessions::{self, Keep};
use crate::store::tokens::{self, LinkKind};
use crate::store::{Db, Tx, audit, people};

/// Writes a mail with a link to the person with this address, when there is one who may sign in; answers the same otherwise.
/// Within ten minutes a second request changes nothing.
///
/// # Errors
/// When too many came from one network address.
pub fn request(db: &Db, now: Now, public_url: &str, email: &str, origin: Origin) -> Result<()> {
    let known = db.read(|conn| people::by_email(conn, &address(email)))?;
    let mail = known
        .filter(|person| person.standing == Standing::Active)
        .map(|person| compose(now, public_url, &person))
        .transpose()?;
    db.write(|tx| {
        throttle::count_request(tx, now, "reset", origin)?;
        if let Some(mail) = &mail {
            outbox::enqueue(tx, mail, now.0)?;
        }
        Ok(())
    })
}

/// Makes a link for a person, to be handed over by whoever runs the server.
///
/// # Errors
/// When the actor is no manager, or the person can't sign in.
pub fn by_hand(db: &Db, actor: &Actor, now: Now, public_url: &str, person: PersonId) -> Result<String> {
    managers_alone(actor)?;
    db.write(|tx| {
        let person = person_of(tx, person)?;
        if person.standing != Standing::Active {
            return Err(Error::refused(format!(
                "{} is {}, so another password would not let them in.",
                person.facts.name, person.standing
            )));
        }
        audit::note(tx, actor, now, "make reset link", subject(person.id), &(), &())?;
        link::make(tx, now, public_url, LinkKind::Reset, Some(person.id), now.0)
    })
}

/// Takes a link: the password is kept, every link and session of the person ends.
///
/// # Errors
/// When the link was used or is over, or the password can't be used.
pub fn take(db: &Db, hasher: &Hasher, now: Now, token: &str, password: &str) -> Result<()> {
    let gone = || Error::not_found("open link");
    let (person, password) = db.read(|conn| {
        let person = link::look(conn, now, LinkKind::Reset, token)?.ok_or_else(gone)?;
        let password = choose(conn, &person, password)?;
        Ok((person, password))
    })?;
    let hash = hasher.hash(&password)?;
    db.write(|tx| {
        let current = person_of(tx, person.id)?;
        if current.standing != Standing::Active || !tokens::take(tx, now, &hash_of(token), LinkKind::Reset)? {
            return Err(gone());
        }
        replace_password(tx, now, &as_self(&current), &current, &hash, Keep::None)
    })
}

/// Sets a person's password without asking for the earlier one; for whoever runs the server.
///
/// # Errors
/// When the actor is no manager, or the password can't be used.
pub fn set(
    db: &Db,
    hasher: &Hasher,
    actor: &Actor,
    now: Now,
    person: PersonId,
    password: &str,
) -> Result<()> {
    managers_alone(actor)?;
    let (person, password) = db.read(|conn| {
        let person = person_of(conn, person)?;
        let password = choose(conn, &person, password)?;
        Ok((person, password))
    })?;
    let hash = hasher.hash(&password)?;
    db.write(|tx| {
        if person.standing == Standing::Invited {
            people::set_standing(tx, person.id, Standing::Active)?;
        }
        replace_password(tx, now, actor, &person, &hash, Keep::None)
    })
}

/// Keeps another password and ends what the earlier one opened.
pub(super) fn replace_password(
    tx: &mut Tx<'_>,
    now: Now,
    actor: &Actor,
    person: &Person,
    hash: &str,
    keep: Keep,
) -> Result<()> {
    people::set_password_hash(tx, person.id, hash)?;
    tokens::close(tx, now, person.id)?;
    sessions::end_all(tx, person.id, keep)?;
    audit::note(tx, actor, now, "change password", subject(person.id), &(), &())
}

fn compose(now: Now, public_url: &str, person: &Person) -> Result<NewMail> {
    let until = now.0 + link::lasts(LinkKind::Reset);
    let letter = compose::reset::letter(&person.facts, public_url, until)?;
    let ten_minutes = now.0.and_utc().timestamp().div_euclid(600);
    let unique_key = format!("reset:{}:{ten_minutes}", person.id);
    Ok(NewMail {
        message_id: compose::message_id(&unique_key, public_url),
        unique_key,
        kind: MailKind::Reset,
        person: Some(person.id),
        local_date: None,
        to_address: person.facts.email.clone(),
        subject: letter.subject,
        text: letter.text,
        html: letter.html,
        sealed_link: Some(LinkKind::Reset),
    })
}
