//! Turnovers of an invented fleet: some closed with their signed record, some at each stage, all by the same actions as an office's.

use chrono::{Days, NaiveDate, TimeDelta};
use uuid::Uuid;

use crate::actions::results::Answer;
use crate::actions::turnovers::{
    Advance, Close, Open, Record, StagedAnswer, Stay, advance, close, open, record,
};
use crate::clock::Now;
use crate::demo::Scenario;
use crate::demo::chance::Chance;
use crate::demo::readings::reading;
use crate::domain::register::person::{Actor, Role, Scope};
use crate::domain::register::{PersonId, TurnoverId, UnitId};
use crate::domain::result::Outcome;
use crate::domain::trade::{self, TurnoverStage};
use crate::domain::turnover::TurnoverText;
use crate::error::{Error, Result};
use crate::store::lists::turnovers::Surveyor;
use crate::store::{Db, deficiencies, units};

/// Rental units for each turnover.
const UNITS_A_TURNOVER: usize = 14;
/// Most turnovers of a demo.
const MOST: usize = 40;

/// Where a turnover of the demo stands.
#[derive(Debug, Clone, Copy)]
pub(super) enum Reaches {
    Begun,
    Repaired,
    Ready,
    Closed,
}

/// Opens turnovers in units without open deficiencies and takes each to a stage of its own.
///
/// # Errors
/// When the database refuses.
pub fn live(db: &Db, scenario: &Scenario, technician: (PersonId, &str)) -> Result<()> {
    let wanted = (scenario.units / UNITS_A_TURNOVER).clamp(3, MOST);
    let actor = Actor {
        person: Some(technician.0),
        role: Role::Technician,
        scope: Scope::All,
        name: technician.1.to_owned(),
    };
    let mut chance = Chance::new(scenario.seed, 3);
    let rentals = db.read(units::rentals)?;
    let step = (rentals.len() / wanted).max(1);
    let stages = [Reaches::Closed, Reaches::Begun, Reaches::Ready, Reaches::Repaired];
    for (number, unit) in rentals.into_iter().step_by(step).take(wanted).enumerate() {
        if !db
            .read(|conn| deficiencies::standing_in(conn, &[unit]))?
            .is_empty()
        {
            continue;
        }
        let reaches = stages
            .get(number % stages.len())
            .copied()
            .unwrap_or(Reaches::Begun);
        begin(db, &actor, scenario.as_of, unit, reaches, &mut chance)?;
    }
    Ok(())
}

/// Opens a turnover and takes it to a stage.
pub(super) fn begin(
    db: &Db,
    actor: &Actor,
    as_of: NaiveDate,
    unit: UnitId,
    reaches: Reaches,
    chance: &mut Chance,
) -> Result<()> {
    let back = match reaches {
        Reaches::Closed => 24,
        Reaches::Begun => 2,
        Reaches::Repaired => 6,
        Reaches::Ready => 9,
    };
    let day = |ahead: u64| {
        let begun = as_of.checked_sub_days(Days::new(back)).unwrap_or(as_of);
        begun.checked_add_days(Days::new(ahead)).unwrap_or(begun)
    };
    let text = TurnoverText {
        move_out_on: day(0).to_string(),
        move_in_on: day(12).to_string(),
        note: String::new(),
    };
    let id = open(
        db,
        actor,
        noon(day(0)),
        &Open {
            unit,
            text,
            stay: Stay::AsItIs,
        },
    )?;
    let work = Work { db, actor, id };
    match reaches {
        Reaches::Begun => work.answer(noon(day(1)), TurnoverStage::Found, 2, chance),
        Reaches::Repaired => {
            work.answer(noon(day(1)), TurnoverStage::Found, 1, chance)?;
            work.step(noon(day(2)))?;
            work.answer(noon(day(4)), TurnoverStage::Ready, 3, chance)
        }
        Reaches::Ready | Reaches::Closed => {
            work.answer(noon(day(1)), TurnoverStage::Found, 1, chance)?;
            work.step(noon(day(2)))?;
            work.answer(noon(day(5)), TurnoverStage::Ready, 1, chance)?;
            work.step(noon(day(6)))?;
            if matches!(reaches, Reaches::Ready) {
                return Ok(());
            }
            work.answer(noon(day(12)), TurnoverStage::MoveIn, 1, chance)?;
            let command = Close {
                turnover: id,
                name: actor.name.clone(),
            };
            allowed(close(db, actor, noon(day(12)), &command).map(|_paper| ()))
        }
    }
}

/// An instant of a day at which it is that day in all zones of the demo.
pub(super) fn noon(day: NaiveDate) -> Now {
    Now(day.and_time(chrono::NaiveTime::MIN) + TimeDelta::hours(17))
}

/// What keeps a turnover back is no failure of the demo: it stays where it is, and its page says why.
fn allowed(done: Result<()>) -> Result<()> {
    match done {
        Err(Error::Refused(_) | Error::Fields(_)) => Ok(()),
        done => done,
    }
}

struct Work<'a> {
    db: &'a Db,
    actor: &'a Actor,
    id: TurnoverId,
}

impl Work<'_> {
    fn step(&self, now: Now) -> Result<()> {
        let command = Advance {
            turnover: self.id,
            to: None,
        };
        allowed(advance(self.db, self.actor, now, command).map(|_stage| ()))
    }

    /// Passes one of `every` open items of a stage.
    fn answer(&self, now: Now, stage: TurnoverStage, every: usize, chance: &mut Chance) -> Result<()> {
        let survey = self
            .db
            .read(|conn| Surveyor::new(conn, now)?.survey(conn, &Scope::All, self.id))?;
        let open = survey
            .list
            .items
            .iter()
            .filter(|item| item.key.stage == stage && !item.is_answered);
        let answers = open
            .step_by(every)
            .map(|item| {
                let is_reading = matches!(item.check.answer, trade::Answer::Reading { .. });
                let answer = Answer {
                    client_id: Uuid::from_u128(chance.bits()),
                    fixture: item.key.fixture,
                    part: item.key.part,
                    check: item.check.code.to_string(),
                    outcome: (!is_reading).then_some(Outcome::Pass),
                    reading: if is_reading {
                        reading(&item.check, Outcome::Pass, chance)
                    } else {
                        String::new()
                    },
                    reason: String::new(),
                    note: String::new(),
                    done_at: None,
                };
                StagedAnswer {
                    answer,
                    stage: Some(stage),
                }
            })
            .collect();
        let command = Record {
            turnover: self.id,
            answers,
            done_at: None,
        };
        allowed(record(self.db, self.actor, now, &command).map(|_recorded| ()))
    }
}
