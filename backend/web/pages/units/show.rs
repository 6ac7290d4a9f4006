//! One unit: what is due and wrong there, its rooms in the order of the walk, and what can be done.

use actix_web::{HttpRequest, web};
use askama::Template;
use chrono::NaiveDate;

use super::words;
use crate::actions::deficiencies::Titles;
use crate::domain::register::person::{Actor, Role};
use crate::domain::register::{
    Building, Fixture, Household, Occupancy, Tag, TurnoverId, Unit, UnitId, UnitKind,
};
use crate::error::Result;
use crate::language::Language;
use crate::store::fixtures::Standing;
use crate::store::lists::due_lines::{self, UnitDue};
use crate::store::lists::place::{self, DeficiencyLine};
use crate::store::{AnyConnection, fixtures, households, tags, units};
use crate::web::choice::Fact;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::pages::fixtures::rows::{self, DeficiencyRow, DueRow};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/units/show.html")]
struct Show {
    chrome: Chrome,
    may_change: bool,
    key: i64,
    building: String,
    heading: String,
    summary: String,
    turnover: Option<TurnoverId>,
    is_unit: bool,
    due: Vec<DueRow>,
    later: String,
    deficiencies: Vec<DeficiencyRow>,
    rooms: Vec<RoomView>,
    empty_places: Vec<EmptyPlace>,
    entry: Vec<Fact>,
    households: Vec<HouseholdRow>,
}

struct RoomView {
    name: String,
    fixtures: Vec<FixtureRow>,
}

struct FixtureRow {
    key: i64,
    tag: String,
    kind: String,
    maker: String,
    installed: String,
    parts: usize,
}

struct EmptyPlace {
    key: i64,
    tag: String,
    /// Behind its tag: what stood there.
    stood: String,
}

struct HouseholdRow {
    key: i64,
    name: String,
    contact: String,
    lived: String,
}

struct Found {
    building: Building,
    unit: Unit,
    turnover: Option<TurnoverId>,
    standing: Vec<Standing>,
    empty: Vec<(Tag, Fixture)>,
    due: UnitDue,
    moved: Vec<String>,
    titles: Titles,
    deficiencies: Vec<DeficiencyLine>,
    households: Vec<Household>,
}

/// Shows a unit.
///
/// # Errors
/// When there is no such unit within what the person may see.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let (now, language) = (context.now, context.language());
    let found = context
        .read(move |conn, actor| {
            let (building, unit) = units::by_key(conn, &actor.scope, UnitId(*key))?;
            let today = now.date_in(building.facts.time_zone);
            load(conn, actor, (building, unit), today, language)
        })
        .await?;
    let today = now.date_in(found.building.facts.time_zone);
    let heading = words::heading(language, &found.unit.facts);
    let present = found
        .households
        .iter()
        .find(|household| household.lives_there_on(today));
    let is_manager = context.actor().role == Role::Manager;
    respond::page(&Show {
        chrome: Chrome::new(&context, &request, &heading).spoken(),
        may_change: is_manager,
        key: found.unit.id.0,
        building: found.building.facts.code.clone(),
        heading,
        summary: words::whereabouts(language, &found.building, &found.unit, today),
        turnover: found.turnover,
        is_unit: found.unit.facts.kind == UnitKind::Unit,
        later: later(&found.due, today, language),
        due: rows::due_rows(&found.due.lines, found.moved, today, language),
        deficiencies: found
            .deficiencies
            .iter()
            .map(|line| rows::deficiency(line, &found.building, now, &found.titles))
            .collect(),
        rooms: rooms(&found.standing, today, language),
        empty_places: found
            .empty
            .iter()
            .map(|place| empty_place(place, language))
            .collect(),
        entry: present.map_or_else(Vec::new, |household| {
            words::entry_in(language, &household.entry(), found.building.facts.notice_hours)
        }),
        households: if is_manager {
            found
                .households
                .iter()
                .map(|one| household_row(one, today, language))
                .collect()
        } else {
            Vec::new()
        },
    })
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    (building, unit): (Building, Unit),
    today: NaiveDate,
    language: Language,
) -> Result<Found> {
    let standing = fixtures::standing_in(conn, unit.id)?;
    let mut empty = Vec::new();
    for tag in tags::of_unit(conn, unit.id)? {
        if standing.iter().any(|one| one.tag.id == tag.id) {
            continue;
        }
        if let Some(last) = fixtures::history_of(conn, tag.id)?.into_iter().next() {
            empty.push((tag, last));
        }
    }
    let turnover = match unit.facts.occupancy {
        Occupancy::Turnover | Occupancy::OffLine => units::open_turnover(conn, unit.id)?,
        Occupancy::Occupied | Occupancy::Vacant => None,
    };
    let households = match actor.role {
        Role::Owner => Vec::new(),
        Role::Manager | Role::Technician => households::of_unit(conn, unit.id)?,
    };
    let due = due_lines::of_unit(conn, unit.id, today)?;
    Ok(Found {
        moved: rows::moved(conn, building.id, &due.lines, today, language)?,
        titles: Titles::load(conn, language)?,
        turnover,
        standing,
        empty,
        due,
        deficiencies: place::open_in_unit(conn, unit.id)?,
        households,
        building,
        unit,
    })
}

fn later(due: &UnitDue, today: NaiveDate, language: Language) -> String {
    let Some(opens) = due.next_opens else {
        return String::new();
    };
    let count = usize::try_from(due.later).unwrap_or(0);
    language
        .say("units-later")
        .with("count", count)
        .with("number", language.grouped(count))
        .with("day", language.day(opens, today))
        .with("distance", language.distance(opens, today))
        .into()
}

fn rooms(standing: &[Standing], today: NaiveDate, language: Language) -> Vec<RoomView> {
    let mut rooms: Vec<RoomView> = Vec::new();
    for one in standing {
        let name = one
            .room
            .as_ref()
            .map_or_else(|| language.say("units-no-room").into(), |room| room.name.clone());
        let row = FixtureRow {
            key: one.fixture.id.0,
            tag: one.tag.label.clone(),
            kind: language.word(one.fixture.facts.kind),
            maker: rows::maker_and_model(language, &one.fixture.facts),
            installed: words::installed(language, one.fixture.facts.installed, today),
            parts: one.parts.len(),
        };
        match rooms.last_mut().filter(|room| room.name == name) {
            Some(room) => room.fixtures.push(row),
            None => rooms.push(RoomView {
                name,
                fixtures: vec![row],
            }),
        }
    }
    rooms
}

fn empty_place((tag, last): &(Tag, Fixture), language: Language) -> EmptyPlace {
    EmptyPlace {
        key: last.id.0,
        tag: tag.label.clone(),
        stood: language
            .say("units-stood")
            .with("kind", language.word(last.facts.kind).to_lowercase())
            .into(),
    }
}

fn household_row(household: &Household, today: NaiveDate, language: Language) -> HouseholdRow {
    let since = language.day(household.facts.moved_in_on, today);
    HouseholdRow {
        key: household.id.0,
        name: household.facts.name.clone(),
        contact: household.facts.contact.clone(),
        lived: match household.moved_out_on {
            Some(out) => {
                let said = language.say("units-lived").with("since", since);
                said.with("until", language.day(out, today)).into()
            }
            None => language.say("units-lives-since").with("since", since).into(),
        },
    }
}
