//! The due list as a page. Its filters stand in the address; the same address with `.csv` is the file.

use std::sync::Arc;

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::address::{Asked, key_text};
use super::moved::{self, Moved};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::due::{due_in_words, sentence};
use crate::domain::register::person::{Actor, Role};
use crate::domain::trade::{FixtureKind, PartKind, Severity};
use crate::error::Result;
use crate::language;
use crate::picture::window_line::{WindowLine, kept_window_line};
use crate::store::AnyConnection;
use crate::store::lists::due::{self, Count, Counts, Desk, Line, Order, Place};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Rows on one page.
const ROWS: usize = 50;

/// No more buildings than this are counted one by one before anybody asks for it.
const FEW_TALLIES: usize = 6;

/// With more buildings than this the filter takes a code instead of offering all.
const MOST_OFFERED: usize = 200;

#[derive(Template)]
#[template(path = "pages/due/list.html")]
struct List {
    chrome: Chrome,
    asked: Asked,
    choices: Choices,
    today: String,
    total: Tally,
    buildings_with: usize,
    tallies: Vec<Tally>,
    /// Whether the counts by building stand open: few of them, on the first page, and not on a technician's phone.
    shows_tallies: bool,
    groups: Vec<Group>,
    shows_building: bool,
    csv: String,
    every_state: String,
    shown: String,
    first: Option<String>,
    next: Option<String>,
}

/// What the filters offer.
struct Choices {
    states: Vec<Choice>,
    buildings: Vec<Choice>,
    kinds: Vec<Choice>,
    checks: Vec<Choice>,
    schedules: Vec<Choice>,
    technicians: Vec<Choice>,
    severities: Vec<Choice>,
    orders: Vec<Choice>,
}

/// The counts of one building, or of all, with where each leads.
struct Tally {
    name: String,
    href: String,
    overdue: Figure,
    due: Figure,
    in_window: Figure,
}

struct Figure {
    count: String,
    href: Option<String>,
}

/// Rows beneath one heading; without a heading when the list is not by building.
struct Group {
    name: String,
    counts: String,
    rows: Vec<Row>,
}

struct Row {
    key: String,
    building: String,
    unit: i64,
    unit_label: String,
    place: String,
    fixture: i64,
    check: String,
    part: &'static str,
    title: String,
    technician: Option<String>,
    window_svg: Arc<str>,
    state: &'static str,
    words: String,
    /// The due date, and where it was moved from and why when it was.
    due: String,
}

/// Shows the list.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (now, today) = (context.now, context.today());
    let mut page = context
        .read(move |conn, actor| load(conn, actor, now, today, fields))
        .await?;
    page.chrome = Chrome::new(&context, &request, "Due");
    respond::page(&page)
}

fn load(conn: &mut AnyConnection, actor: &Actor, now: Now, today: NaiveDate, fields: Fields) -> Result<List> {
    let desk = Desk::load(conn, &actor.scope, now)?;
    let asked = Asked::read(conn, &actor.scope, &desk, fields)?;
    let counts = due::counts(conn, &desk, &asked.filter)?;
    let mut lines = due::page(
        conn,
        &desk,
        &asked.filter,
        asked.order,
        asked.after.as_ref(),
        ROWS + 1,
    )?;
    let more = lines.len() > ROWS;
    lines.truncate(ROWS);
    let lines = with_moves(conn, lines)?;
    let total = counts.total();
    let tallies = tallies(&desk, &asked, &counts);
    Ok(List {
        chrome: Chrome::anonymous(""),
        choices: choices(&desk, &counts),
        today: language::day(today, today),
        buildings_with: counts.buildings(),
        shows_tallies: tallies.len() <= FEW_TALLIES
            && asked.after.is_none()
            && actor.role != Role::Technician,
        tallies,
        shows_building: asked.order == Order::LastDay && desk.places.len() > 1,
        csv: asked.address("/due.csv"),
        every_state: asked.with("/due", &[("state", "all")]),
        shown: shown(&asked, lines.len(), more, total),
        first: asked.after.map(|_| asked.address("/due")),
        next: lines
            .last()
            .filter(|_| more)
            .map(|(last, _)| asked.after(&last.cursor())),
        groups: groups(&desk, &asked, &counts, &lines),
        total: tally(String::new(), total, |state| {
            asked.with("/due", &[("state", state)])
        }),
        asked,
    })
}

/// Each row with where its date was moved from, and why.
fn with_moves(conn: &mut AnyConnection, lines: Vec<Line>) -> Result<Vec<(Line, String)>> {
    let date = |line: &Line| {
        Some(Moved {
            building: line.building,
            schedule: line.asking,
            from: line.moved_from?,
            to: line.window.due(),
            today: line.today,
        })
    };
    let dates: Vec<Option<Moved>> = lines.iter().map(date).collect();
    let said = moved::in_words(conn, &dates)?;
    Ok(lines.into_iter().zip(said).collect())
}

/// How many of how many; what opens later is not counted off.
fn shown(asked: &Asked, rows: usize, more: bool, total: Count) -> String {
    let all = usize::try_from(asked.filter.asked_of(total)).unwrap_or(0);
    if more || asked.after.is_some() {
        if all >= rows && !matches!(asked.text("state"), "later" | "all") {
            let (rows, all) = (language::grouped(rows), language::grouped(all));
            return match asked.after {
                None => format!("The first {rows} of {all}"),
                Some(_) => format!("{rows} rows on this page, {all} in all"),
            };
        }
        return language::count(rows, "row on this page", "rows on this page");
    }
    language::count(rows, "row", "rows")
}

