//! The public face of a calendar rule: which days it falls on.
//!
//! It decides how text and start become a rule, and answers questions about its days. It does not
//! know what falls due on them. The day arithmetic behind it never shows.

use std::fmt;
use std::sync::{Arc, OnceLock};

use chrono::{Datelike, Days, NaiveDate, NaiveDateTime, NaiveTime};
use chrono_tz::Tz;

use super::compiled::{Compiled, DayTable, Never};
use super::error::RuleError;
use super::listed::Lines;
use super::parts::{Frequency, Parts};
use super::{limits, second_reader, words};

/// The first year a rule may start in.
pub const EARLIEST_START_YEAR: i32 = 1900;
/// The last year a rule may start in.
pub const LATEST_START_YEAR: i32 = 2199;
/// No occurrence is found after the end of this year (400 years hold every pattern of the calendar).
pub const LAST_YEAR: i32 = 2399;

/// Years after which weekdays and leap days repeat, the turn of a century aside.
const CYCLE_YEARS: i32 = 28;

/// A calendar rule: RFC 5545 rule text with the day it starts, perhaps with days added and taken away.
///
/// It is compiled to day arithmetic when it is read, so that no question walks from the start. Cloning
/// is cheap, and it may be asked from many threads.
#[derive(Clone)]
pub struct Rule {
    inner: Arc<Inner>,
}

struct Inner {
    parts: Parts,
    text: String,
    start: NaiveDateTime,
    zone: Option<Tz>,
    lines: Lines,
    last_day: Option<NaiveDate>,
    days: Compiled,
    shortest_gap: OnceLock<Option<u32>>,
}

impl Rule {
    /// Reads a rule that starts on a day. `RRULE:` before the text is allowed, and so are lines of days
    /// beside it.
    ///
    /// ```
    /// # use anglestop::domain::recurrence::Rule;
    /// # use chrono::NaiveDate;
    /// # let day = |text: &str| text.parse::<NaiveDate>();
    /// let text = "RRULE:FREQ=WEEKLY;BYDAY=MO\nRDATE;VALUE=DATE:20260108\nEXDATE;VALUE=DATE:20260112";
    /// let rule = Rule::parse(text, day("2026-01-01")?)?;
    /// let days = rule.between(day("2026-01-01")?, day("2026-01-19")?);
    /// assert_eq!(days, [day("2026-01-05")?, day("2026-01-08")?, day("2026-01-19")?]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// An UNTIL with a time is compared with midnight of the occurrence's day.
    ///
    /// # Errors
    ///
    /// A sentence for every text that RFC 5545 forbids, that repeats within a day, that programs read
    /// differently, or that never occurs.
    pub fn parse(text: &str, start: NaiveDate) -> Result<Self, RuleError> {
        Self::parse_at(text, start.and_time(NaiveTime::MIN), None)
    }

    /// Reads a rule whose start has a time of day, and perhaps a zone, which decide where an UNTIL
    /// that is an instant ends. Without a zone the time is read as UTC.
    ///
    /// ```
    /// # use anglestop::domain::recurrence::Rule;
    /// # use chrono::NaiveDate;
    /// # let day = |text: &str| text.parse::<NaiveDate>();
    /// // RFC 5545, 3.8.5.3: daily until 24 December 1997, nine in the morning, New York.
    /// let nine = "1997-09-02T09:00:00".parse()?;
    /// let rule = Rule::parse_at("FREQ=DAILY;UNTIL=19971224T000000Z", nine, Some(chrono_tz::America::New_York))?;
    /// assert_eq!(rule.previous_before(day("1998-01-01")?), Some(day("1997-12-23")?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    ///
    /// As [`Rule::parse`].
    pub fn parse_at(text: &str, start: NaiveDateTime, zone: Option<Tz>) -> Result<Self, RuleError> {
        let lines = Lines::read(text)?;
        let parts: Parts = lines.rule.parse()?;
        let day = start.date();
        limits::check(&parts, day)?;
        if let Some(early) = lines.extra.first().filter(|extra| **extra < day) {
            return Err(RuleError::ExtraBeforeStart {
                day: *early,
                start: day,
            });
        }
        second_reader::agrees(&parts)?;
        let last_day = parts.until.map(|until| until.last_day(start.time(), zone));
        let text = lines.text(&parts.to_string());
        let days = match Compiled::new(&parts, day, last_day, &lines.extra, &lines.except) {
            Ok(days) => days,
            Err(never) => return Err(refusal(never, text, day)),
        };
        let shortest_gap = OnceLock::new();
        let inner = Inner {
            parts,
            text,
            start,
            zone,
            lines,
            last_day,
            days,
            shortest_gap,
        };
        Ok(Self {
            inner: Arc::new(inner),
        })
    }

    /// The first occurrence on or after `day`.
    #[must_use]
    #[inline]
    pub fn next_on_or_after(&self, day: NaiveDate) -> Option<NaiveDate> {
        self.inner.days.next(day)
    }

