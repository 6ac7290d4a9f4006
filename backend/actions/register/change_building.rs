//! Changes a building. Its due rows are written anew: joining day, age and policies decide when checks come due.

use super::add_building::{BuildingForm, resolve, taken};
use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{Building, BuildingFacts, BuildingId};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, buildings, due};

/// Changes a building. A technician who is newly named sees it from then on.
///
/// # Errors
/// A sentence for each field that can't be used, that the code is taken or in use by a schedule, or that there is no such building.
pub fn change(db: &Db, actor: &Actor, now: Now, id: BuildingId, form: &BuildingForm) -> Result<()> {
    rights::manager(actor, "change a building")?;
    let facts = BuildingFacts::read(&form.text, form.text.date_there(now.0));
    db.write(|tx| {
        let before = buildings::by_key(tx, &actor.scope, id)?;
        let (portfolio, technician, facts) = resolve(tx, form, facts)?;
        if before.facts.code != facts.code {
            check_code(tx, &before.facts.code, &facts.code)?;
        }
        let after = Building {
            id,
            portfolio,
            technician,
            facts,
        };
        buildings::update(tx, &after)?;
        if let Some(technician) = technician {
            buildings::let_see(tx, technician, id)?;
        }
        let subject = Subject {
            kind: "building",
            id: id.0,
        };
        let (was, is) = (snapshot::building(&before), snapshot::building(&after));
        audit::note(tx, actor, now, "change_building", subject, &was, &is)?;
        due::refresh_building(tx, id)
    })
}

/// A new code must be free, and the old one must not stand in a schedule, which would lose the building.
fn check_code(tx: &mut Tx<'_>, old: &str, new: &str) -> Result<()> {
    if buildings::by_code(tx, &Scope::All, new).is_ok() {
        return Err(taken(new));
    }
    if let Some(schedule) = buildings::schedule_that_names(tx, old)? {
        return Err(Error::field(
            "code",
            format!(
                "Schedule {schedule} names building {old} by its code. Take the building out of that schedule first, or keep the code."
            ),
        ));
    }
    Ok(())
}
