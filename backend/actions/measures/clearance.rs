//! Records the clearances of a water closet: held against the building's profile, kept as they were found, and said what is done.

use uuid::Uuid;

use super::{Batch, only_of};
use crate::actions::register::rights;
use crate::actions::results::{Recorded, record};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::FixtureId;
use crate::domain::register::person::Actor;
use crate::domain::result::Outcome;
use crate::domain::trade::clearance::{Clearance, Decision, Dimension, OWN, PLAN, Profile, Taken, Typed};
use crate::domain::trade::evidence::Detail;
use crate::domain::trade::{FixtureKind, ProfileCode, Verdict};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::exchange::evidence::from_json;
use crate::store::lists::place;
use crate::store::spots::Spot;
use crate::store::{AnyConnection, Db, Tx, audit, settings, spots};

/// The check under which clearances are kept.
pub const CHECK: &str = PLAN;

/// Clearances as typed.
#[derive(Debug, Clone, Default)]
pub struct Measure {
    /// Made by whoever records; the same again changes nothing.
    pub client_id: Uuid,
    /// The measures.
    pub typed: Typed,
    /// Code of a decision, wanted where something is short.
    pub decision: String,
    /// By whom and why it is accepted as found.
    pub accepted: String,
}

/// The setting that holds the office's own profile, a rule a line.
const OWN_RULES: &str = "clearance.own";

/// The office's own profile as written; empty when it wrote none.
///
/// # Errors
/// When the database does not answer.
pub fn own(conn: &mut AnyConnection) -> Result<String> {
    Ok(settings::get(conn, OWN_RULES)?.unwrap_or_default())
}

/// Writes the office's own profile.
///
/// # Errors
/// For anybody but a manager; a sentence for a line that can't be read.
pub fn set_own(db: &Db, actor: &Actor, now: Now, rules: &str) -> Result<()> {
    rights::manager(actor, "write the office's own clearance profile")?;
    Profile::own(rules).map_err(|sentence| Error::Fields(vec![FieldError::new("own", sentence)]))?;
    db.write(|tx| {
        let before = own(tx)?;
        settings::set(tx, OWN_RULES, rules)?;
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        audit::note(tx, actor, now, "set_own_clearances", subject, &before, &rules)
    })
}

/// The profile that a building is held against.
///
/// # Errors
/// When the catalogue has none of this code.
pub fn profile(conn: &mut AnyConnection, code: &ProfileCode) -> Result<Profile> {
    if code.as_str() == OWN {
        let profile = Profile::own(&own(conn)?).map_err(Error::internal)?;
        return if profile.rules.is_empty() {
            Err(Error::refused(
                "The office's own clearance profile has no rule yet. A manager writes it on the page of values.",
            ))
        } else {
            Ok(profile)
        };
    }
    let known = catalogue::builtin().map_err(Error::internal)?;
    known.profile(code).cloned().ok_or_else(|| {
        Error::refused(format!(
            "There is no clearance profile “{code}”. Choose another for the building."
        ))
    })
}

/// Holds typed measures against a profile.
///
/// # Errors
/// [`Error::Fields`] with a sentence for each measure that can't be read, or when nothing was measured.
pub fn judge(
    typed: &Typed,
    profile: &Profile,
    unit: crate::domain::measure::LengthUnit,
) -> Result<Clearance> {
    let measured = typed.read(unit).map_err(|errors| {
        let sentence = |(dimension, error): (crate::domain::trade::clearance::Dimension, _)| {
            FieldError::new(dimension.code(), format!("{}: {error}.", dimension.name()))
        };
        Error::Fields(errors.into_iter().map(sentence).collect())
    })?;
    let found = profile.judge(&measured).map_err(Error::internal)?;
    if found.is_answered() {
        return Ok(found);
    }
    Err(Error::Fields(vec![FieldError::new(
        "left",
        "Nothing is measured yet. Write at least one of the measures.",
    )]))
}

