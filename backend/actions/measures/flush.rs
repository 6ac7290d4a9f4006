//! Records a flush test: one run answers whether the flush clears, how long the refill takes, whether water runs on, and whether it
//! flushes again by itself. Also keeps the office's own band of usual refills.

use uuid::Uuid;

use super::{Batch, only_of};
use crate::actions::register::rights;
use crate::actions::results::{Recorded, record};
use crate::clock::Now;
use crate::domain::field::capital;
use crate::domain::measure::{LengthUnit, Unit};
use crate::domain::register::FixtureId;
use crate::domain::register::person::Actor;
use crate::domain::trade::evidence::Detail;
use crate::domain::trade::flush::{Band, Fault, Judged, Level, Limits, Run, RunError, judge};
use crate::domain::trade::{FixtureKind, PartKind};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::store::{AnyConnection, Db, Tx, audit, settings, spots};

/// The check under which a run is kept.
pub const CHECK: &str = "wc_flush_clears";
/// The check whose readings are the history of the refill.
pub const REFILL: &str = "wc_refill";

const LEAST: &str = "flush.usual_least";
const MOST: &str = "flush.usual_most";

/// The limits, with the office's own band when it set one.
///
/// # Errors
/// When the database does not answer.
pub fn limits(conn: &mut AnyConnection) -> Result<Limits> {
    let builtin = Limits::of(catalogue::builtin().map_err(Error::internal)?).map_err(Error::internal)?;
    let (least, most) = (settings::get(conn, LEAST)?, settings::get(conn, MOST)?);
    match (least, most) {
        (Some(least), Some(most)) => builtin.with_band(&Band { least, most }).map_err(Error::internal),
        _ => Ok(builtin),
    }
}

/// Sets the office's own band of usual refills.
///
/// # Errors
/// For anybody but a manager; a sentence when it is no band.
pub fn set_band(db: &Db, actor: &Actor, now: Now, band: &Band) -> Result<()> {
    rights::manager(actor, "set what is usual")?;
    let builtin = Limits::of(catalogue::builtin().map_err(Error::internal)?).map_err(Error::internal)?;
    builtin
        .with_band(band)
        .map_err(|problem| Error::Fields(vec![FieldError::new("usual_least", format!("{problem}."))]))?;
    db.write(|tx| {
        let before = (settings::get(tx, LEAST)?, settings::get(tx, MOST)?);
        settings::set(tx, LEAST, &band.least)?;
        settings::set(tx, MOST, &band.most)?;
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        audit::note(
            tx,
            actor,
            now,
            "set_refill_band",
            subject,
            &before,
            &(&band.least, &band.most),
        )
    })
}

/// A run as typed.
#[derive(Debug, Clone)]
pub struct Test {
    /// Made by whoever records; the same again changes nothing.
    pub client_id: Uuid,
    /// What was seen.
    pub run: Run,
}

/// Records a run.
///
/// # Errors
/// [`Error::Fields`] with a sentence for each field to mend; [`Error::NotFound`] for a fixture that may not be seen.
pub fn test(db: &Db, actor: &Actor, now: Now, fixture: FixtureId, given: &Test) -> Result<Recorded> {
    rights::staff(actor, "record flush tests")?;
    db.write(|tx| within(tx, actor, now, fixture, given))
}

/// The same within a transaction that does more.
pub(in crate::actions) fn within(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    fixture: FixtureId,
    given: &Test,
) -> Result<Recorded> {
    let spot = spots::of_fixture(tx, &actor.scope, fixture)?;
    only_of(&spot, FixtureKind::WaterCloset, "a flush test")?;
    let mut given = given.clone();
    if spot.unit.building.length_unit == LengthUnit::Millimetre {
        given.run.tank = Unit::Litre.behind(given.run.tank.trim());
    }
    let given = &given;
    let judged = judge(&given.run, &limits(tx)?).map_err(to_mend)?;
    let parts = spots::parts_in_service(tx, &[fixture])?;
    let parts = parts.get(&fixture).map_or(&[][..], Vec::as_slice);
    let batch = batch(fixture, given, &judged, parts)?;
    record::within(tx, actor, now, &batch.record)
}

fn batch(fixture: FixtureId, given: &Test, judged: &Judged, parts: &[PartKind]) -> Result<Batch> {
    let run = &given.run;
    let mut batch = Batch::new(given.client_id, fixture);
    let mut answer = |check: &str, part, faults: &[Fault]| {
        let (verdict, seen) = judged.on(faults);
        batch.add(check, part, verdict, seen)
    };
    let cleared = answer(CHECK, None, &[Fault::NotClear]);
    if parts.contains(&PartKind::FillValve) {
        // Nobody looked into the tank and nobody heard it run on: that is no answer to the question whether it is quiet once full.
        let looked = run.level != Level::NotLooked || !run.runs_on.trim().is_empty();
        if looked {
            let faults = [Fault::RunsOn, Fault::Overflows];
            answer("wc_runs_on", Some(PartKind::FillValve), &faults);
        }
    }
    if parts.contains(&PartKind::Flapper) {
        answer("wc_flushes_again", Some(PartKind::Flapper), &[Fault::Again]);
    }
    batch.keep(cleared, &Detail::Flush(judged.taken(run.clone())))?;
    if parts.contains(&PartKind::FillValve) {
        let longest = run.flushes.get(judged.longest_at());
        let reading = longest.map(|flush| flush.refill.clone()).unwrap_or_default();
        batch.push(REFILL, Some(PartKind::FillValve), None, reading, String::new());
    }
    Ok(batch)
}

/// The refusal under the field it is about.
fn to_mend(error: RunError) -> Error {
    let field = match &error {
        RunError::Flushes { .. } => "refill-1".to_owned(),
        RunError::Refill(number, _) | RunError::NoTime(number) => format!("refill-{number}"),
        RunError::Tank(_) | RunError::EmptyTank(_) => "tank".to_owned(),
        RunError::RunsOn(_) => "runs_on".to_owned(),
    };
    let sentence = format!("{}.", capital(&error.to_string()));
    Error::Fields(vec![FieldError::new(field, sentence)])
}
