//! Opens sessions. A token is 256 random bits; only its hash is stored.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use chrono::TimeDelta;
use sha2::{Digest, Sha256};

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::PersonId;
use crate::domain::register::person::Role;
use crate::error::{Error, Result};
use crate::store::sessions::NewSession;
use crate::store::{Db, Tx, people, sessions};

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

/// Signs in as the first active person of a role; for a demo alone.
///
/// # Errors
/// When there is nobody of the role.
pub fn as_first_of(db: &Db, now: Now, role: Role, agent: &str) -> Result<Opened> {
    db.write(|tx| {
        let person = people::first_active(tx, role)?
            .ok_or_else(|| Error::refused(format!("There is no active {role} yet. Invite one first.")))?;
        open(tx, now, person, role, agent)
    })
}
