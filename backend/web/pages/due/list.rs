//! The due list as a page. Its filters stand in the address; the same address with `.csv` is the file.

use std::sync::Arc;

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::address::{Asked, key_text};
use super::moved::{self, Moved};
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::person::{Actor, Role};
use crate::domain::trade::{FixtureKind, PartKind, Severity};
use crate::error::Result;
use crate::language::Language;
use crate::picture::window_line::{SaidLine, WindowLine, kept_window_line};
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
    words: Words,
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

/// What is said once for all rows of a page: before and behind what a row puts in.
struct Words {
    select: (String, String),
    record: String,
    technician: String,
    unassigned: String,
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
    window: Arc<SaidLine>,
    state: &'static str,
    /// Behind the due date: where it was moved from and why, when it was.
    moved: String,
}

/// Shows the list.
///
/// # Errors
/// When a filter can't be used or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (now, today, language) = (context.now, context.today(), context.language());
    let mut page = context
        .read(move |conn, actor| load(conn, actor, (now, today), language, fields))
        .await?;
    page.chrome = Chrome::new(&context, &request, &String::from(language.say("place-due"))).spoken();
    respond::page(&page)
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, today): (Now, NaiveDate),
    language: Language,
    fields: Fields,
) -> Result<List> {
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
    let lines = with_moves(conn, lines, language)?;
    let total = counts.total();
    let tallies = tallies(&desk, &asked, &counts, language);
    Ok(List {
        chrome: Chrome::anonymous(""),
        choices: choices(&desk, &counts, language),
        words: Words {
            select: language.say("due-select-row").around("row"),
            record: language.say("due-record").into(),
            technician: language.say("technician").into(),
            unassigned: language.say("due-unassigned").into(),
        },
        today: language.day(today, today),
        buildings_with: counts.buildings(),
        shows_tallies: tallies.len() <= FEW_TALLIES
            && asked.after.is_none()
            && actor.role != Role::Technician,
        tallies,
        shows_building: asked.order == Order::LastDay && desk.places.len() > 1,
        csv: asked.address("/due.csv"),
        every_state: asked.with("/due", &[("state", "all")]),
        shown: shown(&asked, lines.len(), more, total, language),
        first: asked.after.map(|_| asked.address("/due")),
        next: lines
            .last()
            .filter(|_| more)
            .map(|(last, _)| asked.after(&last.cursor())),
        groups: groups(&desk, &asked, &counts, &lines, language),
        total: tally(String::new(), total, language, |state| {
            asked.with("/due", &[("state", state)])
        }),
        asked,
    })
}

/// Each row with where its date was moved from, and why.
fn with_moves(conn: &mut AnyConnection, lines: Vec<Line>, language: Language) -> Result<Vec<(Line, String)>> {
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
    let said = moved::in_words(conn, &dates, language)?;
    Ok(lines.into_iter().zip(said).collect())
}

/// How many of how many; what opens later is not counted off.
fn shown(asked: &Asked, rows: usize, more: bool, total: Count, language: Language) -> String {
    let all = usize::try_from(asked.filter.asked_of(total)).unwrap_or(0);
    if more || asked.after.is_some() {
        if all >= rows && !matches!(asked.text("state"), "later" | "all") {
            let said = language.say(match asked.after {
                None => "due-first-rows-of",
                Some(_) => "due-rows-of",
            });
            return said
                .with("rows", language.grouped(rows))
                .with("all", language.grouped(all))
                .into();
        }
        return language.count("due-rows-on-page", rows);
    }
    language.count("due-rows", rows)
}

