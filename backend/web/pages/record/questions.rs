//! Which questions a page asks: what is in its window, what is to be re-checked, what a turnover's stage or a visit wants, or all
//! that may be asked of one fixture. Knows nothing of how they are shown.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use chrono::NaiveDate;

use crate::domain::due::{State, Window};
use crate::domain::register::person::Actor;
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, UnitId, VisitId};
use crate::domain::trade::check::BuildingFacts;
use crate::domain::trade::{Check, PartKind, TurnoverStage};
use crate::error::Result;
use crate::store::checks::{self, StoredCheck};
use crate::store::lists::record::{self as rows, DueRow};
use crate::store::spots::{self, Spot};
use crate::store::{AnyConnection, buildings, deficiencies};

use super::leak_points::Wrong;

/// One question.
#[derive(Debug, Clone)]
pub struct Question {
    /// Of what, and where it stands.
    pub spot: Arc<Spot>,
    /// Of which part.
    pub part: Option<PartKind>,
    /// Which check.
    pub check_id: CheckId,
    /// The procedure.
    pub check: Arc<Check>,
    /// When it is due; none when no schedule asks for it.
    pub window: Option<Window>,
    /// What it would re-check.
    pub recheck: Option<DeficiencyId>,
}

impl Question {
    /// Whether it can be done for its due date on this day, or re-checks something.
    #[must_use]
    pub fn is_wanted(&self, today: NaiveDate) -> bool {
        self.recheck.is_some()
            || self
                .window
                .is_some_and(|window| window.state(today) != State::Later)
    }
}

type Place = (FixtureId, Option<PartKind>, CheckId);

/// All that may be asked in a unit, or of one of its fixtures.
pub struct Book {
    /// The questions in the order of a walk: room by room, dry look before water, water before measuring.
    pub questions: Vec<Question>,
    /// What stands as deficient in the unit.
    pub wrong: Vec<Wrong>,
}

/// Loads all that may be asked of the fixtures in service in a unit.
///
/// # Errors
/// When the database does not answer.
pub fn of_unit(conn: &mut AnyConnection, actor: &Actor, unit: UnitId, today: NaiveDate) -> Result<Book> {
    let spots = spots::in_unit(conn, &actor.scope, unit)?;
    let due = rows::of_unit(conn, unit)?;
    load(conn, actor, unit, spots, due, today)
}

/// Loads all that may be asked of one fixture.
///
/// # Errors
/// When the database does not answer.
pub fn of_fixture(conn: &mut AnyConnection, actor: &Actor, spot: &Spot, today: NaiveDate) -> Result<Book> {
    let due = rows::of_fixtures(conn, &[spot.fixture])?;
    load(conn, actor, spot.unit.id, vec![spot.clone()], due, today)
}

fn load(
    conn: &mut AnyConnection,
    actor: &Actor,
    unit: UnitId,
    spots: Vec<Spot>,
    due: Vec<DueRow>,
    today: NaiveDate,
) -> Result<Book> {
    let all = checks::load_all(conn)?;
    let wrong = wrong_in(conn, unit, &all)?;
    let Some(first) = spots.first() else {
        return Ok(Book {
            questions: Vec::new(),
            wrong,
        });
    };
    let building = buildings::by_key(conn, &actor.scope, first.unit.building.id)?.facts;
    let facts = BuildingFacts {
        age_years: building.age_years(today),
        base_joint: building.base_joint,
    };
    let fixtures: Vec<FixtureId> = spots.iter().map(|spot| spot.fixture).collect();
    let parts = spots::parts_in_service(conn, &fixtures)?;
    let windows: HashMap<Place, Window> = due
        .into_iter()
        .map(|row| ((row.fixture, row.part, row.check), row.window))
        .collect();
    let mut questions = Vec::new();
    for spot in spots {
        let fitted = parts.get(&spot.fixture).map_or(&[][..], Vec::as_slice);
        let spot = Arc::new(spot);
        let mut of_spot = Vec::new();
        for stored in all
            .iter()
            .filter(|stored| stored.check.kinds.contains(&spot.kind))
        {
            for part in places(&stored.check, fitted) {
                let question = question(&spot, part, stored, &windows, &wrong);
                let asked = question.window.is_some() || question.recheck.is_some();
                if asked || (stored.active && stored.check.is_asked_in(facts)) {
                    of_spot.push(question);
                }
            }
        }
        of_spot.sort_by_key(|question| question.check.group);
        questions.extend(of_spot);
    }
    Ok(Book { questions, wrong })
}

