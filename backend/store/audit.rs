//! Who changed what: append-only, in the transaction of the change.

use diesel::prelude::*;
use serde::Serialize;

use super::Tx;
use super::schema::audit;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::{Error, Result};

/// What was changed.
#[derive(Debug, Clone, Copy)]
pub struct Subject {
    /// The kind of thing, such as `fixture`.
    pub kind: &'static str,
    /// Its key.
    pub id: i64,
}

/// Notes a change; `before` and `after` are values that serialise, `&()` for nothing. Never give a secret.
///
/// # Errors
/// When the database refuses.
pub fn note(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    action: &str,
    subject: Subject,
    before: &impl Serialize,
    after: &impl Serialize,
) -> Result<()> {
    let (before, after) = (json(before)?, json(after)?);
    diesel::insert_into(audit::table)
        .values((
            audit::at.eq(now.0),
            audit::person_id.eq(actor.person.map(|person| person.0)),
            audit::action.eq(action),
            audit::subject_kind.eq(subject.kind),
            audit::subject_id.eq(subject.id),
            audit::before_json.eq(before),
            audit::after_json.eq(after),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

fn json(value: &impl Serialize) -> Result<Option<String>> {
    let text = serde_json::to_string(value).map_err(Error::internal)?;
    Ok((text != "null").then_some(text))
}
