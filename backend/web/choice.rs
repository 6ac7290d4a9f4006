//! What a select, radios or a filter offers: a value to send and words to read; and facts to list.

use crate::domain::code::Coded;

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
    pub label: &'static str,
    /// What it says.
    pub value: String,
}

impl Fact {
    /// A fact.
    pub fn new(label: &'static str, value: impl Into<String>) -> Self {
        Self {
            label,
            value: value.into(),
        }
    }
}
