//! One building: from the street, and the same as a table.

use std::collections::BTreeMap;

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::NaiveDate;

use super::form;
use super::front::{Leads, pictures, severity_words};
use crate::actions::condition::front::{Front, front};
use crate::domain::due::WorkCalendar;
use crate::domain::register::person::Role;
use crate::domain::register::{Building, Unit, UnitId};
use crate::error::Error;
use crate::language;
use crate::store::lists::unit_counts::Counts;
use crate::store::{buildings, calendars, portfolios};
use crate::web::choice::Fact;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::condition::asked_day;
use crate::web::pages::water::summary::Leaks;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/buildings/show.html")]
struct Show {
    chrome: Chrome,
    may_change: bool,
    code: String,
    name: String,
    summary: String,
    as_of: String,
    past: bool,
    overdue: i64,
    due: i64,
    in_window: i64,
    open: i64,
    water: Option<String>,
    pictures: Vec<String>,
    rows: Vec<Row>,
    facts: Vec<Fact>,
}

struct Row {
    key: i64,
    label: String,
    floor: i64,
    riser: String,
    occupancy: String,
    fixtures: i64,
    overdue: i64,
    due: i64,
    in_window: i64,
    open: i64,
    worst: Option<(&'static str, &'static str)>,
}

/// Shows a building.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let (building, portfolio, technician, seen, water, calendar) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let portfolio = portfolios::by_key(conn, building.portfolio)?;
            let technician = buildings::technicians(conn)?
                .into_iter()
                .find(|person| Some(person.id) == building.technician);
            let seen = front(conn, &building, now, day)?;
            let leaks = Leaks::load(conn, &actor.scope, Some(building.id))?;
            let water = leaks.sentence(building.facts.length_unit);
            let calendar = calendars::of_building(conn, building.id)?;
            Ok((building, portfolio, technician, seen, water, calendar))
        })
        .await?;
    let Front {
        as_of,
        today,
        units,
        counts,
    } = seen;
    let sum = |of: fn(&Counts) -> i64| counts.values().map(of).sum();
    respond::page(&Show {
        chrome: Chrome::new(&context, &request, &building.facts.name),
        may_change: context.actor().role == Role::Manager,
        code: building.facts.code.clone(),
        name: building.facts.name.clone(),
        as_of: as_of.to_string(),
        past: as_of < today,
        summary: summary(&units, &counts, as_of, today),
        overdue: sum(|counts| counts.checks.overdue),
        due: sum(|counts| counts.checks.due),
        in_window: sum(|counts| counts.checks.in_window),
        open: sum(|counts| counts.open.count),
        water: water.filter(|_| as_of == today),
        pictures: pictures(&building.facts.name, &units, &counts, Leads::ToUnit),
        rows: rows(&units, &counts),
        facts: facts(
            &building,
            &calendar,
            &portfolio.facts.name,
            technician.map(|person| person.name),
            today,
        ),
    })
}

fn summary(units: &[Unit], counts: &BTreeMap<UnitId, Counts>, as_of: NaiveDate, today: NaiveDate) -> String {
    let fixtures: i64 = counts.values().map(|counts| counts.fixtures).sum();
    let floors: std::collections::BTreeSet<_> = units.iter().map(|unit| unit.facts.floor).collect();
    [
        language::count(floors.len(), "floor", "floors"),
        language::count(units.len(), "unit", "units"),
        language::count(usize::try_from(fixtures).unwrap_or(0), "fixture", "fixtures"),
        language::day(as_of, today),
    ]
    .join(" · ")
}

fn rows(units: &[Unit], counts: &BTreeMap<UnitId, Counts>) -> Vec<Row> {
    units
        .iter()
        .map(|unit| {
            let counts = counts.get(&unit.id).copied().unwrap_or_default();
            Row {
                key: unit.id.0,
                label: unit.facts.label.clone(),
                floor: unit.facts.floor,
                riser: unit
                    .facts
                    .riser
                    .map_or_else(String::new, |riser| riser.to_string()),
                occupancy: crate::web::pages::units::words::occupancy(&unit.facts),
                fixtures: counts.fixtures,
                overdue: counts.checks.overdue,
                due: counts.checks.due,
                in_window: counts.checks.in_window,
                open: counts.open.count,
                worst: counts.open.worst.map(severity_words),
            }
        })
        .collect()
}

fn facts(
    building: &Building,
    calendar: &WorkCalendar,
    portfolio: &str,
    technician: Option<String>,
    today: NaiveDate,
) -> Vec<Fact> {
    let facts = &building.facts;
    vec![
        Fact::new("Code", &facts.code),
        Fact::new("Portfolio", portfolio),
        Fact::new("Address", facts.address.replace('\n', ", ")),
        Fact::new(
            "Technician",
            technician.unwrap_or_else(|| "nobody yet".to_owned()),
        ),
        Fact::new("Time zone", facts.time_zone.name().replace('_', " ")),
        Fact::new("Code profile", form::profile_words(facts.code_profile.as_str())),
        Fact::new("Lengths in", facts.length_unit.name()),
        Fact::new("Entry notice", format!("{} hours", facts.notice_hours)),
        Fact::new("Working days", calendar.in_words()),
        Fact::new("Joined", language::day(facts.joined_on, today)),
        Fact::new(
            "Built",
            facts
                .built_year
                .map_or_else(|| "not known".to_owned(), |year| year.to_string()),
        ),
        Fact::new("Base joint", form::base_joint_words(facts.base_joint)),
    ]
    .into_iter()
    .filter(|fact| !fact.value.is_empty())
    .collect()
}
