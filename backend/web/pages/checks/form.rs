//! The form of a check of the office's own, for a new one and for changing one.

use actix_web::HttpRequest;
use askama::Template;

use crate::domain::code::Coded as _;
use crate::domain::measure::Unit;
use crate::domain::trade::{
    BaseJoint, Caution, CheckText, FixtureKind, Group, PartKind, Performer, Severity, TurnoverStage,
};
use crate::error::FieldError;
use crate::web::choice::{Choice, Tick, ticks};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/checks/form.html")]
struct FormPage {
    chrome: Chrome,
    /// Title and version of the check that is changed; none for a new one.
    changed: Option<(String, u32)>,
    text: CheckText,
    kinds: Vec<Tick>,
    parts: Vec<Tick>,
    answers: Vec<Choice>,
    units: Vec<Choice>,
    severities: Vec<Choice>,
    groups: Vec<Choice>,
    performers: Vec<Choice>,
    stages: Vec<Tick>,
    policies: Vec<Tick>,
    cautions: Vec<Tick>,
    errors: Vec<FieldError>,
}

impl FormPage {
    /// Whether something is to be mended in a part of the form that is folded away.
    fn is_wrong(&self, field: &str) -> bool {
        self.errors.iter().any(|error| error.field == field)
    }
}

/// What a form says.
pub(super) fn text(fields: &Fields) -> CheckText {
    let one = |name: &str| fields.text(name).to_owned();
    let all = |name: &str| fields.all(name).map(str::to_owned).collect::<Vec<_>>();
    CheckText {
        code: one("code"),
        title: one("title"),
        kinds: all("kinds"),
        parts: all("parts"),
        ask: one("ask"),
        method: one("method"),
        answer: one("answer"),
        pass: one("pass"),
        fail: one("fail"),
        reading_of: one("reading_of"),
        unit: one("unit"),
        limits: one("limits"),
        severity: one("severity"),
        severity_only_one: one("severity_only_one"),
        severity_common_area: one("severity_common_area"),
        severity_source: one("severity_source"),
        minutes: one("minutes"),
        minutes_source: one("minutes_source"),
        group: one("group"),
        turnover: all("turnover"),
        performer: one("performer"),
        building_age_years: one("building_age_years"),
        base_joint: all("base_joint"),
        cautions: all("cautions"),
        source: one("source"),
    }
}

/// Shows the form; `changed` is the title and the version of the check that it changes.
///
/// # Errors
/// When the template fails.
pub(super) fn show(
    context: &Context,
    request: &HttpRequest,
    changed: Option<(String, u32)>,
    text: CheckText,
    errors: Vec<FieldError>,
) -> PageResult {
    let title = match &changed {
        None => "Add a check".to_owned(),
        Some((title, _)) => format!("Change {title}"),
    };
    let page = FormPage {
        chrome: Chrome::new(context, request, &title),
        changed,
        kinds: ticks(FixtureKind::name, &text.kinds),
        parts: ticks(PartKind::name, &text.parts),
        answers: vec![
            Choice::new("verdict", "Pass or fail, as seen, heard or felt"),
            Choice::new("reading", "A reading"),
        ],
        units: Unit::ALL
            .iter()
            .map(|unit| Choice::new(unit.code(), format!("{} ({})", unit.name(), unit.code())))
            .collect(),
        severities: Choice::every(Severity::name),
        groups: Choice::every(Group::name),
        performers: Choice::every(Performer::name),
        stages: ticks(TurnoverStage::name, &text.turnover),
        policies: ticks(BaseJoint::name, &text.base_joint),
        cautions: ticks(Caution::name, &text.cautions),
        text,
        errors,
    };
    if page.errors.is_empty() {
        respond::page(&page)
    } else {
        respond::form_again(&page)
    }
}
