//! Reads the answers of a form: which questions it carried, what was chosen, typed, or passed with the rest of its group.
//! Judges nothing; a refusal comes back under the name of the field to mend.

use chrono::NaiveDateTime;
use chrono_tz::Tz;
use uuid::Uuid;

use super::questions::Question;
use crate::actions::results::Answer;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::FixtureId;
use crate::domain::result::done_at::read;
use crate::domain::result::{Outcome, missed_reason};
use crate::domain::trade::PartKind;
use crate::error::FieldError;
use crate::web::form::Fields;

/// A question as a form carries it. The field `ask` holds it as text; the names of its other fields end in its number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// Its number on the page.
    pub number: usize,
    /// The number of its group.
    pub group: usize,
    /// Under which its answer will be kept.
    pub client_id: Uuid,
    /// Of which fixture.
    pub fixture: FixtureId,
    /// Of which part.
    pub part: Option<PartKind>,
    /// Code of the check.
    pub check: String,
    /// What is asked: a verdict passes with the rest of its group, a reading never does.
    pub kind: Kind,
}

/// What a question asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Pass or fail.
    Verdict,
    /// A figure.
    Reading,
}

impl Key {
    /// The text that the field `ask` holds.
    #[must_use]
    pub fn text(&self) -> String {
        let part = self.part.map_or("-", PartKind::code);
        let kind = match self.kind {
            Kind::Verdict => "verdict",
            Kind::Reading => "reading",
        };
        format!(
            "{} {} {} {} {part} {} {kind}",
            self.number, self.group, self.client_id, self.fixture, self.check
        )
    }

    fn read(text: &str) -> Option<Self> {
        let words: Vec<&str> = text.split(' ').collect();
        let [number, group, client_id, fixture, part, check, kind] = words[..] else {
            return None;
        };
        Some(Self {
            number: number.parse().ok()?,
            group: group.parse().ok()?,
            client_id: client_id.parse().ok()?,
            fixture: FixtureId(fixture.parse().ok()?),
            part: match part {
                "-" => None,
                code => Some(PartKind::from_code(code).ok()?),
            },
            check: check.to_owned(),
            kind: match kind {
                "verdict" => Kind::Verdict,
                "reading" => Kind::Reading,
                _ => return None,
            },
        })
    }

    /// Whether it asks this question.
    #[must_use]
    pub fn is_of(&self, question: &Question) -> bool {
        self.fixture == question.spot.fixture
            && self.part == question.part
            && self.check == question.check.code.as_str()
    }

    /// The field that a refusal of the answer is shown at.
    #[must_use]
    pub fn field(&self) -> String {
        match self.kind {
            Kind::Verdict => format!("outcome-{}", self.number),
            Kind::Reading => format!("reading-{}", self.number),
        }
    }
}

/// The questions that a form carried.
#[must_use]
pub fn keys(fields: &Fields) -> Vec<Key> {
    fields.all("ask").filter_map(Key::read).collect()
}

/// The answers of a form, in the order of its questions; one that was left open is left out.
///
/// # Errors
/// A sentence for each question where something was typed but not answered, or one when nothing was answered at all.
pub fn answers(fields: &Fields, keys: &[Key]) -> Result<Vec<Answer>, Vec<FieldError>> {
    let mut found = Vec::new();
    let mut errors = Vec::new();
    for key in keys {
        match answer(fields, key) {
            Ok(Some(answer)) => found.push(answer),
            Ok(None) => {}
            Err(sentence) => errors.push(FieldError::new(key.field(), sentence)),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    if found.is_empty() {
        let first = keys.first().map(Key::field).unwrap_or_default();
        return Err(vec![FieldError::new(
            first,
            "Nothing is answered yet. Answer what you looked at; what stays open stays due.",
        )]);
    }
    Ok(found)
}

fn answer(fields: &Fields, key: &Key) -> Result<Option<Answer>, String> {
    let text = |name: &str| fields.text(&format!("{name}-{}", key.number));
    let chosen = match text("outcome") {
        "" => None,
        code => Some(Outcome::from_code(code)?),
    };
    let (reading, note) = (text("reading"), text("note"));
    let rest = key.kind == Kind::Verdict && fields.text(&format!("rest-{}", key.group)) == "pass";
    let outcome = match chosen {
        None if rest => Some(Outcome::Pass),
        None if reading.is_empty() && note.is_empty() => return Ok(None),
        None if reading.is_empty() => {
            return Err("There is a note here, but no answer. Answer pass or fail, or say why it could not be checked.".to_owned());
        }
        chosen => chosen,
    };
    // The fields of another bar stay folded away with what was typed before; only the chosen bar's count.
    let reason = match outcome {
        Some(Outcome::NotChecked) => missed_reason(text("reason"), text("why")),
        _ => String::new(),
    };
    let reading = match outcome {
        Some(Outcome::NotChecked) => "",
        _ => reading,
    };
    Ok(Some(Answer {
        client_id: key.client_id,
        fixture: key.fixture,
        part: key.part,
        check: key.check.clone(),
        outcome,
        reading: reading.to_owned(),
        reason,
        note: note.to_owned(),
        done_at: None,
    }))
}

/// The instant of the field `done_at`; none when it was left empty.
///
/// # Errors
/// A sentence when it can't be read or the building's clock skipped it.
pub fn done_at(fields: &Fields, zone: Tz, now: Now) -> Result<Option<NaiveDateTime>, Vec<FieldError>> {
    match fields.text("done_at") {
        "" => Ok(None),
        text => read(text, zone, now.0)
            .map(Some)
            .map_err(|sentence| vec![FieldError::new("done_at", sentence)]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(number: usize, kind: Kind) -> Key {
        Key {
            number,
            group: 1,
            client_id: Uuid::from_u128(7),
            fixture: FixtureId(3),
            part: Some(PartKind::WaxSeal),
            check: "wc_base_dry".to_owned(),
            kind,
        }
    }

    fn outcomes(pairs: &[(&str, &str)], kind: Kind) -> Result<Vec<Option<Outcome>>, Vec<FieldError>> {
        let found = answers(&Fields::from_pairs(pairs), &[key(4, kind)])?;
        Ok(found.into_iter().map(|answer| answer.outcome).collect())
    }

    #[test]
    fn a_question_comes_back_as_it_was_asked() {
        let asked = key(4, Kind::Verdict);
        let fields = Fields::from_pairs(&[("ask", &asked.text()), ("ask", "nonsense")]);
        assert_eq!(keys(&fields), [asked]);
    }

    #[test]
    fn the_rest_of_a_group_passes_but_an_exception_and_a_reading_do_not() {
        let rest = ("rest-1", "pass");
        assert_eq!(outcomes(&[rest], Kind::Verdict), Ok(vec![Some(Outcome::Pass)]));
        let exception = ("outcome-4", "fail");
        assert_eq!(
            outcomes(&[rest, exception], Kind::Verdict),
            Ok(vec![Some(Outcome::Fail)])
        );
        assert!(outcomes(&[rest], Kind::Reading).is_err(), "nothing was measured");
    }

    #[test]
    fn a_note_without_an_answer_is_not_lost() {
        let refused = outcomes(&[("note-4", "damp")], Kind::Verdict);
        assert_eq!(
            refused.map_err(|errors| errors[0].field.clone()),
            Err("outcome-4".to_owned())
        );
    }
}
