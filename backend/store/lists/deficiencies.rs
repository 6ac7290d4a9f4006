//! The list of deficiencies: the nearest deadline first, cut to what a person may see, by pages of a key. And who can be asked to repair.

use chrono::NaiveDateTime;
use diesel::prelude::*;

use crate::domain::code::Coded;
use crate::domain::register::person::{Role, Scope, Standing};
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, PersonId, UnitId};
use crate::domain::result::{DeficiencyStatus, Origin};
use crate::domain::trade::{PartKind, Severity};
use crate::error::Result;
use crate::store::AnyConnection;
use crate::store::buildings::keys_of;
use crate::store::coded::{read_code, read_part};
use crate::store::schema::{buildings, deficiencies, people, person_buildings, rooms, tags, units};

/// Which deficiencies are asked for.
#[derive(Debug, Clone, Default)]
pub struct Filter {
    /// Of one building.
    pub building: Option<BuildingId>,
    /// Of one severity.
    pub severity: Option<Severity>,
    /// By state.
    pub status: Status,
    /// By who sees to it.
    pub assignee: Option<By>,
}

/// Which states are asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Status {
    /// All that are not closed.
    #[default]
    Standing,
    /// One state.
    Only(DeficiencyStatus),
    /// Every state.
    All,
}

/// Who sees to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// A person of the office.
    Person(PersonId),
    /// A licensed vendor.
    Vendor,
    /// Nobody yet.
    Nobody,
}

/// The last row of the page before: its deadline and number.
pub type Cursor = (Option<NaiveDateTime>, DeficiencyId);

/// A row.
#[derive(Debug, Clone)]
pub struct Line {
    /// Key, also its number for people.
    pub id: DeficiencyId,
    /// In which building.
    pub building: BuildingId,
    /// Code of the building.
    pub building_code: String,
    /// Zone of the building.
    pub zone: chrono_tz::Tz,
    /// In which unit.
    pub unit: UnitId,
    /// As on the door.
    pub unit_label: String,
    /// Room, empty when none was named.
    pub room: String,
    /// Label of the place, empty when a report named none.
    pub tag: String,
    /// Which part.
    pub part: Option<PartKind>,
    /// What is wrong, in one line, as it is kept.
    pub title: String,
    /// Which check failed; none for a report.
    pub check: Option<CheckId>,
    /// What opened it.
    pub origin: Origin,
    /// How grave.
    pub severity: Severity,
    /// Where it stands.
    pub status: DeficiencyStatus,
    /// UTC.
    pub opened_at: NaiveDateTime,
    /// UTC; none without a deadline.
    pub correct_by: Option<NaiveDateTime>,
    /// UTC; none while it stands.
    pub closed_at: Option<NaiveDateTime>,
    /// Name of the person who sees to it, empty when none.
    pub assignee: String,
    /// Licensed vendor, empty when none.
    pub vendor: String,
    /// The one it repeats.
    pub repeats: Option<DeficiencyId>,
}

type Place = (i64, String, String, i64, String, Option<String>, Option<String>);
type What = (i64, String, String, Option<i64>, String, String, String);
type When = (NaiveDateTime, Option<NaiveDateTime>, Option<NaiveDateTime>);
type Who = (Option<String>, String, Option<i64>);

fn line((place, what, when, who): (Place, What, When, Who)) -> Result<Line> {
    let (building, building_code, zone, unit, unit_label, room, tag) = place;
    let (id, part, title, check, source, severity, status) = what;
    Ok(Line {
        id: DeficiencyId(id),
        building: BuildingId(building),
        building_code,
        zone: zone.parse().unwrap_or(chrono_tz::Tz::UTC),
        unit: UnitId(unit),
        unit_label,
        room: room.unwrap_or_default(),
        tag: tag.unwrap_or_default(),
        part: read_part(&part)?,
        title,
        check: check.map(CheckId),
        origin: read_code::<Origin>(&source)?,
        severity: read_code(&severity)?,
        status: read_code(&status)?,
        opened_at: when.0,
        correct_by: when.1,
        closed_at: when.2,
        assignee: who.0.unwrap_or_default(),
        vendor: who.1,
        repeats: who.2.map(DeficiencyId),
    })
}

