//! The first start: while there is nobody, one link lets its holder become the first manager. There is no default account.

use super::hashing::Hasher;
use super::invite::{as_self, subject};
use super::sign_in::{self, Opened, hash_of};
use super::{choose, link};
use crate::clock::Now;
use crate::domain::register::person::{Role, Standing};
use crate::domain::register::{LanguageTag, Person, PersonFacts, PersonId, PersonText};
use crate::error::{Error, Result};
use crate::store::tokens::{self, LinkKind};
use crate::store::{AnyConnection, Db, audit, people};

/// Makes the link of the first set-up, when there is nobody yet; earlier ones are worthless from then on.
///
/// # Errors
/// When the database refuses.
pub fn offer(db: &Db, now: Now, public_url: &str) -> Result<Option<String>> {
    if !db.read(people::nobody)? {
        return Ok(None);
    }
    db.write(|tx| {
        tokens::close_setup(tx, now)?;
        link::make(tx, now, public_url, LinkKind::Setup, None, now.0).map(Some)
    })
}

/// Whether the link of a first set-up is still good.
///
/// # Errors
/// When the database does not answer.
pub fn is_open(conn: &mut AnyConnection, now: Now, token: &str) -> Result<bool> {
    Ok(people::nobody(conn)? && tokens::find(conn, now, &hash_of(token), LinkKind::Setup)?.is_some())
}

/// Makes the first manager and signs them in.
///
/// # Errors
/// When the link was used or is over, somebody is here already, or a field can't be used.
pub fn take(
    db: &Db,
    hasher: &Hasher,
    now: Now,
    token: &str,
    person: &PersonText,
    password: &str,
    agent: &str,
) -> Result<Opened> {
    let gone = || Error::not_found("open set-up");
    if !db.read(|conn| is_open(conn, now, token))? {
        return Err(gone());
    }
    let (facts, password) = judge(db, person, password)?;
    let hash = hasher.hash(&password)?;
    db.write(|tx| {
        if !people::nobody(tx)? || !tokens::take(tx, now, &hash_of(token), LinkKind::Setup)? {
            return Err(gone());
        }
        let id = people::insert(tx, now, &facts, Role::Manager, Standing::Active)?;
        people::set_password_hash(tx, id, &hash)?;
        let first = manager(id, facts.clone());
        audit::note(tx, &as_self(&first), now, "set up", subject(id), &(), &())?;
        sign_in::open(tx, now, id, Role::Manager, agent)
    })
}

/// Reads the fields and the password, and tells all that is wrong with either.
fn judge(
    db: &Db,
    person: &PersonText,
    password: &str,
) -> Result<(PersonFacts, crate::domain::register::password::Password)> {
    let facts = PersonFacts::read(person);
    let known = facts.clone().unwrap_or_else(|_| PersonFacts {
        name: person.name.clone(),
        email: person.email.clone(),
        time_zone: chrono_tz::Tz::UTC,
        digest_hour: 0,
        language: LanguageTag::usual(),
    });
    let password = db.read(|conn| choose(conn, &manager(PersonId(0), known), password));
    match (facts, password) {
        (Ok(facts), Ok(password)) => Ok((facts, password)),
        (Err(mut wrong), Err(Error::Fields(also))) => {
            wrong.extend(also);
            Err(Error::Fields(wrong))
        }
        (Err(wrong), _) => Err(Error::Fields(wrong)),
        (_, Err(error)) => Err(error),
    }
}

const fn manager(id: PersonId, facts: PersonFacts) -> Person {
    Person {
        id,
        role: Role::Manager,
        standing: Standing::Active,
        facts,
    }
}
