//! A building's figures on a day, each opening into the rows that make it: the score, the share of current checks, the facility
//! condition index, the words.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::{asked_day, bar, counts};
use crate::actions::condition::rating::{self, Rating, Role as Standing};
use crate::domain::code::Coded as _;
use crate::domain::condition::index::{Bands, Index, percent};
use crate::domain::condition::score::Score;
use crate::domain::register::person::Role;
use crate::domain::result::money;
use crate::error::Error;
use crate::language;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/condition/score.html")]
struct Page {
    chrome: Chrome,
    code: String,
    name: String,
    said: String,
    as_of: String,
    past: bool,
    bar: String,
    figures: Vec<Figure>,
    score: Option<Scored>,
    rows: Vec<Row>,
    units: Vec<UnitRow>,
    shares: Vec<(String, usize, usize, String)>,
    deferred: String,
    values: Vec<ValueRow>,
    value: String,
    bands: String,
    within_days: u32,
}

/// A figure at the head of the page, leading to its rows.
pub struct Figure {
    /// The figure.
    pub value: String,
    /// What it is.
    pub word: String,
    /// Where its rows stand.
    pub href: String,
}

struct Scored {
    deductions: Vec<Deduction>,
    all: String,
    score: String,
    unit_loss: String,
    reported: String,
    verdict: &'static str,
    units: u32,
}

struct Deduction {
    area: &'static str,
    severity: &'static str,
    count: u32,
    weight: String,
    loss: String,
}

struct Row {
    id: i64,
    may_open: bool,
    unit: String,
    place: String,
    title: String,
    key: &'static str,
    severity: &'static str,
    scored: String,
    remedy: String,
    basis: &'static str,
}

struct UnitRow {
    label: String,
    answered: usize,
    asked: usize,
    counts: bool,
}

struct ValueRow {
    kind: &'static str,
    standing: i64,
    each: String,
    all: String,
}

/// Shows the figures.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let now = context.now;
    let found = context
        .read(move |conn, actor| rating::rate(conn, &actor.scope, now, &code, day))
        .await?;
    let may_open = context.actor().role == Role::Manager;
    let name = found.building.facts.name.clone();
    let index = found.index;
    let money_of = |minor: Option<i64>| minor.map_or_else(|| "0.00".to_owned(), money::text);
    respond::page(&Page {
        chrome: Chrome::new(&context, &request, &format!("Score of {name}")),
        code: found.building.facts.code.clone(),
        said: language::day(found.as_of, found.today),
        as_of: found.as_of.to_string(),
        past: found.as_of < found.today,
        bar: bar(&name, &counts(&found.standing.lines)),
        figures: figures(&found),
        score: found.score.as_ref().map(scored),
        rows: rows(&found, may_open),
        units: units(&found),
        shares: found
            .shares
            .iter()
            .map(|(title, share)| (title.clone(), share.current, share.all, share.words()))
            .collect(),
        deferred: money_of(index.map(|index| index.deferred_minor)),
        values: values(&found),
        value: money_of(index.map(|index| index.replacement_minor)),
        bands: bands(&found.figures.bands),
        within_days: within_days()?,
        name,
    })
}

/// Within how many days a unit's checks must have been answered.
pub fn within_days() -> Result<u32, Error> {
    let known = crate::exchange::catalogue::years().map_err(Error::internal)?;
    Ok(known.inspected_within_days.0)
}

/// The bands in words.
pub fn bands(bands: &Bands) -> String {
    let [good, fair, poor] = [bands.good, bands.fair, bands.poor].map(percent);
    format!("Good to {good} %, fair to {fair} %, poor to {poor} %, critical beyond.")
}

fn figures(found: &Rating) -> Vec<Figure> {
    let score = score_words(found.score.as_ref());
    vec![
        Figure {
            value: score.0,
            word: format!("score, {}", score.1),
            href: "#score".to_owned(),
        },
        Figure {
            value: found.share().words(),
            word: "of checks current".to_owned(),
            href: "#current".to_owned(),
        },
        Figure {
            value: index_words(found.index.as_ref(), &found.figures.bands),
            word: "condition index".to_owned(),
            href: "#index".to_owned(),
        },
    ]
}

