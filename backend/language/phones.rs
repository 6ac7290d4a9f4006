//! What a phone last said about a unit, as the list of turnovers, the command line and a page say it.

use chrono::{NaiveDate, NaiveDateTime};
use chrono_tz::Tz;

use super::Language;
use crate::domain::turnover::phones::Heard;

impl Language {
    /// `R. Vance's phone last heard Tue 24 Nov, 14:05; 3 answers and 2 photos not yet sent there`. `now` decides the year; instants are UTC.
    #[must_use]
    pub fn last_heard(self, person: &str, heard: &Heard, zone: Tz, today: NaiveDate) -> String {
        let answers = || self.count("heard-answers", heard.unsent_answers);
        let photos = || self.count("heard-photos", heard.unsent_photos);
        let said = match (heard.unsent_answers, heard.unsent_photos) {
            (0, 0) => self.say("heard-nothing"),
            (_, 0) => self.say("heard-one").with("things", answers()),
            (0, _) => self.say("heard-one").with("things", photos()),
            _ => self
                .say("heard-both")
                .with("answers", answers())
                .with("photos", photos()),
        };
        said.with("person", person)
            .with("moment", self.moment(heard.heard_at, zone, today))
            .to_string()
    }

    /// `silent for 4 days`: whole days since an instant, for a phone that was silent too long.
    #[must_use]
    pub fn silence(self, heard_at: NaiveDateTime, now: NaiveDateTime) -> String {
        let days = usize::try_from((now - heard_at).num_days()).unwrap_or_default();
        self.say("heard-silent")
            .with("days", self.count("figures-days", days))
            .to_string()
    }
}
