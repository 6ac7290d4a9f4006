//! The import by page: chosen, looked at, confirmed; by managers alone, each in their own session.

use diesel::RunQueryDsl as _;
use scraper::Selector;

use super::{folder, import_soundly, one, rows_of, seed, seed_folder};
use crate::support::server::{Answer, Browser, Server};
use crate::support::{Fleet, on_both, sqlite};

const NOW: &str = "2026-11-25T09:00:00";

pub fn people(fleet: &Fleet) {
    fleet
        .db
        .write(|tx| {
            for role in ["manager", "technician", "owner"] {
                diesel::sql_query(format!(
                    "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
                     VALUES ('{role}', '{role}@office.example', '{role}', 'active', 'UTC', 6, '2026-01-01 00:00:00')"
                ))
                .execute(&mut **tx)?;
            }
            Ok(())
        })
        .unwrap();
}

/// The text of the first element that matches.
fn text_of(answer: &Answer, selector: &str) -> String {
    let page = answer.page();
    let found = page.select(&Selector::parse(selector).unwrap()).next();
    let found = found.unwrap_or_else(|| panic!("no {selector} on {}", answer.body));
    found
        .text()
        .collect::<String>()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn chosen(manager: &Browser, name: &str) -> Answer {
    let file = seed(name).remove(0);
    manager.upload("/import", "/import", &[(name, &file.bytes)])
}

#[test]
fn a_file_is_looked_at_first_and_then_the_same_bytes_are_stored() {
    on_both(|fleet| {
        people(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let sent = chosen(&manager, "fleet-example.csv");
        assert_eq!(sent.status, 303, "{}", sent.body);
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);

        let look = manager.get(&sent.location);
        assert_eq!(look.status, 200);
        assert_eq!(text_of(&look, "h1"), "What would change");
        assert_eq!(text_of(&look, "button.act"), "Store 258 new");
        assert!(look.body.contains("Nothing is stored until you confirm."));
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);

        let without_token = manager.send(&sent.location, &[]);
        assert_eq!(without_token.status, 403);
        let stored = manager.submit(&sent.location, &sent.location, &[]);
        assert_eq!((stored.status, stored.location.as_str()), (303, "/buildings"));
        let other = sqlite();
        import_soundly(&other.db, &seed("fleet-example.csv"));
        assert_eq!(one(&fleet.db), one(&other.db));
        assert_eq!(rows_of(&fleet.db, "import_files"), 0);
        assert_eq!(manager.get(&sent.location).status, 404);
    });
}

