//! Titles of deficiencies in the language of whoever reads them. The title that is kept is the record and stays English; how it is read is
//! for `language` to say. English reads what is kept and asks for nothing.

use std::collections::HashMap;
use std::sync::Arc;

use crate::domain::register::CheckId;
use crate::domain::result::Deficiency;
use crate::domain::trade::Check;
use crate::domain::trade::check::ProfileCode;
use crate::error::Result;
use crate::language::Language;
use crate::store::checks::StoredCheck;
use crate::store::{AnyConnection, checks};

/// Reads titles in a language.
#[derive(Debug, Clone)]
pub struct Titles {
    language: Language,
    checks: HashMap<CheckId, Arc<Check>>,
}

impl Titles {
    /// With the checks as they are now.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection, language: Language) -> Result<Self> {
        if language == Language::ENGLISH {
            return Ok(Self::among(language, &[]));
        }
        Ok(Self::among(language, &checks::load_all(conn)?))
    }

    /// With checks that are at hand.
    #[must_use]
    pub fn among(language: Language, checks: &[StoredCheck]) -> Self {
        let checks = checks.iter().map(|stored| (stored.id, Arc::clone(&stored.check)));
        Self {
            language,
            checks: checks.collect(),
        }
    }

    /// In which language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }

    /// The check that failed, where the language needs its words; none for a report.
    #[must_use]
    pub fn check_of(&self, one: &Deficiency) -> Option<&Check> {
        one.check
            .and_then(|check| self.checks.get(&check))
            .map(Arc::as_ref)
    }

    /// The title of a deficiency.
    #[must_use]
    pub fn of(&self, one: &Deficiency) -> String {
        self.read(one.check, &one.title)
    }

    /// A title with the check that failed; none for a report, which stays as it was typed.
    #[must_use]
    pub fn read(&self, check: Option<CheckId>, title: &str) -> String {
        let check = check.and_then(|check| self.checks.get(&check));
        self.language.deficiency(check.map(Arc::as_ref), title)
    }

    /// The check of a code, where the language needs its words.
    fn by_code(&self, code: &str) -> Option<&Check> {
        let mut checks = self.checks.values();
        checks.find(|check| check.code.as_str() == code).map(Arc::as_ref)
    }

    /// The few words of a check, `kept` in English.
    #[must_use]
    pub fn check(&self, code: &str, kept: &str) -> String {
        self.by_code(code)
            .map_or_else(|| kept.to_owned(), |check| self.language.check(check).title)
    }

    /// A title, or the same of a failed check that opened nothing, with the code of the check.
    #[must_use]
    pub fn read_by_code(&self, code: &str, title: &str) -> String {
        self.language.deficiency(self.by_code(code), title)
    }

    /// What a check asked, as it was kept with an answer under a profile.
    #[must_use]
    pub fn asked(&self, code: &str, profile: &ProfileCode, kept: &str) -> String {
        self.language.asked(self.by_code(code), profile, kept)
    }

    /// Why a check failed or was not checked, as it was kept.
    #[must_use]
    pub fn judged(&self, code: &str, kept: &str) -> String {
        self.language.judged(self.by_code(code), kept)
    }
}
