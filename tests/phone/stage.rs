//! Unit 204 in turnover, a server, and phones of its technician that fetch, keep and send as the page does.

use std::sync::atomic::{AtomicU64, Ordering};

use anglestop::domain::register::person::{Role, Scope};
use anglestop::domain::register::{PersonId, TurnoverId, UnitId};
use anglestop::domain::result::Entry;
use anglestop::store::{arrivals, results};
use serde_json::{Value, json};
use uuid::Uuid;

use crate::support::Fleet;
use crate::support::server::{Answer, Browser, Server};
use crate::support::two_owners::{Held, session};
use crate::turnovers::stage::{Flat, flat};

/// The instant at which the server stands at first: noon in Chicago on the day the turnover is opened.
pub const NOW: &str = "2026-02-03T18:00:00";

/// The flat with its turnover and a server.
pub struct Site {
    pub flat: Flat,
    pub turnover: TurnoverId,
    pub server: Server,
}

/// A phone in somebody's hand.
pub struct Phone {
    pub id: Uuid,
    pub browser: Browser,
    pub csrf: String,
    /// What its clock is ahead of the server's.
    pub ahead: chrono::TimeDelta,
}

impl Site {
    pub fn open(fleet: &Fleet) -> Self {
        let flat = flat(&fleet.db);
        let turnover = flat.opened();
        Self {
            flat,
            turnover,
            server: Server::start(&fleet.db, NOW),
        }
    }

    pub fn unit(&self) -> UnitId {
        self.flat.small.unit
    }

    /// Moves the server's clock.
    pub fn at(&self, instant: &str) {
        self.server.clock.set(instant.parse().unwrap());
    }

    /// A phone of the technician, signed in now.
    pub fn phone(&self) -> Phone {
        self.phone_of(self.flat.small.technician.person.unwrap(), Role::Technician)
    }

    pub fn phone_of(&self, person: PersonId, role: Role) -> Phone {
        let held = self.held(person, role);
        Phone {
            id: id(),
            browser: self.server.holding(&held.token),
            csrf: held.csrf,
            ahead: chrono::TimeDelta::zero(),
        }
    }

    pub fn held(&self, person: PersonId, role: Role) -> Held {
        session(self.flat.db(), person, role)
    }

    /// A result by its client id.
    pub fn result(&self, id: Uuid) -> Option<Entry> {
        let found = self
            .flat
            .db()
            .read(|conn| results::by_client_ids(conn, &[id]))
            .unwrap();
        found.into_values().next().map(|(_, entry)| entry)
    }

    /// What arrived under an id.
    pub fn arrival(&self, id: Uuid) -> Option<arrivals::Arrival> {
        self.flat
            .db()
            .read(|conn| arrivals::by_client_id(conn, id))
            .unwrap()
    }

    /// How many rows a table has.
    pub fn count(&self, table: &str) -> i64 {
        self.flat.small.count(table)
    }

    /// A passing answer to the closet's tank, as found.
    pub fn tank(&self, at: &str) -> Value {
        self.answer(at, "wc_tank_firm", "found", json!({"outcome": "pass"}))
    }

    /// An answer about the closet.
    pub fn answer(&self, at: &str, check: &str, stage: &str, more: Value) -> Value {
        let mut op = json!({
            "id": id().to_string(), "at": at, "kind": "answer", "turnover": self.turnover.0, "visit": null, "stage": stage,
            "fixture": self.flat.closet.0, "part": "", "check": check, "version": 1, "outcome": "", "reading": "", "reason": "",
            "why": "", "note": "", "detail": null,
        });
        merge(&mut op, more);
        op
    }

    /// The turnover as anybody sees it now.
    pub fn survey(&self) -> anglestop::store::lists::turnovers::Survey {
        let now = self.server.clock.now();
        self.flat
            .db()
            .read(|conn| {
                anglestop::store::lists::turnovers::Surveyor::new(conn, now)?.survey(
                    conn,
                    &Scope::All,
                    self.turnover,
                )
            })
            .unwrap()
    }
}

/// Puts the members of one value over those of another.
pub fn merge(value: &mut Value, more: Value) {
    let (Value::Object(value), Value::Object(more)) = (value, more) else {
        panic!("no objects");
    };
    value.extend(more);
}

/// An op with an id of its own.
pub fn op(kind: &str, at: &str, more: Value) -> Value {
    let mut op = json!({"id": id().to_string(), "at": at, "kind": kind});
    merge(&mut op, more);
    op
}

/// The id of an op.
pub fn id_of(op: &Value) -> Uuid {
    op["id"].as_str().unwrap().parse().unwrap()
}

/// A UUID of version 7, each later than the one before.
pub fn id() -> Uuid {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    let next = NEXT.fetch_add(1, Ordering::Relaxed);
    Uuid::from_u128(0x0193_f2a4_7c1e_7000_8000_0000_0000_0000 | u128::from(next))
}

impl Phone {
    /// Fetches the checklists.
    pub fn fetch(&self) -> Value {
        let answer = self
            .browser
            .get_with("/phone/units", &[("phone", &self.id.to_string())]);
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str(&answer.body).unwrap()
    }

    /// Sends a body under a key.
    pub fn send_raw(&self, site: &Site, key: Uuid, body: &str) -> Answer {
        let clock = site.server.clock.now().0 + self.ahead;
        let clock = clock.format("%Y-%m-%dT%H:%M:%S%.3fZ").to_string();
        let headers = [
            ("idempotency-key", key.to_string()),
            ("phone", self.id.to_string()),
            ("phone-clock", clock),
            ("phone-left", "2,1".to_owned()),
            ("csrf-token", self.csrf.clone()),
        ];
        let headers: Vec<(&str, &str)> = headers
            .iter()
            .map(|(name, value)| (*name, value.as_str()))
            .collect();
        self.browser
            .send_with("/phone/sync", &headers, "application/json", body)
    }

    /// Sends ops of the unit and answers with what each came to: state and sentence.
    pub fn send(&self, site: &Site, ops: &[Value]) -> Vec<(String, String)> {
        self.send_since(site, None, ops)
    }

    /// The same from a checklist that was fetched at an instant.
    pub fn send_since(&self, site: &Site, fetched_at: Option<&str>, ops: &[Value]) -> Vec<(String, String)> {
        let body = batch(site, fetched_at, ops);
        let answer = self.send_raw(site, id(), &body);
        assert_eq!(answer.status, 200, "{}", answer.body);
        told(&answer)
    }
}

/// The body of a batch.
pub fn batch(site: &Site, fetched_at: Option<&str>, ops: &[Value]) -> String {
    json!({"v": 1, "unit": site.unit().0, "fetched_at": fetched_at, "ops": ops}).to_string()
}

/// State and sentence of each op.
pub fn told(answer: &Answer) -> Vec<(String, String)> {
    let read: Value = serde_json::from_str(&answer.body).unwrap();
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let ops = read["ops"].as_array().unwrap().iter();
    ops.map(|op| (text(&op["state"]), text(&op["sentence"])))
        .collect()
}

/// The states alone.
pub fn states(told: &[(String, String)]) -> Vec<&str> {
    told.iter().map(|(state, _)| state.as_str()).collect()
}
