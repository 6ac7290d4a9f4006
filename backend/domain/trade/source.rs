//! Where a value comes from. Decides how a source is said; refuses a value that has none.

use serde::{Deserialize, Serialize};

/// How well a value is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// A publication that says it, named in the citation.
    Published,
    /// Computed from published values; the citation says how.
    Computed,
    /// What the trade does; no publication is claimed.
    CommonPractice,
    /// Written down without the publication at hand; the citation names where to look.
    FromMemory,
}

/// Where a value comes from.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// How well it is founded.
    pub standing: Standing,
    /// Publication, section and year; may be empty for common practice alone.
    #[serde(default)]
    pub citation: String,
}

impl Source {
    /// A published source.
    #[must_use]
    pub fn published(citation: &str) -> Self {
        Self {
            standing: Standing::Published,
            citation: citation.to_owned(),
        }
    }

    /// Common practice, no source.
    #[must_use]
    pub fn common_practice() -> Self {
        Self {
            standing: Standing::CommonPractice,
            citation: String::new(),
        }
    }

    /// The source as one phrase for a page: "IPC 405.3.1", "common practice, no source", "ADA 604.4, from memory".
    #[must_use]
    pub fn phrase(&self) -> String {
        let citation = self.citation.trim();
        match (self.standing, citation.is_empty()) {
            (Standing::Published, _) => citation.to_owned(),
            (Standing::Computed, _) => format!("computed: {citation}"),
            (Standing::CommonPractice, true) => "common practice, no source".to_owned(),
            (Standing::CommonPractice, false) => format!("common practice: {citation}"),
            (Standing::FromMemory, true) => "from memory".to_owned(),
            (Standing::FromMemory, false) => format!("{citation}, from memory"),
        }
    }

    /// Whether the source says anything: a published or computed one must have a citation.
    #[must_use]
    pub fn is_stated(&self) -> bool {
        matches!(self.standing, Standing::CommonPractice | Standing::FromMemory)
            || !self.citation.trim().is_empty()
    }
}
