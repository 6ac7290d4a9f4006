//! What of a building will have to be replaced in five or ten years: a picture, the same as a table, by kind, what is due in the next
//! budget year, the best ages for planning.

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::{Days, Months, NaiveDate};

use super::asked_day;
use crate::actions::condition::ahead::{self, Ahead};
use crate::domain::condition::Condition;
use crate::domain::forecast::{Forecast, Line};
use crate::domain::result::money;
use crate::error::Error;
use crate::language;
use crate::picture::forecast::{Bars, Year, forecast as picture};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows shown of what is due.
const SHOWN: usize = 200;

#[derive(Template)]
#[template(path = "pages/condition/forecast.html")]
struct Page {
    chrome: Chrome,
    code: String,
    name: String,
    said: String,
    as_of: String,
    years_ahead: usize,
    past: bool,
    picture: String,
    years: Vec<YearRow>,
    kinds: Vec<KindRow>,
    without_life: String,
    budget: String,
    due_cost: String,
    due: Vec<DueRow>,
    more: Option<String>,
    ages: Vec<AgeRow>,
}

/// A year, or all of them.
pub struct YearRow {
    /// From when to when.
    pub label: String,
    /// Expected replacements.
    pub replacements: String,
    /// Expected cost.
    pub cost: String,
    /// One in ten stays below.
    pub low: String,
    /// One in two.
    pub median: String,
    /// Nine in ten.
    pub high: String,
}

/// A kind over the years.
pub struct KindRow {
    /// Which.
    pub kind: &'static str,
    /// How many stand there.
    pub standing: usize,
    /// Expected replacements.
    pub replacements: String,
    /// Expected cost.
    pub cost: String,
}

struct DueRow {
    unit: String,
    tag: String,
    kind: &'static str,
    age: String,
    remains: String,
    chance: String,
    cost: String,
}

struct AgeRow {
    kind: &'static str,
    age: String,
    planned: String,
    unplanned: String,
}

/// How many years the address asks for: five or ten.
pub fn asked_years(asked: &Fields) -> usize {
    if asked.text("years") == "10" { 10 } else { 5 }
}

/// Shows the forecast.
///
/// # Errors
/// When there is no such building in sight, or the day has no condition.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let asked = Fields::from_urlencoded(request.query_string().as_bytes());
    let day = asked_day(&asked).map_err(Error::Fields)?;
    let (now, years) = (context.now, asked_years(&asked));
    let found = context
        .read(move |conn, actor| ahead::look(conn, &actor.scope, now, &code, day, years))
        .await?;
    let name = found.building.facts.name.clone();
    let today = found.today;
    let day = |date: NaiveDate| language::day(date, today);
    let due = found.due().count();
    respond::page(&Page {
        chrome: Chrome::new(&context, &request, &format!("Forecast of {name}")),
        code: found.building.facts.code.clone(),
        said: format!("{years} years from {}", day(found.as_of)),
        as_of: found.as_of.to_string(),
        years_ahead: years,
        past: found.as_of < today,
        picture: bars(&name, &found.forecast, found.as_of),
        years: year_rows(&found.forecast, found.as_of),
        kinds: found.forecast.lines.iter().map(kind_row).collect(),
        without_life: language::count(
            found.forecast.without_life,
            "fixture or part has",
            "fixtures and parts have",
        ),
        budget: span(found.budget_year),
        due_cost: money::text(found.due().map(|row| row.cost_minor).sum()),
        due: due_rows(&found),
        more: (due > SHOWN).then(|| format!("{SHOWN} of {due}; all of them stand in the CSV.")),
        ages: age_rows(&found),
        name,
    })
}

/// The picture of the years, and the same in words.
pub fn bars(name: &str, forecast: &Forecast, as_of: NaiveDate) -> String {
    let major = |minor: i64| minor as f64 / 100.0;
    picture(&Bars {
        title: format!(
            "{name}: {} expected in {} years",
            money::text(forecast.total.expected.cost_minor),
            forecast.years.len()
        ),
        years: forecast
            .years
            .iter()
            .enumerate()
            .map(|(year, sum)| Year {
                label: year_of(as_of, year).1.format("%Y").to_string(),
                expected: major(sum.expected.cost_minor),
                low: major(sum.low_minor),
                high: major(sum.high_minor),
            })
            .collect(),
    })
}

/// First and last day of a year of the forecast, the first being 0.
/// First and last day of a year ahead, 0 for the first.
pub fn year_of(as_of: NaiveDate, year: usize) -> (NaiveDate, NaiveDate) {
    let months = |years: usize| Months::new(u32::try_from(years * 12).unwrap_or(0));
    let from = as_of.checked_add_months(months(year)).unwrap_or(as_of);
    let next = as_of.checked_add_months(months(year + 1)).unwrap_or(from);
    (from, next.checked_sub_days(Days::new(1)).unwrap_or(next))
}

/// First and last day as people read them: `1 Jan 2027 to 31 Dec 2027`.
fn span((from, to): (NaiveDate, NaiveDate)) -> String {
    format!("{} to {}", from.format("%-d %b %Y"), to.format("%-d %b %Y"))
}

/// The years as rows, and all of them together as the last.
pub fn year_rows(forecast: &Forecast, as_of: NaiveDate) -> Vec<YearRow> {
    let rows = (0..)
        .zip(&forecast.years)
        .map(|(year, sum)| row(span(year_of(as_of, year)), sum));
    rows.chain([row("All years".to_owned(), &forecast.total)])
        .collect()
}

fn row(label: String, sum: &crate::domain::forecast::Sum) -> YearRow {
    YearRow {
        label,
        replacements: tenths(sum.expected.replacements),
        cost: money::text(sum.expected.cost_minor),
        low: money::text(sum.low_minor),
        median: money::text(sum.median_minor),
        high: money::text(sum.high_minor),
    }
}

/// A count that need not be whole: `1,011.3`.
pub fn tenths(count: f64) -> String {
    let text = format!("{count:.1}");
    match text.split_once('.') {
        Some((whole, part)) => match whole.parse() {
            Ok(whole) => format!("{}.{part}", language::grouped(whole)),
            Err(_) => text,
        },
        None => text,
    }
}

/// A kind as a row.
pub fn kind_row(line: &Line) -> KindRow {
    KindRow {
        kind: line.item.name(),
        standing: line.standing,
        replacements: tenths(line.total.replacements),
        cost: money::text(line.total.cost_minor),
    }
}

fn due_rows(found: &Ahead) -> Vec<DueRow> {
    let rows = found.due().take(SHOWN).map(|row| {
        let guess = match row.installed.date() {
            Some(_) => "",
            None => ", taken for",
        };
        let worn = match row.condition {
            Condition::Sound | Condition::Unknown => String::new(),
            _ => format!("; counts as {:.1}", row.effective_age_years),
        };
        DueRow {
            unit: row.unit.clone(),
            tag: row.tag.clone(),
            kind: row.item.name(),
            age: format!("{:.1} years{guess}{worn}", row.age_years),
            remains: format!("{:.1} years", row.mean_residual_years),
            chance: format!("{:.0} %", row.before_budget_end * 100.0),
            cost: money::text(row.cost_minor),
        }
    });
    rows.collect()
}

fn age_rows(found: &Ahead) -> Vec<AgeRow> {
    let yearly = |minor: f64| format!("{:.2}", minor / 100.0);
    let rows = found.best_ages().into_iter().map(|(item, best)| AgeRow {
        kind: item.name(),
        age: format!("{:.1} years", best.age),
        planned: yearly(best.cost_rate),
        unplanned: yearly(best.run_to_failure_rate),
    });
    rows.collect()
}
