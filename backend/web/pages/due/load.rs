//! What comes due in the year ahead, by week, for everybody and for each technician, as a picture of the load.

use actix_web::HttpRequest;
use askama::Template;
use chrono::{Days, NaiveDate};

use crate::clock::Now;
use crate::domain::due::impact::MINUTES_A_MONTH;
use crate::domain::register::person::{Actor, Role};
use crate::error::{Error, Result};
use crate::language::Language;
use crate::picture::load::{Load as Picture, Week, load as draw};
use crate::store::lists::due::Desk;
use crate::store::lists::due::load::{self, WEEKS, Weeks, monday};
use crate::store::{AnyConnection, schedules};
use crate::web::choice::Choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::Fields;
use crate::web::respond;

/// Weeks of work in a month, for a technician's week.
const WEEKS_A_MONTH: f64 = 4.0;

#[derive(Template)]
#[template(path = "pages/due/load.html")]
struct LoadPage {
    chrome: Chrome,
    building: String,
    buildings: Vec<Choice>,
    everybody: View,
    each: Vec<View>,
    hours_a_week: String,
    checks_word: String,
    hours_word: String,
}

/// The work of somebody as a page shows it.
struct View {
    name: String,
    said: String,
    svg: String,
    weeks: Vec<(String, String, String)>,
}

/// Shows it.
///
/// # Errors
/// When the building may not be seen or the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    let (now, today, language) = (context.now, context.today(), context.language());
    let building = fields.text("building").to_uppercase();
    let mut page = context
        .read(move |conn, actor| read(conn, actor, (now, today), language, building))
        .await?;
    page.chrome = Chrome::new(&context, &request, &String::from(language.say("load-title"))).spoken();
    respond::page(&page)
}

fn read(
    conn: &mut AnyConnection,
    actor: &Actor,
    (now, today): (Now, NaiveDate),
    language: Language,
    building: String,
) -> Result<LoadPage> {
    let desk = Desk::load(conn, &actor.scope, now)?;
    let chosen = match building.as_str() {
        "" => None,
        code => {
            let place = desk.places.iter().find(|place| place.code == code);
            Some(place.ok_or_else(|| Error::not_found("such building"))?.id)
        }
    };
    let book = schedules::book(conn)?;
    let found = load::load(conn, &desk, &book, chosen, today)?;
    let mut everybody = Weeks::default();
    for one in found.values() {
        for (sum, checks) in everybody.checks.iter_mut().zip(&one.checks) {
            *sum += checks;
        }
        for (sum, minutes) in everybody.minutes.iter_mut().zip(&one.minutes) {
            *sum += minutes;
        }
    }
    let people = found.len().max(1);
    // A technician sees the own work and what nobody is named for.
    let is_shown = |who: &Option<_>| actor.role == Role::Manager || who.is_none() || *who == actor.person;
    let mut each: Vec<View> = found
        .iter()
        .filter(|(who, _)| is_shown(who))
        .map(|(who, weeks)| {
            let name = who.and_then(|who| desk.name(who)).map(str::to_owned);
            let name = name.unwrap_or_else(|| language.say("load-nobody").into());
            view(name, weeks, 1, today, language)
        })
        .collect();
    each.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(LoadPage {
        chrome: Chrome::anonymous(""),
        buildings: desk
            .places
            .iter()
            .map(|place| Choice::new(&place.code, &place.name))
            .collect(),
        building,
        everybody: view(
            language.say("load-everybody").into(),
            &everybody,
            people,
            today,
            language,
        ),
        each,
        checks_word: language.say("load-checks").into(),
        hours_word: language.say("load-hours").into(),
        hours_a_week: format!("{:.0}", minutes_a_week() / 60.0),
    })
}

fn minutes_a_week() -> f64 {
    MINUTES_A_MONTH / WEEKS_A_MONTH
}

fn view(name: String, weeks: &Weeks, people: usize, today: NaiveDate, language: Language) -> View {
    let first = monday(today);
    let day = |week: usize| {
        let days = u64::try_from(week * 7).unwrap_or_default();
        first.checked_add_days(Days::new(days)).unwrap_or(first)
    };
    let checks: u64 = weeks.checks.iter().sum();
    let busiest = weeks.minutes.iter().copied().fold(0.0, f64::max);
    let said = language
        .say("load-said")
        .with("checks", grouped(checks, language))
        .with("year", hours_in_words(weeks.minutes.iter().sum(), language))
        .with("busiest", hours_in_words(busiest, language))
        .to_string();
    let capacity = whole(minutes_a_week()) * u32::try_from(people).unwrap_or(u32::MAX);
    let bars = weeks.minutes.iter().enumerate();
    View {
        svg: draw(&Picture {
            title: format!("{name}: {said}"),
            weeks: bars
                .map(|(week, minutes)| Week {
                    label: language.day_of_month(day(week)),
                    minutes: whole(*minutes),
                })
                .collect(),
            capacity_minutes: capacity,
        }),
        weeks: (0..WEEKS)
            .filter_map(|week| {
                let (checks, minutes) = (weeks.checks.get(week)?, weeks.minutes.get(week)?);
                (*checks > 0).then(|| {
                    let label = language.day(day(week), today);
                    let hours = hours_in_words(*minutes, language);
                    (label, grouped(*checks, language), hours)
                })
            })
            .collect(),
        name,
        said,
    }
}

fn grouped(checks: u64, language: Language) -> String {
    language.grouped(usize::try_from(checks).unwrap_or(usize::MAX))
}

/// Minutes as hours to a tenth, thousands set apart.
fn hours_in_words(minutes: f64, language: Language) -> String {
    let tenths = language.decimal(minutes / 60.0, 1);
    let Some(at) = tenths.find(|c: char| !c.is_ascii_digit()) else {
        return tenths;
    };
    let (whole, tenth) = tenths.split_at(at);
    match whole.parse() {
        Ok(whole) => format!("{}{tenth}", language.grouped(whole)),
        Err(_no_number) => tenths,
    }
}

/// Minutes, rounded up.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the conversion saturates, and a picture of so much work is a full bar"
)]
fn whole(minutes: f64) -> u32 {
    minutes.ceil() as u32
}
