//! Phones of an invented fleet: one that works, one that was silent for too long with answers on it, and something that could not be taken.

use chrono::TimeDelta;
use uuid::Uuid;

use crate::clock::Now;
use crate::domain::register::PersonId;
use crate::domain::register::person::Scope;
use crate::domain::trade::FixtureKind;
use crate::error::Result;
use crate::store::arrivals::{self, Arrival, Cause};
use crate::store::lists::turnovers::{self, Line, Which};
use crate::store::phones::{self, Unsent};
use crate::store::{Db, Tx, spots};

/// Hours since each phone was heard, and what it said is unsent.
const HEARD: [(i64, Unsent); 2] = [
    (
        2,
        Unsent {
            answers: 0,
            photos: 4,
        },
    ),
    (
        99,
        Unsent {
            answers: 3,
            photos: 2,
        },
    ),
];

/// Lets phones be heard in the open turnovers whose move-in is nearest.
pub(super) fn live(db: &Db, now: Now, technician: PersonId) -> Result<()> {
    let open = db.read(|conn| turnovers::page(conn, &Scope::All, Which::Open, None, None, 2))?;
    db.write(|tx| {
        for (line, (hours, unsent)) in open.iter().zip(HEARD) {
            let (unit, at) = (line.turnover.unit, now.0 - TimeDelta::hours(hours));
            let phone = id_of("phone", line);
            phones::heard(tx, phone, technician, "a phone of the demo", at)?;
            phones::fetched(tx, phone, technician, &[unit], at)?;
            phones::unsent(tx, phone, technician, unit, unsent, at)?;
        }
        match open.first() {
            Some(line) => refused(tx, line, now, technician),
            None => Ok(()),
        }
    })
}

fn id_of(what: &str, line: &Line) -> Uuid {
    let name = format!("demo {what} of turnover {}", line.turnover.id);
    Uuid::new_v5(&Uuid::NAMESPACE_OID, name.as_bytes())
}

/// A reading that nobody can read, as it came.
fn refused(tx: &mut Tx<'_>, line: &Line, now: Now, technician: PersonId) -> Result<()> {
    let spots = spots::in_unit(tx, &Scope::All, line.turnover.unit)?;
    let Some(spot) = spots.iter().find(|spot| spot.kind == FixtureKind::WaterCloset) else {
        return Ok(());
    };
    let sent = serde_json::json!({
        "kind": "answer", "fixture": spot.fixture.0, "part": "", "check": "wc_refill",
        "outcome": "", "reading": "1 min 2O", "note": "the float sticks",
    });
    let arrival = Arrival {
        client_id: id_of("arrival", line),
        phone: id_of("phone", line),
        person: technician,
        building: line.turnover.building,
        unit: line.turnover.unit,
        turnover: Some(line.turnover.id),
        result: None,
        cause: Cause::Refused,
        sentence: "“1 min 2O” is no reading: a figure and its unit, such as 80 s. It was kept as it came, and the manager sees it."
            .to_owned(),
        sent: sent.to_string(),
        done_at: now.0 - TimeDelta::hours(3),
        received_at: now.0 - TimeDelta::hours(2),
    };
    arrivals::insert(tx, &arrival)
}