    /// As [`Rule::next_on_or_after`], with days numbered as [`Datelike::num_days_from_ce`] does.
    #[must_use]
    #[inline]
    pub fn next_number_on_or_after(&self, day_number: i32) -> Option<i32> {
        self.inner.days.next_number(day_number)
    }

    /// The next occurrence of every day from `from` to `to`, for the many rows that share this rule.
    ///
    /// Occurrences more than 65,534 days after `from` count as none.
    #[must_use]
    pub fn table(&self, from: NaiveDate, to: NaiveDate) -> DayTable {
        self.inner.days.table(from, to)
    }

    /// The first occurrence after `day`.
    #[must_use]
    pub fn next_after(&self, day: NaiveDate) -> Option<NaiveDate> {
        self.next_on_or_after(day.succ_opt()?)
    }

    /// The last occurrence before `day`.
    #[must_use]
    pub fn previous_before(&self, day: NaiveDate) -> Option<NaiveDate> {
        self.inner.days.previous(day)
    }

    /// Every occurrence from `first` to `last`, both included, in order.
    #[must_use]
    pub fn between(&self, first: NaiveDate, last: NaiveDate) -> Vec<NaiveDate> {
        let days = std::iter::successors(self.next_on_or_after(first), |day| self.next_after(*day));
        days.take_while(|day| *day <= last).collect()
    }

    /// How many occurrences lie from `first` to `last`, both included.
    #[must_use]
    pub fn count_between(&self, first: NaiveDate, last: NaiveDate) -> usize {
        self.inner.days.count(first, last)
    }

    /// The fewest days from one occurrence to the next; `None` when it occurs once.
    ///
    /// Found over 28 years of its periods, after which the calendar repeats but for the turn of a century.
    #[must_use]
    pub fn shortest_gap_days(&self) -> Option<u32> {
        *self.inner.shortest_gap.get_or_init(|| self.find_shortest_gap())
    }

    /// The day the rule starts; it need not be an occurrence.
    #[must_use]
    pub fn start(&self) -> NaiveDate {
        self.inner.start.date()
    }

    /// The first occurrence. A start that does not match the rule is none, so this may lie after it.
    #[must_use]
    pub fn first(&self) -> NaiveDate {
        self.inner.days.ends().0
    }

    /// The rule in canonical text: FREQ first, defaults left out, lists sorted.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.inner.text
    }

    /// The rule in words, such as "every year on 1 October" or "on the first Monday of every third
    /// month, the first on 4 March 2024"; by its text where no plain words say it.
    #[must_use]
    pub fn describe(&self) -> String {
        let inner = &self.inner;
        let words = words::describe(&inner.parts, self.start(), self.first(), inner.last_day);
        words + &words::listed(&inner.lines.extra, &inner.lines.except)
    }

    fn find_shortest_gap(&self) -> Option<u32> {
        let parts = &self.inner.parts;
        let first = self.first();
        let second = self.next_after(first)?;
        // Nothing can come closer than these, so there is no need to look on.
        let floor = match parts.frequency {
            Frequency::Daily => parts.interval,
            Frequency::Weekly if parts.days.len() <= 1 => parts.interval.saturating_mul(7),
            _ => 1,
        };
        // An extra day may come closer.
        let floor = if self.inner.lines.extra.is_empty() {
            floor
        } else {
            1
        };
        if u32::try_from((second - first).num_days()) == Ok(floor) {
            return Some(floor);
        }
        let period_years = match parts.frequency {
            Frequency::Yearly => parts.interval,
            Frequency::Monthly => parts.interval.div_ceil(12),
            Frequency::Weekly => parts.interval.div_ceil(52),
            Frequency::Daily => parts.interval.div_ceil(365),
        };
        let cycle_days = i64::from(period_years.min(100)) * i64::from(CYCLE_YEARS) * 366;
        let horizon = first
            .checked_add_days(Days::new(cycle_days.unsigned_abs()))
            .unwrap_or(NaiveDate::MAX);
        let days = std::iter::successors(Some(first), |day| self.next_after(*day));
        let days = days.take_while(|day| *day <= horizon.max(second));
        let numbers: Vec<i32> = days.map(|day| day.num_days_from_ce()).collect();
        let gaps = numbers
            .iter()
            .zip(numbers.iter().skip(1))
            .map(|(day, next)| next - day);
        gaps.min().and_then(|days| u32::try_from(days).ok())
    }
}

fn refusal(never: Never, text: String, start: NaiveDate) -> RuleError {
    match never {
        Never::Matches => RuleError::NeverOccurs { text, start },
        Never::EndsBefore(first) => RuleError::EndsBeforeFirst { text, start, first },
        Never::Excluded => RuleError::AllExcluded(text),
    }
}

impl PartialEq for Rule {
    /// Two rules are equal when their canonical text, start and zone are.
    fn eq(&self, other: &Self) -> bool {
        let (a, b) = (&self.inner, &other.inner);
        a.text == b.text && a.start == b.start && a.zone == b.zone
    }
}

impl Eq for Rule {}

impl fmt::Debug for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Rule({} from {})", self.inner.text, self.inner.start)
    }
}
