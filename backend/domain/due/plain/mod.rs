//! A schedule's timing as people say it, without the syntax of rules: every so often, on the first Monday, on the last working day, in
//! October, twice a season.
//!
//! It decides which rule text such a saying becomes, and which sayings a rule text is recognised as. Whether the rule can be is the
//! rule's own to say.

mod recognise;

use chrono::{Datelike, NaiveDate};

use crate::domain::code::{Coded, words};
use crate::domain::field::{FieldError, capital};
use crate::domain::register::typed::iso_date;

words! {
    /// How the timing is said.
    Pattern "pattern" {
        AfterLast = "after_last", "A time after it was last done";
        Every = "every", "Every so often by the calendar";
        NthWeekday = "nth_weekday", "On a weekday of the month, such as the first Monday";
        LastWorkingDay = "last_working_day", "On the last working day of the month";
        InMonths = "in_months", "In certain months of the year";
        Season = "season", "A few times in a season";
        Text = "text", "By a rule as text";
    }
}

words! {
    /// What is counted.
    Span "unit" {
        Days = "days", "days";
        Weeks = "weeks", "weeks";
        Months = "months", "months";
        Years = "years", "years";
    }
}

words! {
    /// Which of its weekdays in the month.
    Nth "place in the month" {
        First = "1", "first";
        Second = "2", "second";
        Third = "3", "third";
        Fourth = "4", "fourth";
        Last = "-1", "last";
    }
}

words! {
    /// A weekday.
    DayOfWeek "weekday" {
        Monday = "MO", "Monday";
        Tuesday = "TU", "Tuesday";
        Wednesday = "WE", "Wednesday";
        Thursday = "TH", "Thursday";
        Friday = "FR", "Friday";
        Saturday = "SA", "Saturday";
        Sunday = "SU", "Sunday";
    }
}

/// The working days of an office whose building says nothing else, as BYDAY writes them.
const WORKING_DAYS: &str = "MO,TU,WE,TH,FR";

/// A saying as typed in a form; fields of other patterns are left aside.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PlainText {
    /// Code of the pattern.
    pub pattern: String,
    /// How many, whole and above 0; empty for 1.
    pub every: String,
    /// Code of the unit.
    pub unit: String,
    /// Code of the place in the month.
    pub nth: String,
    /// Code of the weekday.
    pub weekday: String,
    /// Every so many months, for the patterns within a month; empty for 1.
    pub month_step: String,
    /// Months by number, 1 to 12.
    pub months: Vec<String>,
    /// Day of the month, 1 to 31, or `last`; empty for the first.
    pub month_day: String,
    /// First month of the season, 1 to 12.
    pub season_from: String,
    /// Last month of the season, 1 to 12; before the first it lies in the next year.
    pub season_to: String,
    /// How often in the season, 1 to 6.
    pub season_times: String,
}

