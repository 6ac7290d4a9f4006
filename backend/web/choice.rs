//! What a select, radios or a filter offers: a value to send and words to read; and facts to list.

use crate::domain::code::{Coded, Worded};
use crate::language::Language;

/// One thing to choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// What is sent.
    pub value: String,
    /// What people read.
    pub label: String,
}

impl Choice {
    /// A choice.
    pub fn new(value: impl Into<String>, label: impl Into<String>) -> Self {
        Self {
            value: value.into(),
            label: label.into(),
        }
    }

    /// Every language there is, each by its name in itself.
    #[must_use]
    pub fn languages() -> Vec<Self> {
        Language::all()
            .map(|language| Self::new(language.tag(), language.name()))
            .collect()
    }

    /// Every value of an enum with its word in a language.
    #[must_use]
    pub fn every_in<T: Worded>(language: Language) -> Vec<Self> {
        T::ALL
            .iter()
            .map(|&value| Self::new(value.code(), language.word(value)))
            .collect()
    }

    /// Every value of an enum with the words that `name` gives it: `Choice::every(FixtureKind::name)`.
    pub fn every<T: Coded>(name: impl Fn(T) -> &'static str) -> Vec<Self> {
        T::ALL
            .iter()
            .map(|&value| Self::new(value.code(), name(value)))
            .collect()
    }
}

/// One line of a list of facts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// What it says.
    pub value: String,
}

impl Fact {
    /// A fact.
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            value: value.into(),
        }
    }
}

/// One of several things that can be ticked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tick {
    /// What is sent.
    pub value: String,
    /// What people read.
    pub label: String,
    /// Whether it is ticked.
    pub is_ticked: bool,
}

/// Things to tick beneath a heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// The heading.
    pub name: &'static str,
    /// The things.
    pub ticks: Vec<Tick>,
}

impl Group {
    /// A group.
    #[must_use]
    pub fn new(name: &'static str, ticks: Vec<Tick>) -> Self {
        Self { name, ticks }
    }

    /// How many are ticked.
    #[must_use]
    pub fn ticked(&self) -> usize {
        self.ticks.iter().filter(|tick| tick.is_ticked).count()
    }

    /// Whether any is ticked.
    #[must_use]
    pub fn is_any(&self) -> bool {
        self.ticked() > 0
    }
}

/// Every value of an enum to tick; `chosen` are codes, several in one text with spaces between.
pub fn ticks<T: Coded>(name: impl Fn(T) -> &'static str, chosen: &[String]) -> Vec<Tick> {
    let is_ticked = |code: &str| {
        let mut codes = chosen.iter().flat_map(|text| text.split_whitespace());
        codes.any(|chosen| chosen == code)
    };
    T::ALL
        .iter()
        .map(|&value| Tick {
            value: value.code().to_owned(),
            label: name(value).to_owned(),
            is_ticked: is_ticked(value.code()),
        })
        .collect()
}
