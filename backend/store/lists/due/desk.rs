//! What a due list is cut by and named with: the buildings that a person sees, each with its own date today, the checks, who does
//! what.
//!
//! Read in a few small statements and kept in memory under a mark that every change of what it is read from sets anew, and for as long
//! as it is the same date in every building.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use chrono::{Days, NaiveDate};
use chrono_tz::Tz;
use diesel::prelude::*;

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Scope};
use crate::domain::register::{BuildingId, CheckId, PersonId, ScheduleId};
use crate::domain::trade::Severity;
use crate::error::{Error, Result};
use crate::kept::Kept;
use crate::store::among::among;
use crate::store::buildings::keys_of;
use crate::store::coded::read_code;
use crate::store::due::{live, widest_days};
use crate::store::schema::{buildings, checks, people, person_buildings, schedules};
use crate::store::{AnyConnection, settings};

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
    /// The version that is asked.
    pub version: u32,
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
    /// The most days from the opening of a window to its last day, over every row in use.
    pub(super) widest_days: u64,
    /// The keys of buildings by the date that it is there now: one date, or two or three around midnight.
    pub(super) by_date: BTreeMap<NaiveDate, Vec<i64>>,
    /// The same for desks under which the same rows are listed and counted: whatever a filter reads of a desk goes into it.
    pub(super) counted_as: u64,
    position: HashMap<BuildingId, usize>,
    zones: Vec<(Tz, NaiveDate)>,
}

/// Desks by their mark and the buildings of their scope, all of them when none is named; by weight at about 150 bytes.
static KEPT: Kept<(String, Option<Vec<i64>>), Arc<Desk>> = Kept::new(60_000);

/// Under which name the mark stands among the settings; the database's own triggers set it.
const MARK: &str = "desk.mark";

/// Under which name each database has a value of its own among the settings.
const DATABASE: &str = "database.mark";

impl Desk {
    /// The desk for a scope at an instant, as it was kept or read anew.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn load(conn: &mut AnyConnection, scope: &Scope, now: Now) -> Result<Arc<Self>> {
        let Some(mark) = settings::get(conn, MARK)? else {
            return Self::read(conn, scope, now).map(Arc::new);
        };
        let key = (mark, keys_of(scope));
        if let Some(desk) = KEPT.get(&key).filter(|desk| desk.is_of(now)) {
            return Ok(desk);
        }
        let desk = Arc::new(Self::read(conn, scope, now)?);
        KEPT.put_weighing(key, Arc::clone(&desk), desk.weight());
        Ok(desk)
    }

    fn read(conn: &mut AnyConnection, scope: &Scope, now: Now) -> Result<Self> {
        let (places, zones) = places(conn, scope, now)?;
        let everybody = names(conn)?;
        let people = match scope {
            Scope::All => everybody.clone(),
            Scope::Buildings(_) => {
                let theirs = workers(conn, &places)?;
                let seen = everybody.iter().filter(|(id, _)| theirs.contains(id));
                seen.cloned().collect()
            }
        };
        let mut by_date: BTreeMap<NaiveDate, Vec<i64>> = BTreeMap::new();
        for place in &places {
            by_date.entry(place.today).or_default().push(place.id.0);
        }
        let position = places.iter().enumerate().map(|(at, place)| (place.id, at));
        let (checks, schedules) = (asked(conn)?, asking(conn)?);
        let mut counted = DefaultHasher::new();
        settings::get(conn, DATABASE)?.hash(&mut counted);
        live(conn)?.hash(&mut counted);
        for place in &places {
            (place.id, place.today, place.technician).hash(&mut counted);
        }
        let severities: BTreeMap<_, _> = checks.iter().map(|(id, asked)| (id, asked.severity)).collect();
        let technicians: BTreeMap<_, _> = schedules
            .iter()
            .map(|(id, asking)| (id, asking.technician))
            .collect();
        (severities, technicians).hash(&mut counted);
        Ok(Self {
            position: position.collect(),
            places,
            checks,
            schedules,
            people,
            names: everybody.into_iter().collect(),
            sees_all: matches!(scope, Scope::All),
            widest_days: widest_days(conn)?,
            by_date,
            counted_as: counted.finish(),
            zones,
        })
    }

    /// The buildings, checks, schedules and people that it holds.
    fn weight(&self) -> usize {
        self.places.len() + self.checks.len() + self.schedules.len() + self.people.len() + self.names.len()
    }

    /// Whether it is the same date everywhere as when it was read.
    fn is_of(&self, now: Now) -> bool {
        self.zones.iter().all(|(zone, date)| now.date_in(*zone) == *date)
    }

    /// A building within the scope.
    #[must_use]
    pub fn place(&self, id: BuildingId) -> Option<&Place> {
        self.places.get(self.position(id)?)
    }

    /// Where a building stands in the order of their codes.
    #[must_use]
    pub fn position(&self, id: BuildingId) -> Option<usize> {
        self.position.get(&id).copied()
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

    /// The last day on which the grace of a window can end that is open on a day.
    pub(super) fn ends_by(&self, today: NaiveDate) -> NaiveDate {
        today
            .checked_add_days(Days::new(self.widest_days))
            .unwrap_or(NaiveDate::MAX)
    }
}

/// The buildings, and the date in each of their zones.
fn places(conn: &mut AnyConnection, scope: &Scope, now: Now) -> Result<(Vec<Place>, Vec<(Tz, NaiveDate)>)> {
    let mut query = buildings::table.order(buildings::code).into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(among(conn, "buildings.id", &keys));
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
    let mut zones: Vec<(Tz, NaiveDate)> = Vec::new();
    let mut places = Vec::with_capacity(rows.len());
    for (id, code, name, zone, technician) in rows {
        let zone: Tz = zone.parse().map_err(Error::internal)?;
        let known = zones.iter().find(|(known, _)| *known == zone);
        let today = known.map_or_else(|| now.date_in(zone), |(_, date)| *date);
        if known.is_none() {
            zones.push((zone, today));
        }
        places.push(Place {
            id: BuildingId(id),
            code,
            name,
            today,
            technician: technician.map(PersonId),
        });
    }
    Ok((places, zones))
}

fn asked(conn: &mut AnyConnection) -> Result<HashMap<CheckId, Asked>> {
    let rows: Vec<(i64, String, i64, String, String, f64)> = checks::table
        .select((
            checks::id,
            checks::code,
            checks::version,
            checks::title,
            checks::severity,
            checks::minutes,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(id, code, version, title, severity, minutes)| {
            let asked = Asked {
                code,
                version: u32::try_from(version).map_err(Error::internal)?,
                title,
                severity: read_code(&severity)?,
                minutes,
            };
            Ok((CheckId(id), asked))
        })
        .collect()
}

fn asking(conn: &mut AnyConnection) -> Result<HashMap<ScheduleId, Asking>> {
    let rows: Vec<(i64, String, Option<i64>)> = schedules::table
        .select((schedules::id, schedules::code, schedules::technician_id))
        .load(conn)?;
    let asking = rows.into_iter().map(|(id, code, technician)| {
        let technician = technician.map(PersonId);
        (ScheduleId(id), Asking { code, technician })
    });
    Ok(asking.collect())
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
    let keys: Vec<i64> = places.iter().map(|place| place.id.0).collect();
    let assigned: Vec<i64> = person_buildings::table
        .filter(among(conn, "person_buildings.building_id", &keys))
        .select(person_buildings::person_id)
        .distinct()
        .load(conn)?;
    let named = places.iter().filter_map(|place| place.technician);
    Ok(assigned.into_iter().map(PersonId).chain(named).collect())
}
