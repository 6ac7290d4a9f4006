//! The form of a household, for adding and changing alike. Names and contacts are on no page but this and the manager's view of a
//! unit; a technician is shown what an entry needs.

use askama::Template;

use crate::domain::register::{Building, Household, HouseholdText, Unit};
use crate::error::FieldError;
use crate::language::Language;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::form::Fields;
use crate::web::pages::units::words;

#[derive(Template)]
#[template(path = "pages/households/form.html")]
pub(super) struct Page {
    pub chrome: Chrome,
    pub building: String,
    pub unit_key: i64,
    pub unit: String,
    pub heading: &'static str,
    pub word: &'static str,
    /// Of a household that is there: its key, for the form that notes the move-out.
    pub leaving: Option<i64>,
    pub fields: Fields,
    pub errors: Vec<FieldError>,
}

impl Page {
    /// The page for a unit; `household` is the one that is changed.
    pub(super) fn new(
        context: &Context,
        request: &actix_web::HttpRequest,
        (building, unit): (&Building, &Unit),
        household: Option<&Household>,
        (fields, errors): (Fields, Vec<FieldError>),
    ) -> Self {
        let (heading, word) = match household {
            None => ("Add a household", "Add the household"),
            Some(_) => ("Change the household", "Save the household"),
        };
        Self {
            chrome: Chrome::new(context, request, heading),
            building: building.facts.code.clone(),
            unit_key: unit.id.0,
            unit: words::heading(Language::ENGLISH, &unit.facts),
            heading,
            word,
            leaving: household.map(|household| household.id.0),
            fields,
            errors,
        }
    }
}

/// The fields of a household as it is.
pub(super) fn fields_of(household: &Household) -> Fields {
    let facts = &household.facts;
    let mut fields = Fields::default();
    for (name, value) in [
        ("name", facts.name.clone()),
        ("language", facts.language.clone()),
        ("contact", facts.contact.clone()),
        ("agreed_hours", facts.agreed_hours.clone()),
        ("no_entry_days", facts.no_entry_days.clone()),
        ("moved_in_on", facts.moved_in_on.to_string()),
        (
            "moved_out_on",
            household
                .moved_out_on
                .map_or_else(String::new, |out| out.to_string()),
        ),
    ] {
        fields.set(name, value);
    }
    fields
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> HouseholdText {
    let text = |name: &str| fields.text(name).to_owned();
    HouseholdText {
        name: text("name"),
        language: text("language"),
        contact: text("contact"),
        agreed_hours: text("agreed_hours"),
        no_entry_days: text("no_entry_days"),
        moved_in_on: text("moved_in_on"),
    }
}
