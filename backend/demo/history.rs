//! Two years of an invented unit: visits, what was seen on them, what failed and how it was put right.

use std::sync::Arc;

use chrono::{DateTime, Days, NaiveDate, NaiveDateTime, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;
use uuid::Uuid;

use super::chance::Chance;
use super::readings::reading;
use super::words::Words;
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, FixtureId, PersonId, TagId, UnitId};
use crate::domain::result::Entry;
use crate::domain::result::answer::Outcome;
use crate::domain::result::deficiency::{ClosedHow, Deficiency, DeficiencyStatus, Origin};
use crate::domain::trade::check::{Answer, Performer};
use crate::domain::trade::correction::CorrectionTimes;
use crate::domain::trade::{Check, PartKind, ProfileCode, Setting, Severity, asked};

/// One check that is asked in the unit.
#[derive(Debug, Clone)]
pub struct Ask {
    /// At which place.
    pub tag: TagId,
    /// What stands there.
    pub fixture: FixtureId,
    /// The first day on which it stood there.
    pub stood_from: NaiveDate,
    /// Which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Key of the check.
    pub check: CheckId,
    /// The procedure.
    pub procedure: Arc<Check>,
    /// When it is due first, nothing having been done.
    pub first_due: NaiveDate,
}

/// A unit with all that is asked in it.
#[derive(Debug, Clone)]
pub struct Home<'a> {
    /// Where.
    pub building: BuildingId,
    /// Which.
    pub unit: UnitId,
    /// The building's zone.
    pub zone: Tz,
    /// The building's clearance profile.
    pub profile: &'a ProfileCode,
    /// Who goes there.
    pub technician: PersonId,
    /// Nothing happens after this day.
    pub as_of: NaiveDate,
    /// Everything that is asked.
    pub asks: &'a [Ask],
    /// A check that fails on the last visit, for a riser with trouble; its code.
    pub trouble: Option<&'a str>,
}

/// A visit that was made, or was not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VisitMade {
    /// Local date.
    pub on: NaiveDate,
    /// Why there was no access; none when it was done.
    pub no_access: Option<String>,
}

/// A deficiency with the results that opened and closed it, as positions in [`Happened::results`].
#[derive(Debug, Clone, PartialEq)]
pub struct Story {
    /// The deficiency; its key, result and `repeats` are not known yet.
    pub deficiency: Deficiency,
    /// The result that opened it.
    pub opened_by: usize,
    /// The passing re-check.
    pub closed_by: Option<usize>,
    /// The earlier story that it repeats.
    pub repeats: Option<usize>,
}

/// What happened in a unit.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Happened {
    /// Visits in their order.
    pub visits: Vec<VisitMade>,
    /// Results, with the position of their visit.
    pub results: Vec<(Entry, Option<usize>)>,
    /// Deficiencies in the order in which they opened.
    pub stories: Vec<Story>,
}

/// Parts of 1,000 in which a check of ordinary gravity fails.
const FAILS: u32 = 22;
/// Parts of 1,000 in which a check could not be done on a visit.
const MISSED: u32 = 6;

/// Invents the past of a unit.
#[must_use]
pub fn invent(home: &Home<'_>, words: &Words, chance: &mut Chance) -> Happened {
    let mut past = Past {
        home,
        words,
        chance,
        happened: Happened::default(),
    };
    let mut rounds: Vec<(NaiveDate, Vec<usize>)> = Vec::new();
    for (position, ask) in home.asks.iter().enumerate() {
        // Checks that fall due within a fortnight of each other are done on one visit.
        let near = |day: &NaiveDate| (*day - ask.first_due).num_days().abs() <= 14;
        match rounds.iter_mut().find(|(day, _)| near(day)) {
            Some((_, asks)) => asks.push(position),
            None => rounds.push((ask.first_due, vec![position])),
        }
    }
    for (first_due, asks) in rounds {
        past.rounds(first_due, &asks);
    }
    past.happened
}

struct Past<'a, 'c> {
    home: &'a Home<'a>,
    words: &'a Words,
    chance: &'c mut Chance,
    happened: Happened,
}

