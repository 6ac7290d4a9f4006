//! What an answer means: pass or fail, and why. Decides by exact comparison, never rounding in anyone's favour;
//! knows no fixture and no history.

use std::fmt;

use super::check::{Answer, Bound, Check, Limit, ProfileCode};
use crate::domain::code::words;
use crate::domain::measure::{Amount, LengthUnit, MeasureError, Unit};

words! {
    /// Pass or fail.
    Verdict "verdict" {
        Pass = "pass", "Pass";
        Fail = "fail", "Fail";
    }
}

/// What is known of the building when an answer is judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Context {
    /// The building's clearance profile.
    pub profile: ProfileCode,
    /// The unit a bare length is in.
    pub length_unit: LengthUnit,
}

/// What an answer means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// Pass or fail.
    pub verdict: Verdict,
    /// Why, as a phrase: "14 7/8 in is under 15 in (IPC 405.3.1)", "Wet, stained or smells".
    pub reason: String,
    /// The reading as exact value, when the check asks for one.
    pub reading: Option<Amount>,
}

/// Why an answer can't be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AnswerError {
    /// A verdict that is neither pass nor fail.
    NotAVerdict(String),
    /// A reading that can't be read.
    Unreadable(MeasureError),
    /// A limit of the check that can't be read.
    BadLimit(MeasureError),
}

impl fmt::Display for AnswerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAVerdict(given) => write!(f, "\"{given}\" is no verdict; answer pass or fail"),
            Self::Unreadable(error) => error.fmt(f),
            Self::BadLimit(error) => {
                write!(
                    f,
                    "the check's own limit can't be read ({error}); correct the check"
                )
            }
        }
    }
}

impl std::error::Error for AnswerError {}

/// Judges an answer: `pass` or `fail` for a verdict, a measured value as people type it for a reading.
///
/// # Errors
/// A sentence when the answer can't be read; nothing is guessed.
pub fn outcome(check: &Check, given: &str, context: &Context) -> Result<Outcome, AnswerError> {
    match &check.answer {
        Answer::Verdict { pass, fail } => match given.trim() {
            "pass" => Ok(Outcome {
                verdict: Verdict::Pass,
                reason: pass.clone(),
                reading: None,
            }),
            "fail" => Ok(Outcome {
                verdict: Verdict::Fail,
                reason: fail.clone(),
                reading: None,
            }),
            other => Err(AnswerError::NotAVerdict(other.to_owned())),
        },
        Answer::Reading { unit, limits, .. } => {
            let unit = bare_unit(*unit, context.length_unit);
            let amount = Amount::parse(given, unit).map_err(AnswerError::Unreadable)?;
            judge(limits, &unit.behind(given.trim()), amount, unit, context)
        }
    }
}

/// The unit a bare number is in: the check's own, but lengths in the building's.
#[must_use]
pub fn bare_unit(unit: Unit, length_unit: LengthUnit) -> Unit {
    match unit {
        Unit::Inch | Unit::Millimetre => length_unit.unit(),
        other => other,
    }
}

fn judge(
    limits: &[Limit],
    typed: &str,
    amount: Amount,
    unit: Unit,
    context: &Context,
) -> Result<Outcome, AnswerError> {
    let mut kept = Vec::new();
    for limit in limits.iter().filter(|limit| limit.holds_under(&context.profile)) {
        let bar = Amount::parse(&limit.value, unit).map_err(AnswerError::BadLimit)?;
        let order = amount.compare(&bar).map_err(AnswerError::BadLimit)?;
        let broken = match limit.bound {
            Bound::AtLeast => order.is_lt(),
            Bound::AtMost => order.is_gt(),
        };
        if broken {
            let side = match limit.bound {
                Bound::AtLeast => "under",
                Bound::AtMost => "over",
            };
            let reason = format!("{typed} is {side} {} ({})", limit.value, limit.source.phrase());
            return Ok(Outcome {
                verdict: Verdict::Fail,
                reason,
                reading: Some(amount),
            });
        }
        kept.push(format!("{} {}", limit.bound.name(), limit.value));
    }
    let reason = if kept.is_empty() {
        format!("{typed}, no limit")
    } else {
        format!("{typed}, {}", kept.join(", "))
    };
    Ok(Outcome {
        verdict: Verdict::Pass,
        reason,
        reading: Some(amount),
    })
}
