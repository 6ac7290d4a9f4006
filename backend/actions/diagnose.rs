//! Records what was found behind a symptom, with the questions and answers as they were. Closes and opens nothing: it explains.

use crate::actions::results::staff_only;
use crate::actions::results::take::{LONGEST_TEXT, text};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{DeficiencyId, FixtureId};
use crate::domain::result::{Diagnosis, EventKind};
use crate::domain::trade::symptom::Step;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::store::deficiencies::{self, Event};
use crate::store::{Db, audit, diagnoses, spots};

/// A finding.
#[derive(Debug, Clone)]
pub struct Diagnose {
    /// At which fixture.
    pub fixture: FixtureId,
    /// Code of the symptom.
    pub symptom: String,
    /// The place of each reply from 0.
    pub answers: Vec<usize>,
    /// The deficiency that it explains.
    pub deficiency: Option<DeficiencyId>,
    /// Free text.
    pub note: String,
}

/// Records a finding.
///
/// # Errors
/// A sentence when the answers reach no cause, the note is too long or the deficiency is another place's; [`Error::NotFound`] outside of what
/// the caller may see.
pub fn diagnose(db: &Db, actor: &Actor, now: Now, command: &Diagnose) -> Result<()> {
    staff_only(actor)?;
    let known = &catalogue::builtin().map_err(Error::internal)?.symptoms;
    let symptom = known
        .symptom(&command.symptom)
        .ok_or_else(|| Error::not_found("such symptom"))?;
    let walk = known.walk(symptom, &command.answers).map_err(Error::refused)?;
    let Step::Found(cause) = walk.step else {
        return Err(Error::refused(
            "These answers reach no cause yet. Answer the next question.",
        ));
    };
    let note = text(&command.note);
    if note.chars().count() > LONGEST_TEXT {
        return Err(Error::field(
            "note",
            format!("The note is too long. Keep it to {LONGEST_TEXT} characters."),
        ));
    }
    let mut said = vec![("What is wrong".to_owned(), symptom.name.clone())];
    said.extend(
        walk.said
            .iter()
            .map(|said| (said.ask.to_owned(), said.say.to_owned())),
    );
    db.write(|tx| {
        let spot = spots::of_fixture(tx, &actor.scope, command.fixture)?;
        if !symptom.kinds.contains(&spot.kind) {
            return Err(Error::refused(format!(
                "“{}” is no symptom of a {}. Choose one of its own.",
                symptom.name,
                spot.kind.name().to_lowercase()
            )));
        }
        if let Some(id) = command.deficiency {
            let one = deficiencies::find(tx, &actor.scope, id)?;
            if one.tag != Some(spot.tag) || !one.stands() {
                return Err(Error::field(
                    "deficiency",
                    format!(
                        "Number {id} does not stand at {}. Choose one that does.",
                        spot.tag_label
                    ),
                ));
            }
        }
        let found = Diagnosis {
            building: spot.unit.building.id,
            unit: spot.unit.id,
            tag: spot.tag,
            fixture: spot.fixture,
            deficiency: command.deficiency,
            symptom: symptom.code.to_string(),
            said,
            cause: cause.code.to_string(),
            found: cause.name.clone(),
            note: note.clone(),
            found_at: now.0,
            person: actor.person,
        };
        diagnoses::append(tx, &found)?;
        if let Some(deficiency) = command.deficiency {
            let event = Event {
                deficiency,
                at: now.0,
                person: actor.person,
                kind: EventKind::Noted,
                text: format!("{}: {}. {note}", symptom.name, cause.name)
                    .trim()
                    .to_owned(),
                result: None,
            };
            deficiencies::append_event(tx, &event)?;
        }
        let subject = audit::Subject {
            kind: "fixture",
            id: spot.fixture.0,
        };
        let after = serde_json::json!({ "symptom": found.symptom, "cause": found.cause });
        audit::note(tx, actor, now, "diagnose", subject, &(), &after)
    })
}
