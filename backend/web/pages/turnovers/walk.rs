//! One turnover: the walk with its answer bars, what was answered, the steps beside it.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::kept::Record;
use super::page::{self, Asked, Loaded};
use super::said;
use super::steps::{self, Steps};
use crate::actions::deficiencies::Titles;
use crate::domain::code::Coded as _;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Role;
use crate::domain::trade::TurnoverStage;
use crate::domain::trade::outcome::Context as Limits;
use crate::domain::turnover::{Item, Matter, Stage};
use crate::error::FieldError;
use crate::language::Language;
use crate::store::lists::turnovers::Survey;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::pages::arrivals;
use crate::web::pages::record::sheet::{self, GroupView, Layout, Sheet, Wanted};
use crate::web::pages::units::words as unit_words;

#[derive(Template)]
#[template(path = "pages/turnovers/walk.html")]
pub(super) struct Walk {
    chrome: Chrome,
    id: i64,
    building: (String, String),
    unit: (i64, String),
    summary: String,
    note: String,
    today: String,
    steps: Steps,
    line: String,
    kept_back: Vec<said::Short>,
    arrived: Option<String>,
    phones: Vec<said::PhoneSaid>,
    is_open: bool,
    parts: Vec<Part>,
    part: &'static str,
    before: usize,
    asked: usize,
    sheet: Sheet,
    rooms: Vec<RoomView>,
    answered: Vec<Answered>,
    matters: Vec<MatterRow>,
    late: Vec<String>,
    record: Option<Record>,
    ended: String,
    may_waive: bool,
    waive: Option<i64>,
    cancels: bool,
    done_at: String,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// A part of the checklist as a link.
struct Part {
    code: &'static str,
    word: String,
    count: String,
    current: bool,
}

/// A room with the parts of the walk in it.
struct RoomView {
    name: String,
    groups: Vec<PartOfWalk>,
}

/// Look, water or measure in a room: what of it is at each fixture.
struct PartOfWalk {
    name: String,
    fixtures: Vec<AtFixture>,
}

struct AtFixture {
    tag: String,
    kind: String,
    group: GroupView,
}

/// An item that has its answer.
struct Answered {
    name: String,
    outcome: &'static str,
    outcome_word: String,
    said: String,
    note: String,
    who: String,
    again: String,
}

/// A deficiency that no check can ask again.
struct MatterRow {
    number: i64,
    title: String,
    severity: &'static str,
    severity_word: String,
    place: String,
    state: String,
}

/// Shows a turnover.
///
/// # Errors
/// When there is none that may be seen.
pub async fn show(context: Context, request: HttpRequest, key: web::Path<i64>) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let asked = Asked::read(&fields);
    // What the address says opens a part of the page; it answers nothing.
    page::render(
        &context,
        &request,
        TurnoverId(*key),
        asked,
        (Fields::default(), Vec::new()),
    )
    .await
}

pub(super) fn page(
    context: &Context,
    chrome: Chrome,
    loaded: &Loaded,
    asked: &Asked,
    (fields, errors): (Fields, Vec<FieldError>),
) -> Walk {
    let (survey, language) = (&loaded.survey, context.language());
    let layout = Layout {
        language,
        wrong: &loaded.wrong,
        today: survey.today,
    };
    let mut sheet = sheet::sheet(&loaded.questions, layout, &fields, &errors);
    let all = survey.list.count(loaded.part);
    Walk {
        chrome,
        id: survey.turnover.id.0,
        building: (
            survey.building.facts.code.clone(),
            survey.building.facts.name.clone(),
        ),
        unit: (survey.unit.id.0, survey.unit.facts.label.clone()),
        summary: summary(language, survey),
        note: survey.turnover.facts.note.clone(),
        today: language.day(survey.today, survey.today),
        steps: steps::steps(language, loaded, asked.waive),
        line: said::line(language, survey),
        kept_back: said::kept_back(language, survey),
        arrived: arrivals::to_note(language, loaded.arrived),
        phones: loaded.phones.clone(),
        is_open: survey.turnover.stage.is_open(),
        parts: parts(language, survey, loaded.part),
        part: loaded.part.code(),
        before: all.asked.saturating_sub(sheet.asked),
        asked: all.asked,
        answered: answered_items(language, survey, loaded.part),
        matters: matters(&loaded.titles, survey, loaded.part),
        late: late(&loaded.titles, survey),
        record: loaded.record.clone(),
        ended: ended(language, survey),
        may_waive: context.actor().role == Role::Manager,
        waive: asked.waive,
        cancels: asked.cancels,
        done_at: fields.text("done_at").to_owned(),
        rooms: std::mem::take(&mut sheet.rooms)
            .into_iter()
            .map(room_view)
            .collect(),
        sheet,
        fields,
        errors,
    }
}

