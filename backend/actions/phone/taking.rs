//! Takes one op in a transaction of its own. One that was taken before changes nothing; one that can't be taken is kept word for word,
//! with the reason, where the manager sees it.

use std::cell::Cell;
use std::time::Instant;

use chrono::{NaiveDateTime, TimeDelta};
use uuid::Uuid;

use super::place::{self, Place, Reach};
use super::{answer, deficiency, photo, steps, urgent, visit};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{PersonId, ResultId, TurnoverId, UnitId};
use crate::domain::result::PhoneClock;
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Op, Sent, State, Told};
use crate::store::arrivals::{self, Arrival, Cause};
use crate::store::phones::{self, Step};
use crate::store::{Db, Tx, audit};

/// What is known of a batch while its ops are taken.
pub(super) struct Taking<'a> {
    pub actor: &'a Actor,
    pub person: PersonId,
    pub now: Now,
    pub phone: Uuid,
    pub key: Uuid,
    pub unit: Option<UnitId>,
    pub clock: PhoneClock,
    pub fetched_at: Option<NaiveDateTime>,
    /// The latest of what this phone did in the unit, UTC. The way of each batch is another, and so is what its clock is corrected by: what
    /// was done later must not come to lie before it.
    pub last_done: Cell<Option<NaiveDateTime>>,
    pub began: Instant,
}

/// What an op came to.
pub(super) enum Done {
    /// It is in, or is answered without being kept.
    Taken(Told),
    /// It is in, or is kept as it was sent, and the manager is told why.
    Arrives(Told, Late),
}

/// Why something did not come in as usual.
pub(super) struct Late {
    pub cause: Cause,
    pub place: Place,
    pub turnover: Option<TurnoverId>,
    pub result: Option<ResultId>,
}

impl Taking<'_> {
    /// When an op was done, UTC, as far as it can be believed.
    pub fn done_at(&self, sent: &Sent) -> NaiveDateTime {
        self.clock
            .done_at(sent.at, self.fetched_at.max(self.last_done.get()))
    }

    /// How the person reaches a unit; none when it is not theirs and never was on this phone.
    pub fn reaches(&self, tx: &mut Tx<'_>, unit: UnitId) -> Result<Option<(Place, Reach)>> {
        place::reach(tx, self.actor, self.person, self.phone, unit, self.now)
    }

    /// The instant now: a long batch goes on for a while.
    fn later(&self) -> NaiveDateTime {
        let passed = TimeDelta::from_std(self.began.elapsed()).unwrap_or_default();
        self.now.0 + passed
    }
}

/// Takes an op.
pub(super) fn take(db: &Db, taking: &Taking<'_>, sent: &Sent) -> Result<Told> {
    let taken = db.write(|tx| {
        phones::go_on(tx, taking.key, taking.later())?;
        if let Some(told) = before(tx, taking, sent)? {
            return Ok(told);
        }
        let done = run(tx, taking, sent)?;
        if let Some(unit) = taking.unit {
            phones::did(tx, taking.phone, unit, taking.done_at(sent))?;
        }
        match done {
            Done::Taken(told) => {
                if told.state == State::Kept {
                    keep_step(tx, taking, sent, &told)?;
                }
                Ok(told)
            }
            Done::Arrives(told, late) => {
                arrive(tx, taking, sent, &told, late)?;
                Ok(told)
            }
        }
    });
    if taken.is_ok() && taking.unit.is_some() {
        taking.last_done.set(Some(taking.done_at(sent)));
    }
    match taken {
        Err(error @ (Error::Unavailable(_) | Error::Internal(_))) => Err(error),
        Err(refusal) => db.write(|tx| refuse(tx, taking, sent, &refusal)),
        Ok(told) => Ok(told),
    }
}

