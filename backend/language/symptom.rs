//! Symptoms, the questions that tell their causes apart, and causes in a language. English stands in the catalogue of the trade; another
//! language has its translation by code in `symptoms.ftl`: the symptom, beside it each question by its code with its replies in order; the
//! cause, beside it what puts it right.

use super::{Language, catalogue};
use crate::domain::trade::symptom::{Cause, Question, Symptom};

/// A cause as it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CauseWords {
    /// In a few words.
    pub name: String,
    /// What to do, first things first.
    pub remedy: String,
    /// What else is needed; empty for nothing.
    pub also: String,
}

impl Language {
    /// A symptom as somebody would say it.
    #[must_use]
    pub fn symptom(self, symptom: &Symptom) -> String {
        self.own(&format!("symptom-{}", symptom.code))
            .unwrap_or_else(|| symptom.name.clone())
    }

    /// A question of a symptom.
    #[must_use]
    pub fn question(self, symptom: &Symptom, question: &Question) -> String {
        self.of_symptom(symptom, &question.code)
            .unwrap_or_else(|| question.ask.clone())
    }

    /// A reply to a question, by its place from 0.
    #[must_use]
    pub fn reply(self, symptom: &Symptom, question: &Question, place: usize) -> String {
        let said = self.of_symptom(symptom, &format!("{}-{}", question.code, place + 1));
        let written = || question.replies.get(place).map(|reply| reply.say.clone());
        said.or_else(written).unwrap_or_default()
    }

    fn of_symptom(self, symptom: &Symptom, name: &str) -> Option<String> {
        if self == Self::ENGLISH {
            return None;
        }
        catalogue::beside(self.tag(), &format!("symptom-{}", symptom.code), name)
    }

    /// A cause with what puts it right. A language says all of it or none.
    #[must_use]
    pub fn cause(self, cause: &Cause) -> CauseWords {
        let key = format!("cause-{}", cause.code);
        let beside = |name: &str| catalogue::beside(self.tag(), &key, name);
        let own = || {
            Some(CauseWords {
                name: self.own(&key)?,
                remedy: beside("remedy")?,
                also: if cause.also.is_empty() {
                    String::new()
                } else {
                    beside("also")?
                },
            })
        };
        own().unwrap_or_else(|| CauseWords {
            name: cause.name.clone(),
            remedy: cause.remedy.clone(),
            also: cause.also.clone(),
        })
    }
}
