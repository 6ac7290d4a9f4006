//! The form of a unit, for adding and changing alike.

use askama::Template;

use crate::domain::register::{Occupancy, UnitFacts, UnitKind, UnitText};
use crate::error::FieldError;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::form::Fields;

#[derive(Template)]
#[template(path = "pages/units/form.html")]
pub(super) struct Page {
    pub chrome: Chrome,
    pub building: String,
    pub heading: String,
    pub word: &'static str,
    pub back: String,
    pub fields: Fields,
    pub errors: Vec<FieldError>,
    pub kinds: Vec<Choice>,
    pub occupancies: Vec<Choice>,
}

/// The kinds of unit.
pub(super) fn kinds() -> Vec<Choice> {
    Choice::every(UnitKind::name)
}

/// The occupancies that are set by hand, and the one that the unit has.
pub(super) fn occupancies(now: Option<Occupancy>) -> Vec<Choice> {
    Choice::every(Occupancy::name)
        .into_iter()
        .filter(|choice| choice.value != "turnover" || now == Some(Occupancy::Turnover))
        .collect()
}

/// The fields of a unit as it is.
pub(super) fn fields_of(facts: &UnitFacts) -> Fields {
    let text = UnitText::from(facts);
    let mut fields = Fields::default();
    for (name, value) in [
        ("label", text.label),
        ("kind", text.kind),
        ("floor", text.floor),
        ("riser", text.riser),
        ("occupancy", text.occupancy),
    ] {
        fields.set(name, value);
    }
    fields
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> UnitText {
    let text = |name: &str| fields.text(name).to_owned();
    UnitText {
        label: text("label"),
        kind: text("kind"),
        floor: text("floor"),
        riser: text("riser"),
        occupancy: text("occupancy"),
    }
}
