//! The trade's words in a language. English stands where the trade is written (`seeds/catalogue`, the domain); another language has its
//! translation by code in `trade.ftl`. A check is translated as long as the translation is of its version: an older one might say
//! another procedure, so then, and for the office's own checks, what was written is shown.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::sync::LazyLock;

use super::{Language, catalogue};
use crate::domain::code::Coded as _;
use crate::domain::code::Worded;
use crate::domain::result::MissedReason;
use crate::domain::trade::caution::{self, DEFERENCE, GAS_SMELL};
use crate::domain::trade::leak_point::{Drawing, LeakPoint};
use crate::domain::trade::urgent::Urgency;
use crate::domain::trade::{Answer, Caution, Check, FixtureKind, Limit, Source, Standing};
use crate::domain::visit::NoAccessReason;

/// A check as it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckWords {
    /// A few words.
    pub title: String,
    /// What to do.
    pub ask: String,
    /// How to do it, a step a line.
    pub method: Vec<String>,
    /// What passes; empty for a reading.
    pub pass: String,
    /// What fails; empty for a reading.
    pub fail: String,
    /// What is read; empty for a verdict.
    pub of: String,
}

impl CheckWords {
    fn written(check: &Check) -> Self {
        let (pass, fail, of) = match &check.answer {
            Answer::Verdict { pass, fail } => (pass.clone(), fail.clone(), String::new()),
            Answer::Reading { of, .. } => (String::new(), String::new(), of.clone()),
        };
        Self {
            title: check.title.clone(),
            ask: check.ask.clone(),
            method: check.method.clone(),
            pass,
            fail,
            of,
        }
    }

    /// The translation, when there is one of this version that says everything the check says.
    fn translated(check: &Check, tag: &str) -> Option<Self> {
        let key = format!("check-{}", check.code);
        let beside = |name: &str| catalogue::beside(tag, &key, name);
        if beside("version")? != check.version.to_string() {
            return None;
        }
        let steps = (1..=check.method.len()).map(|step| beside(&format!("method-{step}")));
        let is_reading = matches!(check.answer, Answer::Reading { .. });
        let said = |name: &str, is_asked: bool| {
            if is_asked {
                beside(name)
            } else {
                Some(String::new())
            }
        };
        Some(Self {
            title: catalogue::find(tag, &key, &fluent_bundle::FluentArgs::new())?,
            ask: beside("ask")?,
            method: steps.collect::<Option<Vec<_>>>()?,
            pass: said("pass", !is_reading)?,
            fail: said("fail", !is_reading)?,
            of: said("of", is_reading)?,
        })
    }
}

/// What is put into the key of a message for a code: `L-min` for `L/min`.
fn key_part(code: &str) -> String {
    code.replace([' ', '/'], "-").replace('%', "percent")
}

impl Language {
    /// A word of the trade: the name of a kind, a part, a severity, a reason.
    #[must_use]
    pub fn word<T: Worded>(self, value: T) -> String {
        let key = format!("{}-{}", key_part(T::NOUN), key_part(value.code()));
        self.own(&key).unwrap_or_else(|| value.word().to_owned())
    }

    /// A message without anything put in, in this language alone; none for English, which has the trade's words elsewhere.
    pub(super) fn own(self, key: &str) -> Option<String> {
        if self == Self::ENGLISH {
            return None;
        }
        catalogue::find(self.tag(), key, &fluent_bundle::FluentArgs::new())
    }

    /// A check as this language reads it.
    #[must_use]
    pub fn check(self, check: &Check) -> CheckWords {
        let translated = (self != Self::ENGLISH)
            .then(|| CheckWords::translated(check, self.tag()))
            .flatten();
        translated.unwrap_or_else(|| CheckWords::written(check))
    }

