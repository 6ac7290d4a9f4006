//! "I am in this unit now": offers what is in its window there, and leads to recording it on a visit of today.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::work::{self, CheckRow, RepairRow, Walk};
use crate::actions::visits::{mine, open_there, start};
use crate::clock::Now;
use crate::domain::register::UnitId;
use crate::domain::register::person::Actor;
use crate::domain::visit::Service;
use crate::error::Result;
use crate::language::Language;
use crate::store::lists::due::Key;
use crate::store::{AnyConnection, units, visits};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Form;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/visits/now.html")]
struct NowPage {
    chrome: Chrome,
    unit: i64,
    home: String,
    building: String,
    building_name: String,
    unit_label: String,
    heading: String,
    load: String,
    planned: Option<(i64, String)>,
    checks: Vec<CheckRow>,
    repairs: Vec<RepairRow>,
}

/// Shows what there is to do.
///
/// # Errors
/// When there is no such unit that may be seen.
pub async fn show(context: Context, request: HttpRequest, unit: web::Path<i64>) -> PageResult {
    let (now, unit) = ((context.now, context.language()), UnitId(*unit));
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, unit))
        .await?;
    page.chrome = Chrome::new(&context, &request, &page.heading).spoken();
    respond::page(&page)
}

/// Begins today's visit, or goes on with it, and leads to recording.
///
/// # Errors
/// When there is no such unit that may be seen, or nothing to do in it.
pub async fn submit(context: Context, unit: web::Path<i64>, _form: Form) -> PageResult {
    let unit = UnitId(*unit);
    let begun = context
        .act(move |db, actor, now| start(db, actor, now, unit))
        .await?;
    let to = format!("/units/{unit}/record?visit={}", begun.visit);
    Ok(respond::redirect_saying(
        &to,
        &context.language().count("now-open", begun.services),
    ))
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, language): (Now, Language),
    unit: UnitId,
) -> Result<NowPage> {
    let (building, unit) = units::by_key(conn, &actor.scope, unit)?;
    let today = now.date_in(building.facts.time_zone);
    let planned = mine(conn, actor, unit.id, today)?;
    let mut services = open_there(conn, actor, unit.id, today)?;
    if let Some(visit) = &planned {
        for service in visits::services(conn, visit.id)? {
            if !services.contains(&service) {
                services.push(service);
            }
        }
    }
    let keys = services.iter().filter_map(|service| match *service {
        Service::Check { fixture, part, check } => Some(Key { fixture, part, check }),
        Service::Repair(_) => None,
    });
    let checks = Walk::load(conn, actor, unit.id, today)?
        .read_in(language)
        .rows(keys);
    let mut repairs = work::repairs(conn, actor, now, language, unit.id)?;
    repairs.retain(|row| services.contains(&Service::Repair(row.id)));
    let minutes: f64 = checks.iter().map(|row| row.minutes).sum();
    Ok(NowPage {
        chrome: Chrome::anonymous(""),
        unit: unit.id.0,
        home: format!("/units/{}", unit.id),
        building: building.facts.code.clone(),
        building_name: building.facts.name.clone(),
        heading: language.say("now-head").with("unit", &unit.facts.label).into(),
        unit_label: unit.facts.label.clone(),
        load: work::load_in_words(language, checks.len(), minutes, repairs.len()),
        planned: planned.map(|visit| (visit.id.0, language.day(visit.on_date, today))),
        checks,
        repairs,
    })
}
