//! Sentences that come ready made from the domain and from actions, in English: what is wrong with a field, what was refused, why a check
//! failed. Their English is repeated under keys that begin with `sentence-`, where a name stands for each value; a sentence that fits one is
//! said in another language under the same key, with the same values, each of which may be a sentence or a word of the trade itself. One
//! that fits none stays as it is.

use std::sync::LazyLock;

use fluent_bundle::FluentArgs;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, PatternElement};

use super::catalogue::PHONE;
use super::{Language, catalogue};
use crate::domain::field::FieldError;

/// How the key of a repeated sentence begins.
pub const FAMILY: &str = "sentence-";

enum Piece {
    Text(String),
    Value(String),
}

struct Pattern {
    key: String,
    pieces: Vec<Piece>,
}

static PATTERNS: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let english = catalogue::files().filter(|(tag, name, _)| tag == Language::ENGLISH.tag() && name != PHONE);
    let messages = english.flat_map(|(_, _, text)| {
        let resource = fluent_syntax::parser::parse(text).unwrap_or_else(|(read, _)| read);
        resource.body.into_iter().filter_map(|entry| match entry {
            Entry::Message(message) if message.id.name.starts_with(FAMILY) => Some(message),
            _ => None,
        })
    });
    let mut patterns: Vec<Pattern> = messages
        .filter_map(|message| {
            let pieces = message.value?.elements.into_iter().map(piece);
            Some(Pattern {
                key: message.id.name,
                pieces: pieces.collect::<Option<Vec<_>>>()?,
            })
        })
        .collect();
    // What says more comes first: a sentence without a value before one that any text would fit.
    patterns.sort_by_key(|pattern| std::cmp::Reverse(pattern.said()));
    patterns
});

fn piece(element: PatternElement<String>) -> Option<Piece> {
    match element {
        PatternElement::TextElement { value } => Some(Piece::Text(value)),
        PatternElement::Placeable {
            expression: Expression::Inline(InlineExpression::VariableReference { id }),
        } => Some(Piece::Value(id.name)),
        PatternElement::Placeable { .. } => None,
    }
}

impl Pattern {
    /// How many letters of it are its own.
    fn said(&self) -> usize {
        let own = self.pieces.iter().map(|piece| match piece {
            Piece::Text(text) => text.len(),
            Piece::Value(_) => 0,
        });
        own.sum()
    }

    /// The values by name, when the sentence is one of these.
    fn values<'a>(&'a self, sentence: &'a str) -> Option<Vec<(&'a str, &'a str)>> {
        let mut values = Vec::new();
        let mut rest = sentence;
        let mut waiting: Option<&str> = None;
        let last = self.pieces.len().saturating_sub(1);
        for (at, piece) in self.pieces.iter().enumerate() {
            match (piece, waiting) {
                (Piece::Value(name), _) => waiting = Some(name),
                (Piece::Text(text), None) => rest = rest.strip_prefix(text.as_str())?,
                // What ends the sentence may stand in its last value too.
                (Piece::Text(text), Some(name)) if at == last => {
                    values.push((name, rest.strip_suffix(text.as_str())?));
                    rest = "";
                    waiting = None;
                }
                (Piece::Text(text), Some(name)) => {
                    let (value, behind) = rest.split_once(text.as_str())?;
                    values.push((name, value));
                    rest = behind;
                    waiting = None;
                }
            }
        }
        match waiting {
            Some(name) => values.push((name, rest)),
            None if rest.is_empty() => {}
            None => return None,
        }
        Some(values)
    }
}

impl Language {
    /// A sentence of the program in this language, as far as there is one; also what a value of the trade is founded on.
    #[must_use]
    pub fn sentence(self, english: &str) -> String {
        if self == Self::ENGLISH {
            return english.to_owned();
        }
        // A word or a source is known as a whole; only what is none is taken apart.
        if let Some(term) = self.term(english) {
            return term;
        }
        let said = PATTERNS.iter().find_map(|pattern| {
            let values = pattern.values(english)?;
            let mut args = FluentArgs::new();
            for (name, value) in values {
                args.set(name, self.sentence(value));
            }
            catalogue::find(self.tag(), &pattern.key, &args)
        });
        said.or_else(|| self.dated(english))
            .unwrap_or_else(|| english.to_owned())
    }

    /// What is wrong with the fields of a form, in this language.
    #[must_use]
    pub fn errors(self, errors: Vec<FieldError>) -> Vec<FieldError> {
        let said = |error: FieldError| FieldError {
            message: self.sentence(&error.message),
            ..error
        };
        errors.into_iter().map(said).collect()
    }
}
