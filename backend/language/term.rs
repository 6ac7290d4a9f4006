//! Words of the trade that stand in an English sentence of the program: a part, a kind of fixture, where a value comes from. Found by
//! their English; what is none of these has no translation here.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::Language;
use crate::domain::code::Worded;
use crate::domain::register::Service;
use crate::domain::result::{ClosedHow, MissedReason};
use crate::domain::trade::clearance::{Decision, Dimension};
use crate::domain::trade::leak_point::Wetness;
use crate::domain::trade::water::Method;
use crate::domain::trade::{Bound, FixtureKind, PartKind, Severity};

type Terms = BTreeMap<String, String>;

/// By language: English words, as a sentence begins with them and as they stand within it.
static TERMS: LazyLock<BTreeMap<&'static str, Terms>> = LazyLock::new(|| {
    let others = Language::all().filter(|language| *language != Language::ENGLISH);
    others.map(|language| (language.tag(), terms(language))).collect()
});

fn terms(language: Language) -> Terms {
    fn add<T: Worded>(terms: &mut Terms, language: Language) {
        for value in T::ALL {
            let (english, own) = (value.word(), language.word(*value));
            terms.insert(english.to_lowercase(), own.to_lowercase());
            terms.insert(english.to_owned(), own);
        }
    }
    let mut terms = Terms::new();
    add::<FixtureKind>(&mut terms, language);
    add::<PartKind>(&mut terms, language);
    add::<Severity>(&mut terms, language);
    add::<Service>(&mut terms, language);
    add::<ClosedHow>(&mut terms, language);
    add::<MissedReason>(&mut terms, language);
    add::<Wetness>(&mut terms, language);
    add::<Method>(&mut terms, language);
    add::<Dimension>(&mut terms, language);
    add::<Decision>(&mut terms, language);
    add::<Bound>(&mut terms, language);
    terms
}

impl Language {
    /// A word of the trade or what a source says, found by its English; none for anything else.
    pub(super) fn term(self, english: &str) -> Option<String> {
        let own = TERMS.get(self.tag())?.get(english).cloned();
        own.or_else(|| self.known_citation(english))
    }
}
