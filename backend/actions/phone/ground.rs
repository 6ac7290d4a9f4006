//! What is known of a unit for its checklist: what stands where, what is due, what is wrong. Nothing of residents, entry or cost is read
//! here, so none can be written.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use chrono::NaiveDate;

use super::asked;
use super::words::Words;
use crate::domain::due::Window;
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, CheckId, FixtureId, Part, TagId, Unit};
use crate::domain::result::setting::use_at;
use crate::domain::result::{Deficiency, DeficiencyStatus, Neighbour, setting};
use crate::domain::trade::clearance::READ_ONCE;
use crate::domain::trade::life::{Item, Lives};
use crate::domain::trade::outcome::Context;
use crate::domain::trade::{Check, PartKind, Severity};
use crate::error::Result;
use crate::exchange::phone::units::Load;
use crate::store::checks::StoredCheck;
use crate::store::lists::record;
use crate::store::spots::Spot;
use crate::store::{AnyConnection, deficiencies, labels, parts, spots};

/// What is known of a unit.
pub(super) struct Ground<'a> {
    pub building: Building,
    pub unit: Unit,
    pub today: NaiveDate,
    pub spots: Vec<Spot>,
    pub places: Vec<(TagId, String, String)>,
    pub wrong: Vec<Deficiency>,
    pub checks: HashMap<CheckId, Arc<Check>>,
    pub windows: HashMap<asked::Spot, Window>,
    parts: BTreeMap<FixtureId, Vec<Part>>,
    pub codes: HashMap<TagId, Vec<String>>,
    /// The checks that read a distance once.
    pub once: Vec<CheckId>,
    lives: &'a Lives,
}

impl<'a> Ground<'a> {
    pub fn load(
        conn: &mut AnyConnection,
        building: Building,
        unit: Unit,
        today: NaiveDate,
        checks: &[StoredCheck],
        lives: &'a Lives,
    ) -> Result<Self> {
        let spots = spots::in_unit(conn, &Scope::All, unit.id)?;
        let fixtures: Vec<FixtureId> = spots.iter().map(|spot| spot.fixture).collect();
        let rows = record::of_unit(conn, unit.id)?.into_iter();
        Ok(Self {
            places: spots::tags_of(conn, unit.id)?,
            wrong: deficiencies::standing_in(conn, &[unit.id])?,
            checks: checks
                .iter()
                .map(|stored| (stored.id, Arc::clone(&stored.check)))
                .collect(),
            once: checks
                .iter()
                .filter(|stored| stored.active && READ_ONCE.contains(&stored.check.code.as_str()))
                .map(|stored| stored.id)
                .collect(),
            windows: rows
                .map(|row| ((row.fixture, row.part, row.check), row.window))
                .collect(),
            parts: parts::in_service_of(conn, &fixtures)?,
            codes: labels::codes_of_unit(conn, unit.id)?,
            building,
            unit,
            today,
            spots,
            lives,
        })
    }

    /// The parts in service of a fixture.
    pub fn fitted(&self, fixture: FixtureId) -> Vec<PartKind> {
        let parts = self.parts.get(&fixture).into_iter().flatten();
        parts.map(|part| part.facts.kind).collect()
    }

    pub fn context(&self) -> Context {
        Context {
            profile: self.building.facts.code_profile.clone(),
            length_unit: self.building.facts.length_unit,
        }
    }

    pub fn label(&self, tag: Option<TagId>) -> &str {
        let place = self.places.iter().find(|(known, ..)| Some(*known) == tag);
        place.map_or("", |(_, label, _)| label)
    }

    /// How grave a failure is where the fixture stands.
    pub fn severity(&self, fixture: FixtureId, check: &Check) -> Severity {
        let Some(spot) = self.spots.iter().find(|spot| spot.fixture == fixture) else {
            return check.severity;
        };
        let others = self.spots.iter().filter(|other| other.fixture != fixture);
        let neighbours: Vec<Neighbour> = others
            .map(|other| Neighbour {
                kind: other.kind,
                use_now: use_at(other.tag, &self.wrong, |check| self.says_no(check)),
            })
            .collect();
        check.severity_in(setting(spot.unit.kind, spot.kind, &neighbours))
    }

    fn says_no(&self, check: CheckId) -> bool {
        let check = self.checks.get(&check);
        check.is_some_and(|check| check.severity_only_one.is_some())
    }

    /// Parts to take along: those that open deficiencies name, and those whose useful life is over.
    pub fn load_of_day(&self, words: &Words) -> Vec<Load> {
        let mut wanted: Vec<(PartKind, TagId)> = Vec::new();
        for one in self
            .wrong
            .iter()
            .filter(|one| one.status == DeficiencyStatus::Open)
        {
            wanted.extend(one.part.zip(one.tag));
        }
        for spot in &self.spots {
            let parts = self.parts.get(&spot.fixture).into_iter().flatten();
            let old = parts.filter(|part| self.is_worn_out(part));
            wanted.extend(old.map(|part| (part.facts.kind, spot.tag)));
        }
        let mut seen = HashSet::new();
        wanted.retain(|one| seen.insert(*one));
        wanted
            .into_iter()
            .map(|(part, tag)| Load {
                part: words.load(part),
                place: self.label(Some(tag)).to_owned(),
            })
            .collect()
    }

    fn is_worn_out(&self, part: &Part) -> bool {
        let life = self.lives.of.get(&Item::Part(part.facts.kind));
        let age = part.facts.installed.age_years(self.today).map(f64::from);
        matches!((age, life), (Some(age), Some(life)) if life.is_over(age))
    }
}
