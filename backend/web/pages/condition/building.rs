//! One building on a day: the bar, every fixture that is not sound, every unit, the copies that were issued.

use std::collections::BTreeMap;

use actix_web::{HttpRequest, web};
use askama::Template;

use super::{asked_day, bar, counts};
use crate::actions::condition::front::{Front, front};
use crate::actions::condition::{self, Standing};
use crate::domain::code::Coded as _;
use crate::domain::condition::{Condition, condition as judge};
use crate::domain::register::person::Role;
use crate::error::Error;
use crate::language::{self, Language};
use crate::store::documents::{self, DocumentKind};
use crate::store::lists::condition::Line;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::buildings::front::{Leads, pictures, severity_words};
use crate::web::respond;

/// Issued copies shown.
const COPIES: i64 = 50;

#[derive(Template)]
#[template(path = "pages/condition/building.html")]
struct Page {
    chrome: Chrome,
    code: String,
    name: String,
    said: String,
    as_of: String,
    past: bool,
    ahead: bool,
    bar: String,
    pictures: Vec<String>,
    cells: Vec<CellRow>,
    wrong: Vec<Row>,
    loose: Vec<LooseRow>,
    units: Vec<UnitRow>,
    rules: Vec<(&'static str, &'static str)>,
    copies: Vec<Copy>,
}

struct Row {
    unit: String,
    place: String,
    kind: &'static str,
    word: &'static str,
    reason: String,
    last_done: String,
    next_due: String,
}

struct LooseRow {
    unit: String,
    place: String,
    title: String,
    severity: &'static str,
    severity_words: &'static str,
}

struct UnitRow {
    unit: String,
    fixtures: usize,
    word: &'static str,
    worst: usize,
}

/// A cell of the elevation as a row.
struct CellRow {
    id: i64,
    may_open: bool,
    label: String,
    floor: i64,
    riser: String,
    fixtures: i64,
    overdue: i64,
    open: i64,
    worst: Option<(&'static str, String)>,
}

struct Copy {
    id: i64,
    number: i64,
    as_of: String,
    issued: String,
    sha256: String,
}

/// Shows the building.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let (standing, seen, issued) = context
        .read(move |conn, actor| {
            let standing = condition::read(conn, &actor.scope, now, &code, day)?;
            let issued = documents::of_building(conn, standing.building.id, DocumentKind::Condition, COPIES)?;
            let seen = front(conn, &standing.building, now, day)?;
            Ok((standing, seen, issued))
        })
        .await?;
    let today = standing.today;
    let copies = issued
        .into_iter()
        .map(|document| Copy {
            id: document.id.0,
            number: document.number,
            as_of: language::day(document.as_of, today),
            issued: format!("{} UTC", document.issued_at.format("%Y-%m-%d %H:%M")),
            sha256: document.sha256,
        })
        .collect();
    let name = standing.building.facts.name.clone();
    let may_open = context.actor().role == Role::Manager;
    let leads = if may_open { Leads::ToUnit } else { Leads::ToRow };
    respond::page(&Page {
        chrome: Chrome::new(&context, &request, &format!("Condition of {name}")),
        code: standing.building.facts.code.clone(),
        said: format!(
            "{} · {}",
            language::day(standing.as_of, today),
            language::count(standing.lines.len(), "fixture", "fixtures")
        ),
        as_of: standing.as_of.to_string(),
        past: standing.as_of < today,
        ahead: standing.as_of > today,
        bar: bar(&name, &counts(&standing.lines)),
        pictures: pictures(&name, &seen.units, &seen.counts, leads, Language::ENGLISH),
        cells: cells(&seen, may_open),
        wrong: wrong(&standing),
        loose: loose(&standing),
        units: units(&standing.lines),
        rules: Condition::ALL
            .iter()
            .map(|word| (word.name(), word.rule()))
            .collect(),
        copies,
        name,
    })
}

/// The same as the elevation, a row a cell.
fn cells(seen: &Front, may_open: bool) -> Vec<CellRow> {
    let rows = seen.units.iter().map(|unit| {
        let counts = seen.counts.get(&unit.id).copied().unwrap_or_default();
        CellRow {
            id: unit.id.0,
            may_open,
            label: unit.facts.label.clone(),
            floor: unit.facts.floor,
            riser: unit
                .facts
                .riser
                .map_or_else(String::new, |riser| riser.to_string()),
            fixtures: counts.fixtures,
            overdue: counts.checks.overdue,
            open: counts.open.count,
            worst: counts
                .open
                .worst
                .map(|worst| severity_words(Language::ENGLISH, worst)),
        }
    });
    rows.collect()
}

/// The fixtures that are not sound, gravest first.
fn wrong(standing: &Standing) -> Vec<Row> {
    let mut judged: Vec<(Condition, String, &Line)> = standing
        .lines
        .iter()
        .map(|line| {
            let (word, reason) = judge(&line.record);
            (word, reason, line)
        })
        .filter(|(word, ..)| *word != Condition::Sound)
        .collect();
    judged.sort_by_key(|(word, ..)| *word);
    let day = |date: Option<chrono::NaiveDate>, none: &str| {
        date.map_or_else(|| none.to_owned(), |date| language::day(date, standing.today))
    };
    judged
        .into_iter()
        .map(|(word, reason, line)| Row {
            unit: line.unit.clone(),
            place: if line.room.is_empty() {
                line.tag.clone()
            } else {
                format!("{} · {}", line.room, line.tag)
            },
            kind: line.kind.name(),
            word: word.code(),
            reason,
            last_done: day(line.last_done, "never"),
            next_due: day(line.next_due, "nothing"),
        })
        .collect()
}

fn loose(standing: &Standing) -> Vec<LooseRow> {
    standing
        .loose
        .iter()
        .map(|one| LooseRow {
            unit: one.unit.clone(),
            place: if one.tag.is_empty() {
                "the unit".to_owned()
            } else {
                format!("{}, where nothing stands now", one.tag)
            },
            title: one.title.clone(),
            severity: one.severity.code(),
            severity_words: one.severity.name(),
        })
        .collect()
}

/// Each unit with its worst condition and how many fixtures are in it.
fn units(lines: &[Line]) -> Vec<UnitRow> {
    let mut order: Vec<&str> = Vec::new();
    let mut by_unit: BTreeMap<&str, Vec<Condition>> = BTreeMap::new();
    for line in lines {
        let words = by_unit.entry(&line.unit).or_default();
        if words.is_empty() {
            order.push(&line.unit);
        }
        words.push(judge(&line.record).0);
    }
    order
        .into_iter()
        .filter_map(|unit| {
            let words = by_unit.get(unit)?;
            let worst = words.iter().min().copied()?;
            Some(UnitRow {
                unit: unit.to_owned(),
                fixtures: words.len(),
                word: worst.code(),
                worst: words.iter().filter(|word| **word == worst).count(),
            })
        })
        .collect()
}
