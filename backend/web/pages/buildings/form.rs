//! The form of a building, for adding and changing alike: its fields as typed, and the choices it offers.

use askama::Template;

use crate::actions::register::add_building::BuildingForm;
use crate::domain::measure::LengthUnit;
use crate::domain::register::building::CODE_PROFILES;
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, BuildingText, Portfolio};
use crate::domain::trade::BaseJoint;
use crate::error::{FieldError, Result};
use crate::language::Language;
use crate::store::buildings::Technician;
use crate::store::{AnyConnection, buildings, portfolios};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::form::Fields;

#[derive(Template)]
#[template(path = "pages/buildings/form.html")]
pub(super) struct Page {
    pub chrome: Chrome,
    pub heading: String,
    pub word: &'static str,
    pub back: String,
    pub fields: Fields,
    pub errors: Vec<FieldError>,
    pub choices: Choices,
}

/// What the selects of the form offer.
pub(super) struct Choices {
    pub portfolios: Vec<Choice>,
    pub technicians: Vec<Choice>,
    pub zones: Vec<Choice>,
    pub profiles: Vec<Choice>,
    pub lengths: Vec<Choice>,
    pub joints: Vec<Choice>,
}

/// Reads what the selects offer.
pub(super) fn choices(conn: &mut AnyConnection) -> Result<Choices> {
    let (owners, people) = (
        portfolios::list(conn, &Scope::All)?,
        buildings::technicians(conn)?,
    );
    Ok(Choices {
        portfolios: owners.iter().map(portfolio_choice).collect(),
        technicians: people.iter().map(technician_choice).collect(),
        zones: chrono_tz::TZ_VARIANTS
            .iter()
            .map(|zone| Choice::new(zone.name(), zone.name()))
            .collect(),
        profiles: CODE_PROFILES
            .iter()
            .map(|(code, words)| Choice::new(*code, *words))
            .collect(),
        lengths: Choice::every(LengthUnit::name),
        joints: Choice::every(BaseJoint::name),
    })
}

fn portfolio_choice(portfolio: &Portfolio) -> Choice {
    Choice::new(
        &portfolio.facts.code,
        format!("{} ({})", portfolio.facts.name, portfolio.facts.code),
    )
}

fn technician_choice(person: &Technician) -> Choice {
    Choice::new(&person.email, format!("{} ({})", person.name, person.email))
}

/// A code profile as a language reads it; empty for one that is not known. The names of codes stay as they are published.
pub(super) fn profile_in(language: Language, code: &str) -> String {
    let known = CODE_PROFILES.iter().find(|(known, _)| *known == code);
    match (code, known) {
        (_, None) => String::new(),
        ("ada_dwelling", Some(_)) => language.say("building-profile-dwelling").into(),
        ("own", Some(_)) => language.say("building-profile-own").into(),
        (_, Some((_, words))) => (*words).to_owned(),
    }
}

/// The fields of a new building.
pub(super) fn blank(portfolio: &str) -> Fields {
    Fields::from_pairs(&[
        ("portfolio", portfolio),
        ("code_profile", "ipc"),
        ("length_unit", "in"),
        ("notice_hours", "24"),
        ("base_joint", "not_noted"),
    ])
}

/// The fields of a building as it is.
pub(super) fn fields_of(building: &Building, portfolio: &str, technician: &str) -> Fields {
    let text = BuildingText::from(&building.facts);
    let mut fields = Fields::default();
    for (name, value) in [
        ("portfolio", portfolio.to_owned()),
        ("technician", technician.to_owned()),
        ("code", text.code),
        ("name", text.name),
        ("address", text.address),
        ("time_zone", text.time_zone),
        ("code_profile", text.code_profile),
        ("length_unit", text.length_unit),
        ("notice_hours", text.notice_hours),
        ("joined_on", text.joined_on),
        ("built_year", text.built_year),
        ("base_joint", text.base_joint),
    ] {
        fields.set(name, value);
    }
    fields
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> BuildingForm {
    let text = |name: &str| fields.text(name).to_owned();
    BuildingForm {
        portfolio: text("portfolio"),
        technician: text("technician"),
        text: BuildingText {
            code: text("code"),
            name: text("name"),
            address: text("address"),
            time_zone: text("time_zone"),
            code_profile: text("code_profile"),
            length_unit: text("length_unit"),
            notice_hours: text("notice_hours"),
            joined_on: text("joined_on"),
            built_year: text("built_year"),
            base_joint: text("base_joint"),
        },
    }
}
