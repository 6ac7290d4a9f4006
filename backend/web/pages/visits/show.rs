//! One visit: what it serves, what was recorded on it, and how it is closed.

use std::collections::HashMap;

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::NaiveDate;

use super::work::{self, CheckRow, RepairRow, Walk};
use crate::actions::deficiencies::Titles;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::Actor;
use crate::domain::register::{FixtureId, PersonId, VisitId};
use crate::domain::result::{Entry as Recorded, Outcome};
use crate::domain::visit::{NoAccessReason, Service, Visit, VisitStatus};
use crate::error::{FieldError, Result};
use crate::language::Language;
use crate::store::lists::deficiencies::names;
use crate::store::lists::due::Key;
use crate::store::{AnyConnection, deficiencies, households, results, spots, units, visits};
use crate::web::choice::{Choice, Fact};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::units::words as unit_words;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/visits/show.html")]
struct Show {
    chrome: Chrome,
    visit: i64,
    unit: i64,
    building: String,
    building_name: String,
    unit_label: String,
    heading: String,
    summary: String,
    is_planned: bool,
    note: String,
    facts: Vec<Fact>,
    entry: Vec<Fact>,
    checks: Vec<Row>,
    also: Vec<Row>,
    repairs: Vec<RepairRow>,
    answered: usize,
    reasons: Vec<Choice>,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// A check with what was recorded of it on the visit.
struct Row {
    check: CheckRow,
    outcome: Option<(&'static str, String)>,
}

/// Shows a visit.
///
/// # Errors
/// When there is none that may be seen.
pub async fn show(context: Context, request: HttpRequest, id: web::Path<i64>) -> PageResult {
    let page = page(&context, &request, VisitId(*id), Fields::default(), Vec::new()).await?;
    respond::page(&page)
}

/// Shows a visit again, with what is to be mended before it can be closed.
///
/// # Errors
/// When there is none that may be seen.
pub(super) async fn again(
    context: &Context,
    request: &HttpRequest,
    id: VisitId,
    fields: Fields,
    errors: Vec<FieldError>,
) -> PageResult {
    respond::form_again(&page(context, request, id, fields, errors).await?)
}

async fn page(
    context: &Context,
    request: &HttpRequest,
    id: VisitId,
    fields: Fields,
    errors: Vec<FieldError>,
) -> Result<Show> {
    let (now, language) = (context.now, context.language());
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, language, id))
        .await?;
    page.chrome = Chrome::new(context, request, &page.heading).spoken();
    page.fields = fields;
    page.errors = language.errors(errors);
    Ok(page)
}

fn load(conn: &mut AnyConnection, actor: &Actor, now: Now, language: Language, id: VisitId) -> Result<Show> {
    let visit = visits::find(conn, &actor.scope, id)?;
    let (building, unit) = units::by_key(conn, &actor.scope, visit.unit)?;
    let zone = building.facts.time_zone;
    let today = now.date_in(zone);
    let services = visits::services(conn, id)?;
    let recorded = results::of_visit(conn, id)?;
    let items: Vec<Key> = services.iter().filter_map(key_of).collect();
    let touched: Vec<FixtureId> = items
        .iter()
        .map(|item| item.fixture)
        .chain(recorded.iter().map(|(_, entry)| entry.fixture))
        .collect();
    let walk = Walk::load(conn, actor, unit.id, today)?
        .with_fixtures(conn, actor, &touched)?
        .read_in(language);
    let latest: HashMap<Key, &Recorded> = recorded
        .iter()
        .map(|(_, entry)| (key_of_result(entry), entry))
        .collect();
    let mut others: Vec<Key> = latest.keys().copied().collect();
    others.retain(|key| !items.contains(key));
    let rows = |keys: Vec<Key>| -> Vec<Row> {
        let rows = walk.rows(keys.into_iter()).into_iter();
        rows.map(|check| row(check, &latest, zone, language)).collect()
    };
    let checks = rows(items);
    let repairs = repairs(conn, actor, now, language, &visit, &services)?;
    let minutes: f64 = checks.iter().map(|row| row.check.minutes).sum();
    let living = households::of_unit(conn, unit.id)?
        .into_iter()
        .find(|household| household.lives_there_on(today));
    let is_planned = visit.status == VisitStatus::Planned;
    Ok(Show {
        chrome: Chrome::anonymous(""),
        visit: id.0,
        unit: unit.id.0,
        building: building.facts.code.clone(),
        building_name: building.facts.name.clone(),
        heading: language.say("visit-head").with("unit", &unit.facts.label).into(),
        unit_label: unit.facts.label.clone(),
        summary: format!(
            "{} · {}",
            when(&visit, today, language),
            work::load_in_words(language, checks.len(), minutes, repairs.len())
        ),
        is_planned,
        facts: facts(conn, &visit, now, zone, language)?,
        note: visit.note,
        entry: living.filter(|_| is_planned).map_or_else(Vec::new, |household| {
            unit_words::entry_in(language, &household.entry(), building.facts.notice_hours)
        }),
        answered: checks.iter().filter(|row| row.outcome.is_some()).count(),
        also: rows(others),
        checks,
        repairs,
        reasons: NoAccessReason::ALL
            .iter()
            .map(|reason| Choice::new(reason.code(), language.word(*reason)))
            .collect(),
        fields: Fields::default(),
        errors: Vec::new(),
    })
}

