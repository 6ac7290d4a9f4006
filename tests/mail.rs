//! Mail: written with its cause, delivered to a real server, read back by another program.

mod past;

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use anglestop::actions::digest;
use anglestop::clock::{Clock, Now};
use anglestop::domain::register::PersonId;
use anglestop::jobs::Clockwork;
use anglestop::mail::deliver::{Mailer, Target};
use anglestop::store::outbox;

use crate::support::{Fleet, demo, on_both};

const PUBLIC: &str = "https://fleet.brindle-office.example";

fn now(text: &str) -> Now {
    Now(text.parse().unwrap())
}

/// A small invented fleet as of 25 November 2026.
fn fleet_of(fleet: &Fleet) {
    demo::make(fleet, 40);
}

fn clockwork(fleet: &Fleet, target: &Target) -> Clockwork {
    Clockwork {
        db: fleet.db.clone(),
        clock: Clock::System,
        mailer: Some(Mailer::new(target, "Brindle office <office@brindle-office.example>").unwrap()),
        public_url: PUBLIC.to_owned(),
    }
}

pub fn smtp() -> Target {
    Target::Smtp(
        std::env::var("ANGLESTOP_TEST_SMTP")
            .expect("ANGLESTOP_TEST_SMTP names no mail server; ./ops/check starts one and sets it"),
    )
}

fn statuses(fleet: &Fleet) -> Vec<String> {
    let mails = fleet.db.read(|conn| outbox::list(conn, None, 1_000)).unwrap();
    mails.into_iter().map(|mail| mail.status).collect()
}

