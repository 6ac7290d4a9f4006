//! What a technician's digest is made of on another day than today: results, deficiencies and turnovers as they stood at the end of that
//! day in each building. Who looks after what, who may see it, schedules and checks are taken as they are now.

use std::collections::HashMap;

use chrono::{Days, NaiveDate, NaiveDateTime, NaiveTime};
use diesel::prelude::*;
use serde_json::Value;

use super::condition::end_of;
use crate::domain::code::Coded;
use crate::domain::digest::{DueCheck, OpenDeficiency, OpenTurnover};
use crate::domain::due::Book;
use crate::domain::register::person::Scope;
use crate::domain::register::{PersonId, ScheduleId};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::store::buildings::{self as building_store, keys_of};
use crate::store::schema::{buildings, deficiencies, turnovers, units};
use crate::store::{AnyConnection, audit, due, schedules};

/// A day to look at, with the checks and schedules as they are now.
#[derive(Debug)]
pub struct PastDay {
    day: NaiveDate,
    book: Book,
}

impl PastDay {
    /// Reads what is the same for everybody.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn new(conn: &mut AnyConnection, day: NaiveDate) -> Result<Self> {
        Ok(Self {
            day,
            book: schedules::book(conn)?,
        })
    }

    /// Whom a schedule names.
    fn named(&self, schedule: ScheduleId) -> Option<PersonId> {
        self.book.schedule(schedule)?.terms.technician
    }

    /// The first instant of the day and the last of the next, UTC, in no zone earlier or later: what lies outside needs no look.
    fn around(&self) -> (NaiveDateTime, NaiveDateTime) {
        let at = |day: Option<NaiveDate>| day.unwrap_or(self.day).and_time(NaiveTime::MIN);
        (at(Some(self.day)), at(self.day.checked_add_days(Days::new(2))))
    }

    /// As [`super::digest::due_checks`], from the ground state of the day.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn due_checks(
        &self,
        conn: &mut AnyConnection,
        person: PersonId,
        scope: &Scope,
        until: NaiveDate,
    ) -> Result<Vec<DueCheck>> {
        let is_named = self
            .book
            .schedules()
            .any(|schedule| schedule.terms.technician == Some(person));
        let mut found = Vec::new();
        for building in building_store::list(conn, scope)? {
            let looks_after = building.technician == Some(person);
            if !looks_after && !is_named {
                continue;
            }
            let computed = due::compute_building(conn, &self.book, building.id, self.day)?;
            for (at, row) in &computed.rows {
                let is_theirs = self
                    .named(row.schedule)
                    .map_or(looks_after, |named| named == person);
                let (place, asked) = (computed.places.get(*at), self.book.check(row.check));
                let (Some(place), Some(asked)) = (place, asked) else {
                    continue;
                };
                if is_theirs && row.item.window.due() <= until {
                    found.push(DueCheck {
                        unit: place.unit.0,
                        building: building.facts.code.clone(),
                        label: place.unit_label.clone(),
                        order: place.unit_order.clone(),
                        due: row.item.window.due(),
                        last_day: row.item.window.last_day(),
                        minutes: asked.check.minutes,
                    });
                }
            }
        }
        Ok(found)
    }

    /// As [`super::digest::open_turnovers`], those that were open at the end of the day, in the stage they were in.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn open_turnovers(
        &self,
        conn: &mut AnyConnection,
        person: PersonId,
        scope: &Scope,
    ) -> Result<Vec<OpenTurnover>> {
        let (from, until) = self.around();
        let mut query = turnovers::table
            .inner_join(buildings::table)
            .inner_join(units::table)
            .filter(buildings::technician_id.eq(person.0))
            .filter(turnovers::opened_at.lt(until))
            .filter(turnovers::closed_at.is_null().or(turnovers::closed_at.ge(from)))
            .select((
                turnovers::id,
                buildings::code,
                buildings::time_zone,
                units::label,
                turnovers::stage,
                turnovers::move_in_on,
                (turnovers::opened_at, turnovers::closed_at),
            ))
            .into_boxed();
        if let Some(keys) = keys_of(scope) {
            query = query.filter(turnovers::building_id.eq_any(keys));
        }
        let rows: Vec<TurnoverRow> = query.load(conn)?;
        let changes = Changes::load(conn, "turnover", from)?;
        let mut open = Vec::new();
        for (id, building, zone, label, stage, move_in, times) in rows {
            let end = end_of(self.day, zone.parse().map_err(Error::internal)?);
            if was_open(times, end) {
                let before = changes.before(id, end).and_then(|was| was.get("stage")?.as_str());
                open.push(OpenTurnover {
                    building,
                    label,
                    stage: before.map_or(stage, str::to_owned),
                    move_in,
                });
            }
        }
        Ok(open)
    }

    /// As [`super::digest::open_deficiencies`], those that were not closed at the end of the day, assigned as they were.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn open_deficiencies(
        &self,
        conn: &mut AnyConnection,
        person: PersonId,
        scope: &Scope,
    ) -> Result<Vec<OpenDeficiency>> {
        let (from, until) = self.around();
        let mut query = deficiencies::table
            .inner_join(buildings::table)
            .inner_join(units::table)
            .filter(deficiencies::opened_at.lt(until))
            .filter(
                deficiencies::closed_at
                    .is_null()
                    .or(deficiencies::closed_at.ge(from)),
            )
            .select((
                (deficiencies::id, deficiencies::title, deficiencies::severity),
                (deficiencies::assignee_id, deficiencies::vendor),
                (buildings::code, buildings::time_zone, buildings::technician_id),
                units::label,
                deficiencies::correct_by,
                (deficiencies::opened_at, deficiencies::closed_at),
            ))
            .into_boxed();
        if let Some(keys) = keys_of(scope) {
            query = query.filter(deficiencies::building_id.eq_any(keys));
        }
        let rows: Vec<DeficiencyRow> = query.load(conn)?;
        let changes = Changes::load(conn, "deficiency", from)?;
        let mut open = Vec::new();
        for (what, (assignee, vendor), (building, zone, technician), label, correct_by, times) in rows {
            let (number, title, severity) = what;
            let zone: chrono_tz::Tz = zone.parse().map_err(Error::internal)?;
            let end = end_of(self.day, zone);
            let (assignee, vendor) = match changes.before(number, end) {
                Some(was) => (
                    was.get("assignee").and_then(Value::as_i64),
                    was.get("vendor").and_then(Value::as_str).unwrap_or_default(),
                ),
                None => (assignee, vendor.as_str()),
            };
            let is_theirs = match assignee {
                Some(assignee) => assignee == person.0,
                None => vendor.is_empty() && technician == Some(person.0),
            };
            if is_theirs && was_open(times, end) {
                let local = |utc: NaiveDateTime| utc.and_utc().with_timezone(&zone).naive_local();
                open.push(OpenDeficiency {
                    number,
                    building,
                    label,
                    title,
                    severity: Severity::from_code(&severity).map_err(Error::internal)?,
                    correct_by: correct_by.map(local),
                });
            }
        }
        Ok(open)
    }
}

