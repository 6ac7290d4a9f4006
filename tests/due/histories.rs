//! Random histories: whatever is recorded, replaced, imported, switched, changed and undone in whatever order, what is stored is what the
//! ground state says.

use std::sync::Arc;

use anglestop::actions::calendars;
use anglestop::actions::register::{add_household, move_out};
use anglestop::actions::schedules::{Switch, switch, undo};
use anglestop::actions::turnovers::{self as open_turnover, Cancel, cancel};
use anglestop::domain::code::Coded as _;
use anglestop::domain::due::{ClosingText, DayOfWeek, Moving, OnClosedDays, Season, Vacancy, read_timing};
use anglestop::domain::register::HouseholdText;
use anglestop::domain::register::person::{Actor, Role, Scope};
use anglestop::domain::trade::{FixtureKind, PartKind};
use anglestop::domain::turnover::TurnoverText;
use anglestop::error::Error;
use anglestop::store::lists::due::{self as lists, Desk, Filter, Order};
use anglestop::store::{self, due, schedules};
use chrono::{Duration, NaiveDate};
use rand::rngs::SmallRng;
use rand::seq::IndexedRandom as _;
use rand::{Rng as _, SeedableRng as _};

use super::office::{Office, Stand, by, day, now};
use crate::support::on_both;

/// Histories on each database, and steps in each.
const HISTORIES: u64 = 12;
const STEPS: usize = 40;

const CHECKS: [(&str, &str); 5] = [
    ("", "wc_seat"),
    ("", "wc_bowl_firm"),
    ("", "wc_flushes"),
    ("supply_line", "supply_line_sound"),
    ("stop", "stop_works"),
];

const RULES: [(&str, &str, Option<&str>); 6] = [
    ("last_done", "P6M", None),
    ("last_done", "P90D", None),
    ("calendar", "FREQ=YEARLY", Some("2025-10-01")),
    (
        "calendar",
        "FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO",
        Some("2025-01-01"),
    ),
    (
        "calendar",
        "FREQ=MONTHLY;INTERVAL=2;BYMONTHDAY=-1",
        Some("2025-01-31"),
    ),
    (
        "calendar",
        "FREQ=YEARLY;BYMONTH=4,10;BYDAY=1TU",
        Some("2025-01-01"),
    ),
];

struct History<'f> {
    office: Office<'f>,
    stands: Vec<Stand>,
    random: SmallRng,
    names: usize,
}

