//! Opens a turnover of a unit.

use super::{items, note, occupancy, staff};
use crate::actions::register::{move_out, rights};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{TurnoverId, UnitId, UnitKind};
use crate::domain::turnover::{Stage, Turnover, TurnoverFacts, TurnoverText};
use crate::error::{Error, Result};
use crate::store::lists::turnovers::Surveyor;
use crate::store::{Db, Tx, due, households, turnovers, units};

/// What to do with the stay of the household that moves out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stay {
    /// Nothing: it is noted elsewhere, or nobody lived there.
    #[default]
    AsItIs,
    /// It ends on the day of the move-out.
    EndsOnMoveOut,
}

/// A turnover to be opened.
#[derive(Debug, Clone)]
pub struct Open {
    /// Of which unit.
    pub unit: UnitId,
    /// Its dates and note as typed.
    pub text: TurnoverText,
    /// What to do with the stay of the household that moves out.
    pub stay: Stay,
}

/// Opens a turnover: the unit is in turnover from now on, off line when something life-threatening stands there.
///
/// # Errors
/// A sentence for each field that can't be used, that one is open already, that nobody moves into a common area, or that there is no
/// such unit.
pub fn open(db: &Db, actor: &Actor, now: Now, command: &Open) -> Result<TurnoverId> {
    staff(actor)?;
    db.write(|tx| {
        let (building, unit) = units::by_key(tx, &actor.scope, command.unit)?;
        if unit.facts.kind == UnitKind::CommonArea {
            return Err(Error::refused(
                "Nobody moves in or out of a common area. Choose a unit for the turnover.",
            ));
        }
        if let Some(other) = turnovers::open_of_unit(tx, unit.id)? {
            return Err(Error::refused(format!(
                "Turnover {} of unit {} is open, with the move-in on {}. Go on with it, or cancel it first.",
                other.id, unit.facts.label, other.facts.move_in_on
            )));
        }
        let today = now.date_in(building.facts.time_zone);
        let facts = TurnoverFacts::read(&command.text, today).map_err(Error::Fields)?;
        if command.stay == Stay::EndsOnMoveOut {
            end_stay(tx, actor, now, unit.id, &facts)?;
        }
        let mut opened = Turnover {
            id: TurnoverId(0),
            building: building.id,
            unit: unit.id,
            facts,
            stage: Stage::Found,
            opened_at: now.0,
            opened_by: actor.person,
            ready_at: None,
            ready_by: None,
            closed_at: None,
            closed_by: None,
            signed_name: String::new(),
            signature: String::new(),
            signed_at: None,
        };
        opened.id = turnovers::insert(tx, &opened)?;
        note(tx, actor, now, "open_turnover", None, &opened)?;
        occupancy::settle(tx, actor, now, [unit.id])?;
        // What is asked at a turnover comes due now, and belongs on its list.
        due::refresh_tenancy(tx, unit.id)?;
        let survey = Surveyor::new(tx, now)?.of(tx, opened.clone())?;
        items::begin(tx, &survey)?;
        Ok(opened.id)
    })
}

/// Ends the stay of whoever lives there on the day of the move-out; a manager's work, as on the household's own page.
fn end_stay(tx: &mut Tx<'_>, actor: &Actor, now: Now, unit: UnitId, facts: &TurnoverFacts) -> Result<()> {
    rights::manager(actor, "note a move-out")?;
    let out = facts.move_out_on;
    let living = households::of_unit(tx, unit)?
        .into_iter()
        .find(|one| one.facts.moved_in_on <= out && one.moved_out_on.is_none_or(|known| known >= out));
    match living {
        Some(household) => move_out::within(tx, actor, now, household.id, &out.to_string()),
        None => Err(Error::field(
            "stay",
            format!("Nobody is on record as living there until {out}. Leave “note the move-out” unticked."),
        )),
    }
}
