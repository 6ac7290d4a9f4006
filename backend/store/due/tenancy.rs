//! Who lives in the units of some places when, read in three queries for all of them.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;
use diesel::prelude::*;

use super::ground::Place;
use crate::domain::due::{OpenTurnover, Stay, Tenancy};
use crate::domain::register::{Occupancy, UnitKind};
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::coded::read_code;
use crate::store::schema::{buildings, households, turnovers, units};

/// Units a statement.
const CHUNK: usize = 1_000;

/// Stages of a turnover that is open.
const OPEN: [&str; 3] = ["found", "repaired", "ready"];

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
    let now: Vec<(i64, String, String)> = units::table
        .filter(units::id.eq_any(keys))
        .filter(units::kind.eq("unit"))
        .select((units::id, units::kind, units::occupancy))
        .load(conn)?;
    let mut found: HashMap<i64, Tenancy> = HashMap::new();
    for (unit, kind, occupancy) in now {
        let lives = read_code::<Occupancy>(&occupancy)? == Occupancy::Occupied;
        let tenancy = found.entry(unit).or_default();
        tenancy.is_vacant = read_code::<UnitKind>(&kind)? == UnitKind::Unit && !lives;
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
        let zone: Tz = zone.parse().map_err(Error::internal)?;
        let opened_at: DateTime<Utc> = opened_at.and_utc();
        if let Some(tenancy) = found.get_mut(&unit) {
            tenancy.turnover = Some(OpenTurnover {
                opened_on: opened_at.with_timezone(&zone).date_naive(),
                move_in_on,
            });
        }
    }
    Ok(found)
}
