//! Records what was seen at leak points: dry, damp, a drip or a stream. Points that carry sewage are kept under a graver check.

use std::collections::BTreeMap;

use chrono::NaiveDateTime;
use uuid::Uuid;

use super::Batch;
use crate::actions::register::rights;
use crate::actions::results::{Recorded, record};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::FixtureId;
use crate::domain::register::person::Actor;
use crate::domain::result::{DeficiencyStatus, Outcome, WaterLoss};
use crate::domain::trade::FixtureKind;
use crate::domain::trade::evidence::Detail;
use crate::domain::trade::leak_point::{
    self, CHECKS, Carries, Measured, PointSeen, PointSet, Seen, Typed, Wetness,
};
use crate::domain::trade::water::{Loss, Method};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::exchange::evidence::from_json;
use crate::store::lists::place;
use crate::store::spots::Spot;
use crate::store::{Db, Tx, checks, deficiencies, spots, water};

/// The leak points of a kind of fixture.
///
/// # Errors
/// When it has no drawing.
pub fn points(kind: FixtureKind) -> Result<&'static PointSet> {
    catalogue::builtin()
        .map_err(Error::internal)?
        .points_of(kind)
        .ok_or_else(|| {
            Error::refused(format!(
                "There is no drawing of the leak points of a {}. Report what leaks on the unit's page.",
                kind.name().to_lowercase()
            ))
        })
}

/// What was seen at one point, as typed.
#[derive(Debug, Clone)]
pub struct AtPoint {
    /// Code of the point.
    pub point: String,
    /// Code of what was seen.
    pub state: String,
    /// What was counted or measured.
    pub typed: Typed,
}

/// Records what was seen at points of a fixture, all of them or none; `client_id` as everywhere: the same again changes nothing.
///
/// # Errors
/// [`Error::Fields`] with a sentence for each field to mend; [`Error::NotFound`] for a fixture that may not be seen.
pub fn see(
    db: &Db,
    actor: &Actor,
    now: Now,
    fixture: FixtureId,
    client_id: Uuid,
    given: &[AtPoint],
) -> Result<Recorded> {
    rights::staff(actor, "record leaks")?;
    db.write(|tx| within(tx, actor, now, fixture, client_id, given))
}

/// The same within a transaction that does more.
pub(in crate::actions) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    fixture: FixtureId,
    client_id: Uuid,
    given: &[AtPoint],
) -> Result<Recorded> {
    let spot = spots::of_fixture(tx, &actor.scope, fixture)?;
    let set = points(spot.kind)?;
    let mut batch = Batch::new(client_id, fixture);
    let (mut water, mut sewage) = (Vec::new(), Vec::new());
    for one in given {
        let (carries, seen) = read(set, one)?;
        match carries {
            Carries::Water | Carries::Drain => water.push(seen),
            Carries::Sewage => sewage.push(seen),
        }
    }
    let mut lost = Vec::new();
    for (check, points) in CHECKS.into_iter().zip([water, sewage]) {
        if points.is_empty() {
            continue;
        }
        let judged = judge(tx, &spot, check, &points, now)?;
        if check == CHECKS[0] {
            lost.clone_from(&judged.wet);
        }
        let answer = batch.add_answer(check, judged.outcome, judged.reason, judged.note);
        batch.keep(answer, &Detail::Leaks(Seen { points }))?;
    }
    let recorded = record::within(tx, actor, now, &batch.record)?;
    let knowledge = &catalogue::builtin().map_err(Error::internal)?.water;
    // What comes out of a drain is a leak and no loss from the supply.
    lost.retain(|seen: &PointSeen| {
        let point = set.point(&seen.point);
        point.is_some_and(|point| point.carries == Carries::Water)
    });
    let measured = leak_point::lost_together(&lost, knowledge).map_err(Error::Fields)?;
    // A repeat of the same form opened nothing and adds nothing.
    if recorded.already == 0 {
        keep(tx, actor, now, &recorded, measured)?;
    }
    Ok(recorded)
}

/// What a look at some points says of the check as a whole.
struct Judged {
    outcome: Outcome,
    reason: String,
    note: String,
    /// The points that are wet, those that were not looked at again among them.
    wet: Vec<PointSeen>,
}

