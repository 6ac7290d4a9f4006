//! The others that answer the same questions: the `rrule` crate in this process, libical and python-dateutil in their own.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use super::outside::exemptions::{has, values, weekday};
use super::outside::generator::{Case, Generator};
use super::outside::{Days as OutsideDays, days_of};
use anglestop::domain::recurrence::Rule;
use chrono::{NaiveDate, NaiveTime, TimeZone as _};
use rrule::{RRule, RRuleSet, Tz, Unvalidated};

/// Our rule for the crate, at midnight UTC.
pub fn crate_set(text: &str, start: NaiveDate) -> RRuleSet {
    let rule: RRule<Unvalidated> = text.parse().unwrap();
    rule.build(Tz::UTC.from_utc_datetime(&start.and_time(NaiveTime::MIN)))
        .unwrap()
}

/// Its own `after` only filters, so the dates are looked through from the start.
pub fn next_of_crate(set: &RRuleSet, from: NaiveDate) -> NaiveDate {
    let days = set.into_iter().map(|instant| instant.date_naive());
    days.into_iter().find(|day| *day >= from).unwrap()
}

/// A program that answers on its standard output.
pub struct Peer {
    pub name: &'static str,
    command: Vec<String>,
}

fn script(name: &str) -> String {
    format!("{}/ops/bench/recurrence/{name}", env!("CARGO_MANIFEST_DIR"))
}

impl Peer {
    /// Built anew into the system's folder for passing files.
    pub fn libical() -> Option<Self> {
        let built = std::env::temp_dir().join("anglestop-bench-libical");
        let made = Command::new("cc")
            .args(["-O2", "-o"])
            .arg(&built)
            .arg(script("libical.c"))
            .arg("-lical")
            .stderr(Stdio::null())
            .status();
        if !made.is_ok_and(|status| status.success()) {
            println!("libical is not asked: install libical-dev and a C compiler\n");
            return None;
        }
        Some(Self {
            name: "libical",
            command: vec![built.to_string_lossy().into_owned()],
        })
    }

    pub fn dateutil() -> Option<Self> {
        let python = "/usr/bin/python3";
        let there = Path::new(python).exists()
            && Command::new(python)
                .args(["-c", "import dateutil"])
                .status()
                .is_ok_and(|status| status.success());
        if !there {
            println!("python-dateutil is not asked: install python3-dateutil\n");
            return None;
        }
        Some(Self {
            name: "python-dateutil",
            command: vec![python.to_owned(), script("dateutil_next.py")],
        })
    }

    fn answer(&self, argument: Option<&str>, asked: String) -> String {
        let mut child = Command::new(&self.command[0])
            .args(&self.command[1..])
            .args(argument)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        let writing = std::thread::spawn(move || input.write_all(asked.as_bytes()).unwrap());
        let output = child.wait_with_output().unwrap();
        writing.join().unwrap();
        assert!(output.status.success(), "{} failed", self.name);
        String::from_utf8(output.stdout).unwrap()
    }

    /// Nanoseconds a question, the fastest of three runs, and the answers.
    pub fn next(&self, rule: &str, start: &str, days: &[NaiveDate]) -> (f64, Vec<NaiveDate>) {
        let lines: Vec<String> = days.iter().map(|day| format!("{day}\n")).collect();
        let asked = format!("{rule}\t{start}\t{}\n{}", days.len(), lines.concat());
        let once = |_run| {
            let answers = self.answer(None, asked.clone());
            let mut lines = answers.lines();
            let ns: u64 = lines.next().unwrap().parse().unwrap();
            (ns, lines.map(|day| day.parse().unwrap()).collect())
        };
        let (ns, found) = (0..3).map(once).min_by_key(|(ns, _)| *ns).unwrap();
        (ns as f64 / days.len() as f64, found)
    }

    /// The first days of random rules and those of their windows, as `outside` asks everybody; libical alone.
    fn days(&self, cases: &[Case]) -> Vec<Option<OutsideDays>> {
        let line = |case: &Case| format!("{}\t{}\t{}\t{}\n", case.text, case.start, case.later, case.last);
        super::outside::read_days(&self.answer(Some("days"), cases.iter().map(line).collect()))
    }
}

/// Whether libical is known to read the parts of a rule as RFC 5545 has them.
fn is_plain(case: &Case) -> bool {
    let unusual = ["BYSETPOS", "BYWEEKNO", "BYYEARDAY"]
        .iter()
        .any(|part| has(case, part));
    let several = ["BYMONTHDAY", "BYDAY"].iter().all(|part| has(case, part));
    let yearly = has(case, "FREQ=YEARLY") && (has(case, "BYMONTHDAY") || has(case, "BYDAY"));
    let daily = has(case, "FREQ=DAILY") && has(case, "BYMONTHDAY");
    // libical loses the week of the start of such a rule: from Thursday 31 December 2020, every eleventh week on TU,SU,WE,TH begins
    // with 7 March 2021 there. RFC 5545, 3.8.5.3: a start that matches is the first instance.
    let weekdays = values(case, "BYDAY");
    let weekly = has(case, "FREQ=WEEKLY")
        && has(case, "INTERVAL")
        && !weekdays.is_empty()
        && weekdays != [weekday(case.start)];
    !unusual && !several && !yearly && !daily && !weekly
}

/// Plain rules of libical, as many as there are among `rules` random ones.
fn plain(rules: usize, seed: u64) {
    let Some(libical) = Peer::libical() else { return };
    let mut generator = Generator::new(seed);
    let cases: Vec<Case> = (0..rules).map(|_| generator.case()).filter(is_plain).collect();
    let rule_of = |case: &Case| Rule::parse(&case.text, case.start).ok();
    let asked: Vec<(Case, Rule)> = cases
        .into_iter()
        .filter_map(|case| rule_of(&case).map(|rule| (case, rule)))
        .collect();
    let cases: Vec<Case> = asked.iter().map(|(case, _)| case.clone()).collect();
    let mut differ = 0;
    for ((case, rule), theirs) in asked.iter().zip(libical.days(&cases)) {
        let ours = Some(days_of(case, rule));
        if theirs != ours {
            differ += 1;
            println!(
                "{} from {}: ours {ours:?}, libical {theirs:?}",
                case.text, case.start
            );
        }
    }
    println!("libical: {} plain rules among them, {differ} differ", asked.len());
    assert_eq!(differ, 0, "see above");
}

/// The long run: many random rules of python-dateutil and the crate, and the plain ones of libical.
pub fn random(rules: usize, seed: u64) {
    let report = super::outside::compare(rules, seed);
    println!("{report}");
    for difference in report.differences.iter().take(20) {
        println!("{difference}");
    }
    plain(rules, seed);
    assert!(
        report.differences.is_empty() && report.exempt * 50 <= rules,
        "see above"
    );
}