fn key_of(service: &Service) -> Option<Key> {
    match *service {
        Service::Check { fixture, part, check } => Some(Key { fixture, part, check }),
        Service::Repair(_) => None,
    }
}

fn key_of_result(entry: &Recorded) -> Key {
    Key {
        fixture: entry.fixture,
        part: entry.part,
        check: entry.check,
    }
}

fn row(check: CheckRow, latest: &HashMap<Key, &Recorded>, zone: chrono_tz::Tz, language: Language) -> Row {
    let outcome = latest.get(&check.item).map(|entry| {
        let local = entry.done_at.and_utc().with_timezone(&zone);
        let said = match entry.outcome {
            Outcome::Pass => language.say("visit-passed").to_string(),
            Outcome::Fail => language.say("visit-failed").to_string(),
            Outcome::NotChecked => {
                let said = language.say("visit-not-checked");
                said.with("reason", language.reason(&entry.reason)).to_string()
            }
        };
        let reading = if entry.reading.is_empty() {
            String::new()
        } else {
            format!(", {}", entry.reading)
        };
        let words = format!("{said}{reading} · {}", local.format("%H:%M"));
        (entry.outcome.code(), words)
    });
    Row { check, outcome }
}

/// "Thu 26 Nov, tomorrow", or how it went.
fn when(visit: &Visit, today: NaiveDate, language: Language) -> String {
    let day = language.day(visit.on_date, today);
    match visit.status {
        VisitStatus::Planned => format!("{day}, {}", language.distance(visit.on_date, today)),
        status => format!("{day}, {}", language.word(status).to_lowercase()),
    }
}

fn facts(
    conn: &mut AnyConnection,
    visit: &Visit,
    now: Now,
    zone: chrono_tz::Tz,
    language: Language,
) -> Result<Vec<Fact>> {
    let people: Vec<PersonId> = visit.technician.into_iter().collect();
    let names = names(conn, &people)?;
    let technician = visit.technician.and_then(|person| names.get(&person).cloned());
    let mut facts = vec![
        Fact::new(
            language.say("technician"),
            technician.unwrap_or_else(|| language.say("nobody-yet").into()),
        ),
        Fact::new(language.say("state"), language.word(visit.status)),
    ];
    if !visit.reason.is_empty() {
        facts.push(Fact::new(language.say("because"), language.reason(&visit.reason)));
    }
    let instant = |at| language.moment(at, zone, now.date_in(zone));
    facts.push(Fact::new(language.say("visit-made"), instant(visit.created_at)));
    if let Some(at) = visit.closed_at {
        facts.push(Fact::new(language.say("visit-closed"), instant(at)));
    }
    Ok(facts)
}

fn repairs(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    visit: &Visit,
    services: &[Service],
) -> Result<Vec<RepairRow>> {
    let unit = spots::unit(conn, &actor.scope, visit.unit)?;
    let labels = spots::tags_of(conn, unit.id)?;
    let titles = Titles::load(conn, language)?;
    let mut rows = Vec::new();
    for service in services {
        let Service::Repair(id) = service else { continue };
        let one = deficiencies::find(conn, &actor.scope, *id)?;
        let tag = labels.iter().find(|(tag, ..)| Some(*tag) == one.tag);
        let tag = tag.map_or("", |(_, label, _)| label);
        rows.push(work::repair(&one, now, unit.building.zone, tag, &titles));
    }
    Ok(rows)
}
