//! Takes an answer from a phone: a result like any other, with the time it was done. One that comes after its turnover was over, its unit
//! was given to others or its fixture was replaced is a fact all the same: it is kept, and the manager is told.

use std::collections::HashMap;

use super::place::{Place, Reach, reaching};
use super::taking::{Done, Late, Taking};
use crate::actions::results::{Answer, Gone, RecordResults, record};
use crate::actions::turnovers;
use crate::domain::code::Coded as _;
use crate::domain::register::fixture::Service;
use crate::domain::register::person::Scope;
use crate::domain::register::{FixtureId, TurnoverId, VisitId};
use crate::domain::result::{Outcome, missed_reason};
use crate::domain::trade::{PartKind, TurnoverStage};
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Answer as Wire, Sent, State, Told};
use crate::store::arrivals::Cause;
use crate::store::spots::Spot;
use crate::store::{Tx, results, spots};

/// The longest detail, characters of JSON.
const LONGEST_DETAIL: usize = 16_000;

/// What an answer is recorded with, and why it comes late.
#[derive(Default)]
struct Aims {
    turnover: Option<(TurnoverId, TurnoverStage)>,
    visit: Option<VisitId>,
    late: Vec<(Cause, String)>,
    over: Option<TurnoverId>,
}

pub(super) fn take(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &Wire) -> Result<Done> {
    let fixture = FixtureId(one.fixture);
    let spot = spots::of_fixtures(tx, &Scope::All, &[fixture])?.remove(&fixture);
    let spot = spot.ok_or_else(|| Error::not_found("such fixture"))?;
    let (place, reach) = taking
        .reaches(tx, spot.unit.id)?
        .ok_or_else(|| Error::not_found("such fixture"))?;
    let mut batch = RecordResults {
        answers: vec![read(sent, one)?],
        details: HashMap::from_iter(detail(one)?.map(|detail| (sent.id, detail))),
        versions: HashMap::from([(sent.id, one.version)]),
        ..RecordResults::default()
    };
    let actor = reaching(taking.actor, place);
    if let Some((_, known)) = results::by_client_ids(tx, &[sent.id])?.get(&sent.id) {
        // The same again, with another reading of the clock: whether it says the same is looked at, the time is not.
        if known.person != Some(taking.person) {
            return Err(Error::Conflict(
                "The id of this answer is already taken. Answer once more.".to_owned(),
            ));
        }
        record::within(tx, &actor, taking.now, &batch)?;
        return Ok(Done::Taken(Told::new(sent.id, State::Already)));
    }
    let aims = aims(tx, one, &spot, reach)?;
    batch.done_at = Some(taking.done_at(sent));
    batch.turnover = aims.turnover;
    batch.visit = aims.visit;
    batch.gone = Gone::Kept;
    let recorded = record::within(tx, &actor, taking.now, &batch)?;
    if let Some((turnover, _)) = aims.turnover
        && !(recorded.opened.is_empty() && recorded.added_to.is_empty())
    {
        turnovers::items::keep_after(tx, taking.now, turnover)?;
    }
    let told = Told {
        opened: recorded.opened.iter().map(|id| id.0).collect(),
        closed: recorded.closed.iter().map(|id| id.0).collect(),
        ..Told::new(sent.id, State::Kept)
    };
    Ok(late(told, &aims, place, recorded.results.first().copied()))
}

fn late(told: Told, aims: &Aims, place: Place, result: Option<crate::domain::register::ResultId>) -> Done {
    let Some((cause, _)) = aims.late.first() else {
        return Done::Taken(told);
    };
    let why: Vec<&str> = aims.late.iter().map(|(_, why)| why.as_str()).collect();
    let told = Told {
        state: State::Late,
        sentence: format!(
            "{} It was kept as a result of the unit, and the manager sees that it came late.",
            why.join(" ")
        ),
        ..told
    };
    let late = Late {
        cause: *cause,
        place,
        turnover: aims.over.or(aims.turnover.map(|(turnover, _)| turnover)),
        result,
    };
    Done::Arrives(told, late)
}

/// The answer as it is recorded; a refusal names the word that can't be read.
fn read(sent: &Sent, one: &Wire) -> Result<Answer> {
    let part = match one.part.as_str() {
        "" => None,
        code => Some(PartKind::from_code(code).map_err(Error::refused)?),
    };
    let outcome = match one.outcome.as_str() {
        "" => None,
        code => Some(Outcome::from_code(code).map_err(Error::refused)?),
    };
    Ok(Answer {
        client_id: sent.id,
        fixture: FixtureId(one.fixture),
        part,
        check: one.check.clone(),
        outcome,
        reading: one.reading.clone(),
        reason: if outcome == Some(Outcome::NotChecked) {
            missed_reason(&one.reason, &one.why)
        } else {
            String::new()
        },
        note: one.note.clone(),
        done_at: None,
    })
}

fn detail(one: &Wire) -> Result<Option<String>> {
    let Some(detail) = one.detail.as_ref().filter(|detail| detail.is_object()) else {
        return Ok(None);
    };
    let text = detail.to_string();
    if text.len() > LONGEST_DETAIL {
        return Err(Error::refused(format!(
            "What was measured beside the answer takes {} characters; at most {LONGEST_DETAIL} are kept.",
            text.len()
        )));
    }
    Ok(Some(text))
}

/// In which turnover and on which visit it counts still, and what happened to them meanwhile.
fn aims(tx: &mut Tx<'_>, one: &Wire, spot: &Spot, reach: Reach) -> Result<Aims> {
    let mut aims = Aims::default();
    let of_unit = |what: &str| Error::not_found(format!("such {what} of this unit"));
    if let (Some(id), false) = (one.turnover.map(TurnoverId), one.stage.is_empty()) {
        let stage = TurnoverStage::from_code(&one.stage).map_err(Error::refused)?;
        let at = results::turnover_at(tx, id)?.filter(|(unit, _)| *unit == spot.unit.id);
        let (_, now_at) = at.ok_or_else(|| of_unit("turnover"))?;
        match now_at.as_str() {
            "moved_in" => aims.is_over(id, "The turnover was closed before this came in."),
            "cancelled" => aims.is_over(id, "The turnover was cancelled before this came in."),
            _ => aims.turnover = Some((id, stage)),
        }
    }
    if let Some(id) = one.visit.map(VisitId) {
        let at = results::visit_at(tx, id)?.filter(|(unit, _)| *unit == spot.unit.id);
        let (_, status) = at.ok_or_else(|| of_unit("visit"))?;
        if status == "cancelled" {
            aims.late(Cause::Reassigned, "The visit was cancelled before this came in.");
        } else {
            aims.visit = Some(id);
        }
    }
    if reach == Reach::Had {
        aims.late(
            Cause::Reassigned,
            "The unit was given to others before this came in.",
        );
    }
    if spot.status != Service::InService {
        let gone = spot.status.name().to_lowercase();
        let why = format!("{} was {gone} before this came in.", spot.tag_label);
        aims.late(Cause::Replaced, &why);
    }
    Ok(aims)
}

impl Aims {
    fn late(&mut self, cause: Cause, why: &str) {
        self.late.push((cause, why.to_owned()));
    }

    fn is_over(&mut self, turnover: TurnoverId, why: &str) {
        self.over = Some(turnover);
        self.late(Cause::TurnoverOver, why);
    }
}
