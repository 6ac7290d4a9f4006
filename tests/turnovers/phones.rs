//! Under each open turnover stands when its phones were last heard and what is unsent there; after three days of silence, a warning.

use std::process::Command;

use anglestop::actions::export::{self, Which};
use anglestop::domain::register::person::Scope;
use anglestop::domain::register::{PersonId, UnitId};
use anglestop::exchange::csv::Audience;
use anglestop::store::Db;
use diesel::RunQueryDsl as _;

use super::stage::flat;
use crate::support::on_both;
use crate::support::server::Server;

/// A phone that fetched the unit and was heard at an instant (UTC).
fn phone(
    db: &Db,
    (id, unit, person): (&str, UnitId, PersonId),
    fetched: &str,
    heard: &str,
    unsent: (i64, i64),
) {
    let phone = format!(
        "INSERT INTO phones (id, person_id, first_heard_at, heard_at, user_agent) VALUES ('{id}', {person}, '{fetched}', '{heard}', 'a phone')"
    );
    let of_unit = format!(
        "INSERT INTO phone_units (phone_id, unit_id, person_id, fetched_at, heard_at, unsent_answers, unsent_photos) \
         VALUES ('{id}', {unit}, {person}, '{fetched}', '{heard}', {}, {})",
        unsent.0, unsent.1
    );
    db.write(|tx| {
        diesel::sql_query(phone).execute(&mut **tx)?;
        Ok(diesel::sql_query(of_unit).execute(&mut **tx)?)
    })
    .unwrap();
}

#[test]
fn a_phone_says_when_it_was_heard_and_is_warned_of_after_three_days() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        flat.opened();
        let (unit, rosa) = (flat.small.unit, flat.small.technician.person.unwrap());
        // Chicago is six hours behind: 14:05 there.
        phone(
            &fleet.db,
            ("one", unit, rosa),
            "2026-02-04 15:00:00",
            "2026-02-04 20:05:00",
            (3, 2),
        );
        // Fetched for an earlier stay in the unit, and nothing is left on it.
        phone(
            &fleet.db,
            ("two", unit, rosa),
            "2025-11-04 15:00:00",
            "2025-11-04 20:05:00",
            (0, 0),
        );
        let said =
            "Rosa Vance&#39;s phone last heard Wed 4 Feb, 14:05; 3 answers and 2 photos not yet sent there.";
        for (now, warns) in [("2026-02-07T20:05:00", false), ("2026-02-07T20:05:01", true)] {
            let server = Server::start(&fleet.db, now);
            let page = server.signed_in("manager").get("/turnovers").body;
            assert_eq!(page.matches("phone last heard").count(), 1, "{page}");
            assert!(page.contains(said), "{page}");
            assert_eq!(
                page.contains("silent for 3 days</span>:"),
                warns,
                "at {now}: {page}"
            );
        }
    });
}

#[test]
fn the_calendar_has_a_line_a_turnover_and_the_same_in_words() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        flat.opened();
        let server = Server::start(&fleet.db, "2026-02-12T18:00:00");
        let page = server.signed_in("manager").get("/turnovers").body;
        assert_eq!(page.matches("class=\"pic turnover-calendar\"").count(), 1);
        assert_eq!(page.matches("class=\"pic turnover-line\"").count(), 1);
        let title = "move-out Tue 3 Feb; as found done; move-in Tue 10 Feb, 2 days ago</title>";
        assert!(
            page.contains(title) || page.contains(&title.replace("as found done", "being looked over")),
            "{page}"
        );
        assert!(
            page.contains("Out Tue 3 Feb, in Tue 10 Feb, 2 days ago."),
            "{page}"
        );
        assert!(page.contains("class=\"hatch\""), "past its move-in");
        assert!(!page.contains("phone last heard"), "no phone fetched it");
    });
}

#[test]
fn the_file_and_the_command_say_the_same_of_the_phones() {
    on_both(|fleet| {
        let flat = flat(&fleet.db);
        flat.opened();
        let (unit, rosa) = (flat.small.unit, flat.small.technician.person.unwrap());
        phone(
            &fleet.db,
            ("one", unit, rosa),
            "2026-02-04 15:00:00",
            "2026-02-04 20:05:00",
            (3, 2),
        );
        phone(
            &fleet.db,
            ("two", unit, rosa),
            "2026-02-03 19:00:00",
            "2026-02-03 20:00:00",
            (1, 0),
        );
        phone(
            &fleet.db,
            ("three", unit, rosa),
            "2026-02-04 16:00:00",
            "2026-02-04 21:00:00",
            (0, 0),
        );
        let mut out = Vec::new();
        fleet
            .db
            .read(|conn| export::turnovers(conn, &Scope::All, &Which::All, &mut out, Audience::Program))
            .unwrap();
        let file = String::from_utf8(out).unwrap();
        assert!(
            file.ends_with(",2026-02-03T20:00:00Z,4,2,,,\r\n"),
            "the longest silent of those that hold something, and what all hold: {file}"
        );
        let list = |words: &[&str]| {
            let output = Command::new(env!("CARGO_BIN_EXE_anglestop"))
                .args(["--database", &fleet.url, "turnover", "list"])
                .args(words)
                .output()
                .unwrap();
            assert!(output.status.success(), "{output:?}");
            String::from_utf8(output.stdout).unwrap()
        };
        let text = list(&[]);
        assert!(text.contains("Rosa Vance's phone last heard Wed 4 Feb"), "{text}");
        let json: serde_json::Value = serde_json::from_str(&list(&["--json"])).unwrap();
        let phones = json[0]["phones"].as_array().unwrap();
        assert_eq!(phones.len(), 3);
        assert_eq!(
            (
                phones[1]["heard_at"].as_str(),
                phones[1]["unsent_photos"].as_i64()
            ),
            (Some("2026-02-04T20:05:00Z"), Some(2))
        );
        assert!(phones[1]["is_silent"].is_boolean());
    });
}
