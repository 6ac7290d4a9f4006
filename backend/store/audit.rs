//! Who changed what: append-only, in the transaction of the change.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use serde::Serialize;

use super::schema::audit;
use super::{AnyConnection, Tx};
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

/// The changes of things of a kind at and after an instant, in the order in which they happened: key, instant UTC, and what was before.
/// What was made then has no before and is left out.
///
/// # Errors
/// When the database does not answer or a value can't be read.
pub fn changes_since(
    conn: &mut AnyConnection,
    kind: &str,
    from: NaiveDateTime,
) -> Result<Vec<(i64, NaiveDateTime, serde_json::Value)>> {
    let rows: Vec<(Option<i64>, NaiveDateTime, Option<String>)> = audit::table
        .filter(audit::subject_kind.eq(kind))
        .filter(audit::at.ge(from))
        .filter(audit::before_json.is_not_null())
        .order((audit::at, audit::id))
        .select((audit::subject_id, audit::at, audit::before_json))
        .load(conn)?;
    rows.into_iter()
        .filter_map(|(id, at, before)| Some((id?, at, before?)))
        .map(|(id, at, before)| Ok((id, at, serde_json::from_str(&before).map_err(Error::internal)?)))
        .collect()
}

fn json(value: &impl Serialize) -> Result<Option<String>> {
    let text = serde_json::to_string(value).map_err(Error::internal)?;
    Ok((text != "null").then_some(text))
}