/// Records clearances.
///
/// # Errors
/// [`Error::Fields`] with a sentence for each field to mend; [`Error::NotFound`] for a fixture that may not be seen.
pub fn measure(db: &Db, actor: &Actor, now: Now, fixture: FixtureId, given: &Measure) -> Result<Recorded> {
    rights::staff(actor, "record clearances")?;
    db.write(|tx| within(tx, actor, now, fixture, given))
}

/// The same within a transaction that does more.
pub(in crate::actions) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    fixture: FixtureId,
    given: &Measure,
) -> Result<Recorded> {
    let spot = spots::of_fixture(tx, &actor.scope, fixture)?;
    only_of(&spot, FixtureKind::WaterCloset, "a clearance")?;
    let building = &spot.unit.building;
    let taken = take(given, &profile(tx, &building.profile)?, building.length_unit)?;
    let mut batch = Batch::new(given.client_id, fixture);
    let note = match taken.verdict() {
        Verdict::Pass => String::new(),
        Verdict::Fail => taken
            .short()
            .map(|held| held.phrase(taken.unit))
            .collect::<Vec<_>>()
            .join("; "),
    };
    let unmeasured = match taken.verdict() {
        Verdict::Pass => short_and_not_measured(tx, &spot, &taken)?,
        Verdict::Fail => Vec::new(),
    };
    let answer = if unmeasured.is_empty() {
        batch.add(CHECK, None, taken.verdict(), note)
    } else {
        let reason = format!("Short before and not measured again: {}", unmeasured.join(", "));
        batch.add_answer(CHECK, Outcome::NotChecked, reason, String::new())
    };
    batch.keep(answer, &Detail::Clearance(taken))?;
    record::within(tx, actor, now, &batch.record)
}

/// What was short when it was last measured, since what stands as deficient was opened, and was not measured now. Some distances that are
/// kept say nothing of the others.
fn short_and_not_measured(tx: &mut Tx<'_>, spot: &Spot, taken: &Taken) -> Result<Vec<&'static str>> {
    let Some(standing) = super::standing(tx, spot, CHECK)? else {
        return Ok(Vec::new());
    };
    let mut known: Vec<Dimension> = measured_of(taken);
    let mut short = Vec::new();
    for line in place::answers_at(tx, spot.tag, &[CHECK])? {
        if line.done_at < standing.opened_at {
            break;
        }
        let Some(Detail::Clearance(before)) = from_json(&line.detail) else {
            continue;
        };
        for dimension in measured_of(&before) {
            if known.contains(&dimension) {
                continue;
            }
            known.push(dimension);
            if before.short().any(|held| held.dimension == dimension) {
                short.push(dimension.name());
            }
        }
    }
    Ok(short)
}

fn measured_of(taken: &Taken) -> Vec<Dimension> {
    let each = taken.typed.each().into_iter();
    each.filter(|(_, text)| !text.trim().is_empty())
        .map(|(dimension, _)| dimension)
        .collect()
}

fn take(given: &Measure, profile: &Profile, unit: crate::domain::measure::LengthUnit) -> Result<Taken> {
    let found = judge(&given.typed, profile, unit)?;
    let (decision, accepted) = if found.findings.is_empty() {
        (Decision::Kept, String::new())
    } else {
        decided(given)?
    };
    Ok(Taken {
        profile: profile.code.clone(),
        profile_name: profile.name.clone(),
        unit,
        typed: given.typed.clone(),
        held: found.held(profile),
        decision,
        accepted,
    })
}

/// What is done about something that is short.
fn decided(given: &Measure) -> Result<(Decision, String)> {
    let wrong = |field: &str, sentence: &str| Err(Error::Fields(vec![FieldError::new(field, sentence)]));
    let accepted = given.accepted.trim();
    match Decision::from_code(given.decision.trim()) {
        Ok(Decision::AsFound) if accepted.is_empty() => wrong(
            "accepted",
            "Accepted by whom is empty. Say who accepts it as found, and why.",
        ),
        Ok(Decision::AsFound) => Ok((Decision::AsFound, accepted.to_owned())),
        Ok(Decision::MustFix) => Ok((Decision::MustFix, String::new())),
        _ => wrong(
            "decision",
            "Something is short. Say whether it is accepted as found or must be put right.",
        ),
    }
}
