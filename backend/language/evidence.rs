//! What was measured beyond one reading, in phrases of a language. It is kept with its English words of that time; English repeats them.

use chrono::{Datelike as _, NaiveDate};

use super::{Language, Said};
use crate::domain::measure::{LengthUnit, Unit};
use crate::domain::trade::evidence::Detail;
use crate::domain::trade::{Bound, clearance, flush, leak_point};

impl Language {
    /// What was measured, in phrases.
    #[must_use]
    pub fn evidence(self, detail: &Detail) -> Vec<String> {
        if self == Self::ENGLISH {
            return detail.phrases();
        }
        match detail {
            Detail::Clearance(taken) => self.clearance(taken),
            Detail::Flush(taken) => self.flush_run(taken),
            Detail::Leaks(seen) => {
                let mut points: Vec<_> = seen.points.iter().collect();
                points.sort_by_key(|point| std::cmp::Reverse(point.state));
                points.into_iter().map(|point| self.point_seen(point)).collect()
            }
        }
    }

    /// The clearances of a water closet: the measures as typed, each shortfall, what was decided.
    #[must_use]
    pub fn clearance(self, taken: &clearance::Taken) -> Vec<String> {
        let measures = taken
            .typed
            .each()
            .into_iter()
            .filter(|(_, text)| !text.is_empty());
        let measures: Vec<String> = measures
            .map(|(dimension, text)| {
                let said = self.word(dimension).to_lowercase();
                format!("{said} {}", taken.unit.unit().behind(text))
            })
            .collect();
        let mut phrases = vec![measures.join(", ")];
        phrases.extend(taken.short().map(|held| self.shortfall(held, taken.unit)));
        let accepted = match taken.accepted.as_str() {
            "" => String::new(),
            words => format!(": {words}"),
        };
        let decision = self.word(taken.decision).to_lowercase();
        phrases.push(format!(
            "{decision} ({}){accepted}",
            self.sentence(&taken.profile_name)
        ));
        phrases
    }

    /// "centreline to the left short of 15 in by 1/8 in (IPC 405.3.1)".
    #[must_use]
    pub fn shortfall(self, held: &clearance::Held, unit: LengthUnit) -> String {
        self.sentence(&held.phrase(unit))
    }

    /// By how much a limit is missed, the amount before the limit: "1/8 in", "short of 15 in".
    #[must_use]
    pub fn missed_by(self, held: &clearance::Held, unit: LengthUnit) -> [String; 2] {
        let (amount, limit) = match held.bound {
            Bound::AtLeast => (self.say("plan-short-by"), self.say("plan-short-of")),
            Bound::AtMost => (self.say("plan-over-by"), self.say("plan-over")),
        };
        [
            amount.with("amount", held.short_by.show(unit)).into(),
            limit.with("limit", &held.limit).into(),
        ]
    }

    /// A date without its weekday, for a picture with little room: "3 Feb 2026".
    #[must_use]
    pub fn short_date(self, date: NaiveDate) -> String {
        let month = Said::new(self, format!("figures-month-{}", date.month()));
        self.say("flush-picture-day")
            .with("day", date.day())
            .with("month", month)
            .with("year", date.year().to_string())
            .into()
    }

    /// A run of flushes.
    #[must_use]
    pub fn flush_run(self, taken: &flush::Taken) -> Vec<String> {
        let run = self
            .say("flush-run")
            .with("count", taken.run.flushes.len())
            .with("refills", taken.run.refills())
            .with("mean", &taken.mean);
        let mut phrases = vec![run.to_string()];
        if !taken.flow.is_empty() {
            let flow = self
                .say("flush-flow")
                .with("flow", &taken.flow)
                .with("tank", Unit::Gallon.behind(&taken.run.tank));
            phrases.push(flow.to_string());
        }
        let said = taken.reasons.iter().chain(&taken.remarks);
        phrases.extend(said.map(|said| self.sentence(said)));
        phrases
    }

    /// One leak point: "Base: drip, 1.7 gal a day".
    #[must_use]
    pub fn point_seen(self, seen: &leak_point::PointSeen) -> String {
        let state = self.word(seen.state).to_lowercase();
        let name = self.sentence(&seen.name);
        if seen.loss.is_empty() {
            format!("{name}: {state}")
        } else {
            format!("{name}: {state}, {}", self.sentence(&seen.loss))
        }
    }

    /// How wet a point was, with what it lost when that was measured.
    #[must_use]
    pub fn wetness(self, seen: &leak_point::PointSeen) -> String {
        let state = self.word(seen.state);
        if seen.loss.is_empty() {
            state
        } else {
            format!("{state}, {}", self.sentence(&seen.loss))
        }
    }

    /// Several phrases of the tool in one line, each read anew where it is known.
    #[must_use]
    pub fn phrases(self, kept: &str) -> String {
        let said: Vec<String> = apart(kept)
            .into_iter()
            .map(|phrase| self.sentence(phrase))
            .collect();
        said.join("; ")
    }
}

/// The phrases of a line, at the semicolons that stand outside of brackets: a source may have its own.
fn apart(kept: &str) -> Vec<&str> {
    let (mut phrases, mut depth, mut from) = (Vec::new(), 0_u32, 0);
    for (at, letter) in kept.char_indices() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            ';' if depth == 0 => {
                phrases.extend(kept.get(from..at));
                from = at + 1;
            }
            _ => {}
        }
    }
    phrases.extend(kept.get(from..));
    phrases.into_iter().map(str::trim).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn phrases_are_told_apart_outside_of_brackets() {
        assert_eq!(apart("one (a; b); two"), ["one (a; b)", "two"]);
        assert_eq!(apart("one"), ["one"]);
    }
}
