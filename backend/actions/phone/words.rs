//! The words of a checklist in the language of whoever reads it on a phone. Everything that a checklist says goes through here; which
//! words these are is for `language` to say.

use chrono::NaiveDate;

use crate::domain::due::Window;
use crate::domain::result::{Entry, Outcome};
use crate::domain::trade::{Check, FixtureKind, PartKind, Performer, Severity, Source};
use crate::language::Language;

/// Says things in a language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    language: Language,
}

/// The texts of a check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckWords {
    /// In a few words.
    pub title: String,
    /// What to do.
    pub ask: String,
    /// How, step by step.
    pub method: Vec<String>,
    /// What passes; of a reading what is read.
    pub pass: String,
    /// What fails; of a reading nothing.
    pub fail: String,
}

impl Words {
    /// For whoever reads this language.
    #[must_use]
    pub const fn new(language: Language) -> Self {
        Self { language }
    }

    /// The texts of a check.
    #[must_use]
    pub fn check(&self, check: &Check) -> CheckWords {
        let said = self.language.check(check);
        let is_reading = said.pass.is_empty();
        CheckWords {
            title: said.title,
            ask: said.ask,
            method: said.method,
            pass: if is_reading { said.of } else { said.pass },
            fail: said.fail,
        }
    }

    /// What to mind at a fixture of this kind, each danger once, gas first.
    #[must_use]
    pub fn cautions(&self, check: &Check, kind: Option<FixtureKind>) -> Vec<String> {
        self.language.warnings(&check.cautions, kind)
    }

    /// A kind of fixture.
    #[must_use]
    pub fn kind(&self, kind: FixtureKind) -> String {
        self.language.word(kind)
    }

    /// A part by itself, as a list of what to load names it.
    #[must_use]
    pub fn load(&self, part: PartKind) -> String {
        self.language.word(part)
    }

    /// A part.
    #[must_use]
    pub fn part(&self, part: PartKind) -> String {
        self.language.word(part).to_lowercase()
    }

    /// How grave.
    #[must_use]
    pub fn severity(&self, severity: Severity) -> String {
        self.language.word(severity)
    }

    /// The title of a deficiency with the check that failed; none for a report, which stays as it was typed.
    #[must_use]
    pub fn deficiency(&self, check: Option<&Check>, title: &str) -> String {
        self.language.deficiency(check, title)
    }

    /// Who may do a check, when not everybody of the office may; empty otherwise.
    #[must_use]
    pub fn performer(&self, performer: Performer) -> String {
        match performer {
            Performer::Staff => String::new(),
            other => self.language.word(other),
        }
    }

    /// Where a limit comes from.
    #[must_use]
    pub fn source(&self, source: &Source) -> String {
        self.language.source(source)
    }

    /// What was answered; `written` is that in English. A reading stays as it was typed, and so does what was written of a reason.
    #[must_use]
    pub fn answered(&self, check: &Check, entry: &Entry, written: String) -> String {
        if self.language == Language::ENGLISH {
            return written;
        }
        let said = self.language.check(check);
        match entry.outcome {
            Outcome::NotChecked => self.language.reason(&entry.reason),
            Outcome::Pass if !said.pass.is_empty() => said.pass,
            Outcome::Fail if !said.fail.is_empty() => said.fail,
            Outcome::Pass | Outcome::Fail if !entry.reading.is_empty() => entry.reading.clone(),
            Outcome::Pass | Outcome::Fail => written,
        }
    }

    /// When a check is due.
    #[must_use]
    pub fn due(&self, window: &Window, today: NaiveDate) -> String {
        self.language.due(window, today)
    }
}