#[test]
fn what_must_be_mended_is_a_table_and_a_download_and_cannot_be_confirmed() {
    on_both(|fleet| {
        people(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let sent = chosen(&manager, "fleet-broken.csv");
        let look = manager.get(&sent.location);
        assert_eq!(text_of(&look, "h1"), "What must be mended");
        let rows = look.page();
        let rows = rows
            .select(&Selector::parse("table.ledger tbody tr").unwrap())
            .count();
        assert_eq!(rows, 33);
        let row = text_of(&look, "tbody tr:nth-child(4)");
        assert!(row.starts_with("line 3time_zoneAmerica/Denver"), "{row}");

        let list = manager.get(&format!("{}/problems.csv", sent.location));
        let expected = include_str!("broken.csv");
        assert_eq!(list.body.trim_start_matches('\u{feff}'), expected);

        let confirmed = manager.submit("/import", &sent.location, &[]);
        assert_eq!(confirmed.status, 422);
        assert_eq!(rows_of(&fleet.db, "buildings"), 0);
    });
}

#[test]
fn the_files_of_a_folder_are_taken_together() {
    on_both(|fleet| {
        people(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let files = seed_folder("fleet-example");
        let sent: Vec<(&str, &[u8])> = files
            .iter()
            .map(|file| (file.name.as_str(), &file.bytes[..]))
            .collect();
        let sent = manager.upload("/import", "/import", &sent);
        manager.submit(&sent.location, &sent.location, &[]);
        let mut written = folder(&fleet.db);
        written.retain(|file| files.iter().any(|sent| sent.name == file.name));
        written.sort_by(|a, b| a.name.cmp(&b.name));
        assert!(written == files);
    });
}

#[test]
fn only_the_session_that_sent_a_file_finds_it_and_only_for_a_day() {
    on_both(|fleet| {
        people(fleet);
        let server = Server::start(&fleet.db, NOW);
        let manager = server.signed_in("manager");
        let sent = chosen(&manager, "fleet-example.csv");
        assert_eq!(manager.get(&sent.location).status, 200);
        let elsewhere = server.signed_in("manager");
        assert_eq!(elsewhere.get(&sent.location).status, 404);
        assert_eq!(
            elsewhere.get(&format!("{}/problems.csv", sent.location)).status,
            404
        );
        server.clock.set("2026-11-26T09:00:01".parse().unwrap());
        let later = server.signed_in("manager");
        chosen(&later, "fleet-broken.csv");
        assert_eq!(rows_of(&fleet.db, "import_files"), 1);
    });
}

#[test]
fn neither_technician_nor_owner_imports_or_exports_the_fleet() {
    let fleet = sqlite();
    people(&fleet);
    let server = Server::start(&fleet.db, NOW);
    for role in ["technician", "owner"] {
        let person = server.signed_in(role);
        for path in [
            "/import",
            "/import/any",
            "/import/any/problems.csv",
            "/export/fleet.csv",
        ] {
            assert_eq!(person.get(path).status, 403, "{role} {path}");
        }
        assert_eq!(
            person
                .send_files("/import", "", &[("fleet.csv", b"building\n")])
                .status,
            403
        );
    }
    assert_eq!(
        server.visitor().get("/import").location,
        "/sign-in?next=%2Fimport"
    );
    assert_eq!(server.visitor().send_files("/import", "", &[]).status, 401);
    assert_eq!(rows_of(&fleet.db, "import_files"), 0);
}

#[test]
fn a_form_without_token_or_file_or_with_too_much_is_refused_with_a_sentence() {
    let fleet = sqlite();
    people(&fleet);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    let forged = manager.send_files("/import", "forged", &[("fleet.csv", b"building\n")]);
    assert_eq!(forged.status, 403);
    assert!(forged.body.contains("from an earlier sign-in"));
    let none = manager.upload("/import", "/import", &[("", b"")]);
    assert_eq!(none.status, 422);
    assert!(none.body.contains("Choose a CSV first."));
    let large = vec![b'x'; (32 << 20) + 1];
    let refused = manager.upload("/import", "/import", &[("fleet.csv", &large)]);
    assert_eq!(refused.status, 422);
    assert!(
        refused.body.contains("at most 32 MB are taken here"),
        "{}",
        refused.body
    );
    let twice = manager.upload(
        "/import",
        "/import",
        &[("a.csv", b"building\n"), ("a.csv", b"building\n")],
    );
    assert!(twice.body.contains("a.csv is there twice"));
    assert_eq!(rows_of(&fleet.db, "import_files"), 0);
}

#[test]
fn the_download_is_the_export_with_a_byte_order_mark() {
    on_both(|fleet| {
        people(fleet);
        import_soundly(&fleet.db, &seed("fleet-example.csv"));
        let server = Server::start(&fleet.db, NOW);
        let answer = server.signed_in("manager").get("/export/fleet.csv");
        assert_eq!(answer.headers["content-type"], "text/csv; charset=utf-8");
        assert_eq!(
            answer.headers["content-disposition"],
            "attachment; filename=\"fleet.csv\""
        );
        assert_eq!(answer.body, format!("\u{feff}{}", one(&fleet.db)));
    });
}

#[test]
fn hostile_text_of_a_file_is_shown_as_text() {
    let fleet = sqlite();
    people(&fleet);
    let server = Server::start(&fleet.db, NOW);
    let manager = server.signed_in("manager");
    let file = "building,<script>alert(1)</script>,time_zone\n<b>x</b>,,\"<img src=x onerror=alert(1)>\"\n";
    let sent = manager.upload("/import", "/import", &[("<svg onload=1>.csv", file.as_bytes())]);
    let look = manager.get(&sent.location);
    assert_eq!(look.status, 200);
    for raw in ["<script>alert", "<b>x", "<img src=x", "<svg onload"] {
        assert!(!look.body.contains(raw), "{raw}");
    }
}