type Times = (NaiveDateTime, Option<NaiveDateTime>);
type TurnoverRow = (i64, String, String, String, String, NaiveDate, Times);
type DeficiencyRow = (
    (i64, String, String),
    (Option<i64>, String),
    (String, String, Option<i64>),
    String,
    Option<NaiveDateTime>,
    Times,
);

fn was_open((opened_at, closed_at): Times, end: NaiveDateTime) -> bool {
    opened_at < end && closed_at.is_none_or(|closed_at| closed_at >= end)
}

/// What changed since, with what was before, in the order in which it happened.
struct Changes(HashMap<i64, Vec<(NaiveDateTime, Value)>>);

impl Changes {
    fn load(conn: &mut AnyConnection, kind: &str, from: NaiveDateTime) -> Result<Self> {
        let mut changes: HashMap<i64, Vec<_>> = HashMap::new();
        for (id, at, before) in audit::changes_since(conn, kind, from)? {
            changes.entry(id).or_default().push((at, before));
        }
        Ok(Self(changes))
    }

    /// What it was at an instant, when it changed after that.
    fn before(&self, id: i64, end: NaiveDateTime) -> Option<&Value> {
        let (_, before) = self.0.get(&id)?.iter().find(|(at, _)| *at >= end)?;
        Some(before)
    }
}
