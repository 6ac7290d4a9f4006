//! Invites people, and lets them in when they take the invitation.

use std::collections::BTreeSet;

use serde::Serialize;

use super::hashing::Hasher;
use super::sign_in::{self, Opened, hash_of};
use super::{choose, link, managers_alone, person_of, spoken};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::{Actor, Role, Scope, Standing};
use crate::domain::register::{Person, PersonFacts, PersonId, PersonText};
use crate::error::{Error, FieldError, Result};
use crate::mail::compose;
use crate::store::audit::{self, Subject};
use crate::store::outbox::{self, MailKind, NewMail};
use crate::store::tokens::{self, LinkKind};
use crate::store::{Db, Tx, assignments, people};

/// Whom to invite, and what for.
#[derive(Debug, Clone)]
pub struct Invitation {
    /// Who.
    pub person: PersonText,
    /// What they will do.
    pub role: Role,
    /// Codes of the buildings of a technician or the portfolios of an owner; a manager has none.
    pub places: Vec<String>,
}

/// Adds a person and writes them a mail with the link.
///
/// # Errors
/// When the actor is no manager, a field can't be used, or somebody has the address.
pub fn by_mail(
    db: &Db,
    actor: &Actor,
    now: Now,
    public_url: &str,
    invitation: &Invitation,
) -> Result<PersonId> {
    let facts = read(actor, invitation)?;
    let mail = compose(actor, now, public_url, &facts, invitation.role)?;
    db.write(|tx| {
        let person = admit(tx, actor, now, &facts, invitation, Standing::Invited)?;
        outbox::enqueue(tx, &to(person.id, mail), now.0)?;
        Ok(person.id)
    })
}

/// Adds a person and answers with the link, to be handed over by whoever asked.
///
/// # Errors
/// When the actor is no manager, a field can't be used, or somebody has the address.
pub fn by_hand(
    db: &Db,
    actor: &Actor,
    now: Now,
    public_url: &str,
    invitation: &Invitation,
) -> Result<String> {
    let facts = read(actor, invitation)?;
    db.write(|tx| {
        let person = admit(tx, actor, now, &facts, invitation, Standing::Invited)?;
        link::make(tx, now, public_url, LinkKind::Invite, Some(person.id), now.0)
    })
}

/// Adds a person who may sign in at once with this password, without a mail.
///
/// # Errors
/// When the actor is no manager, a field or the password can't be used, or somebody has the address.
pub fn with_password(
    db: &Db,
    hasher: &Hasher,
    actor: &Actor,
    now: Now,
    invitation: &Invitation,
    password: &str,
) -> Result<PersonId> {
    let facts = read(actor, invitation)?;
    // Judged within the transaction, hashed before its end: only the command line and the first set-up come this way.
    db.write(|tx| {
        let person = admit(tx, actor, now, &facts, invitation, Standing::Active)?;
        let password = choose(tx, &person, password)?;
        people::set_password_hash(tx, person.id, &hasher.hash(&password)?)?;
        Ok(person.id)
    })
}

/// Writes the mail of an invitation once more.
///
/// # Errors
/// When the actor is no manager, or the person is not waiting for one.
pub fn again(db: &Db, actor: &Actor, now: Now, public_url: &str, person: PersonId) -> Result<()> {
    managers_alone(actor)?;
    let person = db.read(|conn| person_of(conn, person))?;
    if person.standing != Standing::Invited {
        return Err(Error::refused(format!(
            "{} is {} and waits for no invitation.",
            person.facts.name, person.standing
        )));
    }
    let mail = compose(actor, now, public_url, &person.facts, person.role)?;
    db.write(|tx| outbox::enqueue(tx, &to(person.id, mail), now.0))?;
    Ok(())
}

