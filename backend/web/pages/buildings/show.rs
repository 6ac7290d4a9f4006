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
use crate::language::Language;
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
    heads: Heads,
    rows: Vec<Row>,
    facts: Vec<Fact>,
}

/// The heads of the table, which stand on every row of a narrow page too.
struct Heads {
    floor: String,
    riser: String,
    occupancy: String,
    fixtures: String,
    overdue: String,
    due: String,
    in_window: String,
    deficiencies: String,
    worst: String,
}

impl Heads {
    fn of(language: Language) -> Self {
        Self {
            floor: language.say("building-head-floor").into(),
            riser: language.say("building-head-riser").into(),
            occupancy: language.say("building-head-occupancy").into(),
            fixtures: language.say("building-head-fixtures").into(),
            overdue: language.say("due-head-overdue").into(),
            due: language.say("due-head-due").into(),
            in_window: language.say("due-label-in-window").into(),
            deficiencies: language.say("building-head-deficiencies").into(),
            worst: language.say("building-head-worst").into(),
        }
    }
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
    worst: Option<(&'static str, String)>,
}

/// Shows a building.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let (now, language) = (context.now, context.language());
    let (building, portfolio, technician, seen, water, calendar) = context
        .read(move |conn, actor| {
            let building = buildings::by_code(conn, &actor.scope, &code)?;
            let portfolio = portfolios::by_key(conn, building.portfolio)?;
            let technician = buildings::technicians(conn)?
                .into_iter()
                .find(|person| Some(person.id) == building.technician);
            let seen = front(conn, &building, now, day)?;
            let leaks = Leaks::load(conn, &actor.scope, Some(building.id))?;
            let water = leaks.sentence(language, building.facts.length_unit);
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
        chrome: Chrome::new(&context, &request, &building.facts.name).spoken(),
        may_change: context.actor().role == Role::Manager,
        code: building.facts.code.clone(),
        name: building.facts.name.clone(),
        as_of: as_of.to_string(),
        past: as_of < today,
        summary: summary(&units, &counts, (as_of, today), language),
        overdue: sum(|counts| counts.checks.overdue),
        due: sum(|counts| counts.checks.due),
        in_window: sum(|counts| counts.checks.in_window),
        open: sum(|counts| counts.open.count),
        water: water.filter(|_| as_of == today),
        pictures: pictures(&building.facts.name, &units, &counts, Leads::ToUnit, language),
        heads: Heads::of(language),
        rows: rows(&units, &counts, language),
        facts: facts(
            language,
            &building,
            &calendar,
            &portfolio.facts.name,
            technician.map(|person| person.name),
            today,
        ),
    })
}

fn summary(
    units: &[Unit],
    counts: &BTreeMap<UnitId, Counts>,
    (as_of, today): (NaiveDate, NaiveDate),
    language: Language,
) -> String {
    let fixtures: i64 = counts.values().map(|counts| counts.fixtures).sum();
    let floors: std::collections::BTreeSet<_> = units.iter().map(|unit| unit.facts.floor).collect();
    [
        language.count("building-floors", floors.len()),
        language.count("figures-units", units.len()),
        language.count("building-fixtures", usize::try_from(fixtures).unwrap_or(0)),
        language.day(as_of, today),
    ]
    .join(" · ")
}

fn rows(units: &[Unit], counts: &BTreeMap<UnitId, Counts>, language: Language) -> Vec<Row> {
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
                occupancy: crate::web::pages::units::words::occupancy(language, &unit.facts),
                fixtures: counts.fixtures,
                overdue: counts.checks.overdue,
                due: counts.checks.due,
                in_window: counts.checks.in_window,
                open: counts.open.count,
                worst: counts.open.worst.map(|worst| severity_words(language, worst)),
            }
        })
        .collect()
}

fn facts(
    language: Language,
    building: &Building,
    calendar: &WorkCalendar,
    portfolio: &str,
    technician: Option<String>,
    today: NaiveDate,
) -> Vec<Fact> {
    let facts = &building.facts;
    vec![
        Fact::new(language.say("building-code"), &facts.code),
        Fact::new(language.say("building-portfolio"), portfolio),
        Fact::new(
            language.say("building-address"),
            facts.address.replace('\n', ", "),
        ),
        Fact::new(
            language.say("technician"),
            technician.unwrap_or_else(|| language.say("nobody-yet").into()),
        ),
        Fact::new(
            language.say("time-zone"),
            facts.time_zone.name().replace('_', " "),
        ),
        Fact::new(
            language.say("building-code-profile"),
            form::profile_in(language, facts.code_profile.as_str()),
        ),
        Fact::new(language.say("building-lengths"), language.word(facts.length_unit)),
        Fact::new(
            language.say("entry-notice"),
            language
                .say("entry-notice-hours")
                .with("count", facts.notice_hours),
        ),
        Fact::new(
            language.say("building-working-days"),
            language.work_calendar(calendar),
        ),
        Fact::new(
            language.say("building-joined"),
            language.day(facts.joined_on, today),
        ),
        Fact::new(
            language.say("building-built"),
            facts
                .built_year
                .map_or_else(|| language.say("units-not-known").into(), |year| year.to_string()),
        ),
        Fact::new(
            language.say("building-base-joint"),
            language.word(facts.base_joint),
        ),
    ]
    .into_iter()
    .filter(|fact| !fact.value.is_empty())
    .collect()
}
