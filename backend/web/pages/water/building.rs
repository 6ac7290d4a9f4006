//! The open leaks of a building: what each loses, what they add up to, what a week costs.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::summary::Leaks;
use super::words;
use crate::actions::deficiencies::Titles;
use crate::domain::register::person::Role;
use crate::domain::trade::water::DAYS_A_WEEK;
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
    let language = context.language();
    let (building, terms, leaks, titles) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let terms = terms::of_building(conn, building.id)?;
            let leaks = Leaks::load(conn, &actor.scope, Some(building.id))?;
            Ok((building, terms, leaks, Titles::load(conn, language)?))
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
            title: titles.read(leak.check, &leak.title),
            severity: severity_words(language, leak.severity),
            a_day: loss.map_or_else(
                || language.say("leaks-none-measured").into(),
                |loss| words::volume(language, loss.litres_a_day(), unit),
            ),
            week: loss.map_or_else(String::new, |loss| {
                words::cost(loss.litres_a_day() * DAYS_A_WEEK, tariff)
            }),
            convention: loss.map_or_else(String::new, |loss| language.sentence(loss.convention_name())),
        }
    });
    respond::page(&BuildingPage {
        chrome: Chrome::new(
            &context,
            &request,
            &String::from(language.say("leaks-title").with("building", &building.facts.name)),
        )
        .spoken(),
        rows: rows.collect(),
        list: format!("/deficiencies?building={}", building.facts.code),
        code: building.facts.code,
        name: building.facts.name,
        may_set: context.actor().role == Role::Manager,
        sentence: leaks.sentence(language, unit),
        tariff: tariff.map_or_else(String::new, |tariff| language.sentence(&tariff.phrase())),
        total: words::volume(language, leaks.litres_a_day, unit),
        week: leaks.week(language),
    })
}
