//! One answer as somebody gave it, judged: pass, fail or not checked, and why. Decides what an answer must carry; the limits and
//! their comparison belong to the trade. Knows no fixture, no date and no person.

use std::fmt;

use crate::domain::code::words;
use crate::domain::trade::outcome::{AnswerError, Context, outcome};
use crate::domain::trade::{Answer, Check, Verdict};

words! {
    /// How a check came out.
    Outcome "outcome" {
        Pass = "pass", "Pass";
        Fail = "fail", "Fail";
        NotChecked = "not_checked", "Not checked";
    }
}

impl Outcome {
    /// Whether the check counts as done: a pass or a fail does, an attempt does not.
    #[must_use]
    pub const fn is_done(self) -> bool {
        matches!(self, Self::Pass | Self::Fail)
    }
}

impl From<Verdict> for Outcome {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Pass,
            Verdict::Fail => Self::Fail,
        }
    }
}

/// An answer as given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Given<'a> {
    /// The bar that was chosen; none when the reading decides.
    pub outcome: Option<Outcome>,
    /// The reading as typed, empty when none was.
    pub reading: &'a str,
    /// Why it was not checked, empty otherwise.
    pub reason: &'a str,
    /// Free text.
    pub note: &'a str,
}

/// An answer as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// How it came out.
    pub outcome: Outcome,
    /// Why it failed or was not checked, as a phrase; empty for a pass.
    pub reason: String,
    /// The reading exactly as typed, trimmed; empty for a verdict.
    pub reading: String,
}

/// Why an answer can't be taken, as a sentence that says what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AnswerRefusal {
    /// Neither a bar nor a reading.
    Nothing,
    /// Not checked, and no reason.
    NoReason,
    /// Not checked, and a reading.
    MissedWithReading(String),
    /// A reason for not checking on an answer that checked.
    DoneWithReason(String),
    /// A reading where pass or fail is asked.
    ReadingOfVerdict(String),
    /// A pass without the reading that shows it.
    PassWithoutReading {
        /// What is read.
        of: String,
    },
    /// A fail of a reading with neither a reading nor a note.
    FailWithoutReading {
        /// What is read.
        of: String,
    },
    /// The bar says one thing and the reading another.
    Contradiction {
        /// What was chosen.
        given: Outcome,
        /// Why the reading says otherwise.
        found: String,
    },
    /// A reading that can't be read, or a limit that can't.
    Unreadable(AnswerError),
}

impl fmt::Display for AnswerRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => {
                f.write_str("nothing was answered; answer pass or fail, or say why it could not be checked")
            }
            Self::NoReason => {
                f.write_str("it was not checked, and no reason is given; say why it could not be checked")
            }
            Self::MissedWithReading(reading) => write!(
                f,
                "it is marked as not checked, but a reading \"{reading}\" is given; answer with the reading, or leave it out"
            ),
            Self::DoneWithReason(reason) => write!(
                f,
                "\"{reason}\" is a reason for not checking, but the check is answered; choose one, and put remarks in the note"
            ),
            Self::ReadingOfVerdict(reading) => write!(
                f,
                "\"{reading}\" is a reading, but this check asks for pass or fail; put the figure in the note"
            ),
            Self::PassWithoutReading { of } => {
                write!(f, "a pass needs the reading ({of}); write what was measured")
            }
            Self::FailWithoutReading { of } => write!(
                f,
                "a fail needs the reading ({of}), or a note that says what was seen instead; write one of them"
            ),
            Self::Contradiction { given, found } => write!(
                f,
                "the answer is {given}, but the reading says otherwise: {found}; leave the answer to the reading, or correct it"
            ),
            Self::Unreadable(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for AnswerRefusal {}

/// Judges an answer. A verdict is taken as given; a reading decides by the check's limits, and a bar chosen beside it must agree.
///
/// # Errors
/// A sentence, without the name of the check, when the answer can't be taken; nothing is guessed.
pub fn judge(check: &Check, given: &Given<'_>, context: &Context) -> Result<Judged, AnswerRefusal> {
    let (reading, reason) = (given.reading.trim(), given.reason.trim());
    match given.outcome {
        Some(Outcome::NotChecked) => missed(reading, reason),
        None if reading.is_empty() => Err(AnswerRefusal::Nothing),
        _ if !reason.is_empty() => Err(AnswerRefusal::DoneWithReason(reason.to_owned())),
        chosen => match &check.answer {
            Answer::Verdict { .. } => verdict(check, chosen, reading, context),
            Answer::Reading { of, .. } if reading.is_empty() => unread(of, chosen, given.note.trim()),
            Answer::Reading { .. } => measured(check, chosen, reading, context),
        },
    }
}

fn missed(reading: &str, reason: &str) -> Result<Judged, AnswerRefusal> {
    if !reading.is_empty() {
        return Err(AnswerRefusal::MissedWithReading(reading.to_owned()));
    }
    if reason.is_empty() {
        return Err(AnswerRefusal::NoReason);
    }
    Ok(Judged {
        outcome: Outcome::NotChecked,
        reason: reason.to_owned(),
        reading: String::new(),
    })
}

fn verdict(
    check: &Check,
    chosen: Option<Outcome>,
    reading: &str,
    context: &Context,
) -> Result<Judged, AnswerRefusal> {
    if !reading.is_empty() {
        return Err(AnswerRefusal::ReadingOfVerdict(reading.to_owned()));
    }
    let word = match chosen {
        Some(Outcome::Pass) => "pass",
        Some(Outcome::Fail) => "fail",
        _ => return Err(AnswerRefusal::Nothing),
    };
    let found = outcome(check, word, context).map_err(AnswerRefusal::Unreadable)?;
    Ok(kept(found.verdict.into(), found.reason, ""))
}

/// A reading check answered without a figure: a fail can be seen without one, a pass can't.
fn unread(of: &str, chosen: Option<Outcome>, note: &str) -> Result<Judged, AnswerRefusal> {
    let of = of.to_owned();
    match chosen {
        Some(Outcome::Fail) if note.is_empty() => Err(AnswerRefusal::FailWithoutReading { of }),
        Some(Outcome::Fail) => Ok(kept(
            Outcome::Fail,
            "failed without a reading, see the note".to_owned(),
            "",
        )),
        _ => Err(AnswerRefusal::PassWithoutReading { of }),
    }
}

fn measured(
    check: &Check,
    chosen: Option<Outcome>,
    reading: &str,
    context: &Context,
) -> Result<Judged, AnswerRefusal> {
    let found = outcome(check, reading, context).map_err(AnswerRefusal::Unreadable)?;
    let says = Outcome::from(found.verdict);
    match chosen {
        Some(given) if given != says => Err(AnswerRefusal::Contradiction {
            given,
            found: found.reason,
        }),
        _ => Ok(kept(says, found.reason, reading)),
    }
}

fn kept(outcome: Outcome, reason: String, reading: &str) -> Judged {
    Judged {
        outcome,
        reason: if outcome == Outcome::Pass {
            String::new()
        } else {
            reason
        },
        reading: reading.to_owned(),
    }
}