fn choices(desk: &Desk, counts: &Counts) -> Choices {
    let mut checks: Vec<_> = desk.checks.values().collect();
    checks.sort_by(|one, other| (&one.title, &one.code).cmp(&(&other.title, &other.code)));
    let mut schedules: Vec<&str> = desk
        .schedules
        .values()
        .map(|asking| asking.code.as_str())
        .collect();
    schedules.sort_unstable();
    let mut technicians = vec![Choice::new("nobody", "unassigned")];
    let people = desk.people.iter();
    technicians.extend(people.map(|(id, name)| Choice::new(id.to_string(), name)));
    let buildings = if desk.places.len() > MOST_OFFERED {
        Vec::new()
    } else {
        let each = desk.places.iter();
        each.map(|place| Choice::new(&place.code, with_overdue(place, counts)))
            .collect()
    };
    Choices {
        states: vec![
            Choice::new("overdue", "overdue"),
            Choice::new("due", "due"),
            Choice::new("in_window", "in the window"),
            Choice::new("later", "later"),
            Choice::new("all", "every state"),
        ],
        buildings,
        kinds: Choice::every(FixtureKind::name),
        checks: checks
            .into_iter()
            .map(|check| Choice::new(&check.code, &check.title))
            .collect(),
        schedules: schedules
            .into_iter()
            .map(|code| Choice::new(code, code.replace('_', " ")))
            .collect(),
        technicians,
        severities: Choice::every(Severity::name),
        orders: vec![Choice::new("building", "by building")],
    }
}

/// A building's name, with how much is overdue there.
fn with_overdue(place: &Place, counts: &Counts) -> String {
    match counts.get(place.id) {
        Some(count) if count.overdue > 0 => format!("{}, {} overdue", place.name, count.overdue),
        _ => place.name.clone(),
    }
}

/// The counts of every building that has any, when the list is not of one: all of them by code, or of many those with the most
/// overdue.
fn tallies(desk: &Desk, asked: &Asked, counts: &Counts) -> Vec<Tally> {
    if asked.filter.building.is_some() {
        return Vec::new();
    }
    let worst = counts.worst().iter();
    let mut each: Vec<(&Place, Count)> = worst
        .filter_map(|(id, count)| Some((desk.place(*id)?, *count)))
        .collect();
    if counts.buildings() <= Counts::WORST {
        each.sort_by(|(one, _), (other, _)| one.code.cmp(&other.code));
    }
    let links = asked.of_any_building("/due");
    let each = each.into_iter();
    each.map(|(place, count)| tally(place.name.clone(), count, |state| links.to(&place.code, state)))
        .collect()
}

/// Counts, each with where it leads by its state; no state is every one.
fn tally(name: String, count: Count, href: impl Fn(&str) -> String) -> Tally {
    let figure = |count: i64, state: &str| Figure {
        count: language::grouped(usize::try_from(count).unwrap_or(0)),
        href: (count > 0).then(|| href(state)),
    };
    Tally {
        name,
        href: href(""),
        overdue: figure(count.overdue, "overdue"),
        due: figure(count.due, "due"),
        in_window: figure(count.in_window, "in_window"),
    }
}

fn groups(desk: &Desk, asked: &Asked, counts: &Counts, lines: &[(Line, String)]) -> Vec<Group> {
    let rows = |lines: &[(Line, String)]| {
        let rows = lines.iter().map(|(line, moved)| row(desk, line, moved));
        rows.collect()
    };
    if asked.order == Order::LastDay {
        return vec![Group {
            name: String::new(),
            counts: String::new(),
            rows: rows(lines),
        }];
    }
    lines
        .chunk_by(|(one, _), (other, _)| one.building == other.building)
        .map(|lines| Group {
            name: lines
                .first()
                .and_then(|(line, _)| desk.place(line.building))
                .map(|place| place.name.clone())
                .unwrap_or_default(),
            counts: lines
                .first()
                .and_then(|(line, _)| counts.get(line.building))
                .map(in_words)
                .unwrap_or_default(),
            rows: rows(lines),
        })
        .collect()
}

/// "17 overdue, 3 due, 12 in the window", without what there is none of.
fn in_words(count: Count) -> String {
    let parts = [
        (count.overdue, "overdue"),
        (count.due, "due"),
        (count.in_window, "in the window"),
    ];
    let present = parts.into_iter().filter(|(number, _)| *number > 0);
    let words = present.map(|(number, word)| {
        let number = usize::try_from(number).unwrap_or(0);
        format!("{} {word}", language::grouped(number))
    });
    words.collect::<Vec<_>>().join(", ")
}

fn row(desk: &Desk, line: &Line, moved: &str) -> Row {
    let room = Some(line.room.as_str()).filter(|room| !room.is_empty());
    let part = line.key.part.map(|part| part.name().to_lowercase());
    let place = room.into_iter().chain([line.tag.as_str()]).chain(part.as_deref());
    Row {
        key: key_text(&line.key),
        building: line.building_code.clone(),
        unit: line.unit.0,
        unit_label: line.unit_label.clone(),
        place: place.collect::<Vec<_>>().join(" · "),
        fixture: line.key.fixture.0,
        check: line.check.clone(),
        part: line.key.part.map_or("", PartKind::code),
        title: line.title.clone(),
        technician: line
            .technician
            .map(|person| desk.name(person).unwrap_or("somebody who left").to_owned()),
        window_svg: kept_window_line(&WindowLine::new(line.window, line.today)),
        state: line.window.state(line.today).code(),
        words: sentence(&line.window, line.today),
        due: due_in_words(&line.window, line.today, moved),
    }
}
