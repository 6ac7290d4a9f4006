//! What is asked of the fixtures of one building, and the due row of each check.
//!
//! It decides which schedules ask a check of a kind or a part, and which of them is shown. Schedules are laid
//! out by kind once, so that a fixture costs only what is asked of its own kind. It knows no rule's dates
//! (`item` does) and not where the facts come from.

use std::collections::HashMap;

use chrono::NaiveDate;

use super::book::{AskedCheck, Book};
use super::history::History;
use super::item::{Bounds, DueItem, earliest, next_due_within};
use super::schedule::{FailedDays, Schedule};
use super::tenancy::Tenancy;
use super::workdays::{ClosedDays, WorkCalendar};
use crate::domain::register::{CheckId, FixtureId, ScheduleId};
use crate::domain::trade::check::BuildingFacts;
use crate::domain::trade::{BaseJoint, Check, FixtureKind, PartKind};

/// What a building brings along.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedBuilding {
    /// Its code, for schedules that name buildings.
    pub code: String,
    /// The day it joined the register.
    pub joined_on: NaiveDate,
    /// The calendar year it was built in, when known.
    pub built_year: Option<i64>,
    /// Its policy for the joint between bowl and floor.
    pub base_joint: BaseJoint,
    /// When planned work is done there.
    pub calendar: WorkCalendar,
}

/// A part in service.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandingPart {
    /// Which one.
    pub kind: PartKind,
    /// The day it was installed; none when it has no date of its own, and then its fixture's counts.
    pub installed_on: Option<NaiveDate>,
}

/// A fixture that stands at its place.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    /// Its key.
    pub fixture: FixtureId,
    /// Its kind.
    pub kind: FixtureKind,
    /// The label of its place.
    pub tag: &'a str,
    /// The day it was installed, when known.
    pub installed_on: Option<NaiveDate>,
    /// The unit's place in the spread of a first round, in millionths of the interval.
    pub spread_ppm: u32,
    /// Its parts in service.
    pub parts: &'a [StandingPart],
    /// Who lives in its unit when.
    pub tenancy: &'a Tenancy,
}

/// The days a check was done at a place, as far as they count.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct DoneDays {
    /// The last day with a result "pass" or "fail".
    pub done: Option<NaiveDate>,
    /// The `last_done` an import brought along.
    pub imported: Option<NaiveDate>,
    /// The last days with a result "fail", the latest first; empty when no schedule asks for them.
    pub failed: FailedDays,
}

impl DoneDays {
    /// With when what is checked was installed and when its building joined: all that a due date is computed from.
    #[must_use]
    pub fn history(&self, installed: Option<NaiveDate>, joined: NaiveDate, spread_ppm: u32) -> History {
        History {
            done: self.done,
            installed,
            imported: self.imported,
            joined,
            spread_ppm,
        }
    }
}

/// One check that is to be done on one fixture or part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DueRow {
    /// On which fixture.
    pub fixture: FixtureId,
    /// On which part of it; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// The schedule that is shown.
    pub schedule: ScheduleId,
    /// From when, until when, and why.
    pub item: DueItem,
}

/// One check on one kind of fixture or on one of its parts, with the schedules that ask for it.
#[derive(Debug)]
struct Ask<'a> {
    check: CheckId,
    part: Option<PartKind>,
    /// The building's age allows it from this day on.
    from: NaiveDate,
    schedules: Vec<&'a Schedule>,
}

/// What is asked in one building, by kind of fixture.
#[derive(Debug)]
pub struct Plan<'a> {
    joined_on: NaiveDate,
    /// Facts of later days are not looked at.
    as_of: Option<NaiveDate>,
    closed: ClosedDays,
    asks: HashMap<FixtureKind, Vec<Ask<'a>>>,
}

impl<'a> Plan<'a> {
    pub(super) fn new(book: &'a Book, building: &AskedBuilding) -> Self {
        let mut asks: HashMap<FixtureKind, Vec<Ask<'a>>> = HashMap::new();
        let in_scope = book.schedules().filter(|schedule| {
            schedule.terms.asks() && schedule.terms.scope.reaches_building(&building.code)
        });
        let mut closed = ClosedDays::none();
        for schedule in in_scope {
            // Laid out once a building, and only where a schedule asks.
            if schedule.terms.timing.moving().asks_for_closed_days() && closed.is_empty() {
                closed = ClosedDays::of(building.calendar.clone(), building.joined_on);
            }
            let checks = schedule.terms.checks.iter().filter_map(|id| book.check(*id));
            for asked in checks.filter(|asked| book.is_on(asked) && is_asked_in(&asked.check, building)) {
                lay_out(&mut asks, schedule, asked, building);
            }
        }
        Self {
            joined_on: building.joined_on,
            as_of: None,
            closed,
            asks,
        }
    }

    /// The plan for a past day: an installation after it is not known yet.
    #[must_use]
    pub fn as_of(self, day: NaiveDate) -> Self {
        Self {
            as_of: Some(day),
            ..self
        }
    }

    /// Appends the due rows of a fixture, one a check and part; `done` tells when it was last done there.
    pub fn rows_of(
        &self,
        standing: &Standing<'_>,
        done: impl Fn(Option<PartKind>, CheckId) -> DoneDays,
        rows: &mut Vec<DueRow>,
    ) {
        for ask in self.asks_of(standing.kind) {
            let Some(installed_on) = self.installed_on(standing, ask.part) else {
                continue;
            };
            rows.extend(self.row(standing, ask, installed_on, done(ask.part, ask.check)));
        }
    }

