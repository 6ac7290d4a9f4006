//! The house: which room may call which, and what each may not know. Reads the tree as text, so that a wall that falls fails here.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Room and the rooms it may call, besides itself, `error` (the one error type) and `clock`.
const MAY_CALL: &[(&str, &[&str])] = &[
    ("domain", &[]),
    ("clock", &[]),
    ("kept", &[]),
    ("error", &["domain"]),
    ("config", &["domain", "store"]),
    ("demo", &["domain"]),
    ("store", &["domain", "kept"]),
    ("exchange", &["domain"]),
    ("picture", &["domain", "language", "kept"]),
    ("language", &["domain"]),
    ("mail", &["domain", "store", "picture", "language"]),
    (
        "actions",
        &["demo", "domain", "store", "exchange", "language", "mail"],
    ),
    ("jobs", &["domain", "store", "mail", "actions", "language"]),
    (
        "web",
        &[
            "kept", "domain", "store", "exchange", "picture", "language", "actions",
        ],
    ),
    (
        "cli",
        &[
            "demo", "domain", "store", "exchange", "picture", "language", "mail", "actions", "jobs", "web",
            "config",
        ],
    ),
];

/// A word, the only rooms that may say it, and why.
const ONLY_IN: &[(&str, &[&str], &str)] = &[
    ("diesel::", &["store"], "the database is known to the store alone"),
    (
        "actix_web",
        &["web", "cli/host.rs"],
        "HTTP is known to the web alone",
    ),
    (
        "askama",
        &["web", "mail"],
        "templates are rendered by pages and mails",
    ),
    ("lettre", &["mail"], "mail is sent by the mail room"),
    (
        "rrule::",
        &["domain/recurrence/second_reader.rs"],
        "the crate reads a rule a second time and is asked for no date",
    ),
    (
        "Utc::now",
        &["clock.rs"],
        "the system's clock is asked in one place",
    ),
    (
        "Local::now",
        &["clock.rs"],
        "the system's clock is asked in one place",
    ),
    (
        "SystemTime::now",
        &["clock.rs"],
        "the system's clock is asked in one place",
    ),
    (
        "std::env::var",
        &["config", "cli"],
        "the environment is read in one place",
    ),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files_below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path, ending));
        } else if path.to_string_lossy().ends_with(ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Path below `backend/` and text, comments taken out.
fn sources() -> Vec<(String, String)> {
    let backend = root().join("backend");
    files_below(&backend, ".rs")
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let code: Vec<&str> = text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect();
            (
                path.strip_prefix(&backend)
                    .unwrap()
                    .to_string_lossy()
                    .into_owned(),
                code.join("\n"),
            )
        })
        .collect()
}

fn room_of(file: &str) -> &str {
    file.split(['/', '.']).next().unwrap()
}