/// The same questions by part of the walk first, as the checklist has them.
fn room_view(room: sheet::Room) -> RoomView {
    let mut groups: Vec<PartOfWalk> = Vec::new();
    for fixture in room.fixtures {
        for group in fixture.groups {
            if groups.last().is_none_or(|last| last.name != group.name) {
                groups.push(PartOfWalk {
                    name: group.name.clone(),
                    fixtures: Vec::new(),
                });
            }
            if let Some(last) = groups.last_mut() {
                last.fixtures.push(AtFixture {
                    tag: fixture.tag.clone(),
                    kind: fixture.kind.clone(),
                    group,
                });
            }
        }
    }
    RoomView {
        name: room.name,
        groups,
    }
}

fn summary(language: Language, survey: &Survey) -> String {
    let facts = &survey.turnover.facts;
    language
        .say("turnover-summary")
        .with("out", language.day(facts.move_out_on, survey.today))
        .with(
            "in",
            said::day_and_distance(language, facts.move_in_on, survey.today),
        )
        .with("occupancy", unit_words::occupancy(language, &survey.unit.facts))
        .into()
}

fn ended(language: Language, survey: &Survey) -> String {
    let one = &survey.turnover;
    let when = one
        .closed_at
        .map(|at| language.day(survey.local(at).date(), survey.today))
        .unwrap_or_default();
    let said = match one.stage {
        Stage::MovedIn => language
            .say("turnover-closed-by")
            .with("signed", &one.signed_name),
        Stage::Cancelled => language.say("turnover-cancelled-by"),
        _ => return String::new(),
    };
    said.with("day", when)
        .with("person", said::who(language, survey, one.closed_by))
        .into()
}

fn parts(language: Language, survey: &Survey, current: TurnoverStage) -> Vec<Part> {
    let stages = TurnoverStage::ALL.iter().copied();
    stages
        .map(|stage| Part {
            code: stage.code(),
            word: said::part(language, stage),
            count: said::count(language, survey.list.count(stage)),
            current: stage == current,
        })
        .collect()
}

fn answered_items(language: Language, survey: &Survey, part: TurnoverStage) -> Vec<Answered> {
    let items = survey.list.items.iter().filter(|item| item.key.stage == part);
    items
        .filter_map(|item| answered_item(language, survey, item))
        .collect()
}

fn answered_item(language: Language, survey: &Survey, item: &Item) -> Option<Answered> {
    let entry = &item.last()?.entry;
    let building = &survey.building.facts;
    let limits = Limits {
        profile: building.code_profile.clone(),
        length_unit: building.length_unit,
    };
    let part = item.key.part.map_or("", |part| part.code());
    Some(Answered {
        name: language.item(&survey.list, item),
        outcome: entry.outcome.code(),
        outcome_word: language.word(entry.outcome),
        said: language.answer(&item.check, entry, &limits),
        note: entry.note.clone(),
        who: format!(
            "{} · {}",
            language.moment(entry.done_at, survey.building.facts.time_zone, survey.today),
            said::who(language, survey, entry.person)
        ),
        again: if item.is_asked {
            format!(
                "?stage={}&fixture={}&part={part}&check={}#answers",
                item.key.stage, item.key.fixture, item.check.code
            )
        } else {
            String::new()
        },
    })
}

/// A title as the person reads it.
fn title(titles: &Titles, survey: &Survey, matter: &Matter) -> String {
    let mut all = survey.deficiencies.iter();
    let one = all.find(|one| one.id == matter.deficiency);
    one.map_or_else(|| matter.title.clone(), |one| titles.of(one))
}

fn matters(titles: &Titles, survey: &Survey, part: TurnoverStage) -> Vec<MatterRow> {
    let language = titles.language();
    let all = survey
        .list
        .matters
        .iter()
        .filter(|_| part == TurnoverStage::Ready);
    all.map(|matter| {
        let place = matter.place.and_then(|index| survey.list.places.get(index));
        MatterRow {
            number: matter.deficiency.0,
            title: title(titles, survey, matter),
            severity: matter.severity.code(),
            severity_word: language.word(matter.severity),
            place: place.map_or_else(
                || language.say("turnover-the-unit").into(),
                |place| place.label.clone(),
            ),
            state: language
                .say(if matter.is_answered {
                    "turnover-matter-answered"
                } else {
                    "turnover-matter-open"
                })
                .into(),
        }
    })
    .collect()
}

/// What came after the opening, each with its day.
fn late(titles: &Titles, survey: &Survey) -> Vec<String> {
    let language = titles.language();
    let day = |day| language.day(day, survey.today);
    let list = &survey.list;
    let items = list.items.iter().filter_map(|item| {
        let said = match item.rechecks.first() {
            Some(number) => language.say("turnover-added-recheck").with("number", number.0),
            None => language.say("turnover-added"),
        };
        let said = said.with("day", day(item.added_on?));
        Some(said.with("what", language.item(list, item)).to_string())
    });
    let matters = list.matters.iter().filter_map(|matter| {
        let said = language.say("turnover-added-matter");
        let said = said.with("day", day(matter.added_on?));
        let said = said.with("number", matter.deficiency.0);
        Some(said.with("title", title(titles, survey, matter)).to_string())
    });
    items.chain(matters).collect()
}
