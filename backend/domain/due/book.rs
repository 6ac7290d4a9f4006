//! Every check and every schedule of an office, read together: what may be asked anywhere.
//!
//! It decides which checks that are off until chosen have been chosen. It knows no building; `plan` cuts it
//! to one.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::plan::{AskedBuilding, Plan};
use super::schedule::Schedule;
use crate::domain::register::{CheckId, ScheduleId};
use crate::domain::trade::Check;

/// A check with its key and whether it is in use.
#[derive(Debug, Clone)]
pub struct AskedCheck {
    /// Its key.
    pub id: CheckId,
    /// The procedure.
    pub check: Arc<Check>,
    /// False hides it from new schedules; those that have it still ask for it.
    pub active: bool,
}

/// The checks and the schedules of an office.
#[derive(Debug, Clone, Default)]
pub struct Book {
    checks: BTreeMap<CheckId, AskedCheck>,
    schedules: BTreeMap<ScheduleId, Schedule>,
    chosen: BTreeSet<CheckId>,
}

impl Book {
    /// Puts them together.
    ///
    /// A check that is off until chosen is chosen by an active schedule of the users' own, or of the pack that
    /// is there to be chosen, that names it; then every schedule that names it asks for it.
    #[must_use]
    pub fn new(checks: Vec<AskedCheck>, schedules: Vec<Schedule>) -> Self {
        let choosing = schedules
            .iter()
            .map(|schedule| &schedule.terms)
            .filter(|terms| terms.active && terms.chooses());
        let chosen = choosing.flat_map(|terms| terms.checks.iter().copied()).collect();
        Self {
            checks: checks.into_iter().map(|check| (check.id, check)).collect(),
            schedules: schedules
                .into_iter()
                .map(|schedule| (schedule.id, schedule))
                .collect(),
            chosen,
        }
    }

    /// The check with this key.
    #[must_use]
    pub fn check(&self, id: CheckId) -> Option<&AskedCheck> {
        self.checks.get(&id)
    }

    /// The check with this code.
    #[must_use]
    pub fn check_by_code(&self, code: &str) -> Option<&AskedCheck> {
        self.checks
            .values()
            .find(|asked| asked.check.code.as_str() == code)
    }

    /// Every check, in the order it was taken in.
    pub fn checks(&self) -> impl Iterator<Item = &AskedCheck> {
        self.checks.values()
    }

    /// The schedule with this key.
    #[must_use]
    pub fn schedule(&self, id: ScheduleId) -> Option<&Schedule> {
        self.schedules.get(&id)
    }

    /// Every schedule, in the order it was taken in.
    pub fn schedules(&self) -> impl Iterator<Item = &Schedule> {
        self.schedules.values()
    }

    /// Whether a check is on: it always was, or somebody chose it.
    #[must_use]
    pub fn is_on(&self, asked: &AskedCheck) -> bool {
        !asked.check.off_until_chosen || self.chosen.contains(&asked.id)
    }

    /// Whether a schedule asks how often a check failed, so that failures have to be read.
    #[must_use]
    pub fn counts_failures(&self) -> bool {
        self.schedules
            .values()
            .any(|schedule| schedule.terms.scope.min_failures.is_some())
    }

    /// Whether a schedule asks for the closed days of buildings, so that their calendars have to be read.
    #[must_use]
    pub fn asks_for_closed_days(&self) -> bool {
        self.schedules
            .values()
            .any(|schedule| schedule.terms.timing.moving().asks_for_closed_days())
    }

    /// Whether a schedule asks who lives in units when, so that households and turnovers have to be read.
    #[must_use]
    pub fn asks_for_tenancy(&self) -> bool {
        self.schedules
            .values()
            .any(|schedule| schedule.terms.timing.moving().asks_for_tenancy())
    }

    /// The same book in which these schedules say what they say here; one with a key that is not there yet is added.
    #[must_use]
    pub fn changed(&self, schedules: impl IntoIterator<Item = Schedule>) -> Self {
        let mut all = self.schedules.clone();
        all.extend(schedules.into_iter().map(|schedule| (schedule.id, schedule)));
        Self::new(
            self.checks.values().cloned().collect(),
            all.into_values().collect(),
        )
    }

    /// What is asked in one building.
    #[must_use]
    pub fn plan(&self, building: &AskedBuilding) -> Plan<'_> {
        Plan::new(self, building)
    }
}
