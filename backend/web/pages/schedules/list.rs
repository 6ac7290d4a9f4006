//! Every schedule, pack by pack, with its rule in words.

use actix_web::HttpRequest;
use askama::Template;

use super::words;
use crate::domain::due::{Schedule, pack_code, timing_in_words};
use crate::domain::trade::catalogue::Pack;
use crate::error::Result;
use crate::language;
use crate::store::{AnyConnection, due, schedules};
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::respond;

/// The packs in the order of the page.
const PACKS: [Option<Pack>; 5] = [
    Some(Pack::Yearly),
    Some(Pack::HalfYearly),
    None,
    Some(Pack::Chosen),
    Some(Pack::Resident),
];

#[derive(Template)]
#[template(path = "pages/schedules/list.html")]
struct List {
    chrome: Chrome,
    packs: Vec<PackView>,
    is_stale: bool,
}

struct PackView {
    code: &'static str,
    name: &'static str,
    about: &'static str,
    stands: String,
    can_switch_on: bool,
    can_switch_off: bool,
    rows: Vec<Row>,
}

struct Row {
    code: String,
    name: String,
    rule: String,
    checks: String,
    scope: String,
    is_on: bool,
    is_recorded_only: bool,
}

/// Lists them.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let mut page = context.read(|conn, _| load(conn)).await?;
    page.chrome = Chrome::new(&context, &request, "Schedules");
    respond::page(&page)
}

fn load(conn: &mut AnyConnection) -> Result<List> {
    let all = schedules::load_all(conn)?;
    let packs = PACKS.into_iter().filter_map(|pack| {
        let of_pack: Vec<&Schedule> = all
            .iter()
            .filter(|schedule| schedule.terms.pack == pack)
            .collect();
        (!of_pack.is_empty()).then(|| view(pack, &of_pack))
    });
    Ok(List {
        chrome: Chrome::anonymous(""),
        packs: packs.collect(),
        is_stale: due::is_stale(conn)?,
    })
}

fn view(pack: Option<Pack>, schedules: &[&Schedule]) -> PackView {
    let on = schedules.iter().filter(|schedule| schedule.terms.active).count();
    let is_whole = matches!(pack, Some(Pack::Yearly | Pack::HalfYearly | Pack::Resident));
    let stands = match on {
        0 => "off".to_owned(),
        on if on == schedules.len() => "on".to_owned(),
        on => format!("{on} of {} on", schedules.len()),
    };
    PackView {
        code: pack_code(pack),
        name: words::pack(pack),
        about: words::about(pack),
        stands,
        can_switch_on: is_whole && on < schedules.len(),
        can_switch_off: is_whole && on > 0,
        rows: schedules.iter().map(|schedule| row(schedule)).collect(),
    }
}

fn row(schedule: &Schedule) -> Row {
    let terms = &schedule.terms;
    Row {
        code: terms.code.clone(),
        name: terms.name.clone(),
        rule: timing_in_words(&terms.timing),
        checks: language::count(terms.checks.len(), "check", "checks"),
        scope: words::scope(&terms.scope),
        is_on: terms.active,
        is_recorded_only: terms.recorded_only,
    }
}
