//! What holds in one building instead of the office's own: tariff and programme.

use std::collections::HashMap;

use diesel::prelude::*;

use super::coded::read_code;
use super::schema::building_terms;
use super::{AnyConnection, Tx};
use crate::domain::code::Coded;
use crate::domain::register::{BuildingId, BuildingTerms};
use crate::domain::trade::water::{Billed, Tariff};
use crate::error::Result;

type Row = (i64, Option<i64>, Option<i64>, String, String, String);

fn read((building, water, sewer, billed, currency, programme): Row) -> Result<(BuildingId, BuildingTerms)> {
    let tariff = match (water, sewer) {
        (None, None) => None,
        (water, sewer) => Some(Tariff {
            water_minor: water.unwrap_or_default(),
            sewer_minor: sewer.unwrap_or_default(),
            billed: read_code(&billed)?,
            currency,
        }),
    };
    Ok((BuildingId(building), BuildingTerms { tariff, programme }))
}

/// The terms of a building that the caller may see; the office's own when nobody set any.
///
/// # Errors
/// When the database does not answer.
pub fn of_building(conn: &mut AnyConnection, building: BuildingId) -> Result<BuildingTerms> {
    let row: Option<Row> = building_terms::table.find(building.0).first(conn).optional()?;
    Ok(row
        .map(read)
        .transpose()?
        .map(|(_, terms)| terms)
        .unwrap_or_default())
}

/// The terms of every building that has some.
///
/// # Errors
/// When the database does not answer.
pub fn all(conn: &mut AnyConnection) -> Result<HashMap<BuildingId, BuildingTerms>> {
    let rows: Vec<Row> = building_terms::table.load(conn)?;
    rows.into_iter().map(read).collect()
}

/// Sets the terms of a building.
///
/// # Errors
/// When the database refuses.
pub fn set(tx: &mut Tx<'_>, building: BuildingId, terms: &BuildingTerms) -> Result<()> {
    let tariff = terms.tariff.as_ref();
    let values = (
        building_terms::water_minor.eq(tariff.map(|tariff| tariff.water_minor)),
        building_terms::sewer_minor.eq(tariff.map(|tariff| tariff.sewer_minor)),
        building_terms::billed.eq(tariff.map_or(Billed::Ccf, |tariff| tariff.billed).code()),
        building_terms::currency.eq(tariff.map_or("", |tariff| tariff.currency.as_str())),
        building_terms::programme.eq(terms.programme.as_str()),
    );
    let changed = diesel::update(building_terms::table.find(building.0))
        .set(values)
        .execute(&mut **tx)?;
    if changed == 0 {
        diesel::insert_into(building_terms::table)
            .values((building_terms::building_id.eq(building.0), values))
            .execute(&mut **tx)?;
    }
    Ok(())
}
