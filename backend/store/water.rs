//! Water lost at leaks, as measured. Append-only; the latest counts.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use super::coded::read_code;
use super::schema::water_losses;
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::result::WaterLoss;
use crate::domain::trade::water::Loss;
use crate::error::{Error, Result};

type Row = (i64, i64, String, String, String, f64, NaiveDateTime, Option<i64>);

fn read((_, deficiency, method, inputs, convention, litres, measured_at, person): Row) -> Result<WaterLoss> {
    Ok(WaterLoss {
        deficiency: DeficiencyId(deficiency),
        method: read_code(&method)?,
        typed: serde_json::from_str(&inputs).map_err(Error::internal)?,
        loss: Loss::kept(litres, &convention),
        measured_at,
        person: person.map(PersonId),
    })
}

/// Appends a measurement.
///
/// # Errors
/// When the database refuses.
pub fn append(tx: &mut Tx<'_>, loss: &WaterLoss) -> Result<()> {
    let inputs = serde_json::to_string(&loss.typed).map_err(Error::internal)?;
    diesel::insert_into(water_losses::table)
        .values((
            water_losses::deficiency_id.eq(loss.deficiency.0),
            water_losses::method.eq(loss.method.code()),
            water_losses::inputs.eq(inputs),
            water_losses::convention.eq(&loss.loss.convention),
            water_losses::litres_a_day.eq(loss.loss.litres_a_day()),
            water_losses::measured_at.eq(loss.measured_at),
            water_losses::person_id.eq(loss.person.map(|person| person.0)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The measurements of a deficiency that the caller may see, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn of_deficiency(conn: &mut AnyConnection, deficiency: DeficiencyId) -> Result<Vec<WaterLoss>> {
    let rows: Vec<Row> = water_losses::table
        .filter(water_losses::deficiency_id.eq(deficiency.0))
        .order((water_losses::measured_at.desc(), water_losses::id.desc()))
        .load(conn)?;
    rows.into_iter().map(read).collect()
}
