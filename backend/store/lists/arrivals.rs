//! What phones sent that came late or could not be taken, with the words that people know, for the manager's list. Only noting is written.

use chrono::NaiveDateTime;
use diesel::dsl::count_star;
use diesel::prelude::*;

use crate::domain::register::person::Scope;
use crate::domain::register::{FixtureId, PersonId, ResultId, TurnoverId, UnitId};
use crate::error::{Error, Result};
use crate::store::buildings::keys_of;
use crate::store::schema::{arrivals, buildings, people, results, units};
use crate::store::{AnyConnection, Tx};

/// One arrival.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Key.
    pub id: i64,
    /// Who sent it.
    pub person: String,
    /// Code of the building.
    pub building_code: String,
    /// Name of the building.
    pub building_name: String,
    /// Zone of the building.
    pub zone: chrono_tz::Tz,
    /// The unit.
    pub unit: UnitId,
    /// Label of the unit.
    pub unit_label: String,
    /// The turnover that it is of.
    pub turnover: Option<TurnoverId>,
    /// The result that it was kept as, and the result's fixture.
    pub result: Option<(ResultId, FixtureId)>,
    /// Code of why it did not come in as usual.
    pub cause: String,
    /// The same in words, as the phone was told.
    pub sentence: String,
    /// JSON as sent.
    pub sent: String,
    /// UTC, corrected by the phone's clock.
    pub done_at: NaiveDateTime,
    /// UTC, the server's time.
    pub received_at: NaiveDateTime,
    /// UTC, when a manager noted it.
    pub seen_at: Option<NaiveDateTime>,
}

/// Which arrivals are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Those that no manager noted yet, the oldest first.
    Unseen,
    /// All, the latest first.
    All,
}

type Columns = (
    (i64, String, String, String),
    String,
    (String, String, String),
    (i64, String),
    Option<i64>,
    Option<(i64, i64)>,
    (NaiveDateTime, NaiveDateTime, Option<NaiveDateTime>),
);

fn line((own, person, building, unit, turnover, result, times): Columns) -> Line {
    let (id, cause, sentence, sent) = own;
    let (building_code, building_name, zone) = building;
    let (done_at, received_at, seen_at) = times;
    Line {
        id,
        person,
        building_code,
        building_name,
        zone: zone.parse().unwrap_or(chrono_tz::Tz::UTC),
        unit: UnitId(unit.0),
        unit_label: unit.1,
        turnover: turnover.map(TurnoverId),
        result: result.map(|(id, fixture)| (ResultId(id), FixtureId(fixture))),
        cause,
        sentence,
        sent,
        done_at,
        received_at,
        seen_at,
    }
}

/// At most `limit` arrivals after the one with the key `after`, of one turnover when it is named.
///
/// # Errors
/// When the database does not answer.
pub fn page(
    conn: &mut AnyConnection,
    scope: &Scope,
    which: Which,
    turnover: Option<TurnoverId>,
    after: Option<i64>,
    limit: i64,
) -> Result<Vec<Line>> {
    let mut query = arrivals::table
        .inner_join(people::table.on(people::id.eq(arrivals::person_id)))
        .inner_join(buildings::table)
        .inner_join(units::table)
        .left_join(results::table.on(results::id.nullable().eq(arrivals::result_id)))
        .limit(limit)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(arrivals::building_id.eq_any(keys));
    }
    if let Some(turnover) = turnover {
        query = query.filter(arrivals::turnover_id.eq(turnover.0));
    }
    query = match which {
        Which::Unseen => query
            .filter(arrivals::seen_at.is_null())
            .filter(arrivals::id.gt(after.unwrap_or(0)))
            .order(arrivals::id),
        Which::All => query
            .filter(arrivals::id.lt(after.unwrap_or(i64::MAX)))
            .order(arrivals::id.desc()),
    };
    let rows: Vec<Columns> = query
        .select((
            (arrivals::id, arrivals::cause, arrivals::sentence, arrivals::sent),
            people::name,
            (buildings::code, buildings::name, buildings::time_zone),
            (units::id, units::label),
            arrivals::turnover_id,
            (results::id, results::fixture_id).nullable(),
            (arrivals::done_at, arrivals::received_at, arrivals::seen_at),
        ))
        .load(conn)?;
    Ok(rows.into_iter().map(line).collect())
}

/// How many arrivals no manager noted yet, of one turnover when it is named.
///
/// # Errors
/// When the database does not answer.
pub fn unseen(conn: &mut AnyConnection, scope: &Scope, turnover: Option<TurnoverId>) -> Result<usize> {
    let mut query = arrivals::table
        .filter(arrivals::seen_at.is_null())
        .select(count_star())
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(arrivals::building_id.eq_any(keys));
    }
    if let Some(turnover) = turnover {
        query = query.filter(arrivals::turnover_id.eq(turnover.0));
    }
    let count: i64 = query.first(conn)?;
    Ok(usize::try_from(count).unwrap_or_default())
}

/// Notes that an arrival was seen; one that was noted before stays as it is. True when it was not.
///
/// # Errors
/// [`Error::NotFound`] when there is none within `scope`, or the database refuses.
pub fn see(
    tx: &mut Tx<'_>,
    scope: &Scope,
    id: i64,
    now: NaiveDateTime,
    by: Option<PersonId>,
) -> Result<bool> {
    let building: Option<i64> = arrivals::table
        .find(id)
        .select(arrivals::building_id)
        .first(&mut **tx)
        .optional()?;
    let seen = building.filter(|building| scope.sees(crate::domain::register::BuildingId(*building)));
    seen.ok_or_else(|| Error::not_found("such arrival"))?;
    let changed = diesel::update(arrivals::table.find(id).filter(arrivals::seen_at.is_null()))
        .set((
            arrivals::seen_at.eq(Some(now)),
            arrivals::seen_by.eq(by.map(|person| person.0)),
        ))
        .execute(&mut **tx)?;
    Ok(changed == 1)
}
