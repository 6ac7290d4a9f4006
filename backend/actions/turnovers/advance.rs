//! Brings a turnover to its next stage: from as found to repaired, from repaired to ready. Moved in is reached by closing.

use super::{items, note, occupancy, staff, survey_open};
use crate::clock::Now;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Actor;
use crate::domain::turnover::{Block, Stage, Turnover};
use crate::error::{Error, Result};
use crate::store::{Db, Tx, turnovers};

/// A step to take.
#[derive(Debug, Clone, Copy)]
pub struct Advance {
    /// Of which turnover.
    pub turnover: TurnoverId,
    /// To which stage; none for the next one. A step that was taken already changes nothing.
    pub to: Option<Stage>,
}

/// Takes the step when nothing keeps it back, and answers with the stage. A unit with a life-threatening deficiency goes off line, or
/// stays so, whether or not the step is taken.
///
/// # Errors
/// A refusal with a sentence for each thing that keeps it back; then nothing but the unit's occupancy was written.
pub fn advance(db: &Db, actor: &Actor, now: Now, command: Advance) -> Result<Stage> {
    db.write(|tx| within(tx, actor, now, command))?
        .map_err(Error::Refused)
}

/// The same within a transaction that does more: the stage, or all that keeps it back in one text; the occupancy is settled either way.
///
/// # Errors
/// When the step can't be taken at all.
pub(crate) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    command: Advance,
) -> Result<Result<Stage, String>> {
    staff(actor)?;
    let survey = survey_open(tx, actor, now, command.turnover)?;
    items::keep(tx, &survey)?;
    occupancy::settle(tx, actor, now, [survey.turnover.unit])?;
    let before = &survey.turnover;
    let Some(to) = step(before.stage, command.to)? else {
        return Ok(Ok(before.stage));
    };
    let blocks = survey.blocks();
    if !blocks.is_empty() {
        return Ok(Err(refusal(to, &blocks)));
    }
    let mut after = Turnover {
        stage: to,
        ..before.clone()
    };
    if to == Stage::Ready {
        after.ready_at = Some(now.0);
        after.ready_by = actor.person;
    }
    turnovers::update(tx, &after)?;
    note(tx, actor, now, "advance_turnover", Some(before), &after)?;
    Ok(Ok(to))
}

/// The stage to go to; nothing when it is reached already.
fn step(from: Stage, to: Option<Stage>) -> Result<Option<Stage>> {
    let next = from.next();
    let wanted = to.or(next);
    match wanted {
        Some(Stage::MovedIn) => Err(Error::refused(
            "Moved in is reached by closing: close the turnover with a signed name once it is ready.",
        )),
        Some(Stage::Cancelled) | None => Err(Error::refused(
            "The next stage is repaired or ready. To give a turnover up, cancel it.",
        )),
        wanted if wanted == next => Ok(wanted),
        Some(Stage::Ready) => Err(Error::refused(
            "Repaired comes before ready: take that step first.",
        )),
        Some(Stage::Found | Stage::Repaired) => Ok(None),
    }
}

/// All that keeps a step back, in one text.
#[must_use]
pub fn refusal(to: Stage, blocks: &[Block]) -> String {
    let sentences: Vec<String> = blocks.iter().map(Block::sentence).collect();
    format!("Not {} yet. {}", to.name().to_lowercase(), sentences.join(" "))
}
