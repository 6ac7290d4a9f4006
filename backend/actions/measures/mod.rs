//! What is measured at a fixture beyond one reading: clearances, a flush test, leak points. Each becomes results of the checks that it
//! answers, recorded like any other, with what was measured kept beside them.

pub mod clearance;
pub mod flush;
pub mod leaks;

use std::collections::HashMap;

use uuid::Uuid;

use crate::actions::results::{Answer, RecordResults};
use crate::domain::register::FixtureId;
use crate::domain::result::{Deficiency, Outcome};
use crate::domain::trade::evidence::Detail;
use crate::domain::trade::{FixtureKind, PartKind, Verdict};
use crate::error::{Error, Result};
use crate::exchange::evidence;
use crate::store::spots::Spot;
use crate::store::{Tx, checks, deficiencies};

/// A batch in the making; every answer's id is made from one, so that a form that is sent twice records once.
struct Batch {
    base: Uuid,
    fixture: FixtureId,
    record: RecordResults,
}

impl Batch {
    fn new(base: Uuid, fixture: FixtureId) -> Self {
        Self {
            base,
            fixture,
            record: RecordResults::default(),
        }
    }

    fn add(&mut self, check: &str, part: Option<PartKind>, verdict: Verdict, note: String) -> Uuid {
        self.push(check, part, Some(Outcome::from(verdict)), String::new(), note)
    }

    fn push(
        &mut self,
        check: &str,
        part: Option<PartKind>,
        outcome: Option<Outcome>,
        reading: String,
        note: String,
    ) -> Uuid {
        let client_id = Uuid::new_v5(&self.base, check.as_bytes());
        self.record.answers.push(Answer {
            client_id,
            fixture: self.fixture,
            part,
            check: check.to_owned(),
            outcome,
            reading,
            reason: String::new(),
            note,
            done_at: None,
        });
        client_id
    }

    /// An answer of any outcome, with the reason why something could not be checked.
    fn add_answer(&mut self, check: &str, outcome: Outcome, reason: String, note: String) -> Uuid {
        let id = self.push(check, None, Some(outcome), String::new(), note);
        if let Some(answer) = self.record.answers.last_mut() {
            answer.reason = reason;
        }
        id
    }

    fn keep(&mut self, answer: Uuid, detail: &Detail) -> Result<()> {
        let text = evidence::to_json(detail).map_err(Error::internal)?;
        self.record.details = std::mem::take(&mut self.record.details)
            .into_iter()
            .chain(HashMap::from([(answer, text)]))
            .collect();
        Ok(())
    }
}

/// Refuses what is not asked of this kind of fixture.
fn only_of(spot: &Spot, kind: FixtureKind, what: &str) -> Result<()> {
    if spot.kind == kind {
        return Ok(());
    }
    Err(Error::refused(format!(
        "{} is a {}; {what} is for a {}.",
        spot.tag_label,
        spot.kind.name().to_lowercase(),
        kind.name().to_lowercase()
    )))
}

/// The deficiency that the check opened at the place and that stands.
fn standing(tx: &mut Tx<'_>, spot: &Spot, check: &str) -> Result<Option<Deficiency>> {
    let check = checks::by_code(tx, check)?.map(|kept| kept.id);
    let all = deficiencies::standing_in(tx, &[spot.unit.id])?;
    Ok(all
        .into_iter()
        .find(|one| one.tag == Some(spot.tag) && one.check.is_some() && one.check == check))
}