    /// The few words of a check that is known by its code and version, `written` where there is no translation of that version. Lists ask
    /// for many, so it takes no message apart.
    #[must_use]
    pub fn check_title<'a>(self, code: &str, version: u32, written: &'a str) -> Cow<'a, str> {
        if self == Self::ENGLISH {
            return Cow::Borrowed(written);
        }
        let known = TITLES.get(self.tag()).and_then(|titles| titles.get(code));
        match known {
            Some((of, title)) if *of == version => Cow::Borrowed(title),
            _ => Cow::Borrowed(written),
        }
    }

    /// That local codes and licensed practice decide.
    #[must_use]
    pub fn deference(self) -> String {
        self.own("caution-deference")
            .unwrap_or_else(|| DEFERENCE.to_owned())
    }

    /// What to do at a smell of gas.
    #[must_use]
    pub fn gas_smell(self) -> String {
        self.own("caution-gas_smell")
            .unwrap_or_else(|| GAS_SMELL.to_owned())
    }

    /// What to mind at a danger, without what to do at a smell of gas.
    #[must_use]
    pub fn advice(self, danger: Caution) -> String {
        let key = format!("caution-{}", danger.code());
        let advice = if self == Self::ENGLISH {
            None
        } else {
            catalogue::beside(self.tag(), &key, "advice")
        };
        advice.unwrap_or_else(|| danger.advice().to_owned())
    }

    /// What to mind at a danger; for gas, what to do at its smell comes first.
    #[must_use]
    pub fn warning(self, danger: Caution) -> String {
        let advice = self.advice(danger);
        match danger {
            Caution::Gas => format!("{} {advice}", self.gas_smell()),
            _ => advice,
        }
    }

    /// The warnings of these dangers as far as a fixture of this kind has them, each once, gas first.
    #[must_use]
    pub fn warnings(self, dangers: &[Caution], kind: Option<FixtureKind>) -> Vec<String> {
        let those = caution::that_concern(dangers, kind);
        those.into_iter().map(|danger| self.warning(danger)).collect()
    }

    /// What to do first at something urgent, in order. A language says every step or none: half of them would be another order.
    #[must_use]
    pub fn steps(self, urgency: Urgency) -> Vec<String> {
        let written = || urgency.steps().iter().map(|step| (*step).to_owned()).collect();
        if self == Self::ENGLISH {
            return written();
        }
        let key = format!("urgency-{}", urgency.code());
        let step = |number: usize| catalogue::beside(self.tag(), &key, &format!("step-{number}"));
        let steps: Option<Vec<String>> = (1..=urgency.steps().len()).map(step).collect();
        steps.unwrap_or_else(written)
    }

    /// Where a value comes from. Publications keep their names; what the trade does is said in the language.
    #[must_use]
    pub fn source(self, source: &Source) -> String {
        if self == Self::ENGLISH {
            return source.phrase();
        }
        let word = |key: &str, english: &str| self.own(key).unwrap_or_else(|| english.to_owned());
        let citation = self.sentence(source.citation.trim());
        match (source.standing, citation.is_empty()) {
            (Standing::Published, _) => citation,
            (Standing::Computed, _) => format!("{}: {citation}", word("source-computed", "computed")),
            (Standing::CommonPractice, true) => word("source-no_source", "common practice, no source"),
            (Standing::CommonPractice, false) => {
                format!(
                    "{}: {citation}",
                    word("source-common_practice", "common practice")
                )
            }
            (Standing::FromMemory, true) => word("source-from_memory", "from memory"),
            (Standing::FromMemory, false) => {
                format!("{citation}, {}", word("source-from_memory", "from memory"))
            }
        }
    }

    /// The translation of a citation; none for a publication, which keeps its name.
    pub(super) fn known_citation(self, written: &str) -> Option<String> {
        CITATIONS.get(self.tag())?.get(written).cloned()
    }

    /// A reason as it was kept: the offered one in this language, what was written beside it as it is.
    #[must_use]
    pub fn reason(self, kept: &str) -> String {
        fn offered<T: Worded>(language: Language, kept: &str) -> Option<String> {
            T::ALL.iter().find_map(|value| {
                let rest = kept.strip_prefix(value.word())?;
                let is_whole = rest.is_empty() || rest.starts_with(": ");
                is_whole.then(|| format!("{}{rest}", language.word(*value)))
            })
        }
        offered::<MissedReason>(self, kept)
            .or_else(|| offered::<NoAccessReason>(self, kept))
            .unwrap_or_else(|| kept.to_owned())
    }

    /// A limit as it is read: `at most 180 s`. The value stays as the rule prints it.
    #[must_use]
    pub fn limit(self, limit: &Limit) -> String {
        format!("{} {}", self.word(limit.bound), limit.value)
    }

    /// The name of a point that can leak, as on its drawing.
    #[must_use]
    pub fn leak_point(self, drawing: Drawing, point: &LeakPoint) -> String {
        let key = format!("leak-point-{}-{}", drawing.code(), point.code);
        self.own(&key).unwrap_or_else(|| point.name.clone())
    }
}

/// By language, then by code: the version of a check that is translated, and its title.
static TITLES: LazyLock<BTreeMap<&'static str, HashMap<String, (u32, String)>>> = LazyLock::new(|| {
    let of_language = |language: Language| {
        let keys = catalogue::keys_with(language.tag(), "check-");
        let titles = keys.into_iter().filter_map(|key| {
            let version = catalogue::beside(language.tag(), &key, "version")?;
            let title = language.own(&key)?;
            Some((
                key.strip_prefix("check-")?.to_owned(),
                (version.parse().ok()?, title),
            ))
        });
        (language.tag(), titles.collect())
    };
    Language::all().map(of_language).collect()
});

/// By language: what the catalogue of the trade says of a source, and its translation.
static CITATIONS: LazyLock<BTreeMap<&'static str, BTreeMap<String, String>>> = LazyLock::new(|| {
    let of_language = |language: Language| {
        let keys = catalogue::keys_with(language.tag(), "source-");
        let pairs = keys.into_iter().filter_map(|key| {
            Some((
                catalogue::beside(language.tag(), &key, "of")?,
                language.own(&key)?,
            ))
        });
        (language.tag(), pairs.collect())
    };
    Language::all().map(of_language).collect()
});
