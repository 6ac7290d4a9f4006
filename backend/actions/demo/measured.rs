//! What was measured in the first invented building: clearances, flush tests with a refill that slows, leak points. Recorded by the same
//! actions as a technician's own, so that each drawing has something to show.

use chrono::{NaiveTime, TimeDelta};
use uuid::Uuid;

use crate::actions::measures::{clearance, flush, leaks};
use crate::clock::Now;
use crate::demo::Scenario;
use crate::demo::chance::Chance;
use crate::domain::register::person::{Actor, Role, Scope};
use crate::domain::register::{BuildingId, FixtureId, PersonId};
use crate::domain::trade::FixtureKind;
use crate::domain::trade::clearance::Typed as Measures;
use crate::domain::trade::flush::{Level, Run};
use crate::domain::trade::leak_point::Typed;
use crate::error::Result;
use crate::store::{Tx, spots, units};

/// Days a fixture must have stood to have a past of its own.
const STOOD_DAYS: i64 = 400;

/// Left, right, front, seat, and what was decided where something is short.
const CLEARANCES: [[&str; 5]; 6] = [
    ["16 1/4", "15 1/2", "27", "16", ""],
    ["15 1/8", "14 7/8", "22", "15 1/2", "as_found"],
    ["18", "15", "24 3/4", "16 1/2", ""],
    ["15 3/4", "17", "20 1/4", "16", "must_fix"],
    ["15", "19 1/2", "21", "15 3/4", ""],
    ["381 mm", "412 mm", "640 mm", "405 mm", ""],
];

/// What was seen at a point: its code, what, and drips a minute.
const LEAKS: [(FixtureKind, &[(&str, &str, &str)]); 4] = [
    (
        FixtureKind::WaterCloset,
        &[
            ("supply", "dry", ""),
            ("shutoff", "dry", ""),
            ("tank", "drip", "12"),
            ("base", "dry", ""),
        ],
    ),
    (FixtureKind::Lavatory, &[("trap", "damp", "")]),
    (
        FixtureKind::KitchenSink,
        &[("faucet", "drip", "60"), ("trap", "dry", "")],
    ),
    (
        FixtureKind::WaterHeater,
        &[("relief", "dry", ""), ("tank", "dry", "")],
    ),
];

/// Measures what stands in a building.
pub fn live(tx: &mut Tx<'_>, scenario: &Scenario, building: BuildingId, technician: PersonId) -> Result<()> {
    let mut past = Past {
        actor: Actor {
            person: Some(technician),
            role: Role::Technician,
            scope: Scope::All,
            name: String::new(),
        },
        scenario,
        chance: Chance::new(scenario.seed, 8_000),
    };
    let mut standing = Vec::new();
    for unit in units::of_building(tx, building)? {
        standing.extend(spots::in_unit(tx, &Scope::All, unit.id)?);
    }
    let long = scenario.as_of - TimeDelta::days(STOOD_DAYS);
    standing.retain(|spot| spot.stood_from <= long);
    let of = |kind: FixtureKind| -> Vec<FixtureId> {
        standing
            .iter()
            .filter(|spot| spot.kind == kind)
            .map(|spot| spot.fixture)
            .collect()
    };
    let closets = of(FixtureKind::WaterCloset);
    for (fixture, measures) in closets.iter().zip(CLEARANCES) {
        past.clearance(tx, *fixture, measures)?;
    }
    if let Some(first) = closets.first() {
        for month in (0..12).rev() {
            past.flush(tx, *first, 30 * month + 2, 84 - 3 * month)?;
        }
    }
    for fixture in closets.iter().skip(1).take(4) {
        let refill = past.chance.between(38, 66);
        past.flush(tx, *fixture, 40, refill)?;
    }
    for (kind, seen) in LEAKS {
        if let Some(fixture) = of(kind).get(1) {
            past.leaks(tx, *fixture, seen)?;
        }
    }
    Ok(())
}

struct Past<'a> {
    actor: Actor,
    scenario: &'a Scenario,
    chance: Chance,
}

impl Past<'_> {
    /// Late morning in America, so many days before the day of the demo.
    fn days_ago(&self, days: i64) -> Now {
        let day = self.scenario.as_of - TimeDelta::days(days);
        Now(day.and_time(NaiveTime::MIN) + TimeDelta::minutes(16 * 60 + 20))
    }

    fn id(&mut self) -> Uuid {
        Uuid::from_u128(self.chance.bits())
    }

    fn clearance(
        &mut self,
        tx: &mut Tx<'_>,
        fixture: FixtureId,
        [left, right, front, seat, decision]: [&str; 5],
    ) -> Result<()> {
        let accepted = match decision {
            "as_found" => "the office; the wall is older than the rule",
            _ => "",
        };
        let given = clearance::Measure {
            client_id: self.id(),
            typed: Measures {
                left: left.to_owned(),
                right: right.to_owned(),
                front: front.to_owned(),
                seat_height: seat.to_owned(),
                ..Measures::default()
            },
            decision: decision.to_owned(),
            accepted: accepted.to_owned(),
        };
        clearance::within(tx, &self.actor, self.days_ago(45), fixture, &given)?;
        Ok(())
    }

    fn flush(&mut self, tx: &mut Tx<'_>, fixture: FixtureId, days: i64, refill_s: i64) -> Result<()> {
        let times: Vec<String> = (0..3)
            .map(|_| (refill_s - self.chance.between(0, 2)).to_string())
            .chain([refill_s.to_string()])
            .collect();
        let given = flush::Test {
            client_id: self.id(),
            run: Run {
                level: Level::AtMark,
                ..Run::timed("1.6 gal", times.iter().map(String::as_str))
            },
        };
        flush::within(tx, &self.actor, self.days_ago(days), fixture, &given)?;
        Ok(())
    }

    fn leaks(&mut self, tx: &mut Tx<'_>, fixture: FixtureId, seen: &[(&str, &str, &str)]) -> Result<()> {
        let points: Vec<leaks::AtPoint> = seen
            .iter()
            .map(|(point, state, per_minute)| leaks::AtPoint {
                point: (*point).to_owned(),
                state: (*state).to_owned(),
                typed: Typed {
                    per_minute: (*per_minute).to_owned(),
                    ..Typed::default()
                },
            })
            .collect();
        let id = self.id();
        leaks::within(tx, &self.actor, self.days_ago(12), fixture, id, &points)?;
        Ok(())
    }
}
