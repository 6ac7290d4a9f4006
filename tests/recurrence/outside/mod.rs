//! Random rules against the outside: python-dateutil and the `rrule` crate, and our own day-by-day reading.
//!
//! The test asks 20,000 rules, the bench (`ops/bench/recurrence.rs`) 200,000. A difference outside the
//! exemptions is a failure; what falls under them is counted and printed, at most 2 % in all.

pub mod exemptions;
pub mod generator;

use std::fmt;
use std::io::Write as _;
use std::process::{Command, Stdio};

use anglestop::domain::recurrence::{Rule, RuleError};
use chrono::{NaiveDate, NaiveTime, TimeZone as _};
use exemptions::{EXEMPTIONS, Reference};
use generator::{Case, Generator};
use rrule::{RRule, RRuleSet, Tz, Unvalidated};

/// First days asked for, and the last day that counts: python-dateutil's walk ends there.
const DAYS: usize = 12;
const END: NaiveDate = NaiveDate::from_ymd_opt(2060, 12, 31).unwrap();

/// The first days of a rule, and those of its window.
pub type Days = (Vec<NaiveDate>, Vec<NaiveDate>);

/// What came of a comparison.
#[derive(Debug, Default)]
pub struct Report {
    pub seed: u64,
    pub rules: usize,
    pub never: usize,
    /// Rules that both references, or one, agreed with us on.
    pub agreed_both: usize,
    pub agreed_one: usize,
    pub exempt: usize,
    /// Rules under each exemption, and how many of them a reference read otherwise.
    pub hits: Vec<(usize, usize)>,
    pub differences: Vec<String>,
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "{} random rules, seed {}: {} never occur; {} agree with both references, {} with the one that reads them; {} differ",
            self.rules,
            self.seed,
            self.never,
            self.agreed_both,
            self.agreed_one,
            self.differences.len()
        )?;
        let share = self.exempt as f64 * 100.0 / self.rules.max(1) as f64;
        writeln!(f, "exempt: {} rules, {share:.2} %", self.exempt)?;
        for (exemption, (rules, apart)) in EXEMPTIONS.iter().zip(&self.hits) {
            writeln!(
                f,
                "  {rules:>5} rules, {apart:>5} read otherwise: {} ({})",
                exemption.name, exemption.paragraph
            )?;
        }
        Ok(())
    }
}

/// Asks `rules` random rules of ours, of python-dateutil and of the crate.
pub fn compare(rules: usize, seed: u64) -> Report {
    let mut generator = Generator::new(seed);
    let cases: Vec<Case> = (0..rules).map(|_| generator.case()).collect();
    let dateutil = ask_dateutil(&cases);
    let mut report = Report {
        seed,
        rules,
        hits: vec![(0, 0); EXEMPTIONS.len()],
        ..Report::default()
    };
    for (case, theirs) in cases.iter().zip(dateutil) {
        weigh(case, theirs, &mut report);
    }
    report
}

fn weigh(case: &Case, dateutil: Option<Days>, report: &mut Report) {
    let exempt: Vec<usize> = (0..EXEMPTIONS.len())
        .filter(|at| (EXEMPTIONS[*at].holds)(case))
        .collect();
    report.exempt += usize::from(!exempt.is_empty());
    let rule = match Rule::parse(&case.text, case.start) {
        Ok(rule) => Some(rule),
        Err(RuleError::NeverOccurs { .. } | RuleError::EndsBeforeFirst { .. }) => None,
        Err(_) if exempt.iter().any(|at| EXEMPTIONS[*at].refused) => {
            exempt.iter().for_each(|at| report.hits[*at].0 += 1);
            return;
        }
        Err(refusal) => {
            return report
                .differences
                .push(format!("{} from {}: {refusal}", case.text, case.start));
        }
    };
    let ours = rule
        .as_ref()
        .map_or_else(Default::default, |rule| days_of(case, rule));
    report.never += usize::from(rule.is_none());
    // The crate looks for a day that never comes through a hundred thousand periods: it is asked of rules that occur.
    let theirs = [
        (Reference::Dateutil, dateutil),
        (Reference::Crate, rule.as_ref().and_then(|_| ask_crate(case))),
    ];
    let mut agreed = 0;
    for (reference, theirs) in &theirs {
        let concerned: Vec<usize> = exempt
            .iter()
            .copied()
            .filter(|at| EXEMPTIONS[*at].concerns.contains(reference))
            .collect();
        let apart = theirs.as_ref().is_some_and(|theirs| *theirs != ours);
        agreed += usize::from(theirs.as_ref() == Some(&ours));
        if apart && concerned.is_empty() {
            report.differences.push(format!(
                "{} from {}: ours {ours:?}, {reference:?} {theirs:?}, window {} to {}",
                case.text, case.start, case.later, case.last
            ));
        }
        concerned
            .iter()
            .for_each(|at| report.hits[*at].1 += usize::from(apart));
    }
    exempt.iter().for_each(|at| report.hits[*at].0 += 1);
    match agreed {
        2 => report.agreed_both += 1,
        1 => report.agreed_one += 1,
        _ if exempt.is_empty() => report
            .differences
            .push(format!("{} from {}: nobody agrees", case.text, case.start)),
        _ => {}
    }
    if rule.is_some() && agreed < 2 && exempt.is_empty() {
        report.differences.push(format!(
            "{} from {}: only one reference reads it",
            case.text, case.start
        ));
    }
}

