//! What a due list is cut by and named with: the buildings that a person sees, each with its own date today, the checks, who does
//! what. Read once a page, in a few small statements.

use std::collections::{BTreeMap, HashMap, HashSet};

use chrono::{Days, NaiveDate};
use chrono_tz::Tz;
use diesel::prelude::*;

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Scope};
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::store::AnyConnection;
use crate::store::buildings::keys_of;
use crate::store::coded::read_code;
use crate::store::schema::{buildings, checks, people, person_buildings, schedules};

/// A building, as far as a due list depends on it.
#[derive(Debug, Clone)]
pub struct Place {
    /// Key.
    pub id: BuildingId,
    /// Short code.
    pub code: String,
    /// Name.
    pub name: String,
    /// The date there now.
    pub today: NaiveDate,
    /// Who looks after it unless a schedule says otherwise.
    pub technician: Option<PersonId>,
}

/// A check, as far as a list shows it.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Its code.
    pub code: String,
    /// In a few words.
    pub title: String,
    /// How grave a failure is.
    pub severity: Severity,
    /// Minutes of work.
    pub minutes: f64,
}

/// A schedule, as far as a list shows it.
#[derive(Debug, Clone)]
pub struct Asking {
    /// Its code.
    pub code: String,
    /// Who does it; none for the building's technician.
    pub technician: Option<PersonId>,
}

/// What a person's due list is read from.
#[derive(Debug, Clone)]
pub struct Desk {
    /// The buildings within the scope, by code.
    pub places: Vec<Place>,
    /// Every check.
    pub checks: HashMap<CheckId, Asked>,
    /// Every schedule.
    pub schedules: HashMap<ScheduleId, Asking>,
    /// Who may be asked for, by name: whoever works in the buildings within the scope.
    pub people: Vec<(PersonId, String)>,
    /// Everybody of the office, for the names on rows; nobody is shown but who is named there.
    pub(super) names: HashMap<PersonId, String>,
    /// Whether the scope sees every building, so that rows need not be cut to some.
    pub(super) sees_all: bool,
    /// The most days from the opening of a window to its last day, over every schedule.
    pub(super) widest_days: u64,
}

impl Desk {
    /// Reads it for a scope at an instant.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection, scope: &Scope, now: Now) -> Result<Self> {
        let (schedules, widest_days) = asking(conn)?;
        let places = places(conn, scope, now)?;
        let everybody = names(conn)?;
        let people = match scope {
            Scope::All => everybody.clone(),
            Scope::Buildings(_) => {
                let theirs = workers(conn, &places)?;
                let seen = everybody.iter().filter(|(id, _)| theirs.contains(id));
                seen.cloned().collect()
            }
        };
        Ok(Self {
            places,
            checks: asked(conn)?,
            schedules,
            people,
            names: everybody.into_iter().collect(),
            sees_all: matches!(scope, Scope::All),
            widest_days,
        })
    }

    /// A building within the scope.
    #[must_use]
    pub fn place(&self, id: BuildingId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == id)
    }

    /// Who does what a schedule asks for in a building.
    #[must_use]
    pub fn technician(&self, schedule: ScheduleId, place: &Place) -> Option<PersonId> {
        let named = self.schedules.get(&schedule).and_then(|asking| asking.technician);
        named.or(place.technician)
    }

    /// The name of somebody who is named anywhere on the list.
    #[must_use]
    pub fn name(&self, person: PersonId) -> Option<&str> {
        self.names.get(&person).map(String::as_str)
    }

    /// The keys of buildings by the date that it is there now: one date, or two or three around midnight.
    pub(super) fn by_date(&self) -> BTreeMap<NaiveDate, Vec<i64>> {
        let mut dates: BTreeMap<NaiveDate, Vec<i64>> = BTreeMap::new();
        for place in &self.places {
            dates.entry(place.today).or_default().push(place.id.0);
        }
        dates
    }

    /// The last day on which the grace of a window can end that is open on a day.
    pub(super) fn ends_by(&self, today: NaiveDate) -> NaiveDate {
        today
            .checked_add_days(Days::new(self.widest_days))
            .unwrap_or(NaiveDate::MAX)
    }
}

fn places(conn: &mut AnyConnection, scope: &Scope, now: Now) -> Result<Vec<Place>> {
    let mut query = buildings::table.order(buildings::code).into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(buildings::id.eq_any(keys));
    }
    let rows: Vec<(i64, String, String, String, Option<i64>)> = query
        .select((
            buildings::id,
            buildings::code,
            buildings::name,
            buildings::time_zone,
            buildings::technician_id,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(id, code, name, zone, technician)| {
            let zone: Tz = zone.parse().map_err(Error::internal)?;
            Ok(Place {
                id: BuildingId(id),
                code,
                name,
                today: now.date_in(zone),
                technician: technician.map(PersonId),
            })
        })
        .collect()
}

fn asked(conn: &mut AnyConnection) -> Result<HashMap<CheckId, Asked>> {
    let rows: Vec<(i64, String, String, String, f64)> = checks::table
        .select((
            checks::id,
            checks::code,
            checks::title,
            checks::severity,
            checks::minutes,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(id, code, title, severity, minutes)| {
            let asked = Asked {
                code,
                title,
                severity: read_code(&severity)?,
                minutes,
            };
            Ok((CheckId(id), asked))
        })
        .collect()
}

fn asking(conn: &mut AnyConnection) -> Result<(HashMap<ScheduleId, Asking>, u64)> {
    let rows: Vec<(i64, String, Option<i64>, i64, i64)> = schedules::table
        .select((
            schedules::id,
            schedules::code,
            schedules::technician_id,
            schedules::lead_days,
            schedules::grace_days,
        ))
        .load(conn)?;
    let widest = rows
        .iter()
        .map(|(.., lead, grace)| lead + grace)
        .max()
        .unwrap_or(0);
    let asking = rows.into_iter().map(|(id, code, technician, ..)| {
        let technician = technician.map(PersonId);
        (ScheduleId(id), Asking { code, technician })
    });
    Ok((asking.collect(), u64::try_from(widest).unwrap_or(0)))
}

fn names(conn: &mut AnyConnection) -> Result<Vec<(PersonId, String)>> {
    let rows: Vec<(i64, String)> = people::table
        .filter(people::role.ne(Role::Owner.code()))
        .order((people::name, people::id))
        .select((people::id, people::name))
        .load(conn)?;
    Ok(rows.into_iter().map(|(id, name)| (PersonId(id), name)).collect())
}

/// Who works in these buildings.
fn workers(conn: &mut AnyConnection, places: &[Place]) -> Result<HashSet<PersonId>> {
    let assigned: Vec<i64> = person_buildings::table
        .filter(person_buildings::building_id.eq_any(places.iter().map(|place| place.id.0)))
        .select(person_buildings::person_id)
        .distinct()
        .load(conn)?;
    let named = places.iter().filter_map(|place| place.technician);
    Ok(assigned.into_iter().map(PersonId).chain(named).collect())
}
