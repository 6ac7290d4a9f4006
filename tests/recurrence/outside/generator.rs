//! Random rules that use every part, alone and in odd company, with starts that need not match.

use chrono::{Datelike, Days, NaiveDate};
use rand::rngs::StdRng;
use rand::seq::IndexedRandom as _;
use rand::{Rng as _, SeedableRng as _};

pub const WEEKDAYS: [&str; 7] = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

/// A rule, its start, and a later window to look into.
#[derive(Debug, Clone)]
pub struct Case {
    pub text: String,
    pub start: NaiveDate,
    pub later: NaiveDate,
    pub last: NaiveDate,
}

pub struct Generator(StdRng);

impl Generator {
    pub fn new(seed: u64) -> Self {
        Self(StdRng::seed_from_u64(seed))
    }

    fn chance(&mut self, of_100: u32) -> bool {
        self.0.random_range(0..100) < of_100
    }

    /// Up to `most` different values, sorted, some of them counted from the end.
    fn numbers(&mut self, most: usize, upto: i32) -> Vec<i32> {
        let many = self.0.random_range(1..=most);
        let mut picked: Vec<i32> = (0..many)
            .map(|_| {
                let number = self.0.random_range(1..=upto);
                if self.chance(40) { -number } else { number }
            })
            .collect();
        picked.sort_unstable();
        picked.dedup();
        picked
    }

    fn weekdays(&mut self, most: usize) -> Vec<String> {
        let many = self.0.random_range(1..=most);
        let picked = WEEKDAYS.choose_multiple(&mut self.0, many);
        picked.map(|day| (*day).to_owned()).collect()
    }

    fn start(&mut self) -> NaiveDate {
        let first = NaiveDate::from_ymd_opt(2019, 1, 1).unwrap();
        let start = first + Days::new(self.0.random_range(0..2_900));
        match self.0.random_range(0..20) {
            0 => NaiveDate::from_ymd_opt(2024, 2, 29).unwrap(),
            1 => start.with_day(31).unwrap_or(start),
            2 => NaiveDate::from_ymd_opt(start.year(), 12, 31).unwrap(),
            _ => start,
        }
    }

    pub fn case(&mut self) -> Case {
        let start = self.start();
        let later = start + Days::new(self.0.random_range(60..1_200));
        let last = later + Days::new(self.0.random_range(1..150));
        Case {
            text: self.rule(start),
            start,
            later,
            last,
        }
    }

    fn rule(&mut self, start: NaiveDate) -> String {
        let frequencies = [
            "DAILY", "WEEKLY", "WEEKLY", "MONTHLY", "MONTHLY", "MONTHLY", "YEARLY", "YEARLY", "YEARLY",
        ];
        let frequency = *frequencies.choose(&mut self.0).unwrap();
        let mut parts = vec![format!("FREQ={frequency}")];
        if self.chance(50) {
            let interval = match frequency {
                "YEARLY" => self.0.random_range(2..=6),
                "MONTHLY" => self.0.random_range(2..=25),
                "WEEKLY" => self.0.random_range(2..=14),
                _ => self.0.random_range(2..=120),
            };
            parts.push(format!("INTERVAL={interval}"));
        }
        let before = parts.len();
        self.by_parts(frequency, &mut parts);
        // Weeks with positions are read differently (see the exemptions), so they come less often.
        if parts.len() > before && self.chance(if frequency == "WEEKLY" { 8 } else { 20 }) {
            let upto = if frequency == "YEARLY" { 8 } else { 3 };
            let positions = self.numbers(2, if frequency == "DAILY" { 1 } else { upto });
            parts.push(list("BYSETPOS", &positions));
        }
        if self.chance(25) {
            parts.push(format!("WKST={}", WEEKDAYS.choose(&mut self.0).unwrap()));
        }
        if self.chance(20) {
            parts.push(format!("COUNT={}", self.0.random_range(1..40)));
        } else if self.chance(20) {
            let until = start + Days::new(self.0.random_range(0..3_000));
            parts.push(format!("UNTIL={}", until.format("%Y%m%d")));
        }
        parts.join(";")
    }

    fn by_parts(&mut self, frequency: &str, parts: &mut Vec<String>) {
        let yearly = frequency == "YEARLY";
        if self.chance(30) {
            let mut months: Vec<i32> = self.numbers(4, 12).into_iter().map(i32::abs).collect();
            months.dedup();
            parts.push(list("BYMONTH", &months));
        }
        let mut in_weeks = false;
        if yearly && self.chance(15) {
            in_weeks = true;
            parts.push(list("BYWEEKNO", &self.numbers(4, 53)));
        }
        if yearly && self.chance(18) {
            parts.push(list("BYYEARDAY", &self.numbers(6, 366)));
        }
        if frequency != "WEEKLY" && self.chance(if in_weeks { 8 } else { 32 }) {
            parts.push(list("BYMONTHDAY", &self.numbers(6, 31)));
        }
        // A week without a day is a case of its own (see the exemptions), so it comes seldom.
        if self.chance(if in_weeks { 96 } else { 45 }) {
            let counts = matches!(frequency, "MONTHLY" | "YEARLY") && !in_weeks && self.chance(50);
            let mut days = self.weekdays(if counts { 3 } else { 5 });
            if counts {
                let within_month = !yearly || parts.iter().any(|part| part.starts_with("BYMONTH="));
                for day in &mut days {
                    let upto = if within_month { 5 } else { 53 };
                    let number = self.0.random_range(1..=upto);
                    let sign = if self.chance(40) { "-" } else { "" };
                    // The crate refuses -5 in a month and -53 in a year: seldom, too.
                    let number = if sign == "-" && number == upto && !self.chance(8) {
                        1
                    } else {
                        number
                    };
                    *day = format!("{sign}{number}{day}");
                }
                if self.chance(2) {
                    days.push("WE".to_owned());
                }
            }
            parts.push(format!("BYDAY={}", days.join(",")));
        }
    }
}

fn list(name: &str, numbers: &[i32]) -> String {
    let numbers: Vec<_> = numbers.iter().map(ToString::to_string).collect();
    format!("{name}={}", numbers.join(","))
}
