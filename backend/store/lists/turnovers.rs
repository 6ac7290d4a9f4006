//! Turnovers with everything that their checklist is made of, and the lists of those that are open and over.

use std::collections::{BTreeMap, HashMap};

use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;

use crate::clock::Now;
use crate::domain::register::person::Scope;
use crate::domain::register::{
    Building, BuildingId, CheckId, FixtureId, PersonId, TagId, TurnoverId, Unit, UnitId,
};
use crate::domain::result::{Deficiency, EventKind};
use crate::domain::trade::check::BuildingFacts;
use crate::domain::trade::clearance::TELLING;
use crate::domain::turnover::{
    Answer, Block, Checklist, Days, DueBy, Facts, KnownItem, Offered, Place, Standing, Turnover, Waiver,
    Word, blocks,
};
use crate::error::Result;
use crate::store::buildings::keys_of;
use crate::store::coded::read_part;
use crate::store::lists::deficiencies::names;
use crate::store::schema::{buildings, due_items, turnovers as table, units as unit_table};
use crate::store::turnovers::{self, OPEN, Row};
use crate::store::{AnyConnection, deficiencies, results, schedules, spots, units};

/// A turnover with all that is known of it today.
#[derive(Debug, Clone)]
pub struct Survey {
    /// The turnover.
    pub turnover: Turnover,
    /// Where.
    pub building: Building,
    /// Where.
    pub unit: Unit,
    /// The unit's local date.
    pub today: NaiveDate,
    /// The checklist as it is now.
    pub list: Checklist,
    /// The deficiencies of the unit that are not closed, gravest first.
    pub deficiencies: Vec<Deficiency>,
    /// The waivers, in the order in which they were given.
    pub waivers: Vec<Waiver>,
    /// The items it is known to have had.
    pub known: Vec<KnownItem>,
    /// The names of those who answered, waived, opened and closed.
    pub names: HashMap<PersonId, String>,
}

impl Survey {
    /// The days that rules compare with.
    #[must_use]
    pub fn days(&self) -> Days {
        Days {
            today: self.today,
            move_in_on: self.turnover.facts.move_in_on,
        }
    }

    /// What keeps it from the next stage; nothing when it is over.
    #[must_use]
    pub fn blocks(&self) -> Vec<Block> {
        let next = self.turnover.stage.next();
        next.map_or_else(Vec::new, |next| {
            blocks(next, &self.list, &self.deficiencies, &self.waivers, self.days())
        })
    }

    /// The name of somebody, `command line` for nobody.
    #[must_use]
    pub fn name(&self, person: Option<PersonId>) -> &str {
        person.map_or("command line", |person| {
            self.names.get(&person).map_or("somebody", String::as_str)
        })
    }

    /// The local time of an instant.
    #[must_use]
    pub fn local(&self, at: NaiveDateTime) -> NaiveDateTime {
        at.and_utc()
            .with_timezone(&self.building.facts.time_zone)
            .naive_local()
    }
}

/// Surveys turnovers; the checks are read once for many.
#[derive(Debug)]
pub struct Surveyor {
    now: Now,
    checks: BTreeMap<CheckId, Offered>,
}

impl Surveyor {
    /// Reads the checks and what was chosen of them.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn new(conn: &mut AnyConnection, now: Now) -> Result<Self> {
        let book = schedules::book(conn)?;
        let offered = book.checks().map(|asked| {
            let offered = Offered {
                check: asked.check.clone(),
                is_on: asked.active && book.is_on(asked),
            };
            (asked.id, offered)
        });
        Ok(Self {
            now,
            checks: offered.collect(),
        })
    }

    /// The survey of one turnover.
    ///
    /// # Errors
    /// [`crate::error::Error::NotFound`] when there is none that may be seen.
    pub fn survey(&self, conn: &mut AnyConnection, scope: &Scope, id: TurnoverId) -> Result<Survey> {
        let turnover = turnovers::find(conn, scope, id)?;
        self.of(conn, turnover)
    }

    /// The survey of a turnover at hand, which the asker may see.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn of(&self, conn: &mut AnyConnection, turnover: Turnover) -> Result<Survey> {
        let (building, unit) = units::by_key(conn, &Scope::All, turnover.unit)?;
        let today = self.now.date_in(building.facts.time_zone);
        let (places, standing) = standing(conn, turnover.unit)?;
        let due = due_by(conn, turnover.unit, turnover.facts.move_in_on)?;
        let deficiencies = deficiencies::standing_in(conn, &[turnover.unit])?;
        let answers: Vec<Answer> = results::of_turnover(conn, turnover.id)?
            .into_iter()
            .map(|(id, entry)| Answer { id, entry })
            .collect();
        let known = turnovers::known_items(conn, turnover.id)?;
        let words = words(conn, &deficiencies)?;
        let tags: Vec<TagId> = standing.iter().map(|one| one.tag).collect();
        let measured = results::answered_at(conn, &tags, &TELLING, Some(turnover.id))?;
        let list = Checklist::make(&Facts {
            turnover: &turnover,
            today,
            zone: building.facts.time_zone,
            building: BuildingFacts {
                age_years: building.facts.age_years(turnover.facts.move_in_on),
                base_joint: building.facts.base_joint,
            },
            places: &places,
            standing: &standing,
            checks: &self.checks,
            due: &due,
            deficiencies: &deficiencies,
            answers: &answers,
            known: Some(&known),
            words: &words,
            measured: &measured,
        });
        let waivers = turnovers::waivers(conn, turnover.id)?;
        let people = answers.iter().map(|answer| answer.entry.person);
        let people = people.chain(waivers.iter().map(|waiver| waiver.person));
        let people = people.chain([turnover.opened_by, turnover.ready_by, turnover.closed_by]);
        let people: Vec<PersonId> = people.flatten().collect();
        Ok(Survey {
            names: names(conn, &people)?,
            turnover,
            building,
            unit,
            today,
            list,
            deficiencies,
            waivers,
            known,
        })
    }
}

