//! The time to correct as the office writes it: `24 h`, `30 d`, `none`. Decides the spelling and the range; the instant is the trade's.

use crate::domain::trade::Severity;
use crate::domain::trade::correction::{Allowance, CorrectionTimes};

/// The longest time that can be set, days.
pub const LONGEST_DAYS: u16 = 366;

/// Reads `24 h`, `30 d` or `none`.
///
/// # Errors
/// A sentence with the spellings and the range.
///
/// ```
/// use anglestop::domain::result::times::{parse, text};
/// assert_eq!(text(parse("24h")?), "24 h");
/// assert_eq!(text(parse("30 days")?), "30 d");
/// assert_eq!(text(parse("none")?), "none");
/// assert!(parse("soon").is_err());
/// assert!(parse("0 h").is_err());
/// # Ok::<(), String>(())
/// ```
pub fn parse(given: &str) -> Result<Allowance, String> {
    let refusal = || {
        format!(
            "“{given}” is no time to correct. Write clock hours as 24 h, days as 30 d (1 to {LONGEST_DAYS} days), or none."
        )
    };
    let text = given.trim().to_lowercase();
    if text == "none" {
        return Ok(Allowance::NoDeadline);
    }
    let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
    let unit = text.get(digits.len()..).unwrap_or_default().trim();
    let number: u16 = digits.parse().map_err(|_no_number| refusal())?;
    match unit {
        "h" | "hour" | "hours" if (1..=LONGEST_DAYS * 24).contains(&number) => Ok(Allowance::Hours(number)),
        "d" | "day" | "days" if (1..=LONGEST_DAYS).contains(&number) => Ok(Allowance::Days(number)),
        _ => Err(refusal()),
    }
}

/// The spelling that [`parse`] reads.
#[must_use]
pub fn text(allowance: Allowance) -> String {
    match allowance {
        Allowance::Hours(hours) => format!("{hours} h"),
        Allowance::Days(days) => format!("{days} d"),
        Allowance::NoDeadline => "none".to_owned(),
    }
}

/// The times with one severity's changed.
#[must_use]
pub const fn with(times: CorrectionTimes, severity: Severity, allowance: Allowance) -> CorrectionTimes {
    let mut changed = times;
    match severity {
        Severity::LifeThreatening => changed.life_threatening = allowance,
        Severity::Severe => changed.severe = allowance,
        Severity::Moderate => changed.moderate = allowance,
        Severity::Low => changed.low = allowance,
    }
    changed
}