impl Past<'_, '_> {
    /// A visit each year from the first due date on; some last ones were not made, so that there is something overdue.
    fn rounds(&mut self, first_due: NaiveDate, asks: &[usize]) {
        let mut due = first_due;
        loop {
            let day = shifted(due, self.chance.between(-9, 24));
            let behind =
                due < self.home.as_of - TimeDelta::days(20) && due > self.home.as_of - TimeDelta::days(330);
            if day > self.home.as_of || (behind && self.chance.per_mille(80)) {
                return;
            }
            self.visit(day, asks);
            due = shifted(day, 365);
        }
    }

    fn visit(&mut self, day: NaiveDate, asks: &[usize]) {
        if self.chance.per_mille(30) {
            let reason = self.chance.word(&self.words.no_access).to_owned();
            let on = shifted(day, -self.chance.between(3, 9));
            self.happened.visits.push(VisitMade {
                on,
                no_access: Some(reason),
            });
        }
        let number = self.happened.visits.len();
        self.happened.visits.push(VisitMade {
            on: day,
            no_access: None,
        });
        let mut minute = self.chance.between(8 * 60, 14 * 60);
        for &position in asks {
            let Some(ask) = self.home.asks.get(position) else {
                continue;
            };
            if ask.stood_from > day {
                continue;
            }
            minute += 1;
            self.answer(ask, day, minute, Some(number));
        }
    }

    fn answer(&mut self, ask: &Ask, day: NaiveDate, minute: i64, visit: Option<usize>) {
        let last_visit = (self.home.as_of - day).num_days() < 330;
        let in_trouble = last_visit && self.home.trouble == Some(ask.procedure.code.as_str());
        let before = self.closed_within_a_year(ask, day);
        let fails = match (ask.procedure.severity, before) {
            (Severity::LifeThreatening, _) => 2,
            (Severity::Severe, _) => 7,
            (_, Some(_)) => 120,
            _ => FAILS,
        };
        if !in_trouble && self.chance.per_mille(MISSED) {
            let entry = self.entry(
                ask,
                day,
                minute,
                Outcome::NotChecked,
                "behind the resident's things",
            );
            self.happened.results.push((entry, visit));
        } else if in_trouble || self.chance.per_mille(fails) {
            self.fail(ask, day, minute, visit, before, in_trouble);
        } else {
            let entry = self.entry(ask, day, minute, Outcome::Pass, "");
            self.happened.results.push((entry, visit));
        }
    }

    fn closed_within_a_year(&self, ask: &Ask, day: NaiveDate) -> Option<usize> {
        self.happened.stories.iter().rposition(|story| {
            let same = story.deficiency.tag == Some(ask.tag)
                && story.deficiency.check == Some(ask.check)
                && story.deficiency.part == ask.part;
            let closed = story.deficiency.closed_at.map(|at| at.date());
            same && closed.is_some_and(|closed| closed < day && (day - closed).num_days() < 360)
        })
    }

    fn fail(
        &mut self,
        ask: &Ask,
        day: NaiveDate,
        minute: i64,
        visit: Option<usize>,
        repeats: Option<usize>,
        keeps_open: bool,
    ) {
        let words = failing_words(&ask.procedure);
        let entry = self.entry(ask, day, minute, Outcome::Fail, &words);
        let opened_at = entry.done_at;
        let opened_by = self.happened.results.len();
        self.happened.results.push((entry, visit));
        let severity = ask.procedure.severity_in(Setting::OneOfSeveral);
        let licensed = !matches!(ask.procedure.performer, Performer::Staff | Performer::Resident);
        let correct_by = CorrectionTimes::DEFAULT
            .correct_by(severity, opened_at.and_utc(), self.home.zone)
            .map(|instant| instant.naive_utc());
        let mut deficiency = Deficiency {
            id: DeficiencyId(0),
            building: self.home.building,
            unit: self.home.unit,
            tag: Some(ask.tag),
            fixture: Some(ask.fixture),
            part: ask.part,
            check: Some(ask.check),
            result: None,
            origin: Origin::Result,
            title: format!("{}: {words}", ask.procedure.title),
            detail: String::new(),
            severity,
            own_severity: severity,
            opened_at,
            correct_by,
            assignee: (!licensed).then_some(self.home.technician),
            vendor: if licensed {
                self.chance.word(&self.words.vendors).to_owned()
            } else {
                String::new()
            },
            status: DeficiencyStatus::Open,
            repaired_at: None,
            parts_used: String::new(),
            minutes: None,
            cost_minor: None,
            closed_at: None,
            closed_how: None,
            repeats: None,
        };
        let wait = match severity {
            Severity::LifeThreatening => self.chance.between(0, 1),
            Severity::Severe => self.chance.between(0, 2),
            Severity::Moderate => self.chance.between(2, 36),
            Severity::Low => self.chance.between(4, 75),
        };
        let repaired = shifted(day, wait);
        let mut closed_by = None;
        if !keeps_open && repaired < self.home.as_of {
            closed_by = self.repair(ask, &mut deficiency, repaired);
        }
        self.happened.stories.push(Story {
            deficiency,
            opened_by,
            closed_by,
            repeats,
        });
    }

