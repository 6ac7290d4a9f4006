//! The page for anybody: gas first, each with what to do before whom to call, and all of it before any form.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::contacts;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::Building;
use crate::domain::register::person::{Actor, Role};
use crate::domain::trade::urgent::{Contact, Urgency, dialled};
use crate::error::{FieldError, Result};
use crate::language::Language;
use crate::store::urgent::{self, Reported};
use crate::store::{AnyConnection, buildings};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Visitor;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Reports that a manager sees here.
const REPORTS: i64 = 20;

#[derive(Template)]
#[template(path = "pages/urgent/show.html")]
pub(super) struct Urgent {
    chrome: Chrome,
    sections: Vec<Section>,
    deference: String,
    role: Option<Role>,
    building: Option<(String, String)>,
    buildings: Vec<Choice>,
    kinds: Vec<Choice>,
    form: Fields,
    client_id: String,
    errors: Vec<FieldError>,
    reports: Vec<Row>,
}

struct Section {
    code: &'static str,
    name: String,
    steps: Vec<String>,
    calls: Vec<Call>,
    not_set: Vec<String>,
}

struct Call {
    name: String,
    number: String,
    dialled: String,
}

struct Row {
    what: String,
    building: Option<(String, String)>,
    unit: Option<(i64, String)>,
    who: String,
    said: String,
    note: String,
}

impl Urgent {
    fn is_manager(&self) -> bool {
        self.role == Some(Role::Manager)
    }

    fn is_staff(&self) -> bool {
        matches!(self.role, Some(Role::Manager | Role::Technician))
    }

    /// Whether a number that is missing may be that of a building which is not chosen yet.
    fn may_choose(&self) -> bool {
        self.is_staff() && self.building.is_none()
    }

    fn code(&self) -> &str {
        self.building.as_ref().map_or("", |(code, _)| code)
    }
}

/// Shows what to do first.
///
/// # Errors
/// When the database does not answer.
pub async fn show(visitor: Visitor, request: HttpRequest) -> PageResult {
    let mut fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let building = super::building(&visitor, fields.text("building")).await?;
    // The form begins in the building whose numbers are shown.
    let code = building
        .as_ref()
        .map_or(String::new(), |one| one.facts.code.clone());
    fields.set("building", code);
    respond::page(&page(&visitor, &request, building, (fields, Vec::new())).await?)
}

/// The page, with the form as it was typed.
pub(super) async fn page(
    visitor: &Visitor,
    request: &HttpRequest,
    building: Option<Building>,
    (form, errors): (Fields, Vec<FieldError>),
) -> Result<Urgent> {
    let language = visitor.language;
    let actor = visitor.session.as_ref().map(|session| session.actor.clone());
    let (role, now, id) = (
        actor.as_ref().map(|actor| actor.role),
        visitor.now,
        building.as_ref().map(|building| building.id),
    );
    let (numbers, buildings, reports) = visitor
        .app
        .read(move |conn| {
            let numbers = match id {
                Some(id) => contacts::numbers_in(conn, id)?,
                None => contacts::numbers(conn)?,
            };
            let (buildings, reports) = for_staff(conn, actor.as_ref(), now, language)?;
            Ok((numbers, buildings, reports))
        })
        .await?;
    Ok(Urgent {
        chrome: Chrome::of_visitor(visitor, request, &visitor.say("urgent").to_string()).spoken(),
        sections: Urgency::ALL
            .iter()
            .map(|urgency| section(language, *urgency, &numbers))
            .collect(),
        deference: language.deference(),
        role,
        building: building.map(|one| (one.facts.code, one.facts.name)),
        buildings,
        kinds: Urgency::ALL
            .iter()
            .map(|urgency| Choice::new(urgency.code(), language.word(*urgency)))
            .collect(),
        client_id: form.client_id_or_new(),
        form,
        errors: language.errors(errors),
        reports,
    })
}

/// The buildings that staff may name, and to a manager what was reported last.
fn for_staff(
    conn: &mut AnyConnection,
    actor: Option<&Actor>,
    now: Now,
    language: Language,
) -> Result<(Vec<Choice>, Vec<Row>)> {
    let Some(actor) = actor.filter(|actor| actor.role != Role::Owner) else {
        return Ok((Vec::new(), Vec::new()));
    };
    let choices = buildings::list(conn, &actor.scope)?
        .into_iter()
        .map(|one| Choice::new(one.facts.code, one.facts.name))
        .collect();
    let reports = if actor.role == Role::Manager {
        urgent::latest(conn, &actor.scope, REPORTS)?
    } else {
        Vec::new()
    };
    Ok((
        choices,
        reports.into_iter().map(|one| row(one, now, language)).collect(),
    ))
}

fn row(one: Reported, now: Now, language: Language) -> Row {
    let zone = one
        .building
        .as_ref()
        .map_or(chrono_tz::Tz::UTC, |(_, _, zone)| *zone);
    let local = one.said_at.and_utc().with_timezone(&zone).naive_local();
    let clock = if one.building.is_some() { "" } else { " UTC" };
    Row {
        what: language.word(one.kind),
        building: one.building.map(|(code, name, _)| (code, name)),
        unit: one.unit.map(|(id, label)| (id.0, label)),
        who: one.person,
        said: format!(
            "{}, {}{clock}",
            language.day(local.date(), now.date_in(zone)),
            local.format("%H:%M")
        ),
        note: one.note,
    }
}

fn section(language: Language, urgency: Urgency, numbers: &[(Contact, String)]) -> Section {
    let number = |contact: Contact| {
        let known = numbers.iter().find(|(known, _)| *known == contact);
        known.map_or("", |(_, number)| number.as_str())
    };
    let (set, not_set): (Vec<Contact>, Vec<Contact>) = urgency
        .contacts()
        .iter()
        .partition(|contact| !number(**contact).is_empty());
    Section {
        code: urgency.code(),
        name: language.word(urgency),
        steps: language.steps(urgency),
        calls: set
            .into_iter()
            .map(|contact| Call {
                name: language.word(contact),
                number: number(contact).to_owned(),
                dialled: dialled(number(contact)),
            })
            .collect(),
        not_set: not_set
            .into_iter()
            .map(|contact| language.word(contact))
            .collect(),
    }
}
