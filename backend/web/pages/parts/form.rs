//! The form of a part, for adding and changing alike.

use askama::Template;

use crate::domain::register::PartText;
use crate::error::FieldError;
use crate::store::fixtures::Placed;
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::form::Fields;
use crate::web::pages::units::words;

#[derive(Template)]
#[template(path = "pages/parts/form.html")]
pub(super) struct Page {
    pub chrome: Chrome,
    pub fixture: i64,
    pub building: String,
    pub unit_key: i64,
    pub unit: String,
    pub tag: String,
    pub heading: String,
    pub word: String,
    /// The kinds to choose from; empty when the kind is known.
    pub kinds: Vec<Choice>,
    pub fields: Fields,
    pub errors: Vec<FieldError>,
}

impl Page {
    /// The page at a fixture.
    pub(super) fn new(
        chrome: Chrome,
        word: &'static str,
        placed: &Placed,
        kinds: Vec<Choice>,
        (fields, errors): (Fields, Vec<FieldError>),
    ) -> Self {
        let language = chrome.language;
        Self {
            heading: chrome.title.clone(),
            chrome: chrome.spoken(),
            fixture: placed.fixture.id.0,
            building: placed.building.facts.code.clone(),
            unit_key: placed.unit.id.0,
            unit: words::heading(language, &placed.unit.facts),
            tag: placed.tag.label.clone(),
            word: language.say(word).into(),
            kinds,
            fields,
            errors: language.errors(errors),
        }
    }
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> PartText {
    let text = |name: &str| fields.text(name).to_owned();
    PartText {
        kind: text("kind"),
        installed_on: text("installed_on"),
        installed_estimated: text("installed_estimated"),
    }
}
