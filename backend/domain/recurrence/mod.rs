//! Rules that repeat: RFC 5545 rule text ([`Rule`]) and ISO 8601 intervals ([`Interval`]).
//!
//! This room turns text into a rule or into a sentence that says what is wrong with it, and answers
//! on which dates a rule falls. It knows nothing of checks, windows or what "today" is.
//!
//! - A *rule* belongs to the calendar: "every year on 1 October" falls on the same dates whatever was
//!   done. Its dates are plain days; a time of day and a zone decide only where an UNTIL that is an
//!   instant ends.
//! - An *interval* is counted from the last time: "six months after it was done".
//!
//! ```
//! use anglestop::domain::recurrence::{Interval, Rule};
//! use chrono::NaiveDate;
//!
//! let day = |text: &str| text.parse::<NaiveDate>();
//! let rule = Rule::parse("FREQ=YEARLY", day("2024-10-01")?)?;
//! assert_eq!(rule.next_after(day("2026-10-01")?), Some(day("2027-10-01")?));
//! assert_eq!(rule.describe(), "every year on 1 October");
//!
//! let half_year: Interval = "P6M".parse()?;
//! assert_eq!(half_year.add_to(day("2026-08-31")?), day("2027-02-28")?);
//!
//! let refused = Rule::parse("FREQ=HOURLY", day("2026-01-01")?);
//! assert!(refused.is_err_and(|refusal| refusal.to_string().contains("FREQ=HOURLY")));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod calendar;
mod compiled;
mod error;
mod interval;
mod limits;
mod listed;
mod parts;
mod rule;
mod second_reader;
mod until;
mod words;

pub use compiled::{DayTable, LONGEST_TABLE_DAYS};
pub use error::RuleError;
pub use interval::{Interval, IntervalError, LONGEST_YEARS};
pub use rule::{EARLIEST_START_YEAR, LAST_YEAR, LATEST_START_YEAR, Rule};
pub use words::MONTHS;
