//! Who lives in the units of some places when, read in three queries for all of them.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;
use diesel::prelude::*;

use super::ground::Place;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::due::{OpenTurnover, Stay, Tenancy};
use crate::domain::register::{Occupancy, UnitKind};
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::coded::read_code;
use crate::store::schema::{buildings, households, turnovers, units};
use crate::store::turnovers::OPEN;

/// Units a statement.
const CHUNK: usize = 1_000;

/// Says of each place who lives in its unit when, as it is now.
pub fn fill(conn: &mut AnyConnection, places: &mut [Place]) -> Result<()> {
    let mut keys: Vec<i64> = places.iter().map(|place| place.unit.0).collect();
    keys.sort_unstable();
    keys.dedup();
    let mut found: HashMap<i64, Arc<Tenancy>> = HashMap::new();
    for chunk in keys.chunks(CHUNK) {
        let read = read(conn, chunk)?;
        found.extend(read.into_iter().map(|(unit, tenancy)| (unit, Arc::new(tenancy))));
    }
    for place in places {
        if let Some(tenancy) = found.get(&place.unit.0) {
            place.tenancy = Arc::clone(tenancy);
        }
    }
    Ok(())
}

fn read(conn: &mut AnyConnection, keys: &[i64]) -> Result<HashMap<i64, Tenancy>> {
    let now: Vec<(i64, String)> = units::table
        .filter(units::id.eq_any(keys))
        .filter(units::kind.eq(UnitKind::Unit.code()))
        .select((units::id, units::occupancy))
        .load(conn)?;
    let mut found: HashMap<i64, Tenancy> = HashMap::new();
    for (unit, occupancy) in now {
        let tenancy = found.entry(unit).or_default();
        tenancy.is_vacant = read_code::<Occupancy>(&occupancy)? != Occupancy::Occupied;
    }
    let stays: Vec<(i64, NaiveDate, Option<NaiveDate>)> = households::table
        .filter(households::unit_id.eq_any(keys))
        .order((households::moved_in_on, households::id))
        .select((
            households::unit_id,
            households::moved_in_on,
            households::moved_out_on,
        ))
        .load(conn)?;
    for (unit, from, until) in stays {
        if let Some(tenancy) = found.get_mut(&unit) {
            tenancy.stays.push(Stay { from, until });
        }
    }
    let open: Vec<(i64, NaiveDateTime, NaiveDate, String)> = turnovers::table
        .inner_join(buildings::table)
        .filter(turnovers::unit_id.eq_any(keys))
        .filter(turnovers::stage.eq_any(OPEN))
        .select((
            turnovers::unit_id,
            turnovers::opened_at,
            turnovers::move_in_on,
            buildings::time_zone,
        ))
        .load(conn)?;
    for (unit, opened_at, move_in_on, zone) in open {
        if let Some(tenancy) = found.get_mut(&unit) {
            tenancy.turnover = Some(turnover(opened_at, move_in_on, &zone)?);
        }
    }
    Ok(found)
}

fn turnover(opened_at: NaiveDateTime, move_in_on: NaiveDate, zone: &str) -> Result<OpenTurnover> {
    let zone: Tz = zone.parse().map_err(Error::internal)?;
    Ok(OpenTurnover {
        opened_on: Now(opened_at).date_in(zone),
        move_in_on,
    })
}

/// Days from the opening of each open turnover to its last day.
pub fn widths(conn: &mut AnyConnection) -> Result<Vec<i64>> {
    let open: Vec<(NaiveDateTime, NaiveDate, String)> = turnovers::table
        .inner_join(buildings::table)
        .filter(turnovers::stage.eq_any(OPEN))
        .select((turnovers::opened_at, turnovers::move_in_on, buildings::time_zone))
        .load(conn)?;
    open.into_iter()
        .map(|(opened_at, move_in_on, zone)| {
            let window = turnover(opened_at, move_in_on, &zone)?.window();
            Ok((window.last_day() - window.opens()).num_days())
        })
        .collect()
}
