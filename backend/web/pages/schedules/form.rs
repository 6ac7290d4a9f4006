//! The form of a schedule, for a new one and for changing one: shown, looked at beforehand, shown again with what to mend.

use actix_web::HttpRequest;
use askama::Template;
use chrono::NaiveDate;

use super::impact::{self, View};
use super::said::{self, Offers, Typed, months_of};
use super::words;
use crate::actions::schedules::{self, Words, preview};
use crate::clock::Now;
use crate::domain::due::{OnClosedDays, PlainText, Schedule, ScheduleText, Vacancy};
use crate::domain::register::ScheduleId;
use crate::domain::trade::{FixtureKind, PartKind};
use crate::error::{Error, FieldError, Result};
use crate::language;
use crate::store::AnyConnection;
use crate::web::choice::{Choice, Group, Tick, ticks};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::to_mend;
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/schedules/form.html")]
struct FormPage {
    chrome: Chrome,
    /// The schedule that is changed; none for a new one.
    changed: Option<(String, String)>,
    version: String,
    text: ScheduleText,
    said: PlainText,
    offers: Offers,
    anchors: Vec<Choice>,
    checks: Vec<Group>,
    kinds: Vec<Tick>,
    parts: Vec<Tick>,
    technicians: Vec<Choice>,
    on_closed_days: Vec<Choice>,
    season: Vec<Tick>,
    vacancies: Vec<Choice>,
    is_on: bool,
    is_recorded_only: bool,
    seen: Option<Seen>,
    errors: Vec<FieldError>,
}

/// The key of a schedule that is not there yet; none that is there has it.
const NEW: ScheduleId = ScheduleId(i64::MAX);

/// The fields in the order of the page, so that what is to be mended is listed from top to bottom.
const FIELDS: &str = "name code pattern every unit nth weekday month_step months month_day season_from season_to season_times \
    anchor rule start lead_days grace_days early_days on_closed_days season_months vacancy checks scope_kinds scope_parts scope_buildings scope_tags \
    scope_min_age_years scope_max_age_years scope_min_failures technician";

/// What it would do.
struct Seen {
    sentence: String,
    /// Each date, and where it was moved from; empty where it was not.
    dates: Vec<(String, String)>,
    /// Whose closed days moved them.
    calendar: String,
    year: String,
    reach: String,
    /// What one would wonder at in the figures.
    notes: Vec<&'static str>,
    impact: View,
    /// What the confirmation sends.
    print: String,
}

impl FormPage {
    /// Whether something is to be mended in a part of the form that is folded away.
    fn is_wrong(&self, field: &str) -> bool {
        self.errors.iter().any(|error| error.field == field)
    }
}

/// What a form is shown with.
pub(super) struct Shown {
    /// The schedule that is changed; none for a new one.
    pub before: Option<Schedule>,
    /// What its fields say.
    pub typed: Typed,
    /// What is to be mended.
    pub errors: Vec<FieldError>,
    /// Whether it is asked what it would do.
    pub looks: Looks,
}

/// Whether it is asked what the schedule would do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Looks {
    Ahead,
    No,
}

/// Shows the form.
///
/// # Errors
/// When the database does not answer.
pub(super) async fn show(context: &Context, request: &HttpRequest, shown: Shown) -> PageResult {
    let title = match &shown.before {
        None => "Add a schedule".to_owned(),
        Some(schedule) => format!("Change {}", schedule.terms.name),
    };
    let (now, today) = (context.now, context.today());
    let mut page = context.read(move |conn, _| page(conn, shown, now, today)).await?;
    page.chrome = Chrome::new(context, request, &title);
    if page.errors.is_empty() {
        respond::page(&page)
    } else {
        respond::form_again(&page)
    }
}

