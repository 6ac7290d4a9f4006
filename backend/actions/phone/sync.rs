//! Takes a batch once. A key that was answered is answered the same again; one that is being worked on waits; one that comes with another
//! body is refused. A batch that broke off is taken up again by whoever sends it next: what was done of it is known by the ids of its ops.

use std::cell::Cell;
use std::time::Instant;

use chrono::{NaiveDateTime, TimeDelta};
use uuid::Uuid;

use super::taking::{self, Taking};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{PersonId, UnitId};
use crate::domain::result::PhoneClock;
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{self as wire, Batch, Told};
use crate::store::documents::sha256_of;
use crate::store::phones::{self, Unsent};
use crate::store::{Db, Tx};

/// How long a batch may stand still before it counts as broken off, seconds. Taking it up beside one that still runs would only find each
/// of its ops done.
const LEASE_S: i64 = 20;

/// A batch as it came.
#[derive(Debug, Clone)]
pub struct Sending {
    /// Its key, made by the phone.
    pub key: Uuid,
    /// The phone.
    pub phone: Uuid,
    /// What the phone's clock said, UTC; none when it did not say.
    pub clock: Option<NaiveDateTime>,
    /// What is unsent in the unit after this batch; none when it did not say.
    pub left: Option<Unsent>,
    /// As sent, cut.
    pub user_agent: String,
    /// The body, byte for byte.
    pub body: Vec<u8>,
}

/// What becomes of a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Synced {
    /// JSON to answer.
    Answered(String),
    /// The same key is being worked on.
    Running {
        /// Seconds until the next try is worth its while.
        retry_after_s: i64,
    },
    /// The key came with another body before, or from somebody else.
    OtherBody,
    /// It is no batch that is known here; nothing was kept.
    Unreadable(String),
}

/// Takes a batch.
///
/// # Errors
/// [`Error::Forbidden`] for owners; when the database does not answer: then what was done before it stays done.
pub fn sync(db: &Db, actor: &Actor, now: Now, sending: &Sending) -> Result<Synced> {
    let person = super::staff(actor)?;
    let batch = match wire::read(&sending.body) {
        Ok(batch) => batch,
        Err(sentence) => return Ok(Synced::Unreadable(sentence)),
    };
    let sha256 = sha256_of(&sending.body);
    if let Some(known) = db.write(|tx| begin(tx, person, now, sending, &sha256))? {
        return Ok(known);
    }
    let worked = work(db, actor, now, sending, &batch, person);
    if worked.is_err() {
        // The next try need not wait; when the database is gone, the lease ends by itself.
        let given_back = db.write(|tx| phones::give_back(tx, sending.key));
        tracing::debug!(?given_back, "a batch broke off");
    }
    worked.map(Synced::Answered)
}

/// Keeps that the batch begins; or what is known of it already.
fn begin(
    tx: &mut Tx<'_>,
    person: PersonId,
    now: Now,
    sending: &Sending,
    sha256: &str,
) -> Result<Option<Synced>> {
    let Some(known) = phones::batch(tx, sending.key)? else {
        phones::begin(tx, sending.key, person, sha256, now.0)?;
        return Ok(None);
    };
    if known.sha256 != sha256 || known.person != person {
        return Ok(Some(Synced::OtherBody));
    }
    if let Some(answer) = known.answer {
        return Ok(Some(Synced::Answered(answer)));
    }
    let left = known.begun_at + TimeDelta::seconds(LEASE_S) - now.0;
    if left > TimeDelta::zero() && left <= TimeDelta::seconds(LEASE_S) {
        return Ok(Some(Synced::Running {
            retry_after_s: left.num_seconds().max(1),
        }));
    }
    phones::go_on(tx, sending.key, now.0)?;
    Ok(None)
}

fn work(
    db: &Db,
    actor: &Actor,
    now: Now,
    sending: &Sending,
    batch: &Batch,
    person: PersonId,
) -> Result<String> {
    let unit = batch.unit.map(UnitId);
    let last_done = match unit {
        Some(unit) => db.read(|conn| phones::last_done(conn, sending.phone, unit))?,
        None => None,
    };
    let taking = Taking {
        actor,
        person,
        now,
        phone: sending.phone,
        key: sending.key,
        unit,
        clock: PhoneClock::at(sending.clock, now.0),
        fetched_at: batch.fetched_at,
        last_done: Cell::new(last_done),
        began: Instant::now(),
    };
    let mut told: Vec<Told> = Vec::with_capacity(batch.ops.len());
    for sent in &batch.ops {
        told.push(taking::take(db, &taking, sent)?);
    }
    let answer = wire::answer(now.0, &told).map_err(Error::internal)?;
    db.write(|tx| {
        phones::heard(tx, sending.phone, person, &sending.user_agent, now.0)?;
        if let (Some(unit), Some(left)) = (taking.unit, sending.left)
            && taking.reaches(tx, unit)?.is_some()
        {
            phones::unsent(tx, sending.phone, person, unit, left, now.0)?;
        }
        phones::answer(tx, sending.key, &answer)
    })?;
    Ok(answer)
}