/// The places of a unit in the order of the walk, and what is in service there.
fn standing(conn: &mut AnyConnection, unit: UnitId) -> Result<(Vec<Place>, Vec<Standing>)> {
    let spots = spots::in_unit(conn, &Scope::All, unit)?;
    let fixtures: Vec<FixtureId> = spots.iter().map(|spot| spot.fixture).collect();
    let mut parts = spots::parts_in_service(conn, &fixtures)?;
    let standing: Vec<Standing> = spots
        .into_iter()
        .map(|spot| Standing {
            fixture: spot.fixture,
            kind: spot.kind,
            tag: spot.tag,
            parts: parts.remove(&spot.fixture).unwrap_or_default(),
            stood_from: spot.stood_from,
        })
        .collect();
    let kinds: HashMap<_, _> = standing.iter().map(|one| (one.tag, one.kind)).collect();
    let places = spots::tags_of(conn, unit)?
        .into_iter()
        .map(|(tag, label, room)| Place {
            tag,
            label,
            room,
            kind: kinds.get(&tag).copied(),
        });
    Ok((places.collect(), standing))
}

/// What falls due in a unit by a day.
fn due_by(conn: &mut AnyConnection, unit: UnitId, by: NaiveDate) -> Result<Vec<DueBy>> {
    let rows: Vec<(i64, String, i64, NaiveDate)> = due_items::table
        .filter(due_items::unit_id.eq(unit.0))
        .filter(due_items::due.le(by))
        .select((
            due_items::fixture_id,
            due_items::part,
            due_items::check_id,
            due_items::due,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(fixture, part, check, due)| {
            Ok(DueBy {
                fixture: FixtureId(fixture),
                part: read_part(&part)?,
                check: CheckId(check),
                due,
            })
        })
        .collect()
}

fn words(conn: &mut AnyConnection, standing: &[Deficiency]) -> Result<Vec<Word>> {
    let ids: Vec<_> = standing.iter().map(|one| one.id).collect();
    let events = deficiencies::events_of(conn, &ids)?.into_iter();
    let said = events.filter(|event| matches!(event.kind, EventKind::FailedAgain | EventKind::Missed));
    Ok(said
        .map(|event| Word {
            deficiency: event.deficiency,
            at: event.at,
        })
        .collect())
}

/// A turnover as a line of a list.
#[derive(Debug, Clone)]
pub struct Line {
    /// The turnover.
    pub turnover: Turnover,
    /// The building's code.
    pub building_code: String,
    /// The building's name.
    pub building_name: String,
    /// Its zone.
    pub zone: chrono_tz::Tz,
    /// The unit's label.
    pub unit_label: String,
}

/// Which turnovers are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// Open ones, the earliest move-in first.
    Open,
    /// Closed and cancelled ones, the latest first.
    Over,
}

/// A place in a list: the turnover after which it goes on.
pub type Cursor = TurnoverId;

type Columns = (Row, String, String, String, String);

/// At most `limit` turnovers after the cursor.
///
/// # Errors
/// When the cursor's turnover may not be seen, or the database does not answer.
pub fn page(
    conn: &mut AnyConnection,
    scope: &Scope,
    which: Which,
    building: Option<BuildingId>,
    after: Option<Cursor>,
    limit: i64,
) -> Result<Vec<Line>> {
    let after = after.map(|id| turnovers::find(conn, scope, id)).transpose()?;
    let mut query = table::table
        .inner_join(buildings::table)
        .inner_join(unit_table::table)
        .limit(limit)
        .into_boxed();
    if let Some(keys) = keys_of(scope) {
        query = query.filter(table::building_id.eq_any(keys));
    }
    if let Some(building) = building {
        query = query.filter(table::building_id.eq(building.0));
    }
    query = match which {
        Which::Open => query
            .filter(table::stage.eq_any(OPEN))
            .order((table::move_in_on, table::id)),
        Which::Over => query
            .filter(table::stage.ne_all(OPEN))
            .order((table::closed_at.desc(), table::id.desc())),
    };
    match (which, after) {
        (_, None) => {}
        (Which::Open, Some(last)) => {
            let day = last.facts.move_in_on;
            let later = table::move_in_on.gt(day);
            query = query.filter(later.or(table::move_in_on.eq(day).and(table::id.gt(last.id.0))));
        }
        (Which::Over, Some(last)) => {
            let at = last.closed_at.unwrap_or(last.opened_at);
            let earlier = table::closed_at.lt(at);
            let same = table::closed_at.eq(at).and(table::id.lt(last.id.0));
            query = query.filter(earlier.or(same).assume_not_null());
        }
    }
    let rows: Vec<Columns> = query
        .select((
            table::all_columns,
            buildings::code,
            buildings::name,
            buildings::time_zone,
            unit_table::label,
        ))
        .load(conn)?;
    rows.into_iter()
        .map(|(row, building_code, building_name, zone, unit_label)| {
            Ok(Line {
                turnover: row.read()?,
                building_code,
                building_name,
                zone: zone.parse().unwrap_or(chrono_tz::Tz::UTC),
                unit_label,
            })
        })
        .collect()
}
