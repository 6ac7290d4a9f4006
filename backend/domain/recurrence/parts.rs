//! The parts of a rule as values: read from text, written back in one canonical order.
//!
//! It decides what is a part and which values a part takes. Which parts go together is decided in
//! `limits`; which dates come out, in `compiled`.

use std::fmt;
use std::str::FromStr;

use chrono::Weekday;

use super::error::RuleError;
use super::until::Until;

/// How often the period of a rule comes round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Frequency {
    Daily,
    Weekly,
    Monthly,
    Yearly,
}

impl Frequency {
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Daily => "DAILY",
            Self::Weekly => "WEEKLY",
            Self::Monthly => "MONTHLY",
            Self::Yearly => "YEARLY",
        }
    }

    fn from_word(word: &str) -> Result<Self, RuleError> {
        match word {
            "DAILY" => Ok(Self::Daily),
            "WEEKLY" => Ok(Self::Weekly),
            "MONTHLY" => Ok(Self::Monthly),
            "YEARLY" => Ok(Self::Yearly),
            "HOURLY" | "MINUTELY" | "SECONDLY" => Err(RuleError::BelowADay(word.to_owned())),
            _ => Err(RuleError::UnknownFrequency(word.to_owned())),
        }
    }
}

/// A weekday of BYDAY, with or without "which one in the month or year".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Day {
    /// 1 is the first, -1 the last.
    pub(super) ordinal: Option<i16>,
    pub(super) weekday: Weekday,
}

impl Day {
    pub(super) fn plain(weekday: Weekday) -> Self {
        Self {
            ordinal: None,
            weekday,
        }
    }

    /// Order of the canonical text: counted from the front, then from the back, then the week.
    fn rank(self) -> (bool, i16, u32) {
        let ordinal = self.ordinal.unwrap_or(0);
        (
            ordinal < 0,
            ordinal.saturating_abs(),
            self.weekday.num_days_from_monday(),
        )
    }
}

impl FromStr for Day {
    type Err = RuleError;

    fn from_str(text: &str) -> Result<Self, RuleError> {
        let refuse = || RuleError::Value {
            part: "BYDAY",
            value: text.to_owned(),
            expected: "use MO, TU, WE, TH, FR, SA or SU, in a month or year with a number before it, such as 1MO or -1FR",
        };
        let at = text
            .len()
            .checked_sub(2)
            .filter(|at| text.is_char_boundary(*at))
            .ok_or_else(refuse)?;
        let (number, code) = text.split_at(at);
        let weekday = weekday_from_code(code).ok_or_else(refuse)?;
        if number.is_empty() {
            return Ok(Self::plain(weekday));
        }
        match signed(number) {
            Some(ordinal) if ordinal != 0 && (-53..=53).contains(&ordinal) => Ok(Self {
                ordinal: Some(ordinal),
                weekday,
            }),
            _ => Err(refuse()),
        }
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(ordinal) = self.ordinal {
            write!(f, "{ordinal}")?;
        }
        f.write_str(weekday_code(self.weekday))
    }
}

/// What becomes of a day that does not exist, such as 31 April (RFC 7529, 4.1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(super) enum Skip {
    /// It is left out, as in RFC 5545.
    #[default]
    Omit,
    /// The last day before it.
    Backward,
    /// The first day after it.
    Forward,
}

/// Everything a rule text says, each list sorted and without repeats.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Parts {
    pub(super) frequency: Frequency,
    pub(super) interval: u32,
    pub(super) count: Option<u32>,
    pub(super) until: Option<Until>,
    pub(super) months: Vec<i16>,
    pub(super) week_numbers: Vec<i16>,
    pub(super) year_days: Vec<i16>,
    pub(super) month_days: Vec<i16>,
    pub(super) days: Vec<Day>,
    pub(super) positions: Vec<i16>,
    pub(super) week_start: Weekday,
    pub(super) skip: Skip,
}

impl Parts {
    /// Whether any BYxxx part other than BYSETPOS is there.
    pub(super) fn narrows(&self) -> bool {
        !(self.months.is_empty()
            && self.week_numbers.is_empty()
            && self.year_days.is_empty()
            && self.month_days.is_empty()
            && self.days.is_empty())
    }
}