fn report(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn every_arrow_between_rooms_points_down() {
    let mut faults = Vec::new();
    for (file, code) in sources() {
        let room = room_of(&file);
        let Some((_, allowed)) = MAY_CALL.iter().find(|(name, _)| *name == room) else {
            if !matches!(room, "lib" | "main") {
                faults.push(format!(
                    "{file}: the room `{room}` is not in the table of this test"
                ));
            }
            continue;
        };
        for called in called_rooms(&code) {
            if called != room
                && !allowed.contains(&called.as_str())
                && !matches!(called.as_str(), "error" | "clock")
            {
                faults.push(format!("{file} calls `{called}`, which `{room}` may not"));
            }
        }
    }
    report(&faults);
}

fn called_rooms(code: &str) -> BTreeSet<String> {
    let rooms: BTreeSet<&str> = MAY_CALL.iter().map(|(room, _)| *room).collect();
    let mut called = BTreeSet::new();
    for (start, _) in code.match_indices("crate::") {
        let rest = &code[start + "crate::".len()..];
        let names = match rest.strip_prefix('{') {
            Some(group) => group.split('}').next().unwrap().to_owned(),
            None => rest
                .split(|c: char| !c.is_alphanumeric() && c != '_')
                .next()
                .unwrap()
                .to_owned(),
        };
        for name in names.split(',') {
            let name = name.trim().split("::").next().unwrap();
            if rooms.contains(name) {
                called.insert(name.to_owned());
            }
        }
    }
    called
}

#[test]
fn a_word_is_said_only_where_it_belongs() {
    let mut faults = Vec::new();
    for (file, code) in sources() {
        for (word, places, why) in ONLY_IN {
            let allowed = places
                .iter()
                .any(|place| file == *place || room_of(&file) == *place);
            if !allowed && code.contains(word) {
                faults.push(format!("{file} says `{word}`: {why}"));
            }
        }
    }
    report(&faults);
}

#[test]
fn the_domain_is_pure() {
    let mut faults = Vec::new();
    for (file, code) in sources()
        .into_iter()
        .filter(|(file, _)| room_of(file) == "domain")
    {
        for word in [
            "tokio",
            "async fn",
            "std::fs",
            "std::net",
            "println!",
            "tracing::",
            "reqwest",
            "serde_json",
        ] {
            if code.contains(word) {
                faults.push(format!("{file} says `{word}`"));
            }
        }
        let may_derive = ["domain/trade", "domain/measure", "domain/code.rs"];
        if code.contains("serde::") && !may_derive.iter().any(|place| file.starts_with(place)) {
            faults.push(format!("{file} knows serde; only values of the catalogue do"));
        }
    }
    report(&faults);
}

#[test]
fn every_source_file_opens_with_what_it_decides() {
    let mut all = files_below(&root().join("backend"), ".rs");
    all.extend(files_below(&root().join("tests"), ".rs"));
    let faults: Vec<String> = all
        .iter()
        .filter(|path| !fs::read_to_string(path).unwrap().starts_with("//!"))
        .map(|path| format!("{} does not begin with `//!`", path.display()))
        .collect();
    report(&faults);
}

#[test]
fn files_stay_small_enough_to_be_one_room() {
    let mut faults = Vec::new();
    for (folder, ending, limit) in [("backend", ".rs", 430), ("templates", ".html", 150)] {
        for path in files_below(&root().join(folder), ending) {
            let lines = fs::read_to_string(&path).unwrap().lines().count();
            if lines > limit && !path.ends_with("store/schema.rs") && !path.ends_with("templates/macros.html")
            {
                faults.push(format!("{}: {lines} lines, over {limit}", path.display()));
            }
        }
    }
    report(&faults);
}

#[test]
fn every_template_is_named_by_a_page_or_a_mail() {
    let templates = root().join("templates");
    let mut text: String = sources().into_iter().map(|(_, code)| code).collect();
    for path in files_below(&templates, "") {
        let is_text = path
            .extension()
            .is_some_and(|ending| ending == "html" || ending == "txt");
        if is_text {
            text.push_str(&fs::read_to_string(path).unwrap());
        }
    }
    let faults: Vec<String> = files_below(&templates, "")
        .iter()
        .map(|path| {
            path.strip_prefix(&templates)
                .unwrap()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| !name.starts_with("assets/"))
        .filter(|name| !text.contains(&format!("\"{name}\"")))
        .map(|name| format!("templates/{name} is named by nothing"))
        .collect();
    report(&faults);
}

#[test]
fn the_migrations_of_both_databases_are_twins() {
    let names = |database: &str| -> BTreeSet<String> {
        let folder = root().join("migrations").join(database);
        files_below(&folder, ".sql")
            .iter()
            .map(|path| path.strip_prefix(&folder).unwrap().to_string_lossy().into_owned())
            .collect()
    };
    assert_eq!(names("sqlite"), names("postgres"));
    assert!(names("sqlite").iter().any(|name| name.ends_with("down.sql")));
}

#[test]
fn every_table_and_column_has_a_comment() {
    let mut faults = Vec::new();
    for path in files_below(&root().join("migrations"), "up.sql") {
        let text = fs::read_to_string(&path).unwrap();
        let mut before = "";
        for line in text.lines() {
            let code = line.trim_start();
            let begins_table = code.starts_with("CREATE TABLE");
            let is_column = line.starts_with("    ")
                && code
                    .chars()
                    .next()
                    .is_some_and(|first| first.is_ascii_lowercase())
                && text.contains("CREATE TABLE");
            if begins_table && !before.starts_with("--") || is_column && !line.contains(" -- ") {
                faults.push(format!("{}: no comment: {line}", path.display()));
            }
            before = line;
        }
    }
    report(&faults);
}

#[test]
fn the_top_level_holds_what_it_should_and_nothing_else() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "backend",
        "migrations",
        "templates",
        "seeds",
        "tests",
        "ops",
    ];
    let output = std::process::Command::new("git")
        .args(["ls-tree", "--name-only", "HEAD"])
        .current_dir(root())
        .output()
        .unwrap();
    let listed = String::from_utf8(output.stdout).unwrap();
    let faults: Vec<&str> = listed
        .lines()
        .filter(|name| !name.starts_with('.') && !allowed.contains(name))
        .collect();
    assert!(
        output.status.success() && faults.is_empty(),
        "not on the top level: {faults:?}"
    );
}

/// A test that no module names is never run, and nobody is told.
#[test]
fn every_file_of_tests_is_named_by_the_module_above_it() {
    let tests = root().join("tests");
    let mut faults = Vec::new();
    for path in files_below(&tests, ".rs") {
        let stem = |path: &Path| path.file_stem().unwrap().to_string_lossy().into_owned();
        // What stands for a module's folder is named where the folder is.
        let module = if stem(&path) == "mod" {
            path.parent().unwrap().to_owned()
        } else {
            path.with_extension("")
        };
        let folder = module.parent().unwrap();
        let above = if folder == tests {
            vec![tests.join("suite.rs")]
        } else {
            vec![folder.with_extension("rs"), folder.join("mod.rs")]
        };
        let line = format!("mod {};", stem(&module));
        let is_named = |file: &PathBuf| {
            let text = fs::read_to_string(file).unwrap_or_default();
            text.lines()
                .any(|one| one.trim_start_matches("pub ").trim() == line)
        };
        if path != tests.join("suite.rs") && !above.iter().any(is_named) {
            faults.push(format!("{} is never run", path.display()));
        }
    }
    report(&faults);
}
