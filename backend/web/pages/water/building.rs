//! The open leaks of a building: what each loses, what they add up to, what a week costs.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::summary::Leaks;
use super::words;
use crate::domain::register::person::Role;
use crate::domain::trade::water::DAYS_A_WEEK;
use crate::language::Language;
use crate::store::{buildings, terms};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::pages::buildings::front::severity_words;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/water/building.html")]
struct BuildingPage {
    chrome: Chrome,
    code: String,
    list: String,
    name: String,
    may_set: bool,
    sentence: Option<String>,
    tariff: String,
    rows: Vec<Row>,
    total: String,
    week: String,
}

struct Row {
    id: i64,
    unit: i64,
    unit_label: String,
    tag: String,
    title: String,
    severity: (&'static str, String),
    a_day: String,
    week: String,
    convention: String,
}

/// Shows the leaks of a building.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let (building, terms, leaks) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let terms = terms::of_building(conn, building.id)?;
            let leaks = Leaks::load(conn, &actor.scope, Some(building.id))?;
            Ok((building, terms, leaks))
        })
        .await?;
    let unit = building.facts.length_unit;
    let tariff = terms.tariff.as_ref();
    let rows = leaks.all.iter().map(|leak| {
        let loss = leak.loss.as_ref();
        Row {
            id: leak.id.0,
            unit: leak.unit.0,
            unit_label: leak.unit_label.clone(),
            tag: leak.tag.clone(),
            title: leak.title.clone(),
            severity: severity_words(Language::ENGLISH, leak.severity),
            a_day: loss.map_or_else(
                || "not measured".to_owned(),
                |loss| words::volume(Language::ENGLISH, loss.litres_a_day(), unit),
            ),
            week: loss.map_or_else(String::new, |loss| {
                words::cost(loss.litres_a_day() * DAYS_A_WEEK, tariff)
            }),
            convention: loss.map_or_else(String::new, |loss| loss.convention_name().to_owned()),
        }
    });
    respond::page(&BuildingPage {
        chrome: Chrome::new(
            &context,
            &request,
            &format!("Water lost, {}", building.facts.name),
        ),
        rows: rows.collect(),
        list: format!("/deficiencies?building={}", building.facts.code),
        code: building.facts.code,
        name: building.facts.name,
        may_set: context.actor().role == Role::Manager,
        sentence: leaks.sentence(Language::ENGLISH, unit),
        tariff: tariff.map_or_else(String::new, crate::domain::trade::water::Tariff::phrase),
        total: words::volume(Language::ENGLISH, leaks.litres_a_day, unit),
        week: leaks.week(Language::ENGLISH),
    })
}
