//! Numbers, dates, instants and distances as a language reads them. Which marks, names and order is for `figures.ftl` to say; what a
//! person typed is never written anew.

use chrono::{Datelike as _, NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::Language;
use super::said::Said;

impl Language {
    /// A whole number with its thousands set apart: `1,240`.
    #[must_use]
    pub fn grouped(self, number: usize) -> String {
        let digits = number.to_string();
        if digits.len() <= 3 {
            return digits;
        }
        let mark = self.say("figures-thousands").to_string();
        let mut out = String::with_capacity(digits.len() + digits.len() / 3);
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && (digits.len() - index).is_multiple_of(3) {
                out.push_str(&mark);
            }
            out.push(digit);
        }
        out
    }

    /// A number with so many figures behind its mark, for what the tool reckoned: `12.5`.
    #[must_use]
    pub fn decimal(self, number: f64, figures: usize) -> String {
        let mark = self.say("figures-decimal-mark").to_string();
        format!("{number:.figures$}").replace('.', &mark)
    }

    /// A count with its noun, whose message takes `count` for the plural and shows `number`: `1,240 units`.
    #[must_use]
    pub fn count(self, key: &'static str, number: usize) -> String {
        let said = self.say(key).with("count", number);
        said.with("number", self.grouped(number)).to_string()
    }

    /// A date as `Tue 3 Feb`, with the year when it is not that of `today`.
    #[must_use]
    pub fn day(self, date: NaiveDate, today: NaiveDate) -> String {
        let said = self
            .say(if date.year() == today.year() {
                "figures-day"
            } else {
                "figures-day-of-year"
            })
            .with("weekday", self.weekday(date))
            .with("day", date.day())
            .with("month", self.month(date));
        if date.year() == today.year() {
            said.to_string()
        } else {
            said.with("year", date.year().to_string()).to_string()
        }
    }

    /// A date with its year, whichever it is: `Tue 3 Feb 2026`.
    #[must_use]
    pub fn day_in_full(self, date: NaiveDate) -> String {
        self.say("figures-day-of-year")
            .with("weekday", self.weekday(date))
            .with("day", date.day())
            .with("month", self.month(date))
            .with("year", date.year().to_string())
            .to_string()
    }

    fn weekday(self, date: NaiveDate) -> String {
        self.numbered("figures-weekday", date.weekday().number_from_monday())
    }

    /// A month in short: `Feb`.
    #[must_use]
    pub fn month(self, date: NaiveDate) -> String {
        self.numbered("figures-month", date.month())
    }

    pub(super) fn numbered(self, family: &str, number: u32) -> String {
        Said::new(self, format!("{family}-{number}")).to_string()
    }

    /// An instant (UTC) as it reads in a zone: `Tue 3 Feb, 14:05`, with the year when it is not this one there.
    #[must_use]
    pub fn moment(self, instant: NaiveDateTime, zone: Tz, today: NaiveDate) -> String {
        let local = instant.and_utc().with_timezone(&zone);
        self.say("figures-moment")
            .with("day", self.day(local.date_naive(), today))
            .with("time", local.format("%H:%M").to_string())
            .to_string()
    }

    /// An instant (UTC) with its year and the name of the zone, for a mail that may be read long after.
    #[must_use]
    pub fn moment_in_full(self, instant: NaiveDateTime, zone: Tz) -> String {
        let local = instant.and_utc().with_timezone(&zone);
        let date = local.date_naive();
        self.say("figures-moment-in-full")
            .with("weekday", self.weekday(date))
            .with("day", date.day())
            .with("month", self.month(date))
            .with("year", date.year().to_string())
            .with("time", local.format("%H:%M").to_string())
            .with("zone", zone.name())
            .to_string()
    }

    /// A distance as `today`, `in 5 days`, `1 day ago`.
    #[must_use]
    pub fn distance(self, date: NaiveDate, today: NaiveDate) -> String {
        let days = (date - today).num_days();
        let said = match days {
            0 => self.say("figures-today"),
            1 => self.say("figures-tomorrow"),
            -1 => self.say("figures-yesterday"),
            ahead if ahead > 0 => self.say("figures-days-ahead").with("count", ahead),
            behind => self.say("figures-days-ago").with("count", -behind),
        };
        said.to_string()
    }

    /// An age in its largest whole unit, as `7 years`, `5 months`, `12 days`; nothing for a day that is still ahead.
    #[must_use]
    pub fn age(self, from: NaiveDate, today: NaiveDate) -> String {
        let Some(years) = today.years_since(from) else {
            return String::new();
        };
        let months_now = i64::from(today.year()) * 12 + i64::from(today.month());
        let months_then = i64::from(from.year()) * 12 + i64::from(from.month());
        let months = months_now - months_then - i64::from(today.day() < from.day());
        let counted = |key, number: i64| self.say(key).with("count", number).into();
        match (years, months) {
            (0, 0) => counted("age-days", (today - from).num_days()),
            (0, months) => counted("age-months", months),
            (years, _) => counted("age-years", i64::from(years)),
        }
    }

    /// A day without its weekday, for the marks beneath a picture: `3 Feb`.
    #[must_use]
    pub fn day_of_month(self, date: NaiveDate) -> String {
        let said = self.say("figures-day-of-month").with("day", date.day());
        said.with("month", self.month(date)).into()
    }

    /// A month with its year: `Jul 2019`.
    #[must_use]
    pub fn month_of_year(self, date: NaiveDate) -> String {
        let said = self.say("age-month-of-year").with("month", self.month(date));
        said.with("year", date.year().to_string()).into()
    }

    /// Several things in one phrase: `Nora, Ylva and Ola`.
    #[must_use]
    pub fn listed(self, things: &[String]) -> String {
        match things.split_last() {
            None => String::new(),
            Some((last, [])) => last.clone(),
            Some((last, before)) => self
                .say("figures-list")
                .with("before", before.join(", "))
                .with("last", last)
                .to_string(),
        }
    }
}