impl FromStr for Parts {
    type Err = RuleError;

    fn from_str(text: &str) -> Result<Self, RuleError> {
        let upper = body_of(text)?;
        let mut parts = Self {
            frequency: Frequency::Daily,
            interval: 1,
            count: None,
            until: None,
            months: Vec::new(),
            week_numbers: Vec::new(),
            year_days: Vec::new(),
            month_days: Vec::new(),
            days: Vec::new(),
            positions: Vec::new(),
            week_start: Weekday::Mon,
            skip: Skip::Omit,
        };
        let mut seen: Vec<&str> = Vec::new();
        for part in upper.trim_end_matches(';').split(';') {
            let (name, value) = part
                .split_once('=')
                .map(|(name, value)| (name.trim(), value.trim()))
                .filter(|(name, value)| !name.is_empty() && !value.is_empty())
                .ok_or_else(|| RuleError::NotAPart(part.to_owned()))?;
            if seen.contains(&name) {
                return Err(RuleError::DuplicatePart(name.to_owned()));
            }
            seen.push(name);
            parts.take(name, value)?;
        }
        if seen.contains(&"SKIP") && !seen.contains(&"RSCALE") {
            return Err(RuleError::SkipWithoutScale);
        }
        if seen.contains(&"FREQ") {
            Ok(parts)
        } else {
            Err(RuleError::NoFrequency)
        }
    }
}

impl Parts {
    fn take(&mut self, name: &str, value: &str) -> Result<(), RuleError> {
        match name {
            "FREQ" => self.frequency = Frequency::from_word(value)?,
            "INTERVAL" => self.interval = positive("INTERVAL", value)?,
            "COUNT" => self.count = Some(positive("COUNT", value)?),
            "UNTIL" => self.until = Some(value.parse()?),
            "BYMONTH" => {
                self.months = numbers("BYMONTH", value, 1, 12, "use months from 1 to 12")?;
                if self.months.iter().any(|month| *month < 0) {
                    return Err(RuleError::Value {
                        part: "BYMONTH",
                        value: value.to_owned(),
                        expected: "use months from 1 to 12",
                    });
                }
            }
            "BYWEEKNO" => {
                let expected = "use weeks from 1 to 53, or from -53 to -1 counted from the end of the year";
                self.week_numbers = numbers("BYWEEKNO", value, 1, 53, expected)?;
            }
            "BYYEARDAY" => {
                let expected = "use days from 1 to 366, or from -366 to -1 counted from the end of the year";
                self.year_days = numbers("BYYEARDAY", value, 1, 366, expected)?;
            }
            "BYMONTHDAY" => {
                let expected = "use days from 1 to 31, or from -31 to -1 counted from the end of the month";
                self.month_days = numbers("BYMONTHDAY", value, 1, 31, expected)?;
            }
            "BYSETPOS" => {
                let expected = "use positions from 1 to 366, or from -366 to -1 counted from the end";
                self.positions = numbers("BYSETPOS", value, 1, 366, expected)?;
            }
            "BYDAY" => {
                self.days = value
                    .split(',')
                    .map(|day| day.trim().parse())
                    .collect::<Result<_, _>>()?;
                self.days.sort_by_key(|day| day.rank());
                self.days.dedup();
            }
            "WKST" => {
                self.week_start = weekday_from_code(value).ok_or_else(|| RuleError::Value {
                    part: "WKST",
                    value: value.to_owned(),
                    expected: "use MO, TU, WE, TH, FR, SA or SU",
                })?;
            }
            "RSCALE" if value == "GREGORIAN" => {}
            "RSCALE" => return Err(RuleError::Scale(value.to_owned())),
            "SKIP" => {
                self.skip = match value {
                    "OMIT" => Skip::Omit,
                    "BACKWARD" => Skip::Backward,
                    "FORWARD" => Skip::Forward,
                    _ => {
                        return Err(RuleError::Value {
                            part: "SKIP",
                            value: value.to_owned(),
                            expected: "use OMIT, BACKWARD or FORWARD",
                        });
                    }
                }
            }
            "BYHOUR" | "BYMINUTE" | "BYSECOND" => return Err(RuleError::TimeOfDay(name.to_owned())),
            _ => return Err(RuleError::UnknownPart(name.to_owned())),
        }
        Ok(())
    }
}

