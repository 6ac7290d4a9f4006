//! Instants as a phone writes them: RFC 3339 with milliseconds, always UTC when we write.

use chrono::{DateTime, NaiveDateTime};

/// The text of an instant.
///
/// ```
/// use anglestop::exchange::phone::instant;
/// let at = "2026-11-27T14:45:00.123".parse()?;
/// assert_eq!(instant::text(at), "2026-11-27T14:45:00.123Z");
/// assert_eq!(instant::read("2026-11-27T14:45:00.123Z"), Some(at));
/// assert_eq!(instant::read("2026-11-27T15:45:00.123+01:00"), Some(at));
/// assert_eq!(instant::read("yesterday"), None);
/// # Ok::<(), chrono::ParseError>(())
/// ```
#[must_use]
pub fn text(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%dT%H:%M:%S%.3fZ").to_string()
}

/// The instant of a text, UTC; none when it is none.
#[must_use]
pub fn read(text: &str) -> Option<NaiveDateTime> {
    let instant = DateTime::parse_from_rfc3339(text.trim()).ok()?;
    Some(instant.naive_utc())
}
