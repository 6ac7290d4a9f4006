//! The checklists that a phone fetches ahead, as they are written. Nothing here has a member for residents, agreed hours, access or cost.

use serde::Serialize;

use super::measures::{Exact, Measures};

/// The whole answer.
#[derive(Debug, Clone, Serialize)]
pub struct Units {
    /// The version.
    pub v: u32,
    /// The server's time.
    pub now: String,
    /// The language of the words.
    pub language: String,
    /// What a phone reads readings with.
    pub measures: Measures,
    /// The units, in walking order.
    pub units: Vec<Unit>,
}

/// A unit with its checklist.
#[derive(Debug, Clone, Serialize)]
pub struct Unit {
    /// Which.
    pub unit: UnitName,
    /// Where.
    pub building: Building,
    /// The local date there.
    pub today: String,
    /// The visit on which answers are recorded.
    pub visit: Option<Visit>,
    /// The turnover in which answers are recorded.
    pub turnover: Option<Turnover>,
    /// Parts to take along.
    pub load: Vec<Load>,
    /// The places, in the order of the walk.
    pub places: Vec<Place>,
    /// What is asked, in the order of the walk.
    pub items: Vec<Item>,
    /// Deficiencies that no check asks again.
    pub matters: Vec<Matter>,
    /// Every deficiency that is not closed.
    pub standing: Vec<Standing>,
}

/// A part to take along.
#[derive(Debug, Clone, Serialize)]
pub struct Load {
    /// The part in words.
    pub part: String,
    /// Label of the place that it is for.
    pub place: String,
}

/// A unit by name.
#[derive(Debug, Clone, Serialize)]
pub struct UnitName {
    /// Key.
    pub id: i64,
    /// As on the door.
    pub label: String,
    /// Storey.
    pub floor: i64,
}

/// A building by name.
#[derive(Debug, Clone, Serialize)]
pub struct Building {
    /// Key.
    pub id: i64,
    /// Short code.
    pub code: String,
    /// Name.
    pub name: String,
    /// Postal address.
    pub address: String,
    /// IANA zone.
    pub zone: String,
    /// Code of the unit of bare lengths.
    pub length_unit: &'static str,
}

/// A visit.
#[derive(Debug, Clone, Serialize)]
pub struct Visit {
    /// Key.
    pub id: i64,
    /// Local date.
    pub on: String,
}

/// A turnover.
#[derive(Debug, Clone, Serialize)]
pub struct Turnover {
    /// Key.
    pub id: i64,
    /// Code of its stage.
    pub stage: &'static str,
    /// Local date.
    pub move_out_on: String,
    /// Local date.
    pub move_in_on: String,
    /// Free text.
    pub note: String,
}

/// A place.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Place {
    /// Key.
    pub tag: i64,
    /// Its label.
    pub label: String,
    /// Its room; empty when none was named.
    pub room: String,
    /// What stands there; none when nothing does.
    pub fixture: Option<i64>,
    /// Code of its kind; empty when nothing stands there.
    pub kind: &'static str,
    /// Its kind in words.
    pub kind_name: String,
    /// Codes of the labels that lead here.
    pub codes: Vec<String>,
    /// The drawing with its leak points, SVG; empty when there is none.
    pub drawing: String,
    /// The points by number and name; empty when there is no drawing.
    pub points: String,
}

/// Something that is asked.
#[derive(Debug, Clone, Serialize)]
pub struct Item {
    /// Fixture, part, check and stage with points between them.
    pub key: String,
    /// Its place, as index.
    pub place: usize,
    /// Key of the fixture.
    pub fixture: i64,
    /// Code of the part; empty for the fixture itself.
    pub part: &'static str,
    /// The part in words; empty for the fixture itself.
    pub part_name: String,
    /// Code of the check.
    pub check: String,
    /// The procedure.
    pub version: u32,
    /// Code of the stage; empty on a visit.
    pub stage: &'static str,
    /// Look, water or measure.
    pub group: &'static str,
    /// In a few words.
    pub title: String,
    /// What to do.
    pub ask: String,
    /// How, step by step.
    pub method: Vec<String>,
    /// What to mind.
    pub cautions: Vec<String>,
    /// Who may do it; empty for everybody.
    pub performer: String,
    /// What is answered.
    pub answer: Wanted,
    /// Code of how grave a failure is here.
    pub severity: &'static str,
    /// The same in words.
    pub severity_name: String,
    /// Life-threatening or severe.
    pub is_grave: bool,
    /// How often to flush; none for what is no flush.
    pub flushes: Option<u32>,
    /// When it is due; empty when nothing asks for it by a date.
    pub due: String,
    /// Overdue.
    pub is_over: bool,
    /// Numbers of the deficiencies that it re-checks.
    pub rechecks: Vec<i64>,
    /// Minutes of work.
    pub minutes: f64,
    /// Whether an answer counts.
    pub is_answered: bool,
    /// The answer that counts.
    pub last: Option<Last>,
}

/// What is answered.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Wanted {
    /// Pass or fail.
    Verdict {
        /// What passes.
        pass: String,
        /// What fails.
        fail: String,
    },
    /// A figure.
    Reading {
        /// What is read.
        of: String,
        /// Symbol of the unit of a bare number.
        unit: &'static str,
        /// Its code.
        bare: &'static str,
        /// Code of what is measured.
        quantity: &'static str,
        /// What passes.
        limits: Vec<Limit>,
        /// Between which values a reading usually lies; none when nobody knows.
        likely: Option<(Exact, Exact)>,
        /// What the phone offers to read with; empty for nothing.
        tool: &'static str,
    },
}

/// A limit.
#[derive(Debug, Clone, Serialize)]
pub struct Limit {
    /// Code of the side that passes.
    pub bound: &'static str,
    /// As the rule prints it.
    pub value: String,
    /// The same exactly, in the base unit.
    pub exact: Exact,
    /// Where it comes from.
    pub source: String,
}

/// An answer that was given.
#[derive(Debug, Clone, Serialize)]
pub struct Last {
    /// Code of the outcome.
    pub outcome: &'static str,
    /// In words.
    pub said: String,
    /// By whom.
    pub who: String,
    /// When.
    pub at: String,
}

/// A deficiency that no check asks again.
#[derive(Debug, Clone, Serialize)]
pub struct Matter {
    /// Number.
    pub deficiency: i64,
    /// What is wrong.
    pub title: String,
    /// Code of how grave.
    pub severity: &'static str,
    /// The same in words.
    pub severity_name: String,
    /// Its place, as index; none for the whole unit.
    pub place: Option<usize>,
    /// Code of where it stands.
    pub status: &'static str,
    /// Whether somebody said something about it in the turnover.
    pub is_answered: bool,
}

/// A deficiency that is not closed.
#[derive(Debug, Clone, Serialize)]
pub struct Standing {
    /// Number.
    pub deficiency: i64,
    /// What is wrong.
    pub title: String,
    /// Code of how grave.
    pub severity: &'static str,
    /// The same in words.
    pub severity_name: String,
    /// Code of where it stands.
    pub status: &'static str,
    /// Whether a waiver lets it stand at the move-in.
    pub is_waived: bool,
    /// Label of its place; empty for the whole unit.
    pub place: String,
    /// When it was repaired.
    pub repaired_at: Option<String>,
    /// Key of the item that re-checks it; empty when none does.
    pub recheck: String,
}
