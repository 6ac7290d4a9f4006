//! Why a due date counts from the day it does, and what a check asked, in the words of a language. Both are for the domain to decide; a
//! test holds the English of the catalogue to that of the domain.

use chrono::NaiveDate;

use super::Language;
use crate::domain::due::{Basis, Cadence};
use crate::domain::trade::check::ProfileCode;
use crate::domain::trade::{Answer, Check, asked};

impl Language {
    /// "counted from Tue 3 Feb, when it was last done".
    #[must_use]
    pub fn counted(self, cadence: Cadence, basis: Basis, from: NaiveDate, today: NaiveDate) -> String {
        let said = match (cadence, basis) {
            (Cadence::Turnover, Basis::Joined) => return self.say("counted-turnover").into(),
            (Cadence::Turnover, _) => self.say("counted-turnover-from"),
            (_, Basis::Done) => self.say("counted-done"),
            (_, Basis::Installed) => self.say("counted-installed"),
            (_, Basis::Imported) => self.say("counted-imported"),
            (_, Basis::Joined) if cadence.spreads(basis) => self.say("counted-joined-spread"),
            (_, Basis::Joined) => self.say("counted-joined"),
        };
        said.with("day", self.day(from, today)).into()
    }

    /// What a check asked, as it was kept with an answer; read anew as long as the check still asks so under the building's profile.
    #[must_use]
    pub fn asked(self, check: Option<&Check>, profile: &ProfileCode, kept: &str) -> String {
        let check = check.filter(|check| self != Self::ENGLISH && asked::line(check, profile) == kept);
        let Some(check) = check else {
            return kept.to_owned();
        };
        let words = self.check(check);
        let said = match &check.answer {
            Answer::Verdict { .. } => self
                .say("fixture-asked-passes")
                .with("pass", words.pass)
                .with("source", self.source(&check.source)),
            Answer::Reading { limits, .. } => {
                let held = limits.iter().filter(|limit| limit.holds_under(profile));
                let held: Vec<String> = held
                    .map(|limit| format!("{} ({})", self.limit(limit), self.source(&limit.source)))
                    .collect();
                if held.is_empty() {
                    let any = self.say("fixture-asked-any").with("of", words.of);
                    any.with("source", self.source(&check.source))
                } else {
                    let limits = self.say("fixture-asked-limits").with("of", words.of);
                    limits.with("limits", self.listed(&held))
                }
            }
        };
        said.with("ask", words.ask).into()
    }
}
