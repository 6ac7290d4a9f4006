//! A message with what is put into it, written when it is shown.

use std::borrow::Cow;
use std::fmt;

use fluent_bundle::{FluentArgs, FluentValue};

use super::{Language, catalogue};

/// A message that is about to be said.
#[derive(Debug, Clone)]
pub struct Said {
    language: Language,
    key: Cow<'static, str>,
    args: Vec<(&'static str, FluentValue<'static>)>,
}

impl Said {
    pub(super) fn new(language: Language, key: impl Into<Cow<'static, str>>) -> Self {
        Self {
            language,
            key: key.into(),
            args: Vec::new(),
        }
    }

    /// Whether it says nothing, as a hint may.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.to_string().is_empty()
    }

    /// Puts something in under the name that the message has for it: a text, or a number that a plural may hang on.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Put) -> Self {
        self.args.push((name, value.put()));
        self
    }
}

impl Said {
    /// What stands before and behind something that is put in, for many rows that differ in nothing else.
    #[must_use]
    pub fn around(self, name: &'static str) -> (String, String) {
        /// In no message and nothing that people type.
        const PLACE: &str = "\u{1}";
        let said = self.with(name, PLACE).to_string();
        match said.split_once(PLACE) {
            Some((before, behind)) => (before.to_owned(), behind.to_owned()),
            None => (said, String::new()),
        }
    }
}

impl fmt::Display for Said {
    /// In the language, else in English; a message that is nowhere shows its key, which a test looks for.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let args: FluentArgs<'_> = self.args.iter().cloned().collect();
        let said = catalogue::find(self.language.tag(), &self.key, &args)
            .or_else(|| catalogue::find(Language::ENGLISH.tag(), &self.key, &args));
        match said {
            Some(text) => f.write_str(&text),
            None => {
                tracing::error!(key = %self.key, "no language has this message");
                write!(f, "{{{}}}", self.key)
            }
        }
    }
}

impl From<Said> for String {
    fn from(said: Said) -> Self {
        said.to_string()
    }
}

/// What can be put into a message.
pub trait Put {
    /// The value as messages take it.
    fn put(self) -> FluentValue<'static>;
}

impl Put for String {
    fn put(self) -> FluentValue<'static> {
        FluentValue::from(self)
    }
}

impl Put for &str {
    fn put(self) -> FluentValue<'static> {
        FluentValue::from(self.to_owned())
    }
}

/// As a template has it: behind one reference or two.
impl<T: Put + Clone> Put for &T {
    fn put(self) -> FluentValue<'static> {
        self.clone().put()
    }
}

impl Put for Said {
    fn put(self) -> FluentValue<'static> {
        FluentValue::from(self.to_string())
    }
}

macro_rules! numbers {
    ($($number:ty),+) => {
        $(
            impl Put for $number {
                fn put(self) -> FluentValue<'static> {
                    FluentValue::from(self)
                }
            }
        )+
    };
}

numbers!(i32, i64, u32, u64, usize);
