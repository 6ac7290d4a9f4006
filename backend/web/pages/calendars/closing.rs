//! The fields of a public holiday or a shut-down period: what the forms that add and change one offer, show and read.

use crate::domain::code::Coded as _;
use crate::domain::due::{Closing, ClosingKind, ClosingText, Repeats};
use crate::domain::field::capital;
use crate::domain::register::ClosingId;
use crate::error::{Error, Result};
use crate::web::choice::Choice;
use crate::web::form::Fields;

/// What the fields offer.
pub(super) struct Offers {
    pub kinds: Vec<Choice>,
    pub repeats: Vec<Choice>,
}

/// Every kind and every way to repeat.
pub(super) fn offers() -> Offers {
    Offers {
        kinds: ClosingKind::ALL
            .iter()
            .map(|kind| Choice::new(kind.code(), capital(kind.name())))
            .collect(),
        repeats: Choice::every(Repeats::name),
    }
}

/// The closed days as the form shows them; a rule only where it is repeated by one.
pub(super) fn fields_of(closing: &Closing) -> Fields {
    let text = ClosingText::of(closing);
    let is_by_rule = text.repeats == Repeats::Rule.code();
    Fields::from_pairs(&[
        ("kind", &text.kind),
        ("name", &text.name),
        ("start", &text.start),
        ("days", &text.days),
        ("repeats", &text.repeats),
        ("rule", if is_by_rule { &text.rule } else { "" }),
    ])
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> ClosingText {
    let one = |name: &str| fields.text(name).to_owned();
    ClosingText {
        kind: one("kind"),
        name: one("name"),
        start: one("start"),
        repeats: one("repeats"),
        rule: one("rule"),
        days: one("days"),
    }
}

/// The key in an address.
///
/// # Errors
/// When it is none.
pub(super) fn key(text: &str) -> Result<ClosingId> {
    let key = text.parse().map(ClosingId);
    key.map_err(|_not_a_key| Error::not_found("such closed days"))
}