/// Code of an anchor with its rule text.
pub type Said = (&'static str, String);

impl PlainText {
    /// The rule that is meant; none when the pattern is text, which stands for itself. `start` is the first day as typed.
    ///
    /// ```
    /// # use anglestop::domain::due::PlainText;
    /// let said = PlainText {
    ///     pattern: "nth_weekday".into(),
    ///     nth: "1".into(),
    ///     weekday: "MO".into(),
    ///     month_step: "3".into(),
    ///     ..PlainText::default()
    /// };
    /// assert_eq!(said.rule("2026-01-05"), Ok(Some(("calendar", "FREQ=MONTHLY;INTERVAL=3;BYDAY=1MO".to_owned()))));
    /// ```
    ///
    /// # Errors
    /// A sentence for each field that can't be used.
    pub fn rule(&self, start: &str) -> Result<Option<Said>, Vec<FieldError>> {
        let mut wrong = Vec::new();
        let pattern = coded::<Pattern>("pattern", &self.pattern, &mut wrong);
        let said = match pattern {
            None | Some(Pattern::Text) => None,
            Some(Pattern::AfterLast) => self.after_last(&mut wrong),
            Some(Pattern::Every) => self.every(start, &mut wrong),
            Some(Pattern::NthWeekday) => {
                let nth = coded::<Nth>("nth", &self.nth, &mut wrong);
                let weekday = coded::<DayOfWeek>("weekday", &self.weekday, &mut wrong);
                let step = self.step(&mut wrong);
                let day = nth.zip(weekday).map(|(nth, day)| format!("{nth}{day}"));
                day.map(|day| format!("FREQ=MONTHLY{step};BYDAY={day}"))
                    .map(calendar)
            }
            Some(Pattern::LastWorkingDay) => {
                let step = self.step(&mut wrong);
                Some(calendar(format!(
                    "FREQ=MONTHLY{step};BYDAY={WORKING_DAYS};BYSETPOS=-1"
                )))
            }
            Some(Pattern::InMonths) => self.in_months(&mut wrong),
            Some(Pattern::Season) => self.season(&mut wrong),
        };
        if wrong.is_empty() { Ok(said) } else { Err(wrong) }
    }

    fn after_last(&self, wrong: &mut Vec<FieldError>) -> Option<Said> {
        let every = whole("every", "Every", &self.every, 1..=1_000, wrong)?;
        let letter = match coded::<Span>("unit", &self.unit, wrong)? {
            Span::Days => 'D',
            Span::Weeks => 'W',
            Span::Months => 'M',
            Span::Years => 'Y',
        };
        Some(("last_done", format!("P{every}{letter}")))
    }

    /// From the 29th to the 31st, months and years without that day take their last one.
    fn every(&self, start: &str, wrong: &mut Vec<FieldError>) -> Option<Said> {
        let every = whole("every", "Every", &self.every, 1..=1_000, wrong)?;
        let interval = interval(every);
        let start = iso_date(start.trim());
        let late = start.map(|day| day.day()).filter(|day| *day > 28);
        Some(calendar(match coded::<Span>("unit", &self.unit, wrong)? {
            Span::Days => format!("FREQ=DAILY{interval}"),
            Span::Weeks => format!("FREQ=WEEKLY{interval}"),
            Span::Months => match late {
                Some(day) => format!("FREQ=MONTHLY{interval};BYMONTHDAY={};BYSETPOS=-1", until(day)),
                None => format!("FREQ=MONTHLY{interval}"),
            },
            Span::Years => match start.filter(is_leap_day) {
                Some(_) => format!("FREQ=YEARLY{interval};BYMONTH=2;BYMONTHDAY=28,29;BYSETPOS=-1"),
                None => format!("FREQ=YEARLY{interval}"),
            },
        }))
    }

    fn step(&self, wrong: &mut Vec<FieldError>) -> String {
        whole("month_step", "Every", &self.month_step, 1..=120, wrong)
            .map(interval)
            .unwrap_or_default()
    }

    fn in_months(&self, wrong: &mut Vec<FieldError>) -> Option<Said> {
        let mut months = Vec::new();
        for text in &self.months {
            months.push(whole("months", "A month", text, 1..=12, wrong)?);
        }
        months.sort_unstable();
        months.dedup();
        if months.is_empty() {
            wrong.push(FieldError::new(
                "months",
                "No month is chosen. Choose at least one.",
            ));
            return None;
        }
        let months = listed(&months);
        let text = self.month_day.trim();
        if text.eq_ignore_ascii_case("last") {
            return Some(calendar(format!("FREQ=YEARLY;BYMONTH={months};BYMONTHDAY=-1")));
        }
        let day = whole("month_day", "On the day", text, 1..=31, wrong)?;
        Some(calendar(if day > 28 {
            // BYSETPOS picks within the period, so the period is the month.
            format!(
                "FREQ=MONTHLY;BYMONTH={months};BYMONTHDAY={};BYSETPOS=-1",
                until(day)
            )
        } else {
            format!("FREQ=YEARLY;BYMONTH={months};BYMONTHDAY={day}")
        }))
    }

    fn season(&self, wrong: &mut Vec<FieldError>) -> Option<Said> {
        let from = chosen(
            "season_from",
            "The season's first month",
            &self.season_from,
            wrong,
        )
        .and_then(|from| whole("season_from", "From", from, 1..=12, wrong));
        let to = chosen("season_to", "The season's last month", &self.season_to, wrong)
            .and_then(|to| whole("season_to", "Until the end of", to, 1..=12, wrong));
        let times = whole("season_times", "Times", &self.season_times, 1..=6, wrong);
        let (from, to, times) = (from?, to?, times?);
        let length = (to + 12 - from) % 12 + 1;
        if times > length {
            let sentence = format!("{times} times don't fit into {length} months. Give at most {length}.");
            wrong.push(FieldError::new("season_times", sentence));
            return None;
        }
        let mut months: Vec<u32> = (0..times)
            .map(|nth| (from - 1 + nth * length / times) % 12 + 1)
            .collect();
        months.sort_unstable();
        Some(calendar(format!(
            "FREQ=YEARLY;BYMONTH={};BYMONTHDAY=1",
            listed(&months)
        )))
    }
}

fn calendar(rule: String) -> Said {
    ("calendar", rule)
}

fn interval(every: u32) -> String {
    if every == 1 {
        String::new()
    } else {
        format!(";INTERVAL={every}")
    }
}

/// The days of which the last that a month has is meant: `28,29,30` for the 30th.
fn until(day: u32) -> String {
    listed(&(28..=day).collect::<Vec<_>>())
}

fn listed(numbers: &[u32]) -> String {
    numbers.iter().map(u32::to_string).collect::<Vec<_>>().join(",")
}

fn is_leap_day(day: &NaiveDate) -> bool {
    (day.month(), day.day()) == (2, 29)
}

/// What was chosen of a list that has no usual choice.
fn chosen<'t>(field: &str, what: &str, text: &'t str, wrong: &mut Vec<FieldError>) -> Option<&'t str> {
    let text = text.trim();
    if text.is_empty() {
        wrong.push(FieldError::new(
            field,
            format!("{what} is not chosen. Choose one."),
        ));
        return None;
    }
    Some(text)
}

fn coded<T: Coded>(field: &str, text: &str, wrong: &mut Vec<FieldError>) -> Option<T> {
    let text = chosen(field, &capital(&format!("the {}", T::NOUN)), text, wrong)?;
    match T::from_code(text) {
        Ok(value) => Some(value),
        Err(sentence) => {
            wrong.push(FieldError::new(field, sentence));
            None
        }
    }
}

/// A whole number within a range; an empty one is the least.
fn whole(
    field: &str,
    label: &str,
    text: &str,
    range: std::ops::RangeInclusive<u32>,
    wrong: &mut Vec<FieldError>,
) -> Option<u32> {
    let text = text.trim();
    if text.is_empty() {
        return Some(*range.start());
    }
    let found = text.parse().ok().filter(|number| range.contains(number));
    if found.is_none() {
        wrong.push(FieldError::new(
            field,
            format!(
                "{label} “{text}” is not a whole number from {} to {}.",
                range.start(),
                range.end()
            ),
        ));
    }
    found
}