    /// Tells of each day from `today` to `last` on which a check comes due on a fixture, when each is done on the day it is due and
    /// what is past its due date is done today. `of` chooses the checks; `tell` gets the row that stands now with its day, and each
    /// later row with its own.
    pub fn days_ahead(
        &self,
        standing: &Standing<'_>,
        done: impl Fn(Option<PartKind>, CheckId) -> DoneDays,
        of: impl Fn(CheckId) -> bool,
        (today, last): (NaiveDate, NaiveDate),
        mut tell: impl FnMut(&DueRow, NaiveDate),
    ) {
        for ask in self.asks_of(standing.kind).iter().filter(|ask| of(ask.check)) {
            let Some(installed_on) = self.installed_on(standing, ask.part) else {
                continue;
            };
            let mut days = done(ask.part, ask.check);
            while let Some(row) = self.row(standing, ask, installed_on, days) {
                let day = row.item.window.due().max(today);
                // A day that does not move on would be told for ever.
                if day > last || days.done.is_some_and(|before| before >= day && day > today) {
                    break;
                }
                tell(&row, day);
                if days.done == Some(day) {
                    break;
                }
                days.done = Some(day);
            }
        }
    }

    fn asks_of(&self, kind: FixtureKind) -> &[Ask<'a>] {
        self.asks.get(&kind).map_or(&[][..], Vec::as_slice)
    }

    /// The row of one check on a fixture or its part.
    fn row(
        &self,
        standing: &Standing<'_>,
        ask: &Ask<'a>,
        installed_on: Option<NaiveDate>,
        days: DoneDays,
    ) -> Option<DueRow> {
        let known = installed_on.filter(|day| self.as_of.is_none_or(|as_of| *day <= as_of));
        let history = days.history(known, self.joined_on, standing.spread_ppm);
        let candidates = ask
            .schedules
            .iter()
            .filter(|schedule| schedule.terms.scope.reaches_tag(standing.tag))
            .filter(|schedule| schedule.terms.scope.failed_enough(&days.failed, &history))
            .filter_map(|schedule| {
                Some((
                    *schedule,
                    self.candidate(schedule, &history, (ask.from, installed_on), standing.tenancy)?,
                ))
            });
        let (schedule, item) = earliest(candidates, |(schedule, item)| {
            (item.window, schedule.terms.code.as_str())
        })?;
        Some(DueRow {
            fixture: standing.fixture,
            part: ask.part,
            check: ask.check,
            schedule: schedule.id,
            item,
        })
    }

    /// The next due item under one schedule, where the ages allow one.
    fn candidate(
        &self,
        schedule: &Schedule,
        history: &History,
        (building_from, installed_on): (NaiveDate, Option<NaiveDate>),
        tenancy: &Tenancy,
    ) -> Option<DueItem> {
        let scope = &schedule.terms.scope;
        let bounds = Bounds {
            earliest: scope
                .first_day_of_age(installed_on)
                .map_or(building_from, |day| day.max(building_from)),
            closed: &self.closed,
            tenancy,
        };
        next_due_within(&schedule.terms.timing, history, bounds)
            .filter(|item| scope.allows_age_on(item.window.due(), installed_on))
    }

    /// The closed days of the building, as far as a schedule asks for them.
    #[must_use]
    pub fn closed_days(&self) -> &ClosedDays {
        &self.closed
    }

    /// When what is asked was installed; the outer `None` when the fixture has no such part.
    #[expect(
        clippy::option_option,
        reason = "a part that is absent and a date that is unknown are two things"
    )]
    fn installed_on(&self, standing: &Standing<'_>, part: Option<PartKind>) -> Option<Option<NaiveDate>> {
        let Some(kind) = part else {
            return Some(standing.installed_on);
        };
        let part = standing.parts.iter().find(|part| part.kind == kind)?;
        Some(part.installed_on.or(standing.installed_on))
    }
}

/// The building's policies, its age aside: that is a day, see [`from_day`].
fn is_asked_in(check: &Check, building: &AskedBuilding) -> bool {
    check.is_asked_in(BuildingFacts {
        age_years: None,
        base_joint: building.base_joint,
    })
}

/// The day from which a check may be due in a building: that it joined, or that it is old enough, which it
/// is from 1 January of the year. An unknown age counts as old.
fn from_day(check: &Check, building: &AskedBuilding) -> NaiveDate {
    let limit = check.conditions.building_age.as_ref();
    let old_enough = limit
        .zip(building.built_year)
        .and_then(|(limit, built)| i32::try_from(built + i64::from(limit.at_least_years)).ok())
        .and_then(|year| NaiveDate::from_ymd_opt(year, 1, 1));
    old_enough.map_or(building.joined_on, |day| day.max(building.joined_on))
}

fn lay_out<'a>(
    asks: &mut HashMap<FixtureKind, Vec<Ask<'a>>>,
    schedule: &'a Schedule,
    asked: &AskedCheck,
    building: &AskedBuilding,
) {
    let check = &asked.check;
    let parts: Vec<Option<PartKind>> = if check.parts.is_empty() {
        vec![None]
    } else {
        check.parts.iter().copied().map(Some).collect()
    };
    for kind in &check.kinds {
        let of_kind = asks.entry(*kind).or_default();
        for part in parts
            .iter()
            .copied()
            .filter(|part| schedule.terms.scope.reaches(*kind, *part))
        {
            let known = of_kind
                .iter_mut()
                .find(|ask| ask.check == asked.id && ask.part == part);
            match known {
                Some(ask) => ask.schedules.push(schedule),
                None => of_kind.push(Ask {
                    check: asked.id,
                    part,
                    from: from_day(check, building),
                    schedules: vec![schedule],
                }),
            }
        }
    }
}
