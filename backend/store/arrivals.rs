//! What a phone sent that came late or could not be taken as it is. Appended once; only that a manager noted it is added later.

use chrono::NaiveDateTime;
use diesel::prelude::*;
use uuid::Uuid;

use super::coded::read_code;
use super::schema::arrivals;
use super::{AnyConnection, Tx};
use crate::coded;
use crate::domain::code::Coded as _;
use crate::domain::register::{BuildingId, PersonId, ResultId, TurnoverId, UnitId};
use crate::error::{Error, Result};

coded! {
    /// Why something did not come in as usual.
    Cause "cause of an arrival" {
        /// Its turnover was closed or cancelled meanwhile.
        TurnoverOver = "turnover_over",
        /// The unit or its visit was given to others meanwhile.
        Reassigned = "reassigned",
        /// Another fixture stands at the place.
        Replaced = "replaced",
        /// It could not be taken as it is.
        Refused = "refused",
    }
}

/// What arrived.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrival {
    /// Of the answer or step as sent.
    pub client_id: Uuid,
    /// From which phone.
    pub phone: Uuid,
    /// Who sent it.
    pub person: PersonId,
    /// Where.
    pub building: BuildingId,
    /// Where.
    pub unit: UnitId,
    /// Of which turnover.
    pub turnover: Option<TurnoverId>,
    /// The result, when it was kept as one.
    pub result: Option<ResultId>,
    /// Why it did not come in as usual.
    pub cause: Cause,
    /// The same in words.
    pub sentence: String,
    /// JSON as sent.
    pub sent: String,
    /// UTC, corrected by the phone's clock.
    pub done_at: NaiveDateTime,
    /// UTC, the server's time.
    pub received_at: NaiveDateTime,
}

type Row = (
    String,
    String,
    i64,
    i64,
    i64,
    Option<i64>,
    Option<i64>,
    String,
    String,
    String,
    NaiveDateTime,
    NaiveDateTime,
);

macro_rules! columns {
    () => {
        (
            arrivals::client_id,
            arrivals::phone_id,
            arrivals::person_id,
            arrivals::building_id,
            arrivals::unit_id,
            arrivals::turnover_id,
            arrivals::result_id,
            arrivals::cause,
            arrivals::sentence,
            arrivals::sent,
            arrivals::done_at,
            arrivals::received_at,
        )
    };
}

fn read(row: Row) -> Result<Arrival> {
    let (client_id, phone, person, building, unit, turnover, result, cause, sentence, sent, done, received) =
        row;
    Ok(Arrival {
        client_id: client_id.parse().map_err(Error::internal)?,
        phone: phone.parse().map_err(Error::internal)?,
        person: PersonId(person),
        building: BuildingId(building),
        unit: UnitId(unit),
        turnover: turnover.map(TurnoverId),
        result: result.map(ResultId),
        cause: read_code(&cause)?,
        sentence,
        sent,
        done_at: done,
        received_at: received,
    })
}

/// Keeps an arrival. Whether its id is new is asked before, with [`by_client_id`].
///
/// # Errors
/// When the database refuses.
pub fn insert(tx: &mut Tx<'_>, one: &Arrival) -> Result<()> {
    diesel::insert_into(arrivals::table)
        .values((
            arrivals::client_id.eq(one.client_id.to_string()),
            arrivals::phone_id.eq(one.phone.to_string()),
            arrivals::person_id.eq(one.person.0),
            arrivals::building_id.eq(one.building.0),
            arrivals::unit_id.eq(one.unit.0),
            arrivals::turnover_id.eq(one.turnover.map(|turnover| turnover.0)),
            arrivals::result_id.eq(one.result.map(|result| result.0)),
            arrivals::cause.eq(one.cause.code()),
            arrivals::sentence.eq(&one.sentence),
            arrivals::sent.eq(&one.sent),
            arrivals::done_at.eq(one.done_at),
            arrivals::received_at.eq(one.received_at),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// What arrived under this id.
///
/// # Errors
/// When the database does not answer.
pub fn by_client_id(conn: &mut AnyConnection, id: Uuid) -> Result<Option<Arrival>> {
    let row: Option<Row> = arrivals::table
        .filter(arrivals::client_id.eq(id.to_string()))
        .select(columns!())
        .first(conn)
        .optional()?;
    row.map(read).transpose()
}

/// What arrived of a unit, the latest first.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, unit: UnitId) -> Result<Vec<Arrival>> {
    let rows: Vec<Row> = arrivals::table
        .filter(arrivals::unit_id.eq(unit.0))
        .order(arrivals::id.desc())
        .select(columns!())
        .load(conn)?;
    rows.into_iter().map(read).collect()
}
