//! What the invented fleet's open deficiencies lose and what was found behind them, the price of water, and the office's own prices.

use chrono::{NaiveDateTime, TimeDelta};

use crate::demo::chance::Chance;
use crate::demo::{Scenario, leaks};
use crate::domain::register::{BuildingId, PersonId};
use crate::domain::result::{Deficiency, DeficiencyStatus, Diagnosis, WaterLoss};
use crate::domain::trade::symptom::Step;
use crate::domain::trade::water::measure;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::store::{Tx, checks, deficiencies, diagnoses, settings, terms, units, water};

/// The office's prices, minor units: an hour of work, an entry, a failure that comes before.
pub fn prices(tx: &mut Tx<'_>) -> Result<()> {
    for (name, minor) in [
        ("price.hour", "6500"),
        ("price.entry", "2500"),
        ("price.failure", "558400"),
    ] {
        settings::set(tx, name, minor)?;
    }
    Ok(())
}

/// Measures and explains what stands open in a building.
pub fn live(
    tx: &mut Tx<'_>,
    scenario: &Scenario,
    (building, number): (BuildingId, usize),
    technician: PersonId,
) -> Result<()> {
    terms::set(tx, building, &leaks::terms(number))?;
    let mut chance = Chance::new(scenario.seed, 7_000 + number as u64);
    let leaking = &catalogue::builtin().map_err(Error::internal)?.water.leaking;
    let all = checks::load_all(tx)?;
    let homes: Vec<_> = units::of_building(tx, building)?
        .into_iter()
        .map(|unit| unit.id)
        .collect();
    let standing = deficiencies::standing_in(tx, &homes)?;
    for one in standing.iter().filter(|one| one.status == DeficiencyStatus::Open) {
        let Some(check) = all.iter().find(|stored| Some(stored.id) == one.check) else {
            continue;
        };
        let code = &check.check.code;
        let at = one.opened_at + TimeDelta::minutes(20);
        if leaking.contains(code)
            && let Some(measured) = leaks::measured(code.as_str(), &mut chance)
        {
            lose(tx, one, measured, at, technician)?;
        }
        if let Some(found) = leaks::found(code.as_str(), &mut chance) {
            explain(tx, one, found, at, technician)?;
        }
    }
    Ok(())
}

fn lose(
    tx: &mut Tx<'_>,
    one: &Deficiency,
    (method, typed): leaks::Measured,
    measured_at: NaiveDateTime,
    technician: PersonId,
) -> Result<()> {
    let knowledge = &catalogue::builtin().map_err(Error::internal)?.water;
    let given = |name: &str| {
        let found = typed.iter().find(|(known, _)| known == name);
        found.map_or_else(String::new, |(_, value)| value.clone())
    };
    let loss = measure(method, &given, knowledge).map_err(Error::Fields)?;
    water::append(
        tx,
        &WaterLoss {
            deficiency: one.id,
            method,
            typed,
            loss,
            measured_at,
            person: Some(technician),
        },
    )
}

fn explain(
    tx: &mut Tx<'_>,
    one: &Deficiency,
    (symptom, answers): leaks::Found,
    found_at: NaiveDateTime,
    technician: PersonId,
) -> Result<()> {
    let (Some(tag), Some(fixture)) = (one.tag, one.fixture) else {
        return Ok(());
    };
    let known = &catalogue::builtin().map_err(Error::internal)?.symptoms;
    let symptom = known
        .symptom(symptom)
        .ok_or_else(|| Error::internal("the demo names a symptom that is not in the catalogue"))?;
    let walk = known.walk(symptom, answers).map_err(Error::internal)?;
    let Step::Found(cause) = walk.step else {
        return Err(Error::internal("the demo's answers reach no cause"));
    };
    let mut said = vec![("What is wrong".to_owned(), symptom.name.clone())];
    said.extend(
        walk.said
            .iter()
            .map(|said| (said.ask.to_owned(), said.say.to_owned())),
    );
    diagnoses::append(
        tx,
        &Diagnosis {
            building: one.building,
            unit: one.unit,
            tag,
            fixture,
            deficiency: Some(one.id),
            symptom: symptom.code.to_string(),
            said,
            cause: cause.code.to_string(),
            found: cause.name.clone(),
            note: String::new(),
            found_at,
            person: Some(technician),
        },
    )
}