fn page(conn: &mut AnyConnection, shown: Shown, now: Now, today: NaiveDate) -> Result<FormPage> {
    let Shown {
        before,
        typed,
        mut errors,
        looks,
    } = shown;
    let words = Words::load(conn)?;
    let mut seen = None;
    if !typed.errors.is_empty() {
        errors.extend(typed.wrong(&words.known(), before.as_ref()));
    }
    if looks == Looks::Ahead && errors.is_empty() {
        match look(conn, &words, &typed, before.as_ref(), (now, today)).map_err(to_mend) {
            Ok(would) => seen = Some(would),
            Err(Ok(refused)) => errors.extend(refused),
            Err(Err(other)) => return Err(other),
        }
    }
    errors.sort_by_key(|error| {
        let place = FIELDS.split_whitespace().position(|field| field == error.field);
        place.unwrap_or(usize::MAX)
    });
    let Typed {
        mut text,
        said,
        window: [lead_days, grace_days],
        ..
    } = typed;
    (text.lead_days, text.grace_days) = (lead_days, grace_days);
    Ok(FormPage {
        chrome: Chrome::anonymous(""),
        offers: Offers::of(&said),
        said,
        version: before
            .as_ref()
            .map(|schedule| schedule.version.to_string())
            .unwrap_or_default(),
        changed: before.map(|schedule| (schedule.terms.code, schedule.terms.name)),
        anchors: vec![
            Choice::new("last_done", "From the last time it was done"),
            Choice::new("calendar", "By the calendar, whatever was done"),
        ],
        checks: checks(&words, &text),
        kinds: ticks(FixtureKind::name, &text.scope_kinds),
        parts: ticks(PartKind::name, &text.scope_parts),
        technicians: words
            .technicians
            .keys()
            .map(|email| Choice::new(email, email))
            .collect(),
        on_closed_days: Choice::every(OnClosedDays::name),
        vacancies: Choice::every(Vacancy::name),
        season: months_of(&text.season_months),
        is_on: text.active == "yes",
        is_recorded_only: text.recorded_only == "yes",
        text,
        seen,
        errors,
    })
}

fn look(
    conn: &mut AnyConnection,
    words: &Words,
    typed: &Typed,
    before: Option<&Schedule>,
    (now, today): (Now, NaiveDate),
) -> Result<Seen> {
    let terms = typed.text.read(&words.known(), before).map_err(Error::Fields)?;
    let would = preview(conn, words, &terms, today)?;
    let moving = terms.timing.moving();
    let changed = Schedule {
        id: before.map_or(NEW, |schedule| schedule.id),
        version: before.map_or(1, |schedule| schedule.version),
        terms,
    };
    let found = schedules::impact(conn, &words.book, now, std::slice::from_ref(&changed))?;
    let dates: Vec<String> = would
        .next_dates
        .iter()
        .map(|date| language::day(date.day, today))
        .collect();
    Ok(Seen {
        year: words::year(
            format!("The next dates: {}", dates.join(", ")),
            would.next_dates.iter().map(|date| date.day).collect(),
            today,
        ),
        dates: said::dates(&would, moving, today),
        calendar: would.calendar,
        sentence: would.sentence,
        reach: format!(
            "It reaches {} now, {}.",
            language::count(would.reach.fixtures, "fixture", "fixtures"),
            language::count(would.reach.items, "check on them", "checks on them")
        ),
        notes: impact::notes(&changed.terms, &found, today),
        impact: impact::view(&found, today),
        print: typed.print(),
    })
}

/// The checks that can be asked, by kind of fixture; one that is asked of several kinds stands with the first.
fn checks(words: &Words, text: &ScheduleText) -> Vec<Group> {
    use crate::domain::code::Coded as _;
    let is_ticked = |code: &str| {
        let mut chosen = text.checks.iter().flat_map(|codes| codes.split_whitespace());
        chosen.any(|chosen| chosen == code)
    };
    let groups = FixtureKind::ALL.iter().map(|kind| {
        let first = words.book.checks().filter(|asked| {
            let code = asked.check.code.as_str();
            asked.check.kinds.first() == Some(kind) && (asked.active || is_ticked(code))
        });
        let rows = first.map(|asked| {
            let code = asked.check.code.as_str();
            Tick {
                value: code.to_owned(),
                label: asked.check.title.clone(),
                is_ticked: is_ticked(code),
            }
        });
        Group::new(kind.name(), rows.collect())
    });
    groups.filter(|group| !group.ticks.is_empty()).collect()
}
