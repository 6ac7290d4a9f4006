//! Plans a visit: the unit first, then day, technician and what it serves.

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::work::{self, CheckRow, RepairRow, Walk};
use crate::actions::visits::{PlanVisit, plan};
use crate::clock::Now;
use crate::domain::due::State;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{Building, PersonId, Unit, UnitId};
use crate::domain::visit::{Service, earliest_entry, needs_notice};
use crate::error::{Error, FieldError, Result};
use crate::language::Language;
use crate::store::lists::deficiencies::staff_of;
use crate::store::{AnyConnection, buildings, households, units, visits};
use crate::web::choice::{Choice, Fact};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form, to_mend};
use crate::web::pages::units::words as unit_words;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/visits/choose_unit.html")]
struct ChooseUnit {
    chrome: Chrome,
    buildings: Vec<Choice>,
    fields: Fields,
    errors: Vec<FieldError>,
}

#[derive(Template)]
#[template(path = "pages/visits/new.html")]
struct New {
    chrome: Chrome,
    found: Found,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// What the form is made of.
struct Found {
    unit: i64,
    home: String,
    building: String,
    building_name: String,
    heading: String,
    /// "Alder House asks for notice of 24 h: enter not before Thu 26 Nov, 10:00"; empty where nobody lives.
    notice: String,
    planned: Vec<String>,
    technicians: Vec<Choice>,
    open: Vec<CheckRow>,
    everything: String,
    later: Vec<CheckRow>,
    repairs: Vec<RepairRow>,
    entry: Vec<Fact>,
    day: String,
    technician: String,
}

impl Found {
    /// Ticks again what was ticked before.
    fn tick(mut self, fields: &Fields) -> Self {
        for row in self.open.iter_mut().chain(&mut self.later) {
            row.is_chosen = fields.all("item").any(|key| key == row.key);
        }
        for row in &mut self.repairs {
            row.is_chosen = fields.all("repair").any(|key| key == row.id.to_string());
        }
        self
    }
}

/// Shows the form, or asks for the unit first.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let chrome = chrome(&context, &request);
    let (now, asked) = ((context.now, context.language()), fields.clone());
    let found = context
        .read(move |conn, actor| match unit_of(conn, actor, &asked)? {
            Some(unit) => find(conn, actor, now, unit).map(|found| Some(Box::new(found))),
            None => Ok(None),
        })
        .await;
    match found.map_err(to_mend) {
        Ok(Some(found)) => {
            let mut fields = fields;
            if fields.text("on_date").is_empty() {
                fields.set("on_date", found.day.clone());
                fields.set("technician", found.technician.clone());
            }
            respond::page(&New {
                chrome,
                found: found.tick(&fields),
                fields,
                errors: Vec::new(),
            })
        }
        Ok(None) => respond::page(&choose_unit(&context, chrome, fields, Vec::new()).await?),
        Err(Ok(errors)) => {
            let errors = context.language().errors(errors);
            respond::form_again(&choose_unit(&context, chrome, fields, errors).await?)
        }
        Err(Err(other)) => Err(other.into()),
    }
}

/// Plans the visit.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let Form(fields) = form;
    let typed = fields.clone();
    let done = context
        .act(move |db, actor, now| {
            let mut errors = Vec::new();
            let unit = db
                .read(|conn| unit_of(conn, actor, &typed))?
                .ok_or_else(|| Error::refused("Choose a unit first, then plan the visit into it."))?;
            let day = typed.date("on_date", "Day", &mut errors);
            if day.is_none() && errors.is_empty() {
                errors.push(FieldError::new("on_date", "Day is empty. Give it as 2026-11-25."));
            }
            let technician: Option<i64> = typed.parsed("technician", "a technician of the list", &mut errors);
            let services = db.read(|conn| services(conn, actor, now, unit, &typed))?;
            let Some(on_date) = day.filter(|_| errors.is_empty()) else {
                return Err(Error::Fields(errors));
            };
            let command = PlanVisit {
                unit,
                on_date,
                technician: technician.map(PersonId),
                services,
                earlier_because: typed.text("earlier_because").to_owned(),
                note: typed.text("note").to_owned(),
            };
            plan(db, actor, now, &command).map(|visit| (visit, on_date))
        })
        .await;
    match done.map_err(to_mend) {
        Ok((visit, day)) => {
            let day = context.language().day(day, context.today());
            let said = context.say("plan-planned").with("day", day).to_string();
            Ok(respond::redirect_saying(&format!("/visits/{visit}"), &said))
        }
        Err(Ok(errors)) => again(&context, &request, fields, errors).await,
        Err(Err(other)) => Err(other.into()),
    }
}

fn chrome(context: &Context, request: &HttpRequest) -> Chrome {
    Chrome::new(context, request, &context.say("visits-plan").to_string()).spoken()
}

async fn again(
    context: &Context,
    request: &HttpRequest,
    fields: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    let chrome = chrome(context, request);
    let errors = context.language().errors(errors);
    let (now, asked) = ((context.now, context.language()), fields.clone());
    let found = context
        .read(move |conn, actor| match unit_of(conn, actor, &asked)? {
            Some(unit) => find(conn, actor, now, unit).map(|found| Some(Box::new(found))),
            None => Ok(None),
        })
        .await?;
    match found {
        Some(found) => respond::form_again(&New {
            chrome,
            found: found.tick(&fields),
            fields,
            errors,
        }),
        None => respond::form_again(&choose_unit(context, chrome, fields, errors).await?),
    }
}

