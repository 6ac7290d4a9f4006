//! Dates as the program writes them in English within a sentence, read so that another language can say them its own way.

use super::{Language, Said};

const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const MONTHS: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

impl Language {
    /// `Tue 3 Feb` or `Tue 3 Feb 2026` in this language; none for anything else.
    pub(super) fn dated(self, english: &str) -> Option<String> {
        let words: Vec<&str> = english.split(' ').collect();
        let (weekday, day, month, year) = match words[..] {
            [weekday, day, month] => (weekday, day, month, None),
            [weekday, day, month, year] => (weekday, day, month, Some(year.parse::<u16>().ok()?)),
            _ => return None,
        };
        let named = |names: &[&str], name: &str, family: &str| {
            let at = names.iter().position(|known| *known == name)?;
            Some(Said::new(self, format!("{family}-{}", at + 1)).to_string())
        };
        let said = match year {
            None => self.say("figures-day"),
            Some(year) => self.say("figures-day-of-year").with("year", year.to_string()),
        };
        let said = said
            .with("weekday", named(&WEEKDAYS, weekday, "figures-weekday")?)
            .with("day", u32::from(day.parse::<u8>().ok()?))
            .with("month", named(&MONTHS, month, "figures-month")?);
        Some(said.to_string())
    }
}
