//! The list of deficiencies, the nearest deadline first. Its filters stand in the address; the same address with `.csv` is the file.

use actix_web::HttpRequest;
use askama::Template;

use super::words;
use crate::actions::deficiencies::Titles;
use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::measure::LengthUnit;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::result::{DeficiencyStatus, Origin};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::language::Language;
use crate::store::lists::deficiencies::{self, By, Cursor, Filter, Line, Status};
use crate::store::{AnyConnection, buildings};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::water::summary::Leaks;
use crate::web::respond;

/// Rows on one page.
const ROWS: usize = 50;

#[derive(Template)]
#[template(path = "pages/deficiencies/list.html")]
struct List {
    chrome: Chrome,
    building: String,
    severity: String,
    status: String,
    assignee: String,
    buildings: Vec<Choice>,
    severities: Vec<Choice>,
    statuses: Vec<Choice>,
    assignees: Vec<Choice>,
    rows: Vec<Row>,
    csv: String,
    water: Option<String>,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

struct Row {
    id: i64,
    severity: &'static str,
    severity_words: String,
    building: String,
    unit: i64,
    unit_label: String,
    place: String,
    title: String,
    by: &'static str,
    until: String,
    stands: String,
    who: String,
    repeats: Option<i64>,
}

/// What the address asks for.
pub(super) struct Asked {
    pub(super) filter: Filter,
    fields: Fields,
}

impl Asked {
    /// Reads the address. What is no filter of ours is told, so that nobody mistakes a shorter list for the whole.
    ///
    /// # Errors
    /// A sentence for a filter that can't be used, or a building that may not be seen.
    pub(super) fn read(conn: &mut AnyConnection, scope: &Scope, fields: Fields) -> Result<Self> {
        let building = match fields.text("building") {
            "" => None,
            code => Some(buildings::by_code(conn, scope, code)?.id),
        };
        let severity = match fields.text("severity") {
            "" => None,
            code => Some(Severity::from_code(code).map_err(Error::refused)?),
        };
        let status = match fields.text("status") {
            "" => Status::Standing,
            "all" => Status::All,
            code => Status::Only(DeficiencyStatus::from_code(code).map_err(Error::refused)?),
        };
        let assignee = match fields.text("assignee") {
            "" => None,
            "nobody" => Some(By::Nobody),
            "vendor" => Some(By::Vendor),
            key => Some(By::Person(PersonId(key.parse().map_err(|_no_key| {
                Error::refused("The filter “sees to it” names nobody we know. Choose one of the list.")
            })?))),
        };
        let filter = Filter {
            building,
            severity,
            status,
            assignee,
        };
        Ok(Self { filter, fields })
    }

    /// The filters as they stand after the `?`, without a page's place.
    fn query(&self) -> String {
        let kept = ["building", "severity", "status", "assignee"].map(|name| (name, self.fields.text(name)));
        url::form_urlencoded::Serializer::new(String::new())
            .extend_pairs(kept.iter().filter(|(_, value)| !value.is_empty()))
            .finish()
    }

    fn after(&self) -> Option<Cursor> {
        let (by, id) = self.fields.text("after").split_once('_')?;
        let id = DeficiencyId(id.parse().ok()?);
        match by {
            "none" => Some((None, id)),
            by => Some((Some(by.parse().ok()?), id)),
        }
    }
}

fn cursor(line: &Line) -> String {
    let by = line.correct_by.map_or_else(
        || "none".to_owned(),
        |by| by.format("%Y-%m-%dT%H:%M:%S%.f").to_string(),
    );
    format!("{by}_{}", line.id)
}

/// Lists the deficiencies.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (now, language) = (context.now, context.language());
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, language, fields))
        .await?;
    page.chrome = Chrome::new(&context, &request, &context.say("place-deficiencies").to_string()).spoken();
    respond::page(&page)
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    now: Now,
    language: Language,
    fields: Fields,
) -> Result<List> {
    let asked = Asked::read(conn, &actor.scope, fields)?;
    let limit = i64::try_from(ROWS + 1).unwrap_or(i64::MAX);
    let mut lines = deficiencies::list(conn, &actor.scope, &asked.filter, asked.after(), limit)?;
    let more = lines.len() > ROWS;
    lines.truncate(ROWS);
    let query = asked.query();
    let next = lines.last().filter(|_| more).map(|last| {
        let joint = if query.is_empty() { "" } else { "&" };
        format!("/deficiencies?{query}{joint}after={}", cursor(last))
    });
    let address = |path: &str| {
        if query.is_empty() {
            path.to_owned()
        } else {
            format!("{path}?{query}")
        }
    };
    let text = |name: &str| asked.fields.text(name).to_owned();
    let titles = Titles::load(conn, language)?;
    Ok(List {
        chrome: Chrome::anonymous(""),
        building: text("building"),
        severity: text("severity"),
        status: text("status"),
        assignee: text("assignee"),
        buildings: buildings::list(conn, &actor.scope)?
            .into_iter()
            .map(|building| Choice::new(building.facts.code, building.facts.name))
            .collect(),
        severities: Choice::every_in::<Severity>(language),
        statuses: statuses(language),
        assignees: assignees(conn, &actor.scope, language)?,
        water: Leaks::load(conn, &actor.scope, asked.filter.building)?.sentence(language, LengthUnit::Inch),
        csv: address("/deficiencies.csv"),
        shown: language.count("deficiencies-on-page", lines.len()),
        first: asked.after().map(|_| address("/deficiencies")),
        next,
        rows: lines
            .iter()
            .map(|line| row(line, now, language, &titles))
            .collect(),
    })
}

fn statuses(language: Language) -> Vec<Choice> {
    let mut every = Choice::every_in::<DeficiencyStatus>(language);
    every.push(Choice::new("all", language.say("deficiencies-every-state")));
    every
}

fn assignees(conn: &mut AnyConnection, scope: &Scope, language: Language) -> Result<Vec<Choice>> {
    let mut choices = vec![
        Choice::new("nobody", language.say("deficiencies-of-nobody")),
        Choice::new("vendor", language.say("deficiencies-of-vendor")),
    ];
    for (person, name) in deficiencies::assignees(conn, scope)? {
        choices.push(Choice::new(person.to_string(), name));
    }
    Ok(choices)
}

fn row(line: &Line, now: Now, language: Language, titles: &Titles) -> Row {
    let (by, until) = match line.closed_at {
        Some(at) => {
            let moment = language.moment(at, line.zone, now.date_in(line.zone));
            let said = language.say("deficiency-closed-at").with("moment", moment);
            ("later", said.into())
        }
        None => (
            words::lateness(line.correct_by, now),
            words::until_in(language, line.correct_by, now, line.zone),
        ),
    };
    let place = [line.room.as_str(), line.tag.as_str()];
    let mut place: Vec<String> = place
        .iter()
        .filter(|part| !part.is_empty())
        .map(|part| (*part).to_owned())
        .collect();
    place.extend(line.part.map(|part| language.word(part).to_lowercase()));
    if line.origin == Origin::Report {
        place.push(language.say("deficiency-reported").into());
    }
    Row {
        id: line.id.0,
        severity: line.severity.code(),
        severity_words: language.word(line.severity),
        building: line.building_code.clone(),
        unit: line.unit.0,
        unit_label: line.unit_label.clone(),
        place: place.join(" · "),
        title: titles.read(line.check, &line.title),
        by,
        until,
        stands: language.word(line.status),
        who: words::sees_to_it(language, &line.assignee, &line.vendor),
        repeats: line.repeats.map(|repeats| repeats.0),
    }
}