pub fn days_of(case: &Case, rule: &Rule) -> Days {
    let days = std::iter::successors(rule.next_on_or_after(case.start), |day| rule.next_after(*day));
    let first = days.take_while(|day| *day <= END).take(DAYS).collect();
    (first, rule.between(case.later, case.last))
}

/// The text to ask a reference for, where an exemption restates it.
fn text_for(case: &Case) -> String {
    let restated = EXEMPTIONS
        .iter()
        .filter(|exemption| (exemption.holds)(case))
        .find_map(|exemption| exemption.restated);
    restated.map_or_else(|| case.text.clone(), |restated| restated(case))
}

fn ask_crate(case: &Case) -> Option<Days> {
    let midnight = Tz::UTC.from_utc_datetime(&case.start.and_time(NaiveTime::MIN));
    // A day of UNTIL is read in the machine's zone: the same day at midnight UTC instead.
    let parts = text_for(case)
        .split(';')
        .map(|part| {
            if part.starts_with("UNTIL=") {
                format!("{part}T000000Z")
            } else {
                part.to_owned()
            }
        })
        .collect::<Vec<_>>();
    let rule: RRule<Unvalidated> = parts.join(";").parse().ok()?;
    let set = rule.build(midnight).map(RRuleSet::limit).ok()?;
    let (mut first, mut window) = (Vec::new(), Vec::new());
    for instant in &set {
        let day = instant.date_naive();
        if day > END || (first.len() == DAYS && day > case.last) {
            break;
        }
        if first.len() < DAYS {
            first.push(day);
        }
        if (case.later..=case.last).contains(&day) {
            window.push(day);
        }
    }
    Some((first, window))
}

/// `None` for a rule that python-dateutil refuses.
fn ask_dateutil(cases: &[Case]) -> Vec<Option<Days>> {
    let python = std::env::var("ANGLESTOP_TEST_PYTHON").unwrap_or_else(|_| "/usr/bin/python3".to_owned());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/oracles/recurrence_random.py");
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut asked = child.stdin.take().unwrap();
    let lines: Vec<String> = cases
        .iter()
        .map(|case| {
            format!(
                "{}\t{}\t{}\t{}\n",
                text_for(case),
                case.start,
                case.later,
                case.last
            )
        })
        .collect();
    let writing = std::thread::spawn(move || {
        lines
            .iter()
            .for_each(|line| asked.write_all(line.as_bytes()).unwrap())
    });
    let output = child.wait_with_output().unwrap();
    writing.join().unwrap();
    assert!(
        output.status.success(),
        "python-dateutil failed; Debian: python3-dateutil"
    );
    let answers = String::from_utf8(output.stdout).unwrap();
    let read = read_days(&answers);
    assert_eq!(read.len(), cases.len(), "one answer a rule");
    read
}

/// One answer a line: first days, a tab, the days of the window; without a tab the rule was refused.
pub fn read_days(answers: &str) -> Vec<Option<Days>> {
    let days = |list: &str| {
        list.split_whitespace()
            .map(|day| day.parse().unwrap())
            .collect::<Vec<NaiveDate>>()
    };
    let read = |line: &str| {
        line.split_once('\t')
            .map(|(first, window)| (days(first), days(window)))
    };
    answers.lines().map(read).collect()
}
