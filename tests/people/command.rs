//! `anglestop user`: the same at a terminal, and no password or link where others could read it.

use std::io::Write as _;
use std::process::{Command, Stdio};

use super::{ANOTHER, NOON, PASSWORD, dump, person, two_buildings};
use crate::support::server::Server;
use crate::support::{Fleet, on_both};
use anglestop::domain::register::person::Standing;

/// Exit code, standard output, standard error.
fn user(fleet: &Fleet, arguments: &[&str], input: &str) -> (i32, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url, "user"])
        .args(arguments)
        .env("ANGLESTOP_PUBLIC_URL", "https://checks.keel.example")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A command that refuses early may close its input unread.
    drop(child.stdin.take().unwrap().write_all(input.as_bytes()));
    let output = child.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (
        output.status.code().unwrap(),
        text(output.stdout),
        text(output.stderr),
    )
}

fn signs_in(server: &Server, email: &str, password: &str) -> bool {
    let fields = [("email", email), ("password", password)];
    server.visitor().send("/sign-in", &fields).status == 303
}

#[test]
fn people_are_added_listed_disabled_and_given_passwords_at_the_command_line() {
    on_both(|fleet| {
        two_buildings(&fleet.db);
        let server = Server::start(&fleet.db, NOON);
        let line = |text: &str| format!("{text}\n");
        let ola = [
            "add",
            "ola@keel.example",
            "--name",
            "Ola Brandt",
            "--role",
            "manager",
        ];
        let (code, _, said) = user(fleet, &ola, "too short\n");
        assert_eq!(code, 1);
        assert!(said.contains("at least 15"), "{said}");
        assert_eq!(user(fleet, &ola, &line(PASSWORD)).0, 0);
        assert!(signs_in(&server, "ola@keel.example", PASSWORD));
        let file = tempfile::NamedTempFile::new().unwrap();
        std::fs::write(file.path(), line(ANOTHER)).unwrap();
        let from_file = [
            "password",
            "ola@keel.example",
            "--password-file",
            file.path().to_str().unwrap(),
        ];
        assert_eq!(user(fleet, &from_file, "").0, 0);
        assert!(!signs_in(&server, "ola@keel.example", PASSWORD));
        assert!(signs_in(&server, "ola@keel.example", ANOTHER));
        let tess = [
            "add",
            "tess@keel.example",
            "--name",
            "Tess Vale",
            "--role",
            "technician",
            "--building",
            "alder",
        ];
        assert_eq!(user(fleet, &tess, &line(PASSWORD)).0, 0);
        assert_eq!(user(fleet, &["disable", "tess@keel.example"], "").0, 0);
        let (_, listed, _) = user(fleet, &["list", "--json"], "");
        let listed: serde_json::Value = serde_json::from_str(&listed).unwrap();
        let tess = listed
            .as_array()
            .unwrap()
            .iter()
            .find(|line| line["name"] == "Tess Vale")
            .unwrap();
        assert_eq!(tess["status"], "disabled");
        assert_eq!(tess["buildings"], serde_json::json!(["ALDER"]));
        assert_eq!(user(fleet, &["enable", "tess@keel.example"], "").0, 0);
        assert_eq!(person(&fleet.db, "tess@keel.example").standing, Standing::Active);
        let (code, _, said) = user(fleet, &["disable", "nobody@keel.example"], "");
        assert_eq!(code, 1);
        assert!(
            said.contains("Nobody here has the address nobody@keel.example"),
            "{said}"
        );
    });
}

#[test]
fn a_link_is_printed_once_and_kept_nowhere() {
    on_both(|fleet| {
        let server = Server::start(&fleet.db, NOON);
        let ola = [
            "invite",
            "ola@keel.example",
            "--name",
            "Ola Brandt",
            "--role",
            "manager",
        ];
        let (code, printed, _) = user(fleet, &ola, "");
        assert_eq!(code, 0);
        let link = printed
            .trim()
            .strip_prefix("https://checks.keel.example")
            .unwrap()
            .to_owned();
        assert!(!dump(fleet).contains(link.rsplit('/').next().unwrap()));
        // The command line goes by the machine's clock, and so does the link.
        server.clock.set(chrono::Utc::now().naive_utc());
        assert_eq!(
            server.visitor().send(&link, &[("password", PASSWORD)]).status,
            303
        );
        assert_eq!(user(fleet, &ola, "").0, 1, "the address is taken");
        let (code, printed, _) = user(fleet, &["reset-link", "ola@keel.example"], "");
        assert_eq!(code, 0);
        let link = printed
            .trim()
            .strip_prefix("https://checks.keel.example")
            .unwrap()
            .to_owned();
        assert!(link.starts_with("/reset/"));
        assert_eq!(server.visitor().send(&link, &[("password", ANOTHER)]).status, 303);
        assert_eq!(
            server.visitor().send(&link, &[("password", PASSWORD)]).status,
            404
        );
        assert!(signs_in(&server, "ola@keel.example", ANOTHER));
    });
}

#[test]
fn no_option_takes_a_password() {
    let help = Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["user", "add", "--help"])
        .output()
        .unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    assert!(help.contains("--password-file"));
    assert!(!help.contains("--password "), "{help}");
}
