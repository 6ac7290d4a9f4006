//! Recording one result, with its due rows, in a synced commit.

use anglestop::actions::results::{Answer, RecordResults, record};
use anglestop::domain::register::FixtureId;
use anglestop::domain::register::person::Actor;
use anglestop::domain::result::Outcome;

use super::made::{Made, now};
use super::timing::{times, told};

const RUNS: usize = 200;
/// One passed check of a smoke alarm.
pub fn pass(fleet: &Made, at: usize) {
    let alarms = fleet.smoke_alarms();
    let fixture = alarms[at * 7919 % alarms.len()];
    let batch = RecordResults {
        answers: vec![Answer {
            client_id: uuid::Uuid::now_v7(),
            fixture: FixtureId(fixture),
            part: None,
            check: "smoke_alarm_sounds".to_owned(),
            outcome: Some(Outcome::Pass),
            reading: String::new(),
            reason: String::new(),
            note: String::new(),
            done_at: None,
        }],
        ..RecordResults::default()
    };
    record(&fleet.db, &Actor::operator(), now(), &batch).unwrap();
}

pub fn measure(fleet: &Made) {
    let all = times(RUNS, |at| pass(fleet, at));
    println!("one result recorded: {}", told(&all));
}
