//! The files of an import, apart: checks are taken in before the fleet, whose last-done days name them, and calendars and schedules
//! after it, since they name its buildings.

use crate::exchange::csv;
use crate::exchange::csv::fleet::source::Given;

/// Files by when they are read.
pub(super) struct Files<'f> {
    /// All as they were given.
    pub all: &'f [Given],
    /// Checks of the users' own.
    pub checks: Option<&'f Given>,
    /// The fleet: one CSV, or files of the folder.
    pub fleet: Vec<&'f Given>,
    /// Calendars of buildings.
    pub calendars: Option<&'f Given>,
    /// Schedules.
    pub schedules: Option<&'f Given>,
}

impl<'f> Files<'f> {
    pub(super) fn new(all: &'f [Given]) -> Self {
        let named = |name: &str| all.iter().find(|file| file.name.eq_ignore_ascii_case(name));
        let others = [csv::checks::FILE, csv::calendars::FILE, csv::schedules::FILE];
        let is_other = |file: &&Given| others.iter().any(|name| file.name.eq_ignore_ascii_case(name));
        Self {
            all,
            checks: named(csv::checks::FILE),
            fleet: all.iter().filter(|file| !is_other(file)).collect(),
            calendars: named(csv::calendars::FILE),
            schedules: named(csv::schedules::FILE),
        }
    }

    /// Whether anything is said of the fleet itself; no file at all is told as a fault of it.
    pub(super) fn speak_of_the_fleet(&self) -> bool {
        !self.fleet.is_empty() || self.all.is_empty()
    }
}
