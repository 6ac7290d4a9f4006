//! Signs people in and opens sessions. A token is 256 random bits; only its hash is stored.
//!
//! An unknown address, a wrong password and an account that may not sign in get the same answer after the same work.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use chrono::TimeDelta;
use sha2::{Digest, Sha256};

use super::hashing::{Compared, Hasher};
use super::throttle::{self, Origin};
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::password::Password;
use crate::domain::register::person::{Role, Standing, address};
use crate::error::{Error, Result};
use crate::store::sessions::NewSession;
use crate::store::{AnyConnection, Db, Tx, people, sessions};

/// A session that was just opened.
#[derive(Debug)]
pub struct Opened {
    /// What the browser keeps; never stored here.
    pub token: String,
    /// How long it lasts at most.
    pub lasts: TimeDelta,
}

/// Longest time of a session, from sign-in to its end.
#[must_use]
pub fn longest(role: Role) -> TimeDelta {
    match role {
        Role::Manager | Role::Owner => TimeDelta::days(7),
        Role::Technician => TimeDelta::days(60),
    }
}

/// SHA-256 of a token, hexadecimal.
#[must_use]
pub fn hash_of(token: &str) -> String {
    Sha256::digest(token.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// 256 random bits as text for cookies, forms and links.
///
/// # Errors
/// When the system has no random numbers.
pub fn random_token() -> Result<String> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|cause| Error::internal(cause.to_string()))?;
    Ok(URL_SAFE_NO_PAD.encode(bytes))
}

/// What a browser calls itself, cut to what the list of sessions shows.
#[must_use]
pub fn agent_of(header: Option<&str>) -> String {
    header.unwrap_or_default().chars().take(200).collect()
}

/// Opens a session for a person whose right to it was checked.
///
/// # Errors
/// When the database refuses.
pub fn open(tx: &mut Tx<'_>, now: Now, person: PersonId, role: Role, agent: &str) -> Result<Opened> {
    let (token, csrf) = (random_token()?, random_token()?);
    let lasts = longest(role);
    let session = NewSession {
        token_hash: &hash_of(&token),
        csrf: &csrf,
        person_id: person.0,
        role: role.code(),
        created_at: now.0,
        last_seen_at: now.0,
        ends_at: now.0 + lasts,
        user_agent: agent,
    };
    sessions::insert(tx, &session)?;
    Ok(Opened { token, lasts })
}

/// Signs in as the first active person of a role, instead of a session that ends; for a demo alone.
///
/// # Errors
/// When there is nobody of the role.
pub fn as_first_of(db: &Db, now: Now, role: Role, agent: &str, replaces: Option<i64>) -> Result<Opened> {
    db.write(|tx| {
        let person = people::first_active(tx, role)?
            .ok_or_else(|| Error::refused(format!("There is no active {role} yet. Invite one first.")))?;
        if let Some(earlier) = replaces {
            sessions::end(tx, earlier)?;
        }
        open(tx, now, person, role, agent)
    })
}

/// What somebody types to get in.
#[derive(Debug, Clone)]
pub struct Attempt {
    /// Mail address as typed.
    pub email: String,
    /// Password as typed.
    pub password: Password,
    /// Where it comes from.
    pub origin: Origin,
    /// What the browser calls itself.
    pub agent: String,
    /// A session that ends when this one opens.
    pub replaces: Option<i64>,
}

/// Signs in by address and password.
///
/// # Errors
/// When they do not belong together, or were tried too often.
pub fn with_password(db: &Db, hasher: &Hasher, now: Now, attempt: &Attempt) -> Result<Opened> {
    let email = address(&attempt.email);
    let counted = db.write(|tx| throttle::count(tx, now, &email, attempt.origin))?;
    let account = db.read(|conn| account_of(conn, &email))?;
    let kept = account.as_ref().map(|(_, hash)| hash.as_str());
    let compared = hasher.compare(&attempt.password, kept)?;
    let (person, _) = match account {
        Some(account) if compared != Compared::Differs => account,
        _ => return Err(refusal()),
    };
    let better = match compared {
        Compared::SameButWeak => Some(hasher.hash(&attempt.password)?),
        Compared::Same | Compared::Differs => None,
    };
    db.write(|tx| {
        let person = people::by_id(tx, person)?.person;
        if person.standing != Standing::Active {
            return Err(refusal());
        }
        throttle::was_right(tx, &counted)?;
        throttle::forget_old(tx, now)?;
        sessions::end_over(tx, now.0)?;
        if let Some(hash) = &better {
            people::set_password_hash(tx, person.id, hash)?;
        }
        if let Some(earlier) = attempt.replaces {
            sessions::end(tx, earlier)?;
        }
        open(tx, now, person.id, person.role, &attempt.agent)
    })
}

/// Who has this address and may sign in, with the hash of their password.
fn account_of(conn: &mut AnyConnection, email: &str) -> Result<Option<(PersonId, String)>> {
    let Some(person) = people::by_email(conn, email)?.filter(|person| person.standing == Standing::Active)
    else {
        return Ok(None);
    };
    Ok(people::password_hash(conn, person.id)?.map(|hash| (person.id, hash)))
}

fn refusal() -> Error {
    Error::field(
        "email",
        "This address and password do not belong together. Check both, or set a new password by mail.",
    )
}