impl fmt::Display for Parts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "FREQ={}", self.frequency.word())?;
        if self.interval != 1 {
            write!(f, ";INTERVAL={}", self.interval)?;
        }
        if let Some(count) = self.count {
            write!(f, ";COUNT={count}")?;
        }
        if let Some(until) = &self.until {
            write!(f, ";UNTIL={until}")?;
        }
        write_list(f, "BYMONTH", &self.months)?;
        write_list(f, "BYWEEKNO", &self.week_numbers)?;
        write_list(f, "BYYEARDAY", &self.year_days)?;
        write_list(f, "BYMONTHDAY", &self.month_days)?;
        write_list(f, "BYDAY", &self.days)?;
        write_list(f, "BYSETPOS", &self.positions)?;
        if self.week_start != Weekday::Mon {
            write!(f, ";WKST={}", weekday_code(self.week_start))?;
        }
        match self.skip {
            Skip::Omit => Ok(()),
            Skip::Backward => f.write_str(";RSCALE=GREGORIAN;SKIP=BACKWARD"),
            Skip::Forward => f.write_str(";RSCALE=GREGORIAN;SKIP=FORWARD"),
        }
    }
}

fn write_list<T: fmt::Display>(f: &mut fmt::Formatter<'_>, name: &str, values: &[T]) -> fmt::Result {
    for (at, value) in values.iter().enumerate() {
        if at == 0 {
            write!(f, ";{name}={value}")?;
        } else {
            write!(f, ",{value}")?;
        }
    }
    Ok(())
}

/// The text after an optional `RRULE:`, in capitals, when it is one rule and nothing else.
fn body_of(text: &str) -> Result<String, RuleError> {
    let upper = text.trim().to_ascii_uppercase();
    let body = upper.strip_prefix("RRULE:").unwrap_or(&upper).trim();
    if body.is_empty() {
        return Err(RuleError::Empty);
    }
    if body.contains(['\n', '\r', ':']) {
        return Err(RuleError::NotOneRule(text.trim().to_owned()));
    }
    Ok(body.to_owned())
}

fn positive(part: &'static str, value: &str) -> Result<u32, RuleError> {
    let digits = value.bytes().all(|byte| byte.is_ascii_digit());
    let number = if digits { value.parse::<u32>().ok() } else { None };
    number
        .filter(|number| *number > 0)
        .ok_or_else(|| RuleError::Value {
            part,
            value: value.to_owned(),
            expected: "use a whole number from 1 on",
        })
}

/// A list of whole numbers whose size lies in `least..=most`, sorted: positive ones first.
fn numbers(
    part: &'static str,
    value: &str,
    least: i16,
    most: i16,
    expected: &'static str,
) -> Result<Vec<i16>, RuleError> {
    let mut list = Vec::new();
    for item in value.split(',').map(str::trim) {
        let number = signed(item).filter(|number| (least..=most).contains(&number.saturating_abs()));
        list.push(number.ok_or_else(|| RuleError::Value {
            part,
            value: item.to_owned(),
            expected,
        })?);
    }
    list.sort_by_key(|number| (*number < 0, *number));
    list.dedup();
    Ok(list)
}

/// A number with an optional sign, as the standard writes it.
fn signed(text: &str) -> Option<i16> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    let plain = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    if plain { text.parse().ok() } else { None }
}

pub(super) fn weekday_code(weekday: Weekday) -> &'static str {
    match weekday {
        Weekday::Mon => "MO",
        Weekday::Tue => "TU",
        Weekday::Wed => "WE",
        Weekday::Thu => "TH",
        Weekday::Fri => "FR",
        Weekday::Sat => "SA",
        Weekday::Sun => "SU",
    }
}

fn weekday_from_code(code: &str) -> Option<Weekday> {
    match code {
        "MO" => Some(Weekday::Mon),
        "TU" => Some(Weekday::Tue),
        "WE" => Some(Weekday::Wed),
        "TH" => Some(Weekday::Thu),
        "FR" => Some(Weekday::Fri),
        "SA" => Some(Weekday::Sat),
        "SU" => Some(Weekday::Sun),
        _ => None,
    }
}
