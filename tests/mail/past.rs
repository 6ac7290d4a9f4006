//! A digest of a day that is over says what was written on that day, whatever was done since.

use anglestop::actions::deficiencies::{Assign, Assignee, Repaired, Report, assign, repaired, report};
use anglestop::actions::digest;
use anglestop::actions::results::{Answer, RecordResults, record};
use anglestop::actions::turnovers::{Cancel, Open, Stay, cancel, open};
use anglestop::clock::Now;
use anglestop::domain::register::UnitId;
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::domain::result::Outcome;
use anglestop::domain::turnover::TurnoverText;
use anglestop::store::lists::due_lines;
use anglestop::store::{deficiencies, lists, turnovers, units};

use super::{PUBLIC, fleet_of, now};
use crate::support::{Fleet, on_both};

/// Address, date, and the words if there are any.
type Mail = (String, String, Option<String>);

fn mails(fleet: &Fleet, at: Now, date: Option<&str>) -> Vec<Mail> {
    let date = date.map(|date| date.parse().unwrap());
    let written = digest::preview(&fleet.db, at, date, PUBLIC).unwrap();
    written
        .into_iter()
        .map(|one| {
            let text = one.letter.map(|letter| letter.text);
            (one.recipient.email, one.date.to_string(), text)
        })
        .collect()
}

/// How many results, deficiencies and turnovers were worked on.
#[derive(Debug, Default)]
struct Work {
    recorded: usize,
    assigned: usize,
    repaired: usize,
    cancelled: usize,
    opened: usize,
}

/// Which list is asked.
#[derive(Debug, Clone, Copy)]
enum Look {
    /// That of today.
    Today,
    /// That of a past day.
    Past,
}

/// Works on everything that a digest tells of.
fn work(fleet: &Fleet, at: Now) -> Work {
    let (db, office) = (&fleet.db, Actor::operator());
    let mut done = Work::default();
    for unit in db.read(units::rentals).unwrap() {
        answer(fleet, at, unit, &mut done);
        let standing = db.read(|conn| deficiencies::standing_in(conn, &[unit])).unwrap();
        for (number, one) in standing.iter().enumerate() {
            if number % 2 == 0 {
                let to = Assignee::Vendor("Quill Plumbing".to_owned());
                let deficiency = one.id;
                assign(db, &office, at, &Assign { deficiency, to }).unwrap();
                done.assigned += 1;
            }
            let command = Repaired {
                deficiency: one.id,
                parts_used: String::new(),
                minutes: String::new(),
                cost: String::new(),
                note: String::new(),
            };
            repaired(db, &office, at, &command).unwrap();
            done.repaired += 1;
        }
        let command = Report {
            unit,
            tag: None,
            title: "Drips under the sink".to_owned(),
            detail: String::new(),
            severity: Some(anglestop::domain::trade::Severity::Moderate),
        };
        report(db, &office, at, &command).unwrap();
        let running = db.read(|conn| turnovers::open_of_unit(conn, unit)).unwrap();
        if let Some(running) = running {
            let reason = "The household stays.".to_owned();
            let turnover = running.id;
            cancel(db, &office, at, &Cancel { turnover, reason }).unwrap();
            done.cancelled += 1;
        } else if done.opened < 3 {
            let text = TurnoverText {
                move_out_on: "2026-11-28".to_owned(),
                move_in_on: "2026-12-20".to_owned(),
                note: String::new(),
            };
            let stay = Stay::AsItIs;
            open(db, &office, at, &Open { unit, text, stay }).unwrap();
            done.opened += 1;
        }
    }
    done
}

/// Answers some of what is due in a unit, as far as a bare pass or failure is an answer to it; every third fails.
fn answer(fleet: &Fleet, at: Now, unit: UnitId, done: &mut Work) {
    let due = fleet
        .db
        .read(|conn| due_lines::of_unit(conn, unit, "2026-11-28".parse().unwrap()))
        .unwrap();
    for (number, line) in due.lines.iter().take(4).enumerate() {
        let answer = Answer {
            client_id: uuid::Uuid::new_v4(),
            fixture: line.fixture,
            part: line.part,
            check: line.check.clone(),
            outcome: Some(if number % 3 == 0 {
                Outcome::Fail
            } else {
                Outcome::Pass
            }),
            reading: String::new(),
            reason: String::new(),
            note: String::new(),
            done_at: None,
        };
        let batch = RecordResults {
            answers: vec![answer],
            ..RecordResults::default()
        };
        // Checks that ask for a reading refuse; nothing is written of those.
        if let Ok(recorded) = record(&fleet.db, &Actor::operator(), at, &batch) {
            done.recorded += recorded.results.len();
        }
    }
}

#[test]
fn a_digest_of_a_past_day_is_what_was_written_on_that_day() {
    on_both(|fleet| {
        fleet_of(fleet);
        let then = mails(fleet, now("2026-11-25T17:00:00"), None);
        assert!(then.iter().any(|(_, _, text)| text.is_some()));
        let done = work(fleet, now("2026-11-28T17:00:00"));
        assert!(
            done.recorded > 20
                && done.assigned > 0
                && done.repaired > 0
                && done.cancelled > 0
                && done.opened > 0,
            "{done:?}"
        );
        let later = now("2026-12-02T17:00:00");
        assert_eq!(mails(fleet, later, Some("2026-11-25")), then);
        let since = mails(fleet, later, None);
        for ((_, _, before), (_, _, after)) in then.iter().zip(&since) {
            assert!(before.is_none() || before != after);
        }
    });
}

#[test]
fn a_past_digest_names_the_stage_that_a_turnover_was_in() {
    on_both(|fleet| {
        fleet_of(fleet);
        let day = "2026-11-25".parse().unwrap();
        let stages = |look: Look| {
            fleet
                .db
                .read(|conn| {
                    let past = lists::past_digest::PastDay::new(conn, day)?;
                    let mut found = Vec::new();
                    for recipient in lists::digest::recipients(conn)? {
                        let person = anglestop::domain::register::PersonId(recipient.id);
                        found.extend(match look {
                            Look::Today => lists::digest::open_turnovers(conn, person, &Scope::All)?,
                            Look::Past => past.open_turnovers(conn, person, &Scope::All)?,
                        });
                    }
                    found.sort_by(|a, b| (&a.building, &a.label).cmp(&(&b.building, &b.label)));
                    Ok(found)
                })
                .unwrap()
        };
        let then = stages(Look::Today);
        assert!(
            then.iter()
                .any(|one| one.stage == "repaired" || one.stage == "ready")
        );
        assert_eq!(stages(Look::Past), then);
        work(fleet, now("2026-11-28T17:00:00"));
        assert_ne!(stages(Look::Today), then);
        assert_eq!(stages(Look::Past), then);
    });
}