/// What stands as deficient in a unit, with the checks that found it.
///
/// # Errors
/// When the database does not answer.
pub fn wrong_in(conn: &mut AnyConnection, unit: UnitId, all: &[StoredCheck]) -> Result<Vec<Wrong>> {
    let standing = deficiencies::standing_in(conn, &[unit])?;
    let code = |id: Option<CheckId>| {
        let stored = all.iter().find(|stored| Some(stored.id) == id);
        stored.map_or_else(String::new, |stored| stored.check.code.to_string())
    };
    Ok(standing
        .iter()
        .map(|one| Wrong::of(one, code(one.check)))
        .collect())
}

/// The parts that a check is asked of, or the fixture itself.
fn places(check: &Check, fitted: &[PartKind]) -> Vec<Option<PartKind>> {
    if check.parts.is_empty() {
        return vec![None];
    }
    let asked = fitted.iter().filter(|part| check.parts.contains(part));
    asked.map(|part| Some(*part)).collect()
}

fn question(
    spot: &Arc<Spot>,
    part: Option<PartKind>,
    stored: &StoredCheck,
    windows: &HashMap<Place, Window>,
    wrong: &[Wrong],
) -> Question {
    let code = stored.check.code.as_str();
    let recheck = wrong
        .iter()
        .find(|one| one.tag == Some(spot.tag) && one.part == part && one.check == code);
    Question {
        spot: Arc::clone(spot),
        part,
        check_id: stored.id,
        check: Arc::clone(&stored.check),
        window: windows.get(&(spot.fixture, part, stored.id)).copied(),
        recheck: recheck.map(|one| one.id),
    }
}

/// What narrows or widens the questions of a unit.
#[derive(Debug, Clone, Default)]
pub struct Wish {
    /// Only this check, whenever it is due.
    pub check: String,
    /// Only this fixture.
    pub fixture: Option<FixtureId>,
    /// Only this part.
    pub part: Option<PartKind>,
    /// Also what this visit serves.
    pub visit: Option<VisitId>,
    /// Also what this stage of a turnover wants.
    pub stage: Option<TurnoverStage>,
}

impl Book {
    /// Keeps what is wished for; without a check named, what is in its window or to be re-checked, and what a visit or stage adds.
    ///
    /// # Errors
    /// When the database does not answer.
    pub fn keep(mut self, conn: &mut AnyConnection, wish: &Wish, today: NaiveDate) -> Result<Self> {
        let served: HashSet<Place> = match wish.visit {
            Some(visit) => rows::of_visit(conn, visit)?.into_iter().collect(),
            None => HashSet::new(),
        };
        self.questions.retain(|question| {
            let place = (question.spot.fixture, question.part, question.check_id);
            let named = question.check.code.as_str() == wish.check;
            let wanted = if wish.check.is_empty() {
                question.is_wanted(today)
                    || served.contains(&place)
                    || wish.stage.is_some_and(|stage| {
                        question.check.turnover.contains(&stage) && !question.check.off_until_chosen
                    })
            } else {
                named
            };
            wanted
                && wish
                    .fixture
                    .is_none_or(|fixture| fixture == question.spot.fixture)
                && wish.part.is_none_or(|part| Some(part) == question.part)
        });
        Ok(self)
    }
}
