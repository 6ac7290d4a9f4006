//! What can be wrong with a rule text, a sentence for each. It decides nothing itself.

use thiserror::Error;

/// Why a rule text was refused. Each message says what was given, the limit and what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RuleError {
    /// There is no text.
    #[error("the rule is empty: write one such as FREQ=YEARLY")]
    Empty,
    /// More than one rule, or another property than RRULE, RDATE and EXDATE.
    #[error(
        "\"{0}\" is not a single RRULE with RDATE and EXDATE lines: write one rule, such as FREQ=YEARLY, and the start date apart"
    )]
    NotOneRule(String),
    /// A part that is not NAME=VALUE.
    #[error("\"{0}\" is not a rule part: write NAME=VALUE, parts separated by a semicolon")]
    NotAPart(String),
    /// A name RFC 5545 does not define.
    #[error(
        "\"{0}\" is not a part of a rule: use FREQ, INTERVAL, COUNT, UNTIL, BYMONTH, BYWEEKNO, BYYEARDAY, BYMONTHDAY, BYDAY, BYSETPOS, WKST, RSCALE or SKIP"
    )]
    UnknownPart(String),
    /// The same name twice.
    #[error("{0} stands in the rule twice: keep one, with its values separated by commas")]
    DuplicatePart(String),
    /// No FREQ.
    #[error("the rule has no FREQ: begin it with FREQ=DAILY, WEEKLY, MONTHLY or YEARLY")]
    NoFrequency,
    /// FREQ has a word the standard does not know.
    #[error("FREQ={0} is not known: use DAILY, WEEKLY, MONTHLY or YEARLY")]
    UnknownFrequency(String),
    /// HOURLY, MINUTELY, SECONDLY.
    #[error(
        "FREQ={0} repeats within a day, and checks come due by the day: use DAILY, WEEKLY, MONTHLY or YEARLY"
    )]
    BelowADay(String),
    /// BYHOUR, BYMINUTE, BYSECOND.
    #[error(
        "{0} sets a time of day, and checks come due by the day: leave it out (the start carries the time)"
    )]
    TimeOfDay(String),
    /// A value that is no number, or outside the part's range.
    #[error("{part}={value} does not fit: {expected}")]
    Value {
        /// The part's name.
        part: &'static str,
        /// The value as given.
        value: String,
        /// What the part takes.
        expected: &'static str,
    },
    /// INTERVAL beyond a hundred years.
    #[error("INTERVAL={interval} with FREQ={frequency} is longer than 100 years: use at most {limit}")]
    IntervalTooLong {
        /// As given.
        interval: u32,
        /// The frequency's word.
        frequency: &'static str,
        /// The largest interval taken.
        limit: u32,
    },
    /// COUNT and UNTIL together.
    #[error("the rule has both COUNT and UNTIL, and RFC 5545 allows one: leave one of them out")]
    CountWithUntil,
    /// UNTIL that is no date or date-time.
    #[error(
        "UNTIL={0} is not a day that exists: write UNTIL=20301231, or an instant such as UNTIL=20301231T235959Z"
    )]
    Until(String),
    /// A part that RFC 5545 does not allow under this frequency.
    #[error("{part} does not go with FREQ={frequency}: {remedy}")]
    NotWithFrequency {
        /// The part's name.
        part: &'static str,
        /// The frequency's word.
        frequency: &'static str,
        /// What to do.
        remedy: &'static str,
    },
    /// BYDAY with an ordinal where the frequency has none.
    #[error(
        "BYDAY={day} counts a weekday within a month or year, and FREQ={frequency} has neither: write BYDAY={plain}, or use FREQ=MONTHLY or YEARLY"
    )]
    OrdinalDay {
        /// The value as canonical text.
        day: String,
        /// The day without its ordinal.
        plain: String,
        /// The frequency's word.
        frequency: &'static str,
    },
    /// BYDAY=1MO,TU.
    #[error(
        "BYDAY mixes counted days ({counted}) with plain ones ({plain}), and programs read that differently: make two schedules of it"
    )]
    MixedDays {
        /// The first counted day.
        counted: String,
        /// The first plain day.
        plain: String,
    },
    /// BYDAY with an ordinal beside BYWEEKNO.
    #[error(
        "BYDAY={0} counts a weekday within the year, which RFC 5545 forbids beside BYWEEKNO: write the day without its number"
    )]
    OrdinalDayInWeek(String),
    /// SKIP without RSCALE.
    #[error("SKIP needs a calendar beside it: write RSCALE=GREGORIAN;SKIP=BACKWARD, as RFC 7529 asks")]
    SkipWithoutScale,
    /// Another calendar.
    #[error("RSCALE={0} is another calendar, and checks follow the Gregorian one: use RSCALE=GREGORIAN")]
    Scale(String),
    /// A day of RDATE or EXDATE that can't be read or lies outside the years of a rule.
    #[error(
        "{property} has \"{value}\": write days from 1900 to 2399 without a time, such as {property};VALUE=DATE:20261224,20261231"
    )]
    ListedDay {
        /// RDATE or EXDATE.
        property: &'static str,
        /// As given.
        value: String,
    },
    /// An extra day before the start.
    #[error("RDATE has {day}, which lies before the start {start}: move the start, or leave the day out")]
    ExtraBeforeStart {
        /// The extra day.
        day: chrono::NaiveDate,
        /// The start.
        start: chrono::NaiveDate,
    },
    /// EXDATE takes every occurrence away.
    #[error("{0} never occurs: its EXDATE takes every one of its days away, so leave one of them out")]
    AllExcluded(String),
    /// BYSETPOS alone.
    #[error(
        "BYSETPOS picks from the days of another part: add BYDAY, BYMONTHDAY, BYMONTH, BYYEARDAY or BYWEEKNO"
    )]
    PositionAlone,
    /// The start lies outside the years a rule is expanded in.
    #[error("the start {0} is out of range: use a day from 1 January 1900 to 31 December 2199")]
    Start(chrono::NaiveDate),
    /// The rule has no date at all.
    #[error(
        "{text} from {start} never occurs: no day of the calendar matches it, so change the rule or the start"
    )]
    NeverOccurs {
        /// The canonical text.
        text: String,
        /// The start.
        start: chrono::NaiveDate,
    },
    /// UNTIL lies before the first occurrence.
    #[error(
        "{text} from {start} never occurs: its first day would be {first}, after its UNTIL; move UNTIL or the start"
    )]
    EndsBeforeFirst {
        /// The canonical text.
        text: String,
        /// The start.
        start: chrono::NaiveDate,
        /// The first day without UNTIL.
        first: chrono::NaiveDate,
    },
    /// A second reader takes the text for another rule.
    #[error("{text} is read in two ways ({part} differs): check its values against RFC 5545, section 3.3.10")]
    ReadTwoWays {
        /// The canonical text.
        text: String,
        /// The part that differs.
        part: &'static str,
    },
}
