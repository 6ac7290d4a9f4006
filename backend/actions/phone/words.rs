//! The words of a checklist in the language of whoever reads it on a phone. Everything that a checklist says goes through here; English
//! is what the catalogue is written in.

use chrono::NaiveDate;

use crate::domain::due::{Window, sentence};
use crate::domain::trade::{Answer, Caution, Check, FixtureKind, PartKind, Performer, Severity};

/// Says things in a language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    language: String,
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
    /// For a person with this language, BCP 47.
    #[must_use]
    pub fn new(language: &str) -> Self {
        Self {
            language: language.to_owned(),
        }
    }

    /// The language, BCP 47.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// The texts of a check.
    #[must_use]
    pub fn check(&self, check: &Check) -> CheckWords {
        let (pass, fail) = match &check.answer {
            Answer::Verdict { pass, fail } => (pass.clone(), fail.clone()),
            Answer::Reading { of, .. } => (of.clone(), String::new()),
        };
        CheckWords {
            title: check.title.clone(),
            ask: check.ask.clone(),
            method: check.method.clone(),
            pass,
            fail,
        }
    }

    /// What to mind at a fixture of this kind, each danger once, gas first.
    #[must_use]
    pub fn cautions(&self, check: &Check, kind: Option<FixtureKind>) -> Vec<String> {
        Caution::warnings(&check.cautions, kind)
    }

    /// A kind of fixture.
    #[must_use]
    pub fn kind(&self, kind: FixtureKind) -> String {
        kind.name().to_owned()
    }

    /// A part.
    #[must_use]
    pub fn part(&self, part: PartKind) -> String {
        part.name().to_lowercase()
    }

    /// How grave.
    #[must_use]
    pub fn severity(&self, severity: Severity) -> String {
        severity.name().to_owned()
    }

    /// Who may do a check, when not everybody of the office may; empty otherwise.
    #[must_use]
    pub fn performer(&self, performer: Performer) -> String {
        match performer {
            Performer::Staff => String::new(),
            other => other.name().to_owned(),
        }
    }

    /// When a check is due.
    #[must_use]
    pub fn due(&self, window: &Window, today: NaiveDate) -> String {
        sentence(window, today)
    }

    /// A part to take along and for which place.
    #[must_use]
    pub fn load(&self, part: PartKind, place: &str) -> String {
        format!("{} ({place})", part.name())
    }
}