/// Takes an invitation: the password is kept, the link is gone, the person is signed in.
///
/// # Errors
/// When the link was used or is over, or the password can't be used.
pub fn take(db: &Db, hasher: &Hasher, now: Now, token: &str, password: &str, agent: &str) -> Result<Opened> {
    let gone = || Error::not_found("open invitation");
    let (person, password) = db.read(|conn| {
        let person = link::look(conn, now, LinkKind::Invite, token)?.ok_or_else(gone)?;
        let password = choose(conn, &person, password)?;
        Ok((person, password))
    })?;
    let hash = hasher.hash(&password)?;
    db.write(|tx| {
        let current = person_of(tx, person.id)?;
        if current.standing != Standing::Invited || !tokens::take(tx, now, &hash_of(token), LinkKind::Invite)?
        {
            return Err(gone());
        }
        people::set_password_hash(tx, current.id, &hash)?;
        people::set_standing(tx, current.id, Standing::Active)?;
        audit::note(
            tx,
            &as_self(&current),
            now,
            "take invitation",
            subject(current.id),
            &(),
            &(),
        )?;
        sign_in::open(tx, now, current.id, current.role, agent)
    })
}

/// What a person is under the records of their own doing.
pub(super) fn as_self(person: &Person) -> Actor {
    Actor {
        person: Some(person.id),
        role: person.role,
        scope: Scope::Buildings(BTreeSet::new()),
        name: person.facts.name.clone(),
    }
}

/// The subject of a note about a person.
pub(super) const fn subject(person: PersonId) -> Subject {
    Subject {
        kind: "person",
        id: person.0,
    }
}

fn read(actor: &Actor, invitation: &Invitation) -> Result<PersonFacts> {
    managers_alone(actor)?;
    let mut errors = Vec::new();
    let facts = PersonFacts::read(&invitation.person).map_err(|wrong| errors.extend(wrong));
    if invitation.role != Role::Manager && invitation.places.is_empty() {
        errors.push(FieldError::new("places", nowhere(invitation.role)));
    }
    if let Ok(facts) = &facts {
        errors.extend(spoken(&facts.language).err());
    }
    facts
        .ok()
        .filter(|_| errors.is_empty())
        .ok_or(Error::Fields(errors))
}

const fn nowhere(role: Role) -> &'static str {
    match role {
        Role::Owner => "An owner sees the buildings of their portfolios. Choose at least one.",
        Role::Technician | Role::Manager => {
            "A technician sees the buildings they work in. Choose at least one."
        }
    }
}

#[derive(Serialize)]
struct Noted<'a> {
    name: &'a str,
    email: &'a str,
    role: &'static str,
    language: &'a str,
    places: &'a [String],
}

fn admit(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    facts: &PersonFacts,
    invitation: &Invitation,
    standing: Standing,
) -> Result<Person> {
    let places = assignments::with_codes(tx, invitation.role, &invitation.places)?;
    let id = people::insert(tx, now, facts, invitation.role, standing)?;
    assignments::replace(tx, id, invitation.role, &places)?;
    let noted = Noted {
        name: &facts.name,
        email: &facts.email,
        role: invitation.role.code(),
        language: facts.language.as_str(),
        places: &invitation.places,
    };
    audit::note(tx, actor, now, "add person", subject(id), &(), &noted)?;
    Ok(Person {
        id,
        role: invitation.role,
        standing,
        facts: facts.clone(),
    })
}

/// The mail, but for the key of its person; a second one within the same minute is the same.
fn compose(actor: &Actor, now: Now, public_url: &str, facts: &PersonFacts, role: Role) -> Result<NewMail> {
    let until = now.0 + link::lasts(LinkKind::Invite);
    let letter = compose::invite::letter(facts, role, &actor.name, public_url, until)?;
    let unique_key = format!("invite:{}:{}", facts.email, now.0.format("%Y%m%dT%H%M"));
    Ok(NewMail {
        message_id: compose::message_id(&unique_key, public_url),
        unique_key,
        kind: MailKind::Invite,
        person: None,
        local_date: None,
        to_address: facts.email.clone(),
        subject: letter.subject,
        text: letter.text,
        html: letter.html,
        sealed_link: Some(LinkKind::Invite),
    })
}

fn to(person: PersonId, mail: NewMail) -> NewMail {
    NewMail {
        person: Some(person),
        ..mail
    }
}
