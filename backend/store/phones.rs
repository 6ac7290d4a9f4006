//! Phones that keep answers until they are sent: which units each fetched, what it said is unsent, the batches that it sent and the
//! steps that were taken from them. Decides nothing: what a batch means is the action's.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use uuid::Uuid;

use super::schema::{phone_batches, phone_steps, phone_units, phones};
use super::{AnyConnection, Tx};
use crate::domain::register::{PersonId, UnitId};
use crate::error::Result;

/// A batch that a phone sent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// Who sent it.
    pub person: PersonId,
    /// SHA-256 of its body, hexadecimal.
    pub sha256: String,
    /// UTC, when it was begun or last went on.
    pub begun_at: NaiveDateTime,
    /// JSON as answered; none while it runs.
    pub answer: Option<String>,
}

/// A step that was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Who sent it.
    pub person: PersonId,
    /// Code of the step.
    pub kind: String,
    /// JSON as answered.
    pub answer: String,
}

/// How much a phone has not sent yet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Unsent {
    /// Answers and steps.
    pub answers: i64,
    /// Photos.
    pub photos: i64,
}

/// Notes that a phone was heard, and who is signed in on it.
///
/// # Errors
/// When the database refuses.
pub fn heard(
    tx: &mut Tx<'_>,
    phone: Uuid,
    person: PersonId,
    user_agent: &str,
    now: NaiveDateTime,
) -> Result<()> {
    let id = phone.to_string();
    let known = diesel::update(phones::table.find(&id))
        .set((
            phones::person_id.eq(person.0),
            phones::heard_at.eq(now),
            phones::user_agent.eq(user_agent),
        ))
        .execute(&mut **tx)?;
    if known == 0 {
        diesel::insert_into(phones::table)
            .values((
                phones::id.eq(&id),
                phones::person_id.eq(person.0),
                phones::first_heard_at.eq(now),
                phones::heard_at.eq(now),
                phones::user_agent.eq(user_agent),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}

/// Notes that a phone, which was heard, fetched these units' checklists.
///
/// # Errors
/// When the database refuses.
pub fn fetched(
    tx: &mut Tx<'_>,
    phone: Uuid,
    person: PersonId,
    units: &[UnitId],
    now: NaiveDateTime,
) -> Result<()> {
    let id = phone.to_string();
    for unit in units {
        let known = diesel::update(phone_units::table.find((&id, unit.0)))
            .set((
                phone_units::person_id.eq(person.0),
                phone_units::fetched_at.eq(now),
                phone_units::heard_at.eq(now),
            ))
            .execute(&mut **tx)?;
        if known == 0 {
            insert_unit(tx, &id, person, *unit, now, Unsent::default())?;
        }
    }
    Ok(())
}

/// Notes what a phone, which was heard, says is unsent in a unit.
///
/// # Errors
/// When the database refuses.
pub fn unsent(
    tx: &mut Tx<'_>,
    phone: Uuid,
    person: PersonId,
    unit: UnitId,
    left: Unsent,
    now: NaiveDateTime,
) -> Result<()> {
    let id = phone.to_string();
    let known = diesel::update(phone_units::table.find((&id, unit.0)))
        .set((
            phone_units::heard_at.eq(now),
            phone_units::unsent_answers.eq(left.answers),
            phone_units::unsent_photos.eq(left.photos),
        ))
        .execute(&mut **tx)?;
    if known == 0 {
        insert_unit(tx, &id, person, unit, now, left)?;
    }
    Ok(())
}

fn insert_unit(
    tx: &mut Tx<'_>,
    phone: &str,
    person: PersonId,
    unit: UnitId,
    now: NaiveDateTime,
    left: Unsent,
) -> Result<()> {
    diesel::insert_into(phone_units::table)
        .values((
            phone_units::phone_id.eq(phone),
            phone_units::unit_id.eq(unit.0),
            phone_units::person_id.eq(person.0),
            phone_units::fetched_at.eq(now),
            phone_units::heard_at.eq(now),
            phone_units::unsent_answers.eq(left.answers),
            phone_units::unsent_photos.eq(left.photos),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The latest of what a phone did in a unit, UTC; none when nothing was received of it.
///
/// # Errors
/// When the database does not answer.
pub fn last_done(conn: &mut AnyConnection, phone: Uuid, unit: UnitId) -> Result<Option<NaiveDateTime>> {
    let found: Option<Option<NaiveDateTime>> = phone_units::table
        .find((phone.to_string(), unit.0))
        .select(phone_units::done_at)
        .first(conn)
        .optional()?;
    Ok(found.flatten())
}

/// Keeps when the latest was done of what a phone did in a unit, UTC; nothing for a unit that the phone never had.
///
/// # Errors
/// When the database refuses.
pub fn did(tx: &mut Tx<'_>, phone: Uuid, unit: UnitId, done_at: NaiveDateTime) -> Result<()> {
    diesel::update(phone_units::table.find((phone.to_string(), unit.0)))
        .set(phone_units::done_at.eq(done_at))
        .execute(&mut **tx)?;
    Ok(())
}

/// Whether this phone or this person fetched a unit at or after an instant.
///
/// # Errors
/// When the database does not answer.
pub fn had(
    conn: &mut AnyConnection,
    phone: Uuid,
    person: PersonId,
    unit: UnitId,
    since: NaiveDateTime,
) -> Result<bool> {
    let who = phone_units::phone_id
        .eq(phone.to_string())
        .or(phone_units::person_id.eq(person.0));
    let found: i64 = phone_units::table
        .filter(phone_units::unit_id.eq(unit.0))
        .filter(phone_units::fetched_at.ge(since))
        .filter(who)
        .count()
        .get_result(conn)?;
    Ok(found > 0)
}

/// The batch with this key.
///
/// # Errors
/// When the database does not answer.
pub fn batch(conn: &mut AnyConnection, key: Uuid) -> Result<Option<Batch>> {
    let row: Option<(i64, String, NaiveDateTime, Option<String>)> = phone_batches::table
        .find(key.to_string())
        .select((
            phone_batches::person_id,
            phone_batches::sha256,
            phone_batches::begun_at,
            phone_batches::answer,
        ))
        .first(conn)
        .optional()?;
    Ok(row.map(|(person, sha256, begun_at, answer)| Batch {
        person: PersonId(person),
        sha256,
        begun_at,
        answer,
    }))
}

/// Keeps a batch that begins.
///
/// # Errors
/// When the database refuses.
pub fn begin(tx: &mut Tx<'_>, key: Uuid, person: PersonId, sha256: &str, now: NaiveDateTime) -> Result<()> {
    diesel::insert_into(phone_batches::table)
        .values((
            phone_batches::id.eq(key.to_string()),
            phone_batches::person_id.eq(person.0),
            phone_batches::sha256.eq(sha256),
            phone_batches::begun_at.eq(now),
            phone_batches::answer.eq(None::<String>),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Notes that a batch goes on, so that nobody else takes it up.
///
/// # Errors
/// When the database refuses.
pub fn go_on(tx: &mut Tx<'_>, key: Uuid, now: NaiveDateTime) -> Result<()> {
    diesel::update(phone_batches::table.find(key.to_string()))
        .set(phone_batches::begun_at.eq(now))
        .execute(&mut **tx)?;
    Ok(())
}

/// Gives a batch back that broke off, so that the next try need not wait.
///
/// # Errors
/// When the database refuses.
pub fn give_back(tx: &mut Tx<'_>, key: Uuid) -> Result<()> {
    let broken_off = phone_batches::table
        .filter(phone_batches::id.eq(key.to_string()))
        .filter(phone_batches::answer.is_null());
    diesel::delete(broken_off).execute(&mut **tx)?;
    Ok(())
}

/// Keeps what a batch was answered with.
///
/// # Errors
/// When the database refuses.
pub fn answer(tx: &mut Tx<'_>, key: Uuid, answer: &str) -> Result<()> {
    diesel::update(phone_batches::table.find(key.to_string()))
        .set(phone_batches::answer.eq(answer))
        .execute(&mut **tx)?;
    Ok(())
}

/// The step with this id.
///
/// # Errors
/// When the database does not answer.
pub fn step(conn: &mut AnyConnection, id: Uuid) -> Result<Option<Step>> {
    let row: Option<(i64, String, String)> = phone_steps::table
        .find(id.to_string())
        .select((phone_steps::person_id, phone_steps::kind, phone_steps::answer))
        .first(conn)
        .optional()?;
    Ok(row.map(|(person, kind, answer)| Step {
        person: PersonId(person),
        kind,
        answer,
    }))
}

/// Keeps that a step was taken.
///
/// # Errors
/// When the database refuses.
pub fn keep_step(tx: &mut Tx<'_>, id: Uuid, step: &Step, now: NaiveDateTime) -> Result<()> {
    diesel::insert_into(phone_steps::table)
        .values((
            phone_steps::client_id.eq(id.to_string()),
            phone_steps::person_id.eq(step.person.0),
            phone_steps::kind.eq(&step.kind),
            phone_steps::received_at.eq(now),
            phone_steps::answer.eq(&step.answer),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// Forgets batches and steps from before an instant; answers how many.
///
/// # Errors
/// When the database refuses.
pub fn prune(tx: &mut Tx<'_>, before: NaiveDateTime) -> Result<usize> {
    let batches = diesel::delete(phone_batches::table.filter(phone_batches::begun_at.lt(before)));
    let batches = batches.execute(&mut **tx)?;
    let steps = diesel::delete(phone_steps::table.filter(phone_steps::received_at.lt(before)));
    Ok(batches + steps.execute(&mut **tx)?)
}

/// Whether there are batches or steps from before an instant.
///
/// # Errors
/// When the database does not answer.
pub fn has_before(conn: &mut AnyConnection, before: NaiveDateTime) -> Result<bool> {
    let batches: i64 = phone_batches::table
        .filter(phone_batches::begun_at.lt(before))
        .count()
        .get_result(conn)?;
    let steps: i64 = phone_steps::table
        .filter(phone_steps::received_at.lt(before))
        .count()
        .get_result(conn)?;
    Ok(batches + steps > 0)
}
