//! Schedules with the checks they ask for. Decides nothing about what a schedule may say; a stored rule that can't be read is an error
//! of ours.

mod former;
mod reach;

pub use former::{Former, former};
pub use reach::{Reach, reach};

use std::collections::HashMap;

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use serde::{Deserialize, Serialize};

use super::among::among;
use super::schema::{schedule_checks, schedules};
use super::{AnyConnection, Tx, checks};
use crate::domain::code::Coded;
use crate::domain::due::{
    Anchor, Book, Moving, OnClosedDays, Schedule, Scope, Season, Terms, Timing, Vacancy, pack_code,
    pack_from_code, read_timing,
};
use crate::domain::register::{CheckId, PersonId, ScheduleId};
use crate::error::{Error, Result};
use crate::kept::Kept;

#[derive(Queryable, Selectable, Serialize, Deserialize)]
#[diesel(table_name = schedules)]
struct Row {
    id: i64,
    code: String,
    name: String,
    pack: String,
    active: bool,
    recorded_only: bool,
    anchor: String,
    rule: String,
    start_on: Option<NaiveDate>,
    lead_days: i64,
    grace_days: i64,
    early_days: i64,
    scope_kinds: String,
    scope_parts: String,
    scope_buildings: String,
    scope_tags: String,
    scope_min_age_years: Option<i64>,
    scope_max_age_years: Option<i64>,
    technician_id: Option<i64>,
    version: i64,
    #[serde(default)]
    scope_min_failures: Option<i64>,
    #[serde(default)]
    on_closed_days: String,
    #[serde(default)]
    season_months: String,
    #[serde(default)]
    vacancy: String,
}

#[derive(Insertable, AsChangeset)]
#[diesel(table_name = schedules, treat_none_as_null = true)]
struct NewRow<'a> {
    code: &'a str,
    name: &'a str,
    pack: &'a str,
    active: bool,
    recorded_only: bool,
    anchor: &'a str,
    rule: String,
    start_on: Option<NaiveDate>,
    lead_days: i64,
    grace_days: i64,
    early_days: i64,
    scope_kinds: String,
    scope_parts: String,
    scope_buildings: String,
    scope_tags: String,
    scope_min_age_years: Option<i64>,
    scope_max_age_years: Option<i64>,
    technician_id: Option<i64>,
    version: i64,
    scope_min_failures: Option<i64>,
    on_closed_days: &'a str,
    season_months: String,
    vacancy: &'a str,
}

/// Every schedule, by code.
///
/// # Errors
/// When the database does not answer.
pub fn load_all(conn: &mut AnyConnection) -> Result<Vec<Schedule>> {
    let rows: Vec<Row> = schedules::table
        .order(schedules::code)
        .select(Row::as_select())
        .load(conn)?;
    let pairs: Vec<(i64, i64)> = schedule_checks::table
        .order((schedule_checks::schedule_id, schedule_checks::check_id))
        .select((schedule_checks::schedule_id, schedule_checks::check_id))
        .load(conn)?;
    let mut asked: HashMap<i64, Vec<CheckId>> = HashMap::new();
    for (schedule, check) in pairs {
        asked.entry(schedule).or_default().push(CheckId(check));
    }
    rows.into_iter()
        .map(|row| {
            let checks = asked.remove(&row.id).unwrap_or_default();
            read(row, checks)
        })
        .collect()
}

/// The schedule with this code.
///
/// # Errors
/// When the database does not answer.
pub fn by_code(conn: &mut AnyConnection, code: &str) -> Result<Option<Schedule>> {
    let row: Option<Row> = schedules::table
        .filter(schedules::code.eq(code))
        .select(Row::as_select())
        .first(conn)
        .optional()?;
    let Some(row) = row else { return Ok(None) };
    let asked: Vec<i64> = schedule_checks::table
        .filter(schedule_checks::schedule_id.eq(row.id))
        .order(schedule_checks::check_id)
        .select(schedule_checks::check_id)
        .load(conn)?;
    read(row, asked.into_iter().map(CheckId).collect()).map(Some)
}

