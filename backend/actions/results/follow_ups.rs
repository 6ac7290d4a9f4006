//! Carries out what follows from answers: deficiencies opened, added to, closed, each with its event. What follows is the domain's
//! decision; this keeps the account of a batch, so that a second answer sees what the first one opened.

use std::collections::{BTreeSet, HashMap, HashSet};

use chrono::NaiveDateTime;

use super::record::Recorded;
use super::take::Taken;
use crate::actions::deficiencies::times;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, CheckId, DeficiencyId, FixtureId, ResultId, TagId, UnitId};
use crate::domain::result::deficiency::earlier;
use crate::domain::result::setting::use_at;
use crate::domain::result::{
    ClosedHow, Deficiency, DeficiencyStatus, EventKind, FollowUp, Known, Neighbour, Origin, Outcome, Seen,
    Turn, follow_up, setting,
};
use crate::domain::trade::correction::CorrectionTimes;
use crate::domain::trade::{Escalation, FixtureKind, Severity};
use crate::error::{Error, Result};
use crate::store::deficiencies::{self, Event};
use crate::store::results::{self, Place};
use crate::store::{Tx, checks, spots};

/// What is known of the places of a batch, kept up to date while its answers are followed.
pub(super) struct Ledger<'a> {
    actor: &'a Actor,
    times: HashMap<BuildingId, CorrectionTimes>,
    escalation: Escalation,
    deficiencies: Vec<Deficiency>,
    later: HashMap<Place, (Turn, Outcome)>,
    standing: HashMap<UnitId, Vec<(FixtureId, TagId, FixtureKind)>>,
    disabling: HashSet<CheckId>,
}

impl<'a> Ledger<'a> {
    /// Loads what is known of the places.
    pub(super) fn open(tx: &mut Tx<'_>, actor: &'a Actor, now: Now, taken: &[Taken]) -> Result<Self> {
        let tags: BTreeSet<TagId> = taken.iter().map(|taken| taken.entry.tag).collect();
        let tags: Vec<TagId> = tags.into_iter().collect();
        let from = taken
            .iter()
            .map(|taken| taken.entry.done_at)
            .min()
            .unwrap_or(now.0);
        let mut ledger = Self {
            actor,
            times: HashMap::new(),
            escalation: times::escalation(tx)?,
            deficiencies: deficiencies::at_tags(tx, &tags)?,
            later: results::latest_from(tx, &tags, from)?,
            standing: HashMap::new(),
            disabling: HashSet::new(),
        };
        if taken.iter().any(|taken| taken.entry.outcome == Outcome::Fail) {
            ledger.load_neighbours(tx, taken)?;
            let buildings: BTreeSet<BuildingId> = taken.iter().map(|taken| taken.entry.building).collect();
            for building in buildings {
                ledger.times.insert(building, times::in_building(tx, building)?);
            }
        }
        Ok(ledger)
    }

    /// What else stands in the units where something failed, and which of it does not work.
    fn load_neighbours(&mut self, tx: &mut Tx<'_>, taken: &[Taken]) -> Result<()> {
        let disabling = checks::load_all(tx)?.into_iter();
        self.disabling = disabling
            .filter(|stored| stored.check.severity_only_one.is_some())
            .map(|stored| stored.id)
            .collect();
        let units: BTreeSet<UnitId> = taken
            .iter()
            .filter(|taken| taken.entry.outcome == Outcome::Fail)
            .map(|taken| taken.entry.unit)
            .collect();
        for unit in units {
            let standing = spots::in_unit(tx, &self.actor.scope, unit)?;
            let neighbours = standing.iter().map(|spot| (spot.fixture, spot.tag, spot.kind));
            self.standing.insert(unit, neighbours.collect());
            let known: HashSet<DeficiencyId> = self.deficiencies.iter().map(|one| one.id).collect();
            let others = deficiencies::standing_in(tx, &[unit])?;
            self.deficiencies
                .extend(others.into_iter().filter(|one| !known.contains(&one.id)));
        }
        Ok(())
    }

    /// Does what follows from one answer.
    pub(super) fn follow(
        &mut self,
        tx: &mut Tx<'_>,
        taken: &Taken,
        result: ResultId,
        recorded: &mut Recorded,
    ) -> Result<()> {
        let entry = &taken.entry;
        let place = (entry.check, entry.tag, entry.part);
        let later = self
            .later
            .get(&place)
            .filter(|(turn, _)| *turn > entry.turn())
            .map(|(_, outcome)| *outcome);
        let seen = Seen {
            outcome: entry.outcome,
            fixture: entry.fixture,
            done_at: entry.done_at,
            done_on: entry.done_on,
        };
        let zone = taken.spot.unit.building.zone;
        let known: Vec<Known> = self
            .deficiencies
            .iter()
            .filter(|one| {
                one.check == Some(entry.check) && one.tag == Some(entry.tag) && one.part == entry.part
            })
            .map(|one| Known {
                id: one.id,
                status: one.status,
                fixture: one.fixture,
                opened_at: one.opened_at,
                closed_on: one
                    .closed_at
                    .map(|at| at.and_utc().with_timezone(&zone).date_naive()),
            })
            .collect();
        match follow_up(&seen, &known, later) {
            FollowUp::Nothing => {}
            FollowUp::Open { repeats } => recorded.opened.push(self.open_one(tx, taken, result, repeats)?),
            FollowUp::AddTo(id) => {
                self.add_to(tx, taken, result, id)?;
                recorded.added_to.push(id);
            }
            FollowUp::Close(right) => {
                for (id, how) in right {
                    self.close(tx, taken, result, id, how)?;
                    recorded.closed.push(id);
                }
            }
        }
        Ok(())
    }

