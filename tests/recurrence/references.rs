//! Against the outside: the worked examples of RFC 5545, 3.8.5.3, and python-dateutil's days for 600
//! random rules (the files under `tests/oracles` name their sources).

use anglestop::domain::recurrence::{Rule, RuleError};
use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::{day, take};

const EXAMPLES: &str = include_str!("../oracles/rfc5545_examples.txt");
const DATEUTIL: &str = include_str!("../oracles/recurrence_dateutil.csv");

#[derive(Debug, PartialEq)]
enum Ending {
    End,
    More,
    Refused,
}

struct Example {
    title: String,
    start: NaiveDateTime,
    zone: Tz,
    rules: Vec<String>,
    days: Vec<NaiveDate>,
    ending: Ending,
}

impl Example {
    fn read(block: &str) -> Self {
        let mut lines = block.lines();
        let title = lines.next().unwrap().trim().to_owned();
        let start = lines.next().unwrap().strip_prefix("start ").unwrap();
        let (clock, zone) = start.split_once(' ').unwrap();
        let mut example = Self {
            title,
            start: clock.parse().unwrap(),
            zone: zone.parse().unwrap(),
            rules: Vec::new(),
            days: Vec::new(),
            ending: Ending::More,
        };
        for line in lines.filter(|line| !line.is_empty() && !line.starts_with('#')) {
            match line {
                "end" => example.ending = Ending::End,
                "and more" => example.ending = Ending::More,
                "refused" => example.ending = Ending::Refused,
                _ => match line.strip_prefix("rule ") {
                    Some(rule) => example.rules.push(rule.to_owned()),
                    None => example.days.extend(days_of_month(line)),
                },
            }
        }
        example
    }
}

/// "1997-09 2-4,9" is four days.
fn days_of_month(line: &str) -> Vec<NaiveDate> {
    let (month, list) = line.split_once(' ').unwrap();
    let spans = list
        .split(',')
        .map(|item| item.split_once('-').unwrap_or((item, item)));
    let numbers = spans.flat_map(|(from, to)| from.parse::<u32>().unwrap()..=to.parse().unwrap());
    numbers
        .map(|number| day(&format!("{month}-{number:02}")))
        .collect()
}

fn examples() -> Vec<Example> {
    EXAMPLES.split("\n= ").skip(1).map(Example::read).collect()
}

/// What `anglestop occurrences` answers for an example's rule: the exit code and the lines.
fn at_the_command_line(example: &Example, rule: &str) -> (Option<i32>, Vec<String>) {
    let count = (example.days.len() + usize::from(example.ending == Ending::End)).to_string();
    let start = example.start.format("%Y-%m-%dT%H:%M:%S").to_string();
    let from = example.start.date().to_string();
    let asked = [
        ["--rule", rule, "--start", &start],
        ["--zone", example.zone.name(), "--from", &from],
    ];
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .arg("occurrences")
        .args(asked.concat())
        .args(["--count", &count])
        .output()
        .unwrap();
    let lines = String::from_utf8(output.stdout).unwrap();
    (output.status.code(), lines.lines().map(str::to_owned).collect())
}

#[test]
fn the_35_day_results_of_rfc_5545_come_out_of_the_command_line_and_the_4_below_a_day_are_refused() {
    let (mut results, mut refused) = (0, 0);
    for example in examples() {
        let days: Vec<String> = example.days.iter().map(ToString::to_string).collect();
        let expected = if example.ending == Ending::Refused {
            refused += 1;
            (Some(1), Vec::new())
        } else {
            results += 1;
            (Some(0), days)
        };
        for rule in &example.rules {
            assert_eq!(
                at_the_command_line(&example, rule),
                expected,
                "{}: {rule}",
                example.title
            );
        }
    }
    assert_eq!((results, refused), (35, 4));
}

#[test]
fn the_35_day_results_of_rfc_5545_come_out_as_printed() {
    let (mut results, mut rules) = (0, 0);
    for example in examples()
        .iter()
        .filter(|example| example.ending != Ending::Refused)
    {
        results += 1;
        for text in &example.rules {
            rules += 1;
            let rule = Rule::parse_at(text, example.start, Some(example.zone)).unwrap();
            // One more than printed is asked for, so that a rule that should have ended shows it.
            let wanted = example.days.len() + usize::from(example.ending == Ending::End);
            let found = take(&rule, example.start.date(), wanted);
            assert_eq!(found, example.days, "{}: {text}", example.title);
        }
    }
    assert_eq!((results, rules), (35, 37));
}

#[test]
fn the_4_results_of_rfc_5545_below_a_day_are_refused() {
    let below: Vec<_> = examples()
        .into_iter()
        .filter(|example| example.ending == Ending::Refused)
        .collect();
    assert_eq!(below.len(), 4);
    for example in below {
        for text in &example.rules {
            let refusal = Rule::parse_at(text, example.start, Some(example.zone)).unwrap_err();
            assert!(
                matches!(refusal, RuleError::BelowADay(_) | RuleError::TimeOfDay(_)),
                "{}: {refusal}",
                example.title
            );
        }
    }
}

/// RFC 5545's UNTIL is an instant: at midnight, without the example's zone, the last day is one too many.
#[test]
fn an_until_with_a_time_is_resolved_at_the_start_s_own_time_and_zone() {
    let text = "FREQ=DAILY;UNTIL=19971224T000000Z";
    let at_nine = NaiveDate::from_ymd_opt(1997, 9, 2)
        .unwrap()
        .and_hms_opt(9, 0, 0)
        .unwrap();
    let in_new_york = Rule::parse_at(text, at_nine, Some(chrono_tz::America::New_York)).unwrap();
    let at_midnight = Rule::parse(text, at_nine.date()).unwrap();
    assert_eq!(
        in_new_york.previous_before(day("1998-06-01")),
        Some(day("1997-12-23"))
    );
    assert_eq!(
        at_midnight.previous_before(day("1998-06-01")),
        Some(day("1997-12-24"))
    );
}

#[test]
fn python_dateutil_finds_the_same_days_for_600_random_rules() {
    let mut compared = 0;
    let mut impossible = 0;
    for row in csv::Reader::from_reader(DATEUTIL.as_bytes()).records() {
        let row = row.unwrap();
        let (text, start, days) = (&row[0], &row[1], &row[2]);
        if start.is_empty() {
            continue; // the last row names the library
        }
        compared += 1;
        match Rule::parse(text, day(start)) {
            Ok(rule) => {
                let expected: Vec<_> = days
                    .split(' ')
                    .filter(|_| !days.starts_with("never"))
                    .map(day)
                    .collect();
                let found: Vec<_> = take(&rule, day(start), 12);
                let found: Vec<_> = found
                    .into_iter()
                    .filter(|date| *date < day("2150-01-01"))
                    .collect();
                assert_eq!(found, expected, "{text} from {start}");
            }
            Err(RuleError::NeverOccurs { .. } | RuleError::EndsBeforeFirst { .. }) => {
                impossible += 1;
                assert!(days.starts_with("never"), "{text} from {start} occurs on {days}");
            }
            Err(refusal) => panic!("{text} from {start}: {refusal}"),
        }
    }
    assert_eq!(compared, 600);
    assert_eq!(impossible, 10);
}
