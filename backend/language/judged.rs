//! What the tool itself wrote of a failed check: why it failed, and the title of the deficiency that it opened. Both are kept in English as
//! they were written at the time; a reader of another language reads them composed anew, as long as the check still says what was written.

use super::Language;
use crate::domain::trade::{Answer, Check};

impl Language {
    /// Why a check failed or was not checked, as it was kept. What a person wrote stays as it is.
    #[must_use]
    pub fn judged(self, check: Option<&Check>, kept: &str) -> String {
        if self == Self::ENGLISH {
            return kept.to_owned();
        }
        let said = check.and_then(|check| match &check.answer {
            Answer::Verdict { fail, .. } if fail == kept => Some(self.check(check).fail),
            Answer::Verdict { pass, .. } if pass == kept => Some(self.check(check).pass),
            // An invented history has no figures: it says what was out of its limits.
            Answer::Reading { of, .. } => {
                let of_what = kept.strip_suffix(" out of its limits")?;
                let said = (of_what == of.to_lowercase()).then(|| self.say("judged-out-of-limits"))?;
                Some(said.with("of", self.check(check).of.to_lowercase()).into())
            }
            _ => None,
        });
        said.unwrap_or_else(|| match self.reason(kept) {
            same if same == kept => self.phrases(kept),
            own => own,
        })
    }

    /// The title of a deficiency: of a failed check by the words of its check, of a report as it was typed. A check that was worded anew
    /// since leaves the title as it was written, since its translation is of the new words.
    ///
    /// ```
    /// use anglestop::exchange::catalogue;
    /// use anglestop::language::Language;
    /// let known = catalogue::builtin().map_err(|error| error.to_string())?;
    /// let check = known.check("wc_tank_firm");
    /// let spanish = Language::of("es");
    /// assert_eq!(spanish.deficiency(check, "Tank tight on bowl: Moves on the bowl"), "Tanque firme sobre la taza: Se mueve sobre la taza");
    /// assert_eq!(spanish.deficiency(None, "Water under the sink"), "Water under the sink");
    /// # Ok::<(), String>(())
    /// ```
    #[must_use]
    pub fn deficiency(self, check: Option<&Check>, title: &str) -> String {
        let composed = check.filter(|_| self != Self::ENGLISH).and_then(|check| {
            let seen = title.strip_prefix(check.title.as_str())?.strip_prefix(": ")?;
            let said = self
                .say("deficiency-title")
                .with("check", self.check(check).title)
                .with("seen", self.judged(Some(check), seen));
            Some(said.to_string())
        });
        composed.unwrap_or_else(|| title.to_owned())
    }
}
