//! Refused answers in the words of a language. A refusal names the place and the check in English; the questions of the page know both.

use super::answers::Key;
use super::questions::Question;
use crate::domain::trade::Answer;
use crate::error::FieldError;
use crate::language::Language;

/// The refusals of answers as the language says them; others stay as they are.
#[must_use]
pub fn said(language: Language, errors: Vec<FieldError>, questions: &[Question]) -> Vec<FieldError> {
    let of_question = |sentence: &str| {
        questions
            .iter()
            .find_map(|asked| about(language, asked, sentence))
    };
    let said = |error: FieldError| match of_question(&error.message) {
        Some(message) => FieldError { message, ..error },
        None => error,
    };
    errors.into_iter().map(said).collect()
}

/// A refusal when it is about the answer to this question.
fn about(language: Language, asked: &Question, sentence: &str) -> Option<String> {
    let place = format!("{} {}", asked.spot.unit.label, asked.spot.tag_label);
    let what = sentence.strip_prefix(&format!("{place}, {}: ", asked.check.title))?;
    let what = what.strip_suffix('.')?;
    let words = language.check(&asked.check);
    // What is read is named in the words of the check.
    let what = match &asked.check.answer {
        Answer::Reading { of, .. } => what.replace(&format!("({of})"), &format!("({})", words.of)),
        Answer::Verdict { .. } => what.to_owned(),
    };
    let said = language.say("record-refused").with("place", place);
    let said = said.with("check", words.title);
    Some(said.with("what", language.sentence(&what)).to_string())
}

/// Refusals that name answers by their client ids, named by the fields of the form instead.
#[must_use]
pub fn on_the_form(errors: Vec<FieldError>, keys: &[Key]) -> Vec<FieldError> {
    let field = |id: &str| {
        let key = keys.iter().find(|key| key.client_id.to_string() == id);
        key.map_or_else(|| id.to_owned(), Key::field)
    };
    errors
        .into_iter()
        .map(|error| FieldError::new(field(&error.field), error.message))
        .collect()
}