impl History<'_> {
    fn some_day(&mut self) -> String {
        let days = self.random.random_range(0..600);
        (day("2025-01-10") + Duration::days(days)).to_string()
    }

    fn stand(&mut self) {
        self.names += 1;
        let label = format!("WC-{}", self.names);
        let installed = self.random.random_bool(0.5).then(|| self.some_day());
        let parts = [
            (PartKind::SupplyLine, None),
            (PartKind::Stop, installed.as_deref()),
        ];
        let stand = self
            .office
            .stand(&label, FixtureKind::WaterCloset, installed.as_deref(), &parts);
        self.stands.push(stand);
    }

    fn step(&mut self, actor: &Actor) -> &'static str {
        let on: NaiveDate = day(&self.some_day());
        let on = on.to_string();
        let at = self.random.random_range(0..self.stands.len());
        let stand = self.stands[at];
        let (part, check) = *CHECKS.choose(&mut self.random).unwrap();
        match self.random.random_range(0..14) {
            0..=2 => {
                let outcome = *["pass", "fail", "not_checked"].choose(&mut self.random).unwrap();
                self.office.result(stand, part, check, outcome, &on);
                "a result"
            }
            3 => {
                self.stand();
                "another closet"
            }
            4 => {
                self.stands[at] = self.office.replace(stand, FixtureKind::WaterCloset, &on);
                "a replacement"
            }
            5 => {
                self.names += 1;
                let (anchor, rule, start) = *RULES.choose(&mut self.random).unwrap();
                let code = format!("own_{}", self.names);
                self.office
                    .add_schedule(&code, anchor, rule, start, &[check], |terms| {
                        terms.scope.parts = Vec::new();
                    });
                "another schedule"
            }
            6 => {
                self.change();
                "a changed schedule"
            }
            7 => {
                let code = self.some_schedule();
                let to = if self.random.random_bool(0.5) {
                    Switch::On
                } else {
                    Switch::Off
                };
                switch(&self.office.fleet.db, actor, now(), &code, to).unwrap();
                "a switch"
            }
            8 => {
                self.week(actor);
                "another week"
            }
            9..=11 => self.live(actor, &on),
            12 => {
                self.close(actor, &on);
                "closed days"
            }
            _ => {
                let code = self.some_schedule();
                let read = self.office.fleet.db.read(|conn| schedules::by_code(conn, &code));
                let schedule = read.unwrap().unwrap();
                let changed = self
                    .office
                    .fleet
                    .db
                    .read(|conn| schedules::former(conn, schedule.id));
                if changed.unwrap().is_some() {
                    undo(&self.office.fleet.db, actor, now(), &code, schedule.version).unwrap();
                }
                "an undoing"
            }
        }
    }

    /// Somebody moves in or out, or a turnover is opened or given up; what can't be then is refused.
    fn live(&mut self, actor: &Actor, on: &str) -> &'static str {
        let (db, unit) = (&self.office.fleet.db, self.office.unit);
        let open = db
            .read(|conn| store::turnovers::open_of_unit(conn, unit))
            .unwrap();
        let households = db.read(|conn| store::households::of_unit(conn, unit)).unwrap();
        let home = households
            .iter()
            .find(|household| household.moved_out_on.is_none());
        let done = match (self.random.random_range(0..3), open, home) {
            (0, Some(open), _) => {
                let command = Cancel {
                    turnover: open.id,
                    reason: "They stay.".to_owned(),
                };
                cancel(db, actor, now(), &command)
            }
            (0, None, _) => {
                let text = TurnoverText {
                    move_out_on: "2026-08-01".to_owned(),
                    move_in_on: "2026-09-20".to_owned(),
                    note: String::new(),
                };
                let stay = open_turnover::Stay::AsItIs;
                open_turnover::open(db, actor, now(), &open_turnover::Open { unit, text, stay }).map(drop)
            }
            (_, _, Some(home)) => move_out::leave(db, actor, now(), home.id, on),
            (_, _, None) => {
                let text = HouseholdText {
                    name: "Okafor".to_owned(),
                    moved_in_on: on.to_owned(),
                    ..HouseholdText::default()
                };
                add_household::add(db, actor, now(), unit, &text).map(drop)
            }
        };
        if done.is_ok() {
            "a move"
        } else {
            "a move that was refused"
        }
    }

    fn week(&mut self, actor: &Actor) {
        let mut days: Vec<String> = DayOfWeek::ALL.iter().map(|day| day.code().to_owned()).collect();
        days.retain(|_| self.random.random_bool(0.7));
        days.push("WE".to_owned());
        calendars::set_week(&self.office.fleet.db, actor, now(), self.office.building, &days).unwrap();
    }

    /// Closes the building, or changes or takes away some of the closed days.
    fn close(&mut self, actor: &Actor, on: &str) {
        let (db, building) = (&self.office.fleet.db, self.office.building);
        let known = db
            .read(|conn| store::calendars::closings_of(conn, building))
            .unwrap();
        let one = known.choose(&mut self.random).map(|(id, _)| *id);
        let turn = self.random.random_range(0..10);
        if let Some(id) = one.filter(|_| turn < 3) {
            calendars::open(db, actor, now(), building, id).unwrap();
            return;
        }
        self.names += 1;
        let rules = ["", "FREQ=YEARLY", "FREQ=MONTHLY;BYDAY=-1FR"];
        let text = ClosingText {
            name: format!("Closed {}", self.names),
            start: on.to_owned(),
            rule: (*rules.choose(&mut self.random).unwrap()).to_owned(),
            days: self.random.random_range(1..25).to_string(),
            ..ClosingText::default()
        };
        match one.filter(|_| turn < 6) {
            Some(id) => calendars::change_closing(db, actor, now(), building, id, &text).unwrap(),
            None => calendars::close(db, actor, now(), building, &text).unwrap(),
        };
    }

    fn some_schedule(&mut self) -> String {
        let all = self.office.fleet.db.read(schedules::load_all).unwrap();
        let asking: Vec<_> = all
            .iter()
            .filter(|schedule| schedule.terms.code.starts_with("own_") || schedule.terms.active)
            .collect();
        asking.choose(&mut self.random).unwrap().terms.code.clone()
    }

    fn change(&mut self) {
        let code = self.some_schedule();
        let (anchor, rule, start) = *RULES.choose(&mut self.random).unwrap();
        let (lead, grace) = (self.random.random_range(0..15), self.random.random_range(0..15));
        let season = match anchor {
            "calendar" => None,
            _ => Season::of((1..=12).filter(|_| self.random.random_bool(0.6))),
        };
        let moving = Moving {
            on_closed_days: *OnClosedDays::ALL.choose(&mut self.random).unwrap(),
            season,
            vacancy: *Vacancy::ALL.choose(&mut self.random).unwrap(),
        };
        self.office.write(|tx| {
            let schedule = schedules::by_code(tx, &code).unwrap().unwrap();
            let mut terms = schedule.terms.clone();
            terms.timing = read_timing(anchor, rule, start.map(day), lead, grace, None).unwrap();
            terms.timing = terms.timing.clone().moved_by(moving).unwrap();
            schedules::update(tx, &schedule, &terms, by()).unwrap();
            due::mark_stale(tx).unwrap();
        });
        due::renew_stale(&self.office.fleet.db).unwrap();
    }
}