/// What moves the dates of some schedules.
///
/// # Errors
/// When the database does not answer.
pub fn moving_of(conn: &mut AnyConnection, ids: &[ScheduleId]) -> Result<HashMap<ScheduleId, Moving>> {
    let keys: Vec<i64> = ids.iter().map(|id| id.0).collect();
    let rows: Vec<(i64, String, String, String)> = schedules::table
        .filter(among(conn, "schedules.id", &keys))
        .select((
            schedules::id,
            schedules::on_closed_days,
            schedules::season_months,
            schedules::vacancy,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(id, closed, season, vacancy)| {
            let moving = moving([&closed, &season, &vacancy]).map_err(Error::internal)?;
            Ok((ScheduleId(id), moving))
        })
        .collect()
}

/// Every check and every schedule, read together.
///
/// # Errors
/// When the database does not answer.
pub fn book(conn: &mut AnyConnection) -> Result<Book> {
    let asked = checks::load_all(conn)?
        .iter()
        .map(checks::StoredCheck::asked)
        .collect();
    Ok(Book::new(asked, load_all(conn)?))
}

/// Stores a new schedule. The due rows are the caller's to renew, see [`super::due`].
///
/// # Errors
/// When its code is taken or the database refuses.
pub fn insert(tx: &mut Tx<'_>, terms: &Terms) -> Result<ScheduleId> {
    let id: i64 = diesel::insert_into(schedules::table)
        .values(new_row(terms, 1))
        .returning(schedules::id)
        .get_result(&mut **tx)?;
    ask(tx, ScheduleId(id), &terms.checks)?;
    Ok(ScheduleId(id))
}

/// Changes a schedule to new terms, keeps what it said before, and counts its version up. The due rows are the caller's to renew, see
/// [`super::due`].
///
/// # Errors
/// When somebody changed it meanwhile, its new code is taken, or the database refuses.
pub fn update(tx: &mut Tx<'_>, from: &Schedule, terms: &Terms, by: By) -> Result<()> {
    former::keep(tx, from.id, by)?;
    let unchanged = schedules::table
        .filter(schedules::id.eq(from.id.0))
        .filter(schedules::version.eq(i64::from(from.version)));
    let changed = diesel::update(unchanged)
        .set(new_row(terms, from.version + 1))
        .execute(&mut **tx)?;
    if changed == 0 {
        return Err(Error::Conflict(format!(
            "Schedule {} was changed by somebody else meanwhile. Open it again, then change it.",
            from.terms.code
        )));
    }
    diesel::delete(schedule_checks::table.filter(schedule_checks::schedule_id.eq(from.id.0)))
        .execute(&mut **tx)?;
    ask(tx, from.id, &terms.checks)
}

/// Who changes a schedule, and when.
#[derive(Debug, Clone, Copy)]
pub struct By {
    /// UTC.
    pub at: NaiveDateTime,
    /// None for the command line.
    pub person: Option<PersonId>,
}

fn ask(tx: &mut Tx<'_>, schedule: ScheduleId, checks: &[CheckId]) -> Result<()> {
    for check in checks {
        diesel::insert_into(schedule_checks::table)
            .values((
                schedule_checks::schedule_id.eq(schedule.0),
                schedule_checks::check_id.eq(check.0),
            ))
            .execute(&mut **tx)?;
    }
    Ok(())
}

fn new_row(terms: &Terms, version: u32) -> NewRow<'_> {
    let timing = &terms.timing;
    let scope = &terms.scope;
    let start_on = match timing.anchor() {
        Anchor::Calendar(rule) => Some(rule.start()),
        Anchor::LastDone(_) => None,
    };
    NewRow {
        code: &terms.code,
        name: &terms.name,
        pack: pack_code(terms.pack),
        active: terms.active,
        recorded_only: terms.recorded_only,
        anchor: timing.anchor().code(),
        rule: timing.anchor().text(),
        start_on,
        lead_days: i64::from(timing.lead_days()),
        grace_days: i64::from(timing.grace_days()),
        early_days: i64::from(timing.early_days()),
        scope_kinds: joined(scope.kinds.iter().map(|kind| kind.code())),
        scope_parts: joined(scope.parts.iter().map(|part| part.code())),
        scope_buildings: joined(scope.buildings.iter().map(String::as_str)),
        scope_tags: joined(scope.tags.iter().map(String::as_str)),
        scope_min_age_years: scope.min_age_years.map(i64::from),
        scope_max_age_years: scope.max_age_years.map(i64::from),
        technician_id: terms.technician.map(|person| person.0),
        version: i64::from(version),
        scope_min_failures: scope.min_failures.map(i64::from),
        on_closed_days: timing.moving().on_closed_days.code(),
        season_months: timing.moving().season.map(Season::codes).unwrap_or_default(),
        vacancy: timing.moving().vacancy.code(),
    }
}