/// At most `limit` rows after the cursor, the nearest deadline first, those without one last.
///
/// # Errors
/// When the database does not answer.
pub fn list(
    conn: &mut AnyConnection,
    scope: &Scope,
    filter: &Filter,
    after: Option<Cursor>,
    limit: i64,
) -> Result<Vec<Line>> {
    let mut query = deficiencies::table
        .inner_join(buildings::table)
        .inner_join(units::table)
        .left_join(tags::table)
        .left_join(rooms::table.on(tags::room_id.eq(rooms::id.nullable())))
        .left_join(people::table)
        .order((
            deficiencies::correct_by.is_null(),
            deficiencies::correct_by,
            deficiencies::id,
        ))
        .limit(limit)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(deficiencies::building_id.eq_any(keys));
    }
    if let Some(building) = filter.building {
        query = query.filter(deficiencies::building_id.eq(building.0));
    }
    if let Some(severity) = filter.severity {
        query = query.filter(deficiencies::severity.eq(severity.code()));
    }
    query = match filter.status {
        Status::Standing => query.filter(
            deficiencies::status.eq_any([DeficiencyStatus::Open.code(), DeficiencyStatus::Repaired.code()]),
        ),
        Status::Only(status) => query.filter(deficiencies::status.eq(status.code())),
        Status::All => query,
    };
    query = match filter.assignee {
        None => query,
        Some(By::Person(person)) => query.filter(deficiencies::assignee_id.eq(person.0)),
        Some(By::Vendor) => query.filter(deficiencies::vendor.ne("")),
        Some(By::Nobody) => query
            .filter(deficiencies::assignee_id.is_null())
            .filter(deficiencies::vendor.eq("")),
    };
    match after {
        None => {}
        Some((None, id)) => {
            query = query
                .filter(deficiencies::correct_by.is_null())
                .filter(deficiencies::id.gt(id.0));
        }
        Some((Some(by), id)) => {
            query = query.filter(
                deficiencies::correct_by
                    .is_null()
                    .or(deficiencies::correct_by.assume_not_null().gt(by))
                    .or(deficiencies::correct_by
                        .assume_not_null()
                        .eq(by)
                        .and(deficiencies::id.gt(id.0))),
            );
        }
    }
    let rows: Vec<(Place, What, When, Who)> = query
        .select((
            (
                buildings::id,
                buildings::code,
                buildings::time_zone,
                units::id,
                units::label,
                rooms::name.nullable(),
                tags::label.nullable(),
            ),
            (
                deficiencies::id,
                deficiencies::part,
                deficiencies::title,
                deficiencies::check_id,
                deficiencies::source,
                deficiencies::severity,
                deficiencies::status,
            ),
            (
                deficiencies::opened_at,
                deficiencies::correct_by,
                deficiencies::closed_at,
            ),
            (
                people::name.nullable(),
                deficiencies::vendor,
                deficiencies::repeats_id,
            ),
        ))
        .load(conn)?;
    rows.into_iter().map(line).collect()
}

/// Who of the office can be asked to repair in a building: its active managers and the active technicians who work in it, by name.
///
/// # Errors
/// When the database does not answer.
pub fn staff_of(conn: &mut AnyConnection, building: BuildingId) -> Result<Vec<(PersonId, String)>> {
    let works_there = people::id.eq_any(
        person_buildings::table
            .filter(person_buildings::building_id.eq(building.0))
            .select(person_buildings::person_id),
    );
    let rows: Vec<(i64, String)> = people::table
        .filter(people::status.eq(Standing::Active.code()))
        .filter(
            people::role
                .eq(Role::Manager.code())
                .or(people::role.eq(Role::Technician.code()).and(works_there)),
        )
        .order((people::name, people::id))
        .select((people::id, people::name))
        .load(conn)?;
    Ok(rows.into_iter().map(|(id, name)| (PersonId(id), name)).collect())
}

/// Everyone who may see to a deficiency in the buildings of a scope, by name, for the filter.
///
/// # Errors
/// When the database does not answer.
pub fn assignees(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<(PersonId, String)>> {
    let mut query = people::table
        .filter(people::status.eq(Standing::Active.code()))
        .filter(people::role.ne(Role::Owner.code()))
        .select((people::id, people::name))
        .order((people::name, people::id))
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        let works_there = people::id.eq_any(
            person_buildings::table
                .filter(person_buildings::building_id.eq_any(keys))
                .select(person_buildings::person_id),
        );
        query = query.filter(people::role.eq(Role::Manager.code()).or(works_there));
    }
    let rows: Vec<(i64, String)> = query.load(conn)?;
    Ok(rows.into_iter().map(|(id, name)| (PersonId(id), name)).collect())
}

/// The names of people, by key, for histories.
///
/// # Errors
/// When the database does not answer.
pub fn names(
    conn: &mut AnyConnection,
    ids: &[PersonId],
) -> Result<std::collections::HashMap<PersonId, String>> {
    let rows: Vec<(i64, String)> = people::table
        .filter(people::id.eq_any(ids.iter().map(|id| id.0)))
        .select((people::id, people::name))
        .load(conn)?;
    Ok(rows.into_iter().map(|(id, name)| (PersonId(id), name)).collect())
}
