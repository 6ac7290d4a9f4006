//! What is asked in a unit, from its turnover, from its visit, or from both, in the order of the walk.

use std::collections::HashMap;
use std::sync::Arc;

use super::ground::Ground;
use crate::actions::visits as of_visits;
use crate::domain::register::person::Actor;
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, TagId};
use crate::domain::result::{Deficiency, Entry};
use crate::domain::trade::clearance::{TELLING, is_unmeasured};
use crate::domain::trade::{Check, PartKind, TurnoverStage};
use crate::domain::turnover::checklist::room_ranks;
use crate::domain::visit::{Service, Visit};
use crate::error::Result;
use crate::store::lists::turnovers::Survey;
use crate::store::{AnyConnection, results, visits};

/// Where something is asked.
pub(super) type Spot = (FixtureId, Option<PartKind>, CheckId);

/// Something that is asked.
pub(super) struct Asked {
    pub spot: Spot,
    pub check: Arc<Check>,
    /// None on a visit.
    pub stage: Option<TurnoverStage>,
    /// Index of its place.
    pub place: usize,
    pub rechecks: Vec<DeficiencyId>,
    pub last: Option<Entry>,
    pub is_answered: bool,
}

/// What is asked, and the deficiencies that no check asks again with whether somebody said something about them.
pub(super) struct Everything {
    pub asked: Vec<Asked>,
    pub matters: Vec<(DeficiencyId, bool)>,
}

pub(super) fn everything(
    conn: &mut AnyConnection,
    actor: &Actor,
    ground: &Ground<'_>,
    survey: Option<&Survey>,
    visit: Option<&Visit>,
) -> Result<Everything> {
    let mut all = Everything {
        asked: Vec::new(),
        matters: Vec::new(),
    };
    if let Some(survey) = survey {
        all.asked.extend(survey.list.items.iter().map(|item| Asked {
            spot: (item.key.fixture, item.key.part, item.key.check),
            check: Arc::clone(&item.check),
            stage: Some(item.key.stage),
            place: item.place,
            rechecks: item.rechecks.clone(),
            last: item.last().map(|answer| answer.entry.clone()),
            is_answered: item.is_answered,
        }));
        let matters = survey.list.matters.iter();
        all.matters
            .extend(matters.map(|matter| (matter.deficiency, matter.is_answered)));
    }
    if let Some(visit) = visit {
        let of_visit = on_visit(conn, actor, ground, visit)?;
        let known: Vec<Spot> = all.asked.iter().map(|asked| asked.spot).collect();
        all.asked.extend(
            of_visit
                .asked
                .into_iter()
                .filter(|asked| !known.contains(&asked.spot)),
        );
        if survey.is_none() {
            all.matters = of_visit.matters;
        }
    }
    let ranks = room_ranks(ground.places.iter().map(|(_, _, room)| room.as_str()));
    all.asked.sort_by_key(|asked| {
        let rank = ranks.get(asked.place).copied().unwrap_or(usize::MAX);
        let (_, part, check) = asked.spot;
        (rank, asked.check.group, asked.place, check, part, asked.stage)
    });
    Ok(all)
}

/// What a visit serves and what is in its window in the unit.
fn on_visit(
    conn: &mut AnyConnection,
    actor: &Actor,
    ground: &Ground<'_>,
    visit: &Visit,
) -> Result<Everything> {
    let mut services = visits::services(conn, visit.id)?;
    services.extend(of_visits::open_there(conn, actor, ground.unit.id, ground.today)?);
    let given: HashMap<Spot, Entry> = results::of_visit(conn, visit.id)?
        .into_iter()
        .map(|(_, entry)| ((entry.fixture, entry.part, entry.check), entry))
        .collect();
    let mut all = Everything {
        asked: Vec::new(),
        matters: Vec::new(),
    };
    for spot in unmeasured(conn, ground, &given)? {
        all.asked.extend(one(ground, spot, given.get(&spot)));
    }
    for service in services {
        let spot = match service {
            Service::Check { fixture, part, check } => Some((fixture, part, check)),
            Service::Repair(id) => match ground.wrong.iter().find(|one| one.id == id) {
                Some(one) => {
                    let again = recheck(ground, one);
                    if again.is_none() && all.matters.iter().all(|(known, _)| *known != id) {
                        all.matters.push((id, false));
                    }
                    again
                }
                None => None,
            },
        };
        if let Some(spot) = spot
            && all.asked.iter().all(|asked| asked.spot != spot)
        {
            all.asked.extend(one(ground, spot, given.get(&spot)));
        }
    }
    Ok(all)
}

/// The distances that nobody measured before the visit.
fn unmeasured(
    conn: &mut AnyConnection,
    ground: &Ground<'_>,
    given: &HashMap<Spot, Entry>,
) -> Result<Vec<Spot>> {
    let tags: Vec<TagId> = ground.spots.iter().map(|spot| spot.tag).collect();
    let measured = results::answered_at(conn, &tags, &TELLING, None)?;
    let mut found = Vec::new();
    for spot in &ground.spots {
        let known = measured.get(&spot.fixture).map_or(&[][..], Vec::as_slice);
        for id in &ground.once {
            let asked = (spot.fixture, None, *id);
            let code = ground.checks.get(id).map_or("", |check| check.code.as_str());
            if is_unmeasured(code, known) || given.contains_key(&asked) {
                found.push(asked);
            }
        }
    }
    Ok(found)
}

/// Where a deficiency is looked at again: what stands at its place now, when that is asked its check.
fn recheck(ground: &Ground<'_>, one: &Deficiency) -> Option<Spot> {
    let (tag, check) = (one.tag?, one.check?);
    let there = ground.spots.iter().find(|spot| spot.tag == tag)?;
    let stored = ground.checks.get(&check)?;
    one.is_asked_again(stored, there.kind, &ground.fitted(there.fixture))
        .then_some((there.fixture, one.part, check))
}

fn one(ground: &Ground<'_>, spot: Spot, given: Option<&Entry>) -> Option<Asked> {
    let (fixture, part, check) = spot;
    let there = ground.spots.iter().find(|there| there.fixture == fixture)?;
    let stored = ground.checks.get(&check)?;
    let is_fitted = part.is_none_or(|part| ground.fitted(fixture).contains(&part));
    if !is_fitted || !stored.is_asked_of(there.kind, part) {
        return None;
    }
    let rechecks = ground
        .wrong
        .iter()
        .filter(|one| recheck(ground, one) == Some(spot));
    Some(Asked {
        spot,
        check: Arc::clone(stored),
        stage: None,
        place: ground.places.iter().position(|(tag, ..)| *tag == there.tag)?,
        rechecks: rechecks.map(|one| one.id).collect(),
        last: given.cloned(),
        is_answered: given.is_some(),
    })
}