/// The mails in the test server's box that carry this Message-ID, as Python's `email` module reads them: a line of JSON each.
pub fn received(message_id: &str) -> Vec<serde_json::Value> {
    let script = format!("{}/tests/oracles/read_mail.py", env!("CARGO_MANIFEST_DIR"));
    let python = std::env::var("ANGLESTOP_TEST_PYTHON")
        .expect("ANGLESTOP_TEST_PYTHON names no Python; ./ops/check sets it");
    let folder =
        std::env::var("ANGLESTOP_TEST_MAILDIR").expect("ANGLESTOP_TEST_MAILDIR; ./ops/check sets it");
    let output = Command::new(python)
        .args([&script, &folder, message_id])
        .stderr(Stdio::inherit())
        .output()
        .unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

#[test]
fn nobody_gets_a_digest_before_their_local_hour_and_nobody_gets_two_a_day() {
    on_both(|fleet| {
        fleet_of(fleet);
        // The technicians of the demo read their mail at 6 in New York: 11 UTC in winter.
        let count = |at: &str| digest::enqueue_due(&fleet.db, now(at), PUBLIC).unwrap();
        assert_eq!(count("2026-11-25T10:59:00"), 0);
        let first = count("2026-11-25T11:00:00");
        assert!(first > 0);
        assert_eq!(count("2026-11-25T11:00:01"), 0);
        assert_eq!(count("2026-11-26T04:59:00"), 0, "still the 25th in New York");
        assert_eq!(count("2026-11-26T11:00:00"), first);
    });
}

#[test]
fn a_digest_tells_only_of_buildings_its_reader_may_still_see() {
    on_both(|fleet| {
        use diesel::RunQueryDsl as _;
        fleet_of(fleet);
        let letters = || {
            let date = Some("2026-11-25".parse().unwrap());
            let written = digest::preview(&fleet.db, now("2026-11-25T12:00:00"), date, PUBLIC).unwrap();
            written.iter().filter(|one| one.letter.is_some()).count()
        };
        assert!(letters() > 0);
        // The buildings are taken from everybody; who looks after them and what is assigned stays as it was.
        fleet
            .db
            .write(|tx| {
                diesel::sql_query("DELETE FROM person_buildings").execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        assert_eq!(letters(), 0);
    });
}

#[test]
fn without_a_date_each_digest_is_for_the_day_where_its_reader_is() {
    on_both(|fleet| {
        fleet_of(fleet);
        let evening_in_new_york = now("2026-11-26T01:30:00");
        let written = digest::preview(&fleet.db, evening_in_new_york, None, PUBLIC).unwrap();
        assert!(!written.is_empty());
        assert!(written.iter().all(|one| one.date.to_string() == "2026-11-25"));
    });
}

#[test]
fn nobody_gets_a_digest_when_nothing_is_due() {
    on_both(|fleet| {
        fleet_of(fleet);
        // Before the fleet was there: the technicians are considered, and there is nothing to tell any of them.
        let before: chrono::NaiveDate = "2023-01-02".parse().unwrap();
        let at = now("2026-11-25T12:00:00");
        let today = digest::preview(&fleet.db, at, None, PUBLIC).unwrap();
        assert!(today.iter().any(|one| one.letter.is_some()));
        let idle = digest::preview(&fleet.db, at, Some(before), PUBLIC).unwrap();
        assert_eq!(idle.len(), today.len());
        for one in &idle {
            assert_eq!(one.letter.as_ref().map(|letter| &letter.text), None);
            assert!(!digest::enqueue(&fleet.db, at, one, PUBLIC).unwrap());
            let person = PersonId(one.recipient.id);
            let considered = fleet
                .db
                .read(|conn| outbox::digest_was_considered(conn, person, before));
            assert!(considered.unwrap());
        }
        assert_eq!(statuses(fleet), Vec::<String>::new());
    });
}

#[test]
fn a_digest_reaches_a_real_mail_server_and_another_program_reads_both_forms() {
    on_both(|fleet| {
        fleet_of(fleet);
        // An address of its own, so that no other test's mail has the same Message-ID.
        let public_url = format!("https://{}.example", uuid::Uuid::new_v4());
        let clockwork = Clockwork {
            public_url,
            ..clockwork(fleet, &smtp())
        };
        clockwork.round(now("2026-11-25T11:30:00")).unwrap();
        assert!(
            statuses(fleet).iter().all(|status| status == "sent"),
            "{:?}",
            statuses(fleet)
        );
        let mail = fleet
            .db
            .read(|conn| outbox::list(conn, None, 1))
            .unwrap()
            .remove(0);
        let until = Instant::now() + Duration::from_secs(10);
        let read = loop {
            let read = received(&mail.message_id);
            if !read.is_empty() || Instant::now() > until {
                break read;
            }
        };
        assert_eq!(read.len(), 1, "one copy of each");
        let letter = &read[0];
        assert_eq!(letter["to"], mail.to_address);
        assert_eq!(letter["subject"], mail.subject);
        assert_eq!(letter["auto_submitted"], "auto-generated");
        assert_eq!(letter["parts"], serde_json::json!(["text/plain", "text/html"]));
        let text = letter["text"].as_str().unwrap().replace("\r\n", "\n");
        assert_eq!(text.trim(), mail.text.trim());
        assert!(letter["html"].as_str().unwrap().contains("All of it"));
        assert_eq!(letter["defects"], 0);
    });
}

#[test]
fn a_mail_server_that_does_not_answer_is_tried_again_and_nothing_is_lost() {
    on_both(|fleet| {
        fleet_of(fleet);
        // A port of the discard service, where nothing listens here.
        let dead = clockwork(fleet, &Target::Smtp("smtp://127.0.0.1:9".to_owned()));
        dead.round(now("2026-11-25T11:30:00")).unwrap();
        assert!(statuses(fleet).iter().all(|status| status == "queued"));
        let alive = clockwork(fleet, &smtp());
        alive.round(now("2026-11-25T11:30:30")).unwrap();
        assert!(
            statuses(fleet).iter().all(|status| status == "queued"),
            "not before its next try"
        );
        alive.round(now("2026-11-25T11:31:01")).unwrap();
        assert!(statuses(fleet).iter().all(|status| status == "sent"));
    });
}

#[test]
fn a_digest_is_not_sent_once_its_day_is_over() {
    on_both(|fleet| {
        fleet_of(fleet);
        digest::enqueue_due(&fleet.db, now("2026-11-25T11:30:00"), PUBLIC).unwrap();
        let clockwork = clockwork(fleet, &smtp());
        let mailer = clockwork.mailer.as_ref().unwrap();
        anglestop::jobs::outbox::deliver_waiting(&fleet.db, now("2026-11-26T05:01:00"), mailer, PUBLIC)
            .unwrap();
        assert!(statuses(fleet).iter().all(|status| status == "failed"));
    });
}

#[test]
fn a_folder_takes_mails_where_there_is_no_server() {
    on_both(|fleet| {
        fleet_of(fleet);
        let folder = tempfile::tempdir().unwrap();
        clockwork(fleet, &Target::Folder(folder.path().join("mail")))
            .round(now("2026-11-25T11:30:00"))
            .unwrap();
        let files = std::fs::read_dir(folder.path().join("mail")).unwrap().count();
        assert_eq!(files, statuses(fleet).len());
    });
}