/// What lists keep in memory is what they would read now.
fn assert_kept_as_read(office: &Office<'_>, steps: &[&str]) {
    let filter = Filter::default();
    let read = office.fleet.db.read(|conn| {
        let desk = Desk::load(conn, &Scope::All, now())?;
        let kept = lists::page(conn, &desk, &filter, Order::LastDay, None, 20)?;
        let anew = lists::page_anew(conn, &desk, &filter, None, 20)?;
        let counts = (
            lists::counts(conn, &desk, &filter)?,
            lists::count_anew(conn, &desk, &filter)?,
        );
        // Other tests fill the same memory, which forgets all of it when it is full.
        let mut is_given = || {
            let ahead = lists::count_ahead(conn, now())?;
            Ok::<_, Error>(Arc::ptr_eq(&ahead, &lists::counts(conn, &desk, &filter)?))
        };
        let given = is_given()? || is_given()? || is_given()?;
        assert!(given, "a list counts again what was counted ahead");
        Ok((kept, anew, counts))
    });
    let (kept, anew, (counts, counts_anew)) = read.unwrap();
    assert_eq!(kept, anew, "{steps:?}");
    assert_eq!(*counts, counts_anew, "{steps:?}");
}

#[test]
fn after_any_history_what_is_stored_is_what_the_ground_state_says() {
    on_both(|fleet| {
        let actor = Actor {
            person: None,
            role: Role::Manager,
            scope: Scope::All,
            name: "Ola Brandt".to_owned(),
        };
        let seed = std::env::var("ANGLESTOP_TEST_SEED")
            .ok()
            .and_then(|seed| seed.parse().ok())
            .unwrap_or_else(|| u64::from(uuid::Uuid::new_v4().as_fields().0));
        println!("ANGLESTOP_TEST_SEED={seed}");
        let mut history = History {
            office: Office::new(fleet, "2025-01-01"),
            stands: Vec::new(),
            random: SmallRng::seed_from_u64(seed),
            names: 0,
        };
        history.stand();
        for number in 0..HISTORIES {
            let mut steps = Vec::new();
            for _ in 0..STEPS {
                steps.push(history.step(&actor));
                assert_kept_as_read(&history.office, &steps);
            }
            let found = history.office.differences();
            assert_eq!(found, [], "seed {seed}, history {number}: {steps:?}");
        }
    });
}