fn choices(desk: &Desk, counts: &Counts, language: Language) -> Choices {
    let each = desk.checks.values();
    let mut checks: Vec<_> = each
        .map(|check| {
            let title = language.check_title(&check.code, check.version, &check.title);
            (title, check.code.as_str())
        })
        .collect();
    checks.sort_unstable();
    let overdue = language.say("due-number-overdue").around("number");
    let mut schedules: Vec<&str> = desk
        .schedules
        .values()
        .map(|asking| asking.code.as_str())
        .collect();
    schedules.sort_unstable();
    let mut technicians = vec![Choice::new("nobody", language.say("due-unassigned"))];
    let people = desk.people.iter();
    technicians.extend(people.map(|(id, name)| Choice::new(id.to_string(), name)));
    let buildings = if desk.places.len() > MOST_OFFERED {
        Vec::new()
    } else {
        let each = desk.places.iter();
        each.map(|place| Choice::new(&place.code, with_overdue(place, counts, &overdue)))
            .collect()
    };
    Choices {
        states: vec![
            Choice::new("overdue", language.say("due-overdue")),
            Choice::new("due", language.say("due-due")),
            Choice::new("in_window", language.say("due-in-window")),
            Choice::new("later", language.say("due-later")),
            Choice::new("all", language.say("due-every-state")),
        ],
        buildings,
        kinds: Choice::every_in::<FixtureKind>(language),
        checks: checks
            .into_iter()
            .map(|(title, code)| Choice::new(code, title))
            .collect(),
        schedules: schedules
            .into_iter()
            .map(|code| Choice::new(code, code.replace('_', " ")))
            .collect(),
        technicians,
        severities: Choice::every_in::<Severity>(language),
        orders: vec![Choice::new("building", language.say("due-by-building"))],
    }
}

/// A building's name, with how much is overdue there.
fn with_overdue(place: &Place, counts: &Counts, (before, behind): &(String, String)) -> String {
    match counts.get(place.id) {
        Some(count) if count.overdue > 0 => {
            format!("{}, {before}{}{behind}", place.name, count.overdue)
        }
        _ => place.name.clone(),
    }
}

/// The counts of every building that has any, when the list is not of one: all of them by code, or of many those with the most
/// overdue.
fn tallies(desk: &Desk, asked: &Asked, counts: &Counts, language: Language) -> Vec<Tally> {
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
    each.map(|(place, count)| {
        let name = place.name.clone();
        tally(name, count, language, |state| links.to(&place.code, state))
    })
    .collect()
}

/// Counts, each with where it leads by its state; no state is every one.
fn tally(name: String, count: Count, language: Language, href: impl Fn(&str) -> String) -> Tally {
    let figure = |count: i64, state: &str| Figure {
        count: language.grouped(usize::try_from(count).unwrap_or(0)),
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

fn groups(
    desk: &Desk,
    asked: &Asked,
    counts: &Counts,
    lines: &[(Line, String)],
    language: Language,
) -> Vec<Group> {
    let rows = |lines: &[(Line, String)]| {
        let rows = lines.iter().map(|(line, moved)| row(desk, line, moved, language));
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
                .map(|count| in_words(count, language))
                .unwrap_or_default(),
            rows: rows(lines),
        })
        .collect()
}

/// "17 overdue, 3 due, 12 in the window", without what there is none of.
fn in_words(count: Count, language: Language) -> String {
    let parts = [
        (count.overdue, language.say("due-number-overdue")),
        (count.due, language.say("due-number-due")),
        (count.in_window, language.say("due-number-in-window")),
    ];
    let present = parts.into_iter().filter(|(number, _)| *number > 0);
    let words = present.map(|(number, said)| {
        let number = usize::try_from(number).unwrap_or(0);
        said.with("number", language.grouped(number)).to_string()
    });
    words.collect::<Vec<_>>().join(", ")
}

fn row(desk: &Desk, line: &Line, moved: &str, language: Language) -> Row {
    let room = Some(line.room.as_str()).filter(|room| !room.is_empty());
    let part = line.key.part.map(|part| language.word(part).to_lowercase());
    let place = room.into_iter().chain([line.tag.as_str()]).chain(part.as_deref());
    let window = kept_window_line(&WindowLine::new(line.window, line.today).read_in(language));
    Row {
        moved: if moved.is_empty() {
            String::new()
        } else {
            format!(", {moved}")
        },
        key: key_text(&line.key),
        building: line.building_code.clone(),
        unit: line.unit.0,
        unit_label: line.unit_label.clone(),
        place: place.collect::<Vec<_>>().join(" · "),
        fixture: line.key.fixture.0,
        check: line.check.clone(),
        part: line.key.part.map_or("", PartKind::code),
        title: language
            .check_title(&line.check, line.version, &line.title)
            .into_owned(),
        technician: line.technician.map(|person| {
            let name = desk.name(person).map(str::to_owned);
            name.unwrap_or_else(|| language.say("due-somebody-who-left").into())
        }),
        state: line.window.state(line.today).code(),
        window,
    }
}
