//! Switches schedules on and off, one or a whole pack.

use super::{find, managers_only, replace};
use crate::clock::Now;
use crate::domain::due::{Schedule, Terms, pack_code};
use crate::domain::register::person::Actor;
use crate::domain::trade::catalogue::Pack;
use crate::error::{Error, Result};
use crate::store::{Db, Tx, due, schedules};

/// Whether a schedule asks for anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Switch {
    /// It does. For a check that is off until chosen this is the choosing.
    On,
    /// It does not; its results stay.
    Off,
}

/// Switches one schedule.
///
/// # Errors
/// When there is no such schedule or the database refuses.
pub fn switch(db: &Db, actor: &Actor, now: Now, code: &str, to: Switch) -> Result<()> {
    managers_only(actor)?;
    db.write(|tx| {
        let schedule = find(tx, code)?;
        turn(tx, actor, now, &schedule, to)
    })?;
    due::begin_renewal(db)
}

/// Switches every schedule of a pack and answers how many changed.
///
/// # Errors
/// When the pack has no schedules or the database refuses.
pub fn switch_pack(db: &Db, actor: &Actor, now: Now, pack: Pack, to: Switch) -> Result<usize> {
    managers_only(actor)?;
    let changed = db.write(|tx| {
        let all = schedules::load_all(tx)?;
        let of_pack: Vec<_> = all
            .iter()
            .filter(|schedule| schedule.terms.pack == Some(pack))
            .collect();
        if of_pack.is_empty() {
            let code = pack_code(Some(pack));
            return Err(Error::not_found(format!("schedule of the pack {code}")));
        }
        let changing = of_pack
            .into_iter()
            .filter(|schedule| schedule.terms.active != (to == Switch::On));
        let mut changed = 0;
        for schedule in changing {
            turn(tx, actor, now, schedule, to)?;
            changed += 1;
        }
        Ok(changed)
    })?;
    due::begin_renewal(db)?;
    Ok(changed)
}

fn turn(tx: &mut Tx<'_>, actor: &Actor, now: Now, schedule: &Schedule, to: Switch) -> Result<()> {
    let active = to == Switch::On;
    if schedule.terms.active == active {
        return Ok(());
    }
    let terms = Terms {
        active,
        ..schedule.terms.clone()
    };
    replace(tx, actor, now, schedule, &terms, "switch_schedule")
}
