//! Where each number of the catalogue comes from, and how a file that says too little is refused.

use super::*;

/// Figures without a source beside them, and how many figures there are.
struct Figures {
    seen: usize,
    unsourced: Vec<String>,
}

impl Figures {
    fn of(name: &str, text: &str) -> Self {
        let mut figures = Self {
            seen: 0,
            unsourced: Vec::new(),
        };
        let mut file: toml::Table = toml::from_str(text).unwrap();
        let minutes_by_default = file
            .remove("defaults")
            .is_some_and(|defaults| defaults.get("minutes_source").is_some());
        for kind in ["check", "cause"] {
            let entries = file.get_mut(kind).and_then(toml::Value::as_array_mut);
            for entry in entries.into_iter().flatten().filter(|_| minutes_by_default) {
                let entry = entry.as_table_mut().unwrap();
                entry.insert("minutes_source".to_owned(), "default".into());
            }
        }
        figures.table(name, &file, false);
        figures
    }

    /// `covered`: a table around this one has a source that covers the words and times in it.
    fn table(&mut self, place: &str, table: &toml::Table, covered: bool) {
        let sourced = covered || table.contains_key("source");
        for (key, value) in table {
            let place = format!("{place}.{key}");
            let is_figure = match value {
                toml::Value::Integer(_) | toml::Value::Float(_) | toml::Value::Datetime(_) => {
                    key != "version"
                }
                toml::Value::String(text) => {
                    let is_words = matches!(key.as_str(), "code" | "name") || key.ends_with("source");
                    !is_words && text.chars().any(|c| c.is_ascii_digit())
                }
                _ => false,
            };
            if is_figure {
                self.seen += 1;
                let own = if key == "minutes" {
                    "minutes_source"
                } else {
                    "source"
                };
                let own_key = format!(
                    "{}_source",
                    key.trim_end_matches("_years").trim_end_matches("_usd")
                );
                let is_sourced = if own == "source" {
                    sourced
                } else {
                    table.contains_key(own)
                };
                if !is_sourced && !table.contains_key(&own_key) {
                    self.unsourced.push(place.clone());
                }
            }
            self.inside(&place, key, value, sourced);
        }
    }

    fn inside(&mut self, place: &str, key: &str, value: &toml::Value, sourced: bool) {
        // A limit, a rule of a profile and a condition each carry a source of their own; words and times take the check's.
        let covered = sourced && !matches!(key, "limits" | "rule" | "conditions");
        match value {
            toml::Value::Table(table) => self.table(place, table, covered),
            toml::Value::Array(items) => {
                for (index, item) in items.iter().enumerate() {
                    self.inside(&format!("{place}[{index}]"), key, item, sourced);
                }
            }
            toml::Value::String(text) if text.chars().any(|c| c.is_ascii_digit()) && key == "method" => {
                self.seen += 1;
                if !covered {
                    self.unsourced.push(place.to_owned());
                }
            }
            _ => {}
        }
    }
}

/// Every figure in a file of the catalogue stands beside where it comes from.
#[test]
fn every_number_has_a_source_beside_it() {
    let mut seen = 0;
    for (name, text) in FILES.iter().filter(|(name, _)| *name != "sources.toml") {
        let figures = Figures::of(name, text);
        assert_eq!(figures.unsourced, Vec::<String>::new());
        seen += figures.seen;
    }
    assert!(seen > 150, "only {seen} figures were looked at");
}

#[test]
fn a_number_without_a_source_is_found() {
    let cases = [
        (
            "[[check]]\ncode = \"x1\"\nminutes = 2.0\nsource = \"a\"",
            "t.check[0].minutes",
        ),
        ("[[check]]\nask = \"Wait 10 minutes.\"", "t.check[0].ask"),
        (
            "[[check]]\nmethod = [\"Wait 10 minutes.\"]",
            "t.check[0].method[0]",
        ),
        (
            "[[check]]\nsource = \"a\"\nreading = { limits = [{ at_most = \"180 s\" }] }",
            "t.check[0].reading.limits[0].at_most",
        ),
        (
            "[[check]]\nsource = \"a\"\nconditions = { building_age_years = 40 }",
            "t.check[0].conditions.building_age_years",
        ),
        ("[[schedule]]\nlead_days = 30", "t.schedule[0].lead_days"),
        (
            "[[profile]]\n[[profile.rule]]\nat_least = \"15 in\"",
            "t.profile[0].rule[0].at_least",
        ),
        (
            "[[programme]]\ntimes = { low = { days = 60 } }",
            "t.programme[0].times.low.days",
        ),
    ];
    for (text, place) in cases {
        assert_eq!(Figures::of("t", text).unsourced, [place], "{text}");
    }
}

/// A published or computed source names its publication; the others say "common practice" or "from memory" on the page.
#[test]
fn every_source_says_where_or_says_that_it_has_none() {
    let sources = || {
        catalogue().checks.iter().flat_map(|check| {
            let limits = match &check.answer {
                Answer::Reading { limits, .. } => limits.iter().map(|limit| &limit.source).collect(),
                Answer::Verdict { .. } => Vec::new(),
            };
            [&check.source, &check.severity_source, &check.minutes_source]
                .into_iter()
                .chain(limits)
        })
    };
    for source in sources() {
        let phrase = source.phrase();
        let published = !source.citation.is_empty() && !phrase.contains("from memory");
        assert!(
            published || phrase.contains("common practice") || phrase.contains("from memory"),
            "{source:?} says nothing"
        );
    }
    let used: BTreeSet<_> = sources().map(anglestop::domain::trade::Source::phrase).collect();
    assert!(used.len() > 20, "{used:?}");
}

#[test]
fn a_file_of_the_catalogue_is_refused_when_it_says_too_little() {
    let broken = |from: &str, to: &str| {
        let files: Vec<(&str, String)> = FILES
            .iter()
            .map(|(name, text)| (*name, text.replace(from, to)))
            .collect();
        let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (*name, text.as_str())).collect();
        read(&files).expect_err(from).to_string()
    };
    let cases = [
        ("source = \"cp_refill\" }]", "source = \"hearsay\" }]", "hearsay"),
        (
            "minutes_source = \"common_practice\"",
            "",
            "minutes have no source",
        ),
        ("at_most = \"180 s\"", "at_most = \"180\"", "no unit"),
        (
            "at_most = \"180 s\"",
            "at_most = \"180 psi\"",
            "a time is asked for",
        ),
        ("citation = \"IPC 405.4\"", "citation = \" \"", "no citation"),
        ("code = \"wc_seat\"", "code = \"wc_cracks\"", "used twice"),
        (
            "checks = [\"backflow_test\"]",
            "checks = [\"backflow_tset\"]",
            "there is no check",
        ),
        ("start = \"2020-05-01\"", "", "first day"),
        (
            "lead_days = 60\ngrace_days = 0",
            "lead_days = 300\ngrace_days = 100",
            "365",
        ),
        (
            "at_least = \"40 psi\"",
            "at_least = \"90 psi\"",
            "can't both hold",
        ),
        ("severity = \"low\"", "severity = \"mild\"", "mild"),
        ("ask = \"Hold the tank", "aks = \"Hold the tank", "aks"),
        ("minutes = 0.2", "minutes = 0.0", "can't be planned"),
    ];
    for (from, to, part) in cases {
        let error = broken(from, to);
        assert!(error.contains(part), "{from}: {error}");
    }
}

#[test]
fn the_list_of_files_is_the_folder() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/seeds/catalogue");
    let there: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    let listed: BTreeSet<String> = FILES.iter().map(|(name, _)| (*name).to_owned()).collect();
    assert_eq!(there, listed);
}