/// A point that is dry says nothing of the others: what stands as deficient stays so until each point that was wet was seen dry, and
/// after a repair until each was looked at again.
fn judge(tx: &mut Tx<'_>, spot: &Spot, check: &str, points: &[PointSeen], now: Now) -> Result<Judged> {
    let standing = super::standing(tx, spot, check)?;
    let mut known: BTreeMap<String, (PointSeen, NaiveDateTime)> = BTreeMap::new();
    if let Some(one) = &standing {
        for line in place::answers_at(tx, spot.tag, &[check])? {
            if line.done_at < one.opened_at {
                break;
            }
            let Some(Detail::Leaks(seen)) = from_json(&line.detail) else {
                continue;
            };
            for point in seen.points {
                known.entry(point.point.clone()).or_insert((point, line.done_at));
            }
        }
    }
    for point in points {
        known.insert(point.point.clone(), (point.clone(), now.0));
    }
    let repaired_at = standing
        .filter(|one| one.status == DeficiencyStatus::Repaired)
        .and_then(|one| one.repaired_at);
    let wet = known
        .into_values()
        .filter(|(point, _)| point.state != Wetness::Dry);
    let (unseen, wet): (Vec<_>, Vec<_>) =
        wet.partition(|(_, at)| repaired_at.is_some_and(|repaired| *at < repaired));
    let phrases = |of: &dyn Fn(&PointSeen) -> String, list: &[(PointSeen, NaiveDateTime)]| {
        let each: Vec<String> = list.iter().map(|(point, _)| of(point)).collect();
        each.join("; ")
    };
    let (outcome, reason, note) = if !wet.is_empty() {
        (Outcome::Fail, String::new(), phrases(&PointSeen::phrase, &wet))
    } else if unseen.is_empty() {
        (Outcome::Pass, String::new(), String::new())
    } else {
        let names = phrases(&|point| point.name.clone(), &unseen);
        let reason = format!("Not looked at since the repair: {names}");
        (Outcome::NotChecked, reason, String::new())
    };
    Ok(Judged {
        outcome,
        reason,
        note,
        wet: wet.into_iter().map(|(point, _)| point).collect(),
    })
}

/// Keeps what was measured with the deficiency that it belongs to, so that it counts among the building's open leaks.
///
/// Where nothing was measured at what is still wet, an earlier figure, which may be that of a point that is dry now, no longer stands.
fn keep(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    recorded: &Recorded,
    measured: Option<Measured>,
) -> Result<()> {
    let check = checks::by_code(tx, CHECKS[0])?.map(|kept| kept.id);
    for id in recorded.opened.iter().chain(&recorded.added_to) {
        let one = deficiencies::find(tx, &actor.scope, *id)?;
        if one.check.is_some() && one.check == check {
            let lost = match &measured {
                Some(lost) => lost.clone(),
                None if water::of_deficiency(tx, one.id)?.is_empty() => continue,
                None => Measured {
                    method: Method::Drips,
                    typed: Vec::new(),
                    loss: Loss::kept(0.0, "nothing measured at the points that are still wet"),
                },
            };
            let loss = WaterLoss {
                deficiency: one.id,
                method: lost.method,
                typed: lost.typed.clone(),
                loss: lost.loss.clone(),
                measured_at: now.0,
                person: actor.person,
            };
            water::append(tx, &loss)?;
        }
    }
    Ok(())
}

fn read(set: &PointSet, one: &AtPoint) -> Result<(Carries, PointSeen)> {
    let wrong = |field: &str, sentence: String| Error::Fields(vec![FieldError::new(field, sentence)]);
    let point = set.point(one.point.trim()).ok_or_else(|| {
        wrong(
            "point",
            "There is no such point here. Choose one on the drawing.".to_owned(),
        )
    })?;
    let state = Wetness::from_code(one.state.trim()).map_err(|_unknown| {
        wrong(
            "state",
            "Say what is seen: dry, damp, a drip or a stream.".to_owned(),
        )
    })?;
    let water = &catalogue::builtin().map_err(Error::internal)?.water;
    let seen = leak_point::read(point, state, &one.typed, water).map_err(Error::Fields)?;
    Ok((point.carries, seen))
}
