//! Lets a severe deficiency stand at move-in, until a day, in a manager's name. A life-threatening one is never waived.

use super::{items, staff, survey_open};
use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, TurnoverId};
use crate::domain::turnover::{Waiver, WaiverFacts, WaiverText, blocks, waiver};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, deficiencies, turnovers};

/// A waiver as given.
#[derive(Debug, Clone)]
pub struct Waive {
    /// In which turnover.
    pub turnover: TurnoverId,
    /// Which deficiency.
    pub deficiency: DeficiencyId,
    /// Reason, name and last day as typed.
    pub text: WaiverText,
}

/// Waives. The waiver holds for this turnover alone, while its last day is neither past nor before the move-in.
///
/// # Errors
/// [`Error::Forbidden`] for whoever is no manager; a sentence for each field that can't be used; a refusal when the deficiency may not
/// be waived or is; [`Error::NotFound`] when it is not of this unit.
pub fn waive(db: &Db, actor: &Actor, now: Now, command: &Waive) -> Result<()> {
    staff(actor)?;
    rights::manager(actor, "waive a deficiency")?;
    db.write(|tx| {
        let survey = survey_open(tx, actor, now, command.turnover)?;
        let one = deficiencies::find(tx, &actor.scope, command.deficiency)?;
        if one.unit != survey.turnover.unit {
            return Err(Error::not_found("such deficiency in this unit"));
        }
        waiver::may_be_waived(&one).map_err(Error::Refused)?;
        let facts = WaiverFacts::read(&command.text, survey.days()).map_err(Error::Fields)?;
        if blocks::is_waived(&one, &survey.waivers, survey.days()) {
            return Err(Error::refused(format!(
                "No. {} is waived already; nothing was changed.",
                one.id
            )));
        }
        let given = Waiver {
            deficiency: one.id,
            person: actor.person,
            created_at: now.0,
            facts,
        };
        turnovers::insert_waiver(tx, command.turnover, &given)?;
        items::keep(tx, &survey)?;
        let subject = Subject {
            kind: "turnover",
            id: command.turnover.0,
        };
        let after = serde_json::json!({
            "deficiency": one.id.0,
            "reason": given.facts.reason,
            "signed_name": given.facts.signed_name,
            "until_on": given.facts.until_on.to_string(),
        });
        audit::note(tx, actor, now, "waive_deficiency", subject, &(), &after)
    })
}