/// The reported score and what it says.
pub fn score_words(score: Option<&Score>) -> (String, &'static str) {
    score.map_or_else(
        || ("none".to_owned(), "no unit inspected"),
        |score| {
            let word = if score.passes { "passes" } else { "fails" };
            (floored(score.reported, 1), word)
        },
    )
}

/// A figure cut, not rounded, so that 59.99 does not read as the 60.0 that passes.
pub fn floored(value: f64, decimals: u32) -> String {
    let tens = 10_f64.powi(i32::try_from(decimals).unwrap_or(1));
    // Figures of whole tenths, such as 71.2, lie a hair beside themselves.
    let cut = (value * tens + 1e-6).floor() / tens;
    format!("{cut:.places$}", places = usize::try_from(decimals).unwrap_or(1))
}

/// The index and its band.
pub fn index_words(index: Option<&Index>, bands: &Bands) -> String {
    index.map_or_else(
        || "none".to_owned(),
        // Up to the next tenth, so that what is beyond a band's edge does not read as within it.
        |index| {
            let percent = (index.ratio() * 1_000.0 - 1e-6).ceil().max(0.0) / 10.0;
            format!("{percent:.1} %, {}", index.band(bands).code())
        },
    )
}

fn scored(score: &Score) -> Scored {
    let lost: f64 = score.deductions.iter().map(|part| part.loss).sum();
    Scored {
        deductions: score
            .deductions
            .iter()
            .map(|part| Deduction {
                area: part.area.name(),
                severity: part.severity.name(),
                count: part.count,
                weight: format!("{:.1}", part.weight),
                loss: format!("{:.2}", part.loss),
            })
            .collect(),
        all: format!("{lost:.2}"),
        score: floored(score.score, 2),
        unit_loss: format!("{:.2}", score.unit_loss),
        reported: floored(score.reported, 2),
        verdict: if score.passes { "passes" } else { "fails" },
        units: score.units_inspected,
    }
}

fn rows(found: &Rating, may_open: bool) -> Vec<Row> {
    let again = rating::repeated(found);
    found
        .rows
        .iter()
        .enumerate()
        .map(|(at, row)| Row {
            id: row.open.id.0,
            may_open,
            unit: row.unit.clone(),
            place: row
                .open
                .place
                .as_ref()
                .map_or_else(String::new, |(tag, _)| tag.clone()),
            title: row.open.title.clone(),
            key: row.open.severity.code(),
            severity: row.open.severity.name(),
            scored: match &row.role {
                Standing::Left(why) => format!("not scored: {why}"),
                Standing::Scored { name, .. } if again.contains(&at) => {
                    format!("{name}; does not count again")
                }
                Standing::Scored { defect, name } if defect.severity != row.open.severity => format!(
                    "{name}, {}, as {}: the method knows no repeats",
                    defect.area.code(),
                    defect.severity.name().to_lowercase()
                ),
                Standing::Scored { defect, name } => format!("{name}, {}", defect.area.code()),
            },
            remedy: money::text(row.remedy_minor),
            basis: row.remedy_basis,
        })
        .collect()
}

fn units(found: &Rating) -> Vec<UnitRow> {
    let of_units = found.units.iter().map(|unit| UnitRow {
        label: unit.unit.facts.label.clone(),
        answered: unit.answered,
        asked: unit.asked,
        counts: unit.counts(),
    });
    of_units.collect()
}

fn values(found: &Rating) -> Vec<ValueRow> {
    let of_kinds = found.values.iter().map(|value| ValueRow {
        kind: value.item.name(),
        standing: value.standing,
        each: money::text(value.each_minor),
        all: money::text(value.standing * value.each_minor),
    });
    of_kinds.collect()
}
