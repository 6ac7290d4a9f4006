//! From a symptom to its cause: tests that tell causes apart, and for each cause what puts it right. Guidance, not a verdict.
//! Decides where a row of answers leads; knows no fixture of ours and records nothing.
//!
//! The first answer is the symptom itself, so that nobody answers more than [`MOST_ANSWERS`] questions.

use serde::{Deserialize, Serialize};

use super::check::{CheckCode, Performer};
use super::{Caution, FixtureKind, PartKind, Source};

/// The most answers from a fixture to a cause, the choice of the symptom among them.
pub const MOST_ANSWERS: usize = 4;

/// What a page says beside every cause.
pub const GUIDANCE: &str = "This is guidance from a few answers. What is seen on the spot decides, and local codes and licensed practice.";

/// What is likely wrong, and what puts it right.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cause {
    /// Its code.
    pub code: CheckCode,
    /// In a few words: "Flapper worn".
    pub name: String,
    /// What to do, first things first.
    pub remedy: String,
    /// The wearing parts that are likely needed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartKind>,
    /// What else is needed; empty for nothing.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub also: String,
    /// Minutes of work.
    pub minutes: f64,
    /// Where the minutes come from.
    pub minutes_source: Source,
    /// Who may put it right.
    pub performer: Performer,
    /// The dangers that the work touches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// Where cause and remedy come from.
    pub source: Source,
}

/// Where an answer leads.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Next {
    /// To another question, by its code.
    Ask(String),
    /// To a cause, by its code.
    Found(String),
}

/// One answer to a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reply {
    /// What is seen, heard or felt.
    pub say: String,
    /// Where it leads.
    pub next: Next,
}

/// A test that tells causes apart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// Its code within the symptom.
    pub code: String,
    /// What to do or to look at, as a question.
    pub ask: String,
    /// The answers, two or more.
    pub replies: Vec<Reply>,
    /// The dangers that the test touches.
    pub cautions: Vec<Caution>,
}

/// Something that is seen, heard or felt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Symptom {
    /// Its code.
    pub code: CheckCode,
    /// As somebody would say it: "Refills by itself".
    pub name: String,
    /// At which kinds of fixture.
    pub kinds: Vec<FixtureKind>,
    /// The questions; the first one is asked first.
    pub questions: Vec<Question>,
    /// Where the order of the tests comes from.
    pub source: Source,
}

/// Every symptom and cause of the catalogue.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Symptoms {
    /// The symptoms, the likeliest of a kind first.
    pub symptoms: Vec<Symptom>,
    /// The causes.
    pub causes: Vec<Cause>,
}

/// Where a row of answers has come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step<'a> {
    /// A question is to be answered.
    Ask(&'a Question),
    /// A cause was reached.
    Found(&'a Cause),
}

/// One question with the answer that was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Said<'a> {
    /// The question.
    pub ask: &'a str,
    /// The answer.
    pub say: &'a str,
}

/// A walk through a symptom.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk<'a> {
    /// What was asked and answered, in order.
    pub said: Vec<Said<'a>>,
    /// Where it has come to.
    pub step: Step<'a>,
}

impl Symptoms {
    /// The symptoms of a kind of fixture.
    pub fn of_kind(&self, kind: FixtureKind) -> impl Iterator<Item = &Symptom> {
        self.symptoms
            .iter()
            .filter(move |symptom| symptom.kinds.contains(&kind))
    }

    /// The symptom of a code.
    #[must_use]
    pub fn symptom(&self, code: &str) -> Option<&Symptom> {
        self.symptoms.iter().find(|symptom| symptom.code.as_str() == code)
    }

    /// The cause of a code.
    #[must_use]
    pub fn cause(&self, code: &str) -> Option<&Cause> {
        self.causes.iter().find(|cause| cause.code.as_str() == code)
    }

    /// Follows answers, each the place of a reply from 0, from the first question of a symptom.
    ///
    /// # Errors
    /// A sentence when an answer is none of the question's, or comes after the cause.
    pub fn walk<'a>(&'a self, symptom: &'a Symptom, answers: &[usize]) -> Result<Walk<'a>, String> {
        let mut step = match symptom.questions.first() {
            Some(first) => Step::Ask(first),
            None => return Err(format!("“{}” asks nothing.", symptom.name)),
        };
        let mut said = Vec::new();
        for answer in answers {
            let Step::Ask(question) = step else {
                return Err("There is an answer more than questions. Begin again.".to_owned());
            };
            let reply = question.replies.get(*answer).ok_or_else(|| {
                format!(
                    "“{}” has {} answers. Choose one of them.",
                    question.ask,
                    question.replies.len()
                )
            })?;
            said.push(Said {
                ask: &question.ask,
                say: &reply.say,
            });
            step = self.next(symptom, &reply.next)?;
        }
        Ok(Walk { said, step })
    }

    fn next<'a>(&'a self, symptom: &'a Symptom, next: &Next) -> Result<Step<'a>, String> {
        let found = match next {
            Next::Ask(code) => symptom
                .questions
                .iter()
                .find(|question| question.code == *code)
                .map(Step::Ask),
            Next::Found(code) => self.cause(code).map(Step::Found),
        };
        found.ok_or_else(|| format!("“{}” leads nowhere from here.", symptom.name))
    }

    /// Every row of answers of a symptom that reaches a cause, with the cause; rows that need more than [`MOST_ANSWERS`] are an error.
    ///
    /// # Errors
    /// A sentence that names the row that is too long or leads nowhere.
    pub fn ways<'a>(&'a self, symptom: &'a Symptom) -> Result<Vec<(Vec<usize>, &'a Cause)>, String> {
        let mut open = vec![Vec::new()];
        let mut found = Vec::new();
        while let Some(answers) = open.pop() {
            match self.walk(symptom, &answers)?.step {
                Step::Found(cause) => found.push((answers, cause)),
                Step::Ask(question) if answers.len() + 1 >= MOST_ANSWERS => {
                    return Err(format!(
                        "“{}” still asks “{}” after {MOST_ANSWERS} answers; shorten it",
                        symptom.name, question.ask
                    ));
                }
                Step::Ask(question) => {
                    for reply in (0..question.replies.len()).rev() {
                        let mut longer = answers.clone();
                        longer.push(reply);
                        open.push(longer);
                    }
                }
            }
        }
        Ok(found)
    }
}