    /// Repaired on a day; re-checked at once in most cases, a few days later in the others.
    fn repair(&mut self, ask: &Ask, deficiency: &mut Deficiency, on: NaiveDate) -> Option<usize> {
        let minute = self.chance.between(15 * 60, 16 * 60);
        deficiency.status = DeficiencyStatus::Repaired;
        deficiency.repaired_at = Some(instant(self.home.zone, on, minute));
        deficiency.parts_used = ask
            .part
            .map(|part| part.name().to_lowercase())
            .unwrap_or_default();
        deficiency.minutes = Some(self.chance.between(10, 90) as f64);
        deficiency.cost_minor = Some(self.chance.between(8, 220) * 100);
        deficiency.detail = self.chance.word(&self.words.repairs).to_owned();
        let later = if self.chance.per_mille(700) {
            0
        } else {
            self.chance.between(1, 12)
        };
        let rechecked = shifted(on, later);
        if rechecked >= self.home.as_of {
            return None;
        }
        let entry = self.entry(ask, rechecked, minute + 20, Outcome::Pass, "");
        deficiency.status = DeficiencyStatus::Closed;
        deficiency.closed_at = Some(entry.done_at);
        deficiency.closed_how = Some(ClosedHow::Recheck);
        self.happened.results.push((entry, None));
        Some(self.happened.results.len() - 1)
    }

    fn entry(&mut self, ask: &Ask, day: NaiveDate, minute: i64, outcome: Outcome, reason: &str) -> Entry {
        let done_at = instant(self.home.zone, day, minute);
        Entry {
            client_id: Uuid::from_u128(self.chance.bits()),
            building: self.home.building,
            unit: self.home.unit,
            tag: ask.tag,
            fixture: ask.fixture,
            part: ask.part,
            check: ask.check,
            check_version: i64::from(ask.procedure.version),
            outcome,
            reason: reason.to_owned(),
            reading: if outcome == Outcome::NotChecked {
                String::new()
            } else {
                reading(&ask.procedure, outcome, self.chance)
            },
            note: String::new(),
            done_at,
            done_on: day,
            received_at: done_at + TimeDelta::minutes(2),
            person: Some(self.home.technician),
            turnover: None,
            visit: None,
            asked: asked::line(&ask.procedure, self.home.profile),
            detail: String::new(),
        }
    }
}

fn shifted(day: NaiveDate, by_days: i64) -> NaiveDate {
    let days = Days::new(by_days.unsigned_abs());
    let to = if by_days < 0 {
        day.checked_sub_days(days)
    } else {
        day.checked_add_days(days)
    };
    to.unwrap_or(day)
}

/// A local minute of a day as UTC; working hours never fall into a change of clocks.
fn instant(zone: Tz, day: NaiveDate, minute: i64) -> NaiveDateTime {
    let local = day.and_time(chrono::NaiveTime::MIN) + TimeDelta::minutes(minute);
    zone.from_local_datetime(&local)
        .earliest()
        .map_or(local, |instant: DateTime<Tz>| {
            instant.with_timezone(&Utc).naive_utc()
        })
}

fn failing_words(check: &Check) -> String {
    match &check.answer {
        Answer::Verdict { fail, .. } => fail.clone(),
        Answer::Reading { of, .. } => format!("{} out of its limits", of.to_lowercase()),
    }
}