    fn severity(&self, taken: &Taken) -> Severity {
        let unit = &taken.spot.unit;
        let neighbours: Vec<Neighbour> = self
            .standing
            .get(&unit.id)
            .into_iter()
            .flatten()
            .filter(|(fixture, ..)| *fixture != taken.entry.fixture)
            .map(|&(_, tag, kind)| Neighbour {
                kind,
                use_now: use_at(tag, &self.deficiencies, |check| self.disabling.contains(&check)),
            })
            .collect();
        let setting = setting(unit.kind, taken.spot.kind, &neighbours);
        taken.check.check.severity_in(setting)
    }

    fn deadline(&self, taken: &Taken, severity: Severity) -> Option<NaiveDateTime> {
        let zone = taken.spot.unit.building.zone;
        self.times
            .get(&taken.entry.building)
            .copied()
            .unwrap_or(CorrectionTimes::DEFAULT)
            .correct_by(severity, taken.entry.done_at.and_utc(), zone)
            .map(|by| by.naive_utc())
    }

    fn open_one(
        &mut self,
        tx: &mut Tx<'_>,
        taken: &Taken,
        result: ResultId,
        repeats: Option<DeficiencyId>,
    ) -> Result<DeficiencyId> {
        let entry = &taken.entry;
        let first_time = self.severity(taken);
        let severity = match repeats {
            Some(_) => self.escalation.of(first_time),
            None => first_time,
        };
        let mut opened = Deficiency {
            id: DeficiencyId(0),
            building: entry.building,
            unit: entry.unit,
            tag: Some(entry.tag),
            fixture: Some(entry.fixture),
            part: entry.part,
            check: Some(entry.check),
            result: Some(result),
            origin: Origin::Result,
            title: format!("{}: {}", taken.check.check.title, entry.reason),
            detail: entry.note.clone(),
            severity,
            own_severity: first_time,
            opened_at: entry.done_at,
            correct_by: self.deadline(taken, severity),
            assignee: None,
            vendor: String::new(),
            status: DeficiencyStatus::Open,
            repaired_at: None,
            parts_used: String::new(),
            minutes: None,
            cost_minor: None,
            closed_at: None,
            closed_how: None,
            repeats,
        };
        opened.id = deficiencies::insert(tx, &opened)?;
        let words = match repeats {
            Some(before) if severity != first_time => format!(
                "{}. Repeats number {before}: the second time makes it {} instead of {}.",
                opened.title,
                severity.name().to_lowercase(),
                first_time.name().to_lowercase()
            ),
            Some(before) => format!("{}. Repeats number {before}.", opened.title),
            None => opened.title.clone(),
        };
        self.event(tx, taken, opened.id, EventKind::Opened, words, result)?;
        let id = opened.id;
        self.deficiencies.push(opened);
        Ok(id)
    }

    fn add_to(&mut self, tx: &mut Tx<'_>, taken: &Taken, result: ResultId, id: DeficiencyId) -> Result<()> {
        let severity = self.severity(taken);
        let deadline = self.deadline(taken, severity);
        let one = self.known(id)?;
        // A failure seen before the repair and recorded after it doesn't undo the repair.
        if one
            .repaired_at
            .is_none_or(|repaired| repaired < taken.entry.done_at)
        {
            one.status = DeficiencyStatus::Open;
            one.repaired_at = None;
        }
        one.own_severity = one.own_severity.graver(severity);
        if severity.rank() > one.severity.rank() {
            one.severity = severity;
            one.correct_by = earlier(one.correct_by, deadline);
        }
        let changed = one.clone();
        deficiencies::update(tx, &changed)?;
        let note = &taken.entry.note;
        let words = if note.is_empty() {
            taken.entry.reason.clone()
        } else {
            format!("{}. {note}", taken.entry.reason)
        };
        self.event(tx, taken, id, EventKind::FailedAgain, words, result)
    }

    fn close(
        &mut self,
        tx: &mut Tx<'_>,
        taken: &Taken,
        result: ResultId,
        id: DeficiencyId,
        how: ClosedHow,
    ) -> Result<()> {
        let done_at = taken.entry.done_at;
        let one = self.known(id)?;
        one.status = DeficiencyStatus::Closed;
        one.closed_at = Some(done_at);
        one.closed_how = Some(how);
        let changed = one.clone();
        deficiencies::update(tx, &changed)?;
        let said = if taken.entry.note.is_empty() {
            format!("{} passed.", taken.check.check.title)
        } else {
            format!("{} passed. {}", taken.check.check.title, taken.entry.note)
        };
        self.event(tx, taken, id, EventKind::RecheckPassed, said, result)?;
        self.event(
            tx,
            taken,
            id,
            EventKind::Closed,
            format!("{}.", how.name()),
            result,
        )
    }

    fn known(&mut self, id: DeficiencyId) -> Result<&mut Deficiency> {
        self.deficiencies
            .iter_mut()
            .find(|one| one.id == id)
            .ok_or_else(|| Error::not_found("such deficiency"))
    }

    /// A line of a deficiency's history, on the instant at which it was seen: a phone without signal brings it later.
    fn event(
        &self,
        tx: &mut Tx<'_>,
        taken: &Taken,
        deficiency: DeficiencyId,
        kind: EventKind,
        text: String,
        result: ResultId,
    ) -> Result<()> {
        deficiencies::append_event(
            tx,
            &Event {
                deficiency,
                at: taken.entry.done_at,
                person: self.actor.person,
                kind,
                text,
                result: Some(result),
            },
        )
    }
}