async fn choose_unit(
    context: &Context,
    chrome: Chrome,
    fields: Fields,
    errors: Vec<FieldError>,
) -> Result<ChooseUnit> {
    let buildings = context
        .read(|conn, actor| buildings::list(conn, &actor.scope))
        .await?;
    Ok(ChooseUnit {
        chrome,
        buildings: buildings
            .into_iter()
            .map(|building| Choice::new(building.facts.code, building.facts.name))
            .collect(),
        fields,
        errors,
    })
}

/// The unit that an address or a form names, by key or by building and label.
fn unit_of(conn: &mut AnyConnection, actor: &Actor, fields: &Fields) -> Result<Option<UnitId>> {
    if let Ok(key) = fields.text("unit").parse() {
        return Ok(Some(UnitId(key)));
    }
    let (code, label) = (fields.text("building"), fields.text("label"));
    if code.is_empty() && label.is_empty() {
        return Ok(None);
    }
    if code.is_empty() {
        return Err(Error::field(
            "building",
            "Building: choose the one that the unit is in.",
        ));
    }
    let building = buildings::by_code(conn, &actor.scope, code)?;
    if label.is_empty() {
        return Err(Error::field("label", "Unit: fill this in, as on the door."));
    }
    let found = units::with_label(conn, &actor.scope, Some(building.id), label)?;
    match found.as_slice() {
        [unit, ..] => Ok(Some(*unit)),
        [] => Err(Error::field(
            "label",
            format!(
                "{} has no unit {label}. Give its label as on the door.",
                building.facts.name
            ),
        )),
    }
}

/// What was chosen: everything in its window when that is ticked, and whatever is ticked by itself.
fn services(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    unit: UnitId,
    fields: &Fields,
) -> Result<Vec<Service>> {
    let mut chosen = work::chosen(fields);
    if fields.has("everything") {
        let (building, _) = units::by_key(conn, &actor.scope, unit)?;
        let today = now.date_in(building.facts.time_zone);
        let walk = Walk::load(conn, actor, unit, today)?;
        let open = walk.due().into_iter().filter(|row| is_open(row, today));
        for row in open {
            let service = work::service(row.item);
            if !chosen.contains(&service) {
                chosen.push(service);
            }
        }
    }
    Ok(chosen)
}

fn is_open(row: &CheckRow, today: NaiveDate) -> bool {
    row.window
        .is_some_and(|window| window.state(today) != State::Later)
}

fn find(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, language): (Now, Language),
    unit: UnitId,
) -> Result<Found> {
    let (building, unit) = units::by_key(conn, &actor.scope, unit)?;
    let zone = building.facts.time_zone;
    let today = now.date_in(zone);
    let walk = Walk::load(conn, actor, unit.id, today)?.read_in(language);
    let (open, mut later): (Vec<_>, Vec<_>) = walk.due().into_iter().partition(|row| is_open(row, today));
    later.sort_by_key(|row| row.window.map(|window| window.opens()));
    let minutes: f64 = open.iter().map(|row| row.minutes).sum();
    let staff = staff_of(conn, building.id)?;
    let technician = match (actor.role, actor.person) {
        (Role::Technician, Some(person)) => Some(person),
        _ => building.technician,
    };
    let needs_notice = needs_notice(&unit.facts);
    let earliest = earliest_entry(now.0, building.facts.notice_hours, zone);
    Ok(Found {
        unit: unit.id.0,
        home: format!("/units/{}", unit.id),
        building: building.facts.code.clone(),
        building_name: building.facts.name.clone(),
        heading: language.say("plan-head").with("unit", &unit.facts.label).into(),
        notice: if needs_notice {
            language
                .say("plan-notice")
                .with("building", &building.facts.name)
                .with("hours", building.facts.notice_hours)
                .with("day", language.day(earliest.date(), today))
                .with("time", earliest.format("%H:%M").to_string())
                .into()
        } else {
            String::new()
        },
        planned: planned(conn, language, &unit, today)?,
        technicians: staff
            .into_iter()
            .map(|(id, name)| Choice::new(id.to_string(), name))
            .collect(),
        everything: work::load_in_words(language, open.len(), minutes, 0),
        open,
        later,
        repairs: work::repairs(conn, actor, now, language, unit.id)?,
        entry: entry(conn, language, &building, &unit, today)?,
        day: if needs_notice { earliest.date() } else { today }.to_string(),
        technician: technician.map(|person| person.to_string()).unwrap_or_default(),
    })
}

/// Visits that are planned into the unit already, in words.
fn planned(
    conn: &mut AnyConnection,
    language: Language,
    unit: &Unit,
    today: NaiveDate,
) -> Result<Vec<String>> {
    let planned = visits::planned_in(conn, unit.id)?;
    Ok(planned
        .into_iter()
        .map(|visit| {
            language
                .say("plan-already")
                .with("day", language.day(visit.on_date, today))
                .with("visit", visit.id.0)
                .with("state", language.word(visit.status).to_lowercase())
                .to_string()
        })
        .collect())
}

fn entry(
    conn: &mut AnyConnection,
    language: Language,
    building: &Building,
    unit: &Unit,
    today: NaiveDate,
) -> Result<Vec<Fact>> {
    let living = households::of_unit(conn, unit.id)?
        .into_iter()
        .find(|household| household.lives_there_on(today));
    Ok(living.map_or_else(Vec::new, |household| {
        unit_words::entry_in(language, &household.entry(), building.facts.notice_hours)
    }))
}