/// What an op came to that was taken before.
fn before(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent) -> Result<Option<Told>> {
    let other = || {
        let sentence =
            "The id of this is already taken by something else, so it was not taken. Do it once more.";
        Ok(Some(Told::new(sent.id, State::Attention).saying(sentence)))
    };
    if let Some(known) = arrivals::by_client_id(tx, sent.id)? {
        if known.person != taking.person {
            return other();
        }
        let is_in = known.cause != Cause::Refused && (known.result.is_some() || !is_answer(sent));
        let state = if is_in { State::Late } else { State::Attention };
        return Ok(Some(Told::new(sent.id, state).saying(known.sentence)));
    }
    let Some(step) = phones::step(tx, sent.id)? else {
        return Ok(None);
    };
    if step.person != taking.person || step.kind != kind(sent) {
        return other();
    }
    let told: Told = serde_json::from_str(&step.answer).map_err(Error::internal)?;
    Ok(Some(Told {
        state: State::Already,
        ..told
    }))
}

fn is_answer(sent: &Sent) -> bool {
    matches!(sent.op, Ok(Op::Answer(_)))
}

/// Does what an op says.
fn run(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent) -> Result<Done> {
    match &sent.op {
        Err(problem) => Err(Error::refused(format!(
            "The server can't read this ({problem}). It was kept as it came, and the manager sees it."
        ))),
        Ok(Op::Answer(one)) => answer::take(tx, taking, sent, one),
        Ok(Op::Photo(one)) => photo::announce(tx, taking, sent, one),
        Ok(Op::Repaired(one)) => deficiency::repaired(tx, taking, sent, one),
        Ok(Op::Word(one)) => deficiency::word(tx, taking, sent, one),
        Ok(Op::Report(one)) => deficiency::report(tx, taking, sent, one),
        Ok(Op::Advance(one)) => steps::advance(tx, taking, sent, one),
        Ok(Op::Close(one)) => steps::close(tx, taking, sent, one),
        Ok(Op::VisitDone(one)) => visit::done(tx, taking, sent, one),
        Ok(Op::NoAccess(one)) => visit::no_access(tx, taking, sent, one),
        Ok(Op::Urgent(one)) => urgent::report(tx, taking, sent, one),
    }
}

fn kind(sent: &Sent) -> &str {
    sent.json
        .get("kind")
        .and_then(serde_json::Value::as_str)
        .unwrap_or_default()
}

/// Keeps that a step was taken. An answer is known by its result.
fn keep_step(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, told: &Told) -> Result<()> {
    if is_answer(sent) {
        return Ok(());
    }
    let step = Step {
        person: taking.person,
        kind: kind(sent).to_owned(),
        answer: serde_json::to_string(told).map_err(Error::internal)?,
    };
    phones::keep_step(tx, sent.id, &step, taking.now.0)
}

fn arrive(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, told: &Told, late: Late) -> Result<()> {
    let arrival = Arrival {
        client_id: sent.id,
        phone: taking.phone,
        person: taking.person,
        building: late.place.building,
        unit: late.place.unit,
        turnover: late.turnover,
        result: late.result,
        cause: late.cause,
        sentence: told.sentence.clone(),
        sent: sent.json.to_string(),
        done_at: taking.done_at(sent),
        received_at: taking.now.0,
    };
    arrivals::insert(tx, &arrival)
}

/// Keeps what could not be taken: among the arrivals of its unit, or, when it names none that this phone ever had, in the audit trail.
fn refuse(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, refusal: &Error) -> Result<Told> {
    let told = Told::new(sent.id, State::Attention).saying(refusal.to_string());
    // A second process may have come first.
    if arrivals::by_client_id(tx, sent.id)?.is_some() {
        return Ok(told);
    }
    let Some((place, reach)) = place::of_op(tx, taking, sent)? else {
        let subject = audit::Subject {
            kind: "person",
            id: taking.person.0,
        };
        audit::note(
            tx,
            taking.actor,
            taking.now,
            "phone_refused",
            subject,
            &(),
            &sent.json,
        )?;
        return Ok(told);
    };
    let turnover = place::turnover_of(tx, sent, &place)?;
    // An answer was tried all the same: what keeps it out is something else.
    let (cause, told) = match reach {
        Reach::Had if !is_answer(sent) => (
            Cause::Reassigned,
            Told::new(sent.id, State::Late).saying(
                "The unit was given to others before this came in. It was kept, and the manager sees it.",
            ),
        ),
        Reach::Had | Reach::Seen => (Cause::Refused, told),
    };
    let late = Late {
        cause,
        place,
        turnover,
        result: None,
    };
    arrive(tx, taking, sent, &told, late)?;
    Ok(told)
}
