//! What a phone last said about a unit, as the list of turnovers, the command line and a page say it.

use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::english::{count, moment};
use crate::domain::turnover::phones::Heard;

/// `R. Vance's phone last heard Tue 24 Nov, 14:05; 3 answers and 2 photos not yet sent there`. `now` decides the year; instants are UTC.
#[must_use]
pub fn last_heard(person: &str, heard: &Heard, zone: Tz, today: NaiveDate) -> String {
    let answers = count(heard.unsent_answers, "answer", "answers");
    let photos = count(heard.unsent_photos, "photo", "photos");
    let unsent = match (heard.unsent_answers, heard.unsent_photos) {
        (0, 0) => "nothing was unsent there".to_owned(),
        (_, 0) => format!("{answers} not yet sent there"),
        (0, _) => format!("{photos} not yet sent there"),
        _ => format!("{answers} and {photos} not yet sent there"),
    };
    format!(
        "{person}'s phone last heard {}; {unsent}",
        moment(heard.heard_at, zone, today)
    )
}

/// `silent for 4 days`: whole days since an instant, for a phone that was silent too long.
#[must_use]
pub fn silence(heard_at: NaiveDateTime, now: NaiveDateTime) -> String {
    let days = usize::try_from((now - heard_at).num_days()).unwrap_or_default();
    format!("silent for {}", count(days, "day", "days"))
}