fn joined<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(" ")
}

fn read(row: Row, checks: Vec<CheckId>) -> Result<Schedule> {
    let timing = timing(&row)?;
    let scope = Scope {
        kinds: coded(&row.scope_kinds)?,
        parts: coded(&row.scope_parts)?,
        buildings: row
            .scope_buildings
            .split(' ')
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect(),
        tags: row
            .scope_tags
            .split(' ')
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect(),
        min_age_years: row
            .scope_min_age_years
            .and_then(|years| u16::try_from(years).ok()),
        max_age_years: row
            .scope_max_age_years
            .and_then(|years| u16::try_from(years).ok()),
        min_failures: row
            .scope_min_failures
            .and_then(|failures| u8::try_from(failures).ok()),
    };
    Ok(Schedule {
        id: ScheduleId(row.id),
        version: u32::try_from(row.version).map_err(Error::internal)?,
        terms: Terms {
            pack: pack_from_code(&row.pack).map_err(Error::internal)?,
            code: row.code,
            name: row.name,
            active: row.active,
            recorded_only: row.recorded_only,
            timing,
            scope,
            checks,
            technician: row.technician_id.map(PersonId),
        },
    })
}

fn coded<T: Coded>(words: &str) -> Result<Vec<T>> {
    words
        .split(' ')
        .filter(|word| !word.is_empty())
        .map(|word| T::from_code(word).map_err(Error::internal))
        .collect()
}

/// The words a timing is read from.
type Words = (String, String, Option<NaiveDate>, [i64; 3], [String; 3]);

/// Timings that were read lately: a rule keeps the days it has expanded, and every result recorded asks for all of them.
static READ: Kept<Words, Timing> = Kept::new(2_000);

/// What moves due dates; a schedule kept from before anything could says nothing of it.
fn moving([closed, season, vacancy]: [&str; 3]) -> std::result::Result<Moving, String> {
    let on_closed_days = match closed {
        "" => OnClosedDays::Stays,
        code => OnClosedDays::from_code(code)?,
    };
    let months = season.split(' ').filter_map(|month| month.parse().ok());
    Ok(Moving {
        on_closed_days,
        season: Season::of(months),
        vacancy: match vacancy {
            "" => Vacancy::Any,
            code => Vacancy::from_code(code)?,
        },
    })
}

fn timing(row: &Row) -> Result<Timing> {
    let days = [row.lead_days, row.grace_days, row.early_days];
    let moves = [
        row.on_closed_days.as_str(),
        row.season_months.as_str(),
        row.vacancy.as_str(),
    ];
    let words: Words = (
        row.anchor.clone(),
        row.rule.clone(),
        row.start_on,
        days,
        moves.map(str::to_owned),
    );
    if let Some(timing) = READ.get(&words) {
        return Ok(timing);
    }
    let [lead, grace, early] = days.map(|days| u32::try_from(days).map_err(Error::internal));
    let timing = read_timing(&row.anchor, &row.rule, row.start_on, lead?, grace?, Some(early?))
        .and_then(|timing| timing.moved_by(moving(moves)?).map_err(|error| error.to_string()))
        .map_err(Error::internal)?;
    READ.put(words, timing.clone());
    Ok(timing)
}
