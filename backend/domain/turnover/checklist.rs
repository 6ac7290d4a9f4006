//! Makes the checklist of a turnover from the facts: what is asked, why, since when, in which order, and what of it is answered.
//!
//! It is made anew whenever somebody looks, so it is live until the turnover is closed: what came to stand, fell due or went wrong
//! meanwhile is in it, and named with its day.

use std::cmp::Reverse;
use std::collections::{BTreeMap, HashMap};

use chrono::NaiveDate;

use super::Stage;
use super::facts::{Facts, Place, Standing};
use super::item::{Answer, Count, Item, ItemKey, Matter, counts_after};
use crate::domain::register::{CheckId, DeficiencyId, FixtureId, TagId};
use crate::domain::result::Outcome;
use crate::domain::result::{Deficiency, DeficiencyStatus};
use crate::domain::trade::clearance::is_unmeasured;
use crate::domain::trade::{PartKind, TurnoverStage};

/// The checklist of a turnover.
#[derive(Debug, Clone)]
pub struct Checklist {
    /// The places of the unit, in the order of the walk.
    pub places: Vec<Place>,
    /// The items, in the order of the walk: room by room, dry look before water, water before measuring; in each the places by tag.
    pub items: Vec<Item>,
    /// Deficiencies that no check can ask again, gravest first. They count as a part of what must be answered to be ready.
    pub matters: Vec<Matter>,
}

/// Why an item is asked, while the list is made.
#[derive(Debug, Clone, Default)]
struct Asking {
    due: Option<NaiveDate>,
    rechecks: Vec<DeficiencyId>,
}

impl Checklist {
    /// Makes the checklist.
    #[must_use]
    pub fn make(facts: &Facts<'_>) -> Self {
        let mut asked: BTreeMap<ItemKey, Asking> = BTreeMap::new();
        ask_stages(facts, &mut asked);
        ask_unmeasured(facts, &mut asked);
        ask_due(facts, &mut asked);
        let matters = ask_rechecks(facts, &mut asked);
        let mut items = items(facts, &asked);
        let ranks = room_ranks(facts.places.iter().map(|place| place.room.as_str()));
        items.sort_by_key(|item| {
            let rank = ranks.get(item.place).copied().unwrap_or(usize::MAX);
            (
                rank,
                item.check.group,
                item.place,
                item.key.check,
                item.key.part,
                item.key.stage,
            )
        });
        Self {
            places: facts.places.to_vec(),
            items,
            matters,
        }
    }

    /// How much of a stage's part is answered.
    #[must_use]
    pub fn count(&self, stage: TurnoverStage) -> Count {
        let mut count = Count::default();
        for item in self.items.iter().filter(|item| item.key.stage == stage) {
            count.asked += 1;
            count.answered += usize::from(item.is_answered);
            let last = item.last().map(|answer| answer.entry.outcome);
            count.missed += usize::from(item.is_answered && last == Some(Outcome::NotChecked));
        }
        if stage == TurnoverStage::Ready {
            count.asked += self.matters.len();
            count.answered += self.matters.iter().filter(|matter| matter.is_answered).count();
        }
        count
    }

    /// How much of all of it is answered.
    #[must_use]
    pub fn total(&self) -> Count {
        let stages = [TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn];
        stages
            .into_iter()
            .map(|stage| self.count(stage))
            .fold(Count::default(), |sum, count| Count {
                answered: sum.answered + count.answered,
                missed: sum.missed + count.missed,
                asked: sum.asked + count.asked,
            })
    }

    /// The item with this key.
    #[must_use]
    pub fn item(&self, key: ItemKey) -> Option<&Item> {
        self.items.iter().find(|item| item.key == key)
    }

    /// An item in a few words, as lists name it: `WC-1, Refill time (Fill valve)`.
    #[must_use]
    pub fn name(&self, item: &Item) -> String {
        let label = self
            .places
            .get(item.place)
            .map_or("", |place| place.label.as_str());
        match item.key.part {
            None => format!("{label}, {}", item.check.title),
            Some(part) => format!("{label}, {} ({})", item.check.title, part.name().to_lowercase()),
        }
    }

    /// How many of the four stages are reached, for the stage line: as found is, when all of its checks are answered.
    #[must_use]
    pub fn reached(&self, stage: Stage) -> u32 {
        match stage {
            Stage::Found => u32::from(self.count(TurnoverStage::Found).left() == 0),
            Stage::Repaired => 2,
            Stage::Ready => 3,
            Stage::MovedIn => 4,
            Stage::Cancelled => 0,
        }
    }
}

/// What the checks themselves ask at a turnover.
fn ask_stages(facts: &Facts<'_>, asked: &mut BTreeMap<ItemKey, Asking>) {
    let on = facts.checks.iter().filter(|(_, offered)| {
        offered.is_on && !offered.check.turnover.is_empty() && offered.check.is_asked_in(facts.building)
    });
    for (id, offered) in on {
        for standing in facts.standing {
            let parts = standing.parts.iter().copied().map(Some);
            for part in std::iter::once(None).chain(parts) {
                if !offered.check.is_asked_of(standing.kind, part) {
                    continue;
                }
                for &stage in &offered.check.turnover {
                    asked.entry(key(standing.fixture, part, *id, stage)).or_default();
                }
            }
        }
    }
}

/// What nobody ever measured is measured while the unit is empty.
fn ask_unmeasured(facts: &Facts<'_>, asked: &mut BTreeMap<ItemKey, Asking>) {
    for standing in facts.standing {
        let known = facts
            .measured
            .get(&standing.fixture)
            .map_or(&[][..], Vec::as_slice);
        for (id, offered) in facts.checks.iter().filter(|(_, offered)| offered.is_on) {
            let check = &offered.check;
            if is_unmeasured(check.code.as_str(), known) && check.is_asked_of(standing.kind, None) {
                asked
                    .entry(key(standing.fixture, None, *id, TurnoverStage::Found))
                    .or_default();
            }
        }
    }
}

/// What falls due by the move-in: it is met by an item that is there already, else asked before ready.
fn ask_due(facts: &Facts<'_>, asked: &mut BTreeMap<ItemKey, Asking>) {
    for due in facts.due {
        let is_there = facts.standing.iter().any(|one| one.fixture == due.fixture);
        if !is_there || !facts.checks.contains_key(&due.check) {
            continue;
        }
        let stages = [TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn];
        let there = stages
            .into_iter()
            .map(|stage| key(due.fixture, due.part, due.check, stage))
            .find(|key| asked.contains_key(key));
        let key = there.unwrap_or(key(due.fixture, due.part, due.check, TurnoverStage::Ready));
        asked.entry(key).or_default().due = Some(due.due);
    }
}

/// What is wrong is looked at again before ready. Answers with what no check can ask again.
fn ask_rechecks(facts: &Facts<'_>, asked: &mut BTreeMap<ItemKey, Asking>) -> Vec<Matter> {
    let mut matters = Vec::new();
    for one in facts.deficiencies.iter().filter(|one| one.stands()) {
        match recheck_key(facts, one) {
            Some(key) => asked.entry(key).or_default().rechecks.push(one.id),
            None => matters.push(matter(facts, one)),
        }
    }
    matters.sort_by_key(|matter| (Reverse(matter.severity.rank()), matter.deficiency));
    matters
}

/// Where and what to ask again: of what stands at the place now, when it is asked that check.
fn recheck_key(facts: &Facts<'_>, one: &Deficiency) -> Option<ItemKey> {
    let (tag, check) = (one.tag?, one.check?);
    let offered = facts.checks.get(&check)?;
    let standing = facts.standing.iter().find(|standing| standing.tag == tag)?;
    one.is_asked_again(&offered.check, standing.kind, &standing.parts)
        .then(|| key(standing.fixture, one.part, check, TurnoverStage::Ready))
}

fn matter(facts: &Facts<'_>, one: &Deficiency) -> Matter {
    let said = facts.words.iter().filter(|word| {
        word.deficiency == one.id
            && word.at > facts.turnover.opened_at
            && counts_after(repaired_at(one), word.at)
    });
    let opened_on = local_date(facts, one);
    Matter {
        deficiency: one.id,
        place: one.tag.and_then(|tag| index_of(facts.places, tag)),
        title: one.title.clone(),
        severity: one.severity,
        status: one.status,
        added_on: (one.opened_at > facts.turnover.opened_at).then_some(opened_on),
        is_answered: said.count() > 0,
    }
}

fn repaired_at(one: &Deficiency) -> Option<chrono::NaiveDateTime> {
    one.repaired_at
        .filter(|_| one.status == DeficiencyStatus::Repaired)
}

fn local_date(facts: &Facts<'_>, one: &Deficiency) -> NaiveDate {
    one.opened_at.and_utc().with_timezone(&facts.zone).date_naive()
}

/// The items of what is asked, and of what was answered and is asked no more.
fn items(facts: &Facts<'_>, asked: &BTreeMap<ItemKey, Asking>) -> Vec<Item> {
    let mut answers: BTreeMap<ItemKey, Vec<Answer>> = BTreeMap::new();
    for answer in facts.answers {
        let entry = &answer.entry;
        let stage = entry.turnover.map_or(TurnoverStage::Ready, |(_, stage)| stage);
        let key = key(entry.fixture, entry.part, entry.check, stage);
        answers.entry(key).or_default().push(answer.clone());
    }
    let mut items = Vec::new();
    for (&key, asking) in asked {
        let answers = answers.remove(&key).unwrap_or_default();
        let standing = facts.standing.iter().find(|one| one.fixture == key.fixture);
        let tag = standing.map(|one| one.tag);
        items.extend(item(facts, key, tag, Some(asking), answers));
    }
    for (key, answers) in answers {
        let tag = answers.last().map(|answer| answer.entry.tag);
        items.extend(item(facts, key, tag, None, answers));
    }
    items
}

fn item(
    facts: &Facts<'_>,
    key: ItemKey,
    tag: Option<TagId>,
    asking: Option<&Asking>,
    answers: Vec<Answer>,
) -> Option<Item> {
    let rechecks = asking.map(|asking| asking.rechecks.clone()).unwrap_or_default();
    let repaired = facts
        .deficiencies
        .iter()
        .filter(|one| rechecks.contains(&one.id))
        .filter_map(repaired_at)
        .max();
    let is_answered = answers
        .iter()
        .any(|answer| counts_after(repaired, answer.entry.done_at));
    Some(Item {
        place: index_of(facts.places, tag?)?,
        check: facts.checks.get(&key.check)?.check.clone(),
        due: asking.and_then(|asking| asking.due),
        added_on: asking.and_then(|asking| added_on(facts, key, asking)),
        is_asked: asking.is_some(),
        key,
        rechecks,
        answers,
        is_answered,
    })
}

/// Since when an item is there, when it was not from the opening on: the day it was noted, else the day that brought it.
fn added_on(facts: &Facts<'_>, key: ItemKey, asking: &Asking) -> Option<NaiveDate> {
    if let Some(known) = facts.known?.iter().find(|known| known.key == key) {
        return known.added_on;
    }
    let opened_on = facts
        .turnover
        .opened_at
        .and_utc()
        .with_timezone(&facts.zone)
        .date_naive();
    let went_wrong = facts
        .deficiencies
        .iter()
        .filter(|one| asking.rechecks.contains(&one.id))
        .map(|one| local_date(facts, one));
    let came = facts
        .standing
        .iter()
        .filter(|one: &&Standing| one.fixture == key.fixture)
        .map(|one| one.stood_from);
    let brought = went_wrong.chain(came).filter(|day| *day > opened_on).max();
    Some(brought.unwrap_or(facts.today))
}

const fn key(fixture: FixtureId, part: Option<PartKind>, check: CheckId, stage: TurnoverStage) -> ItemKey {
    ItemKey {
        fixture,
        part,
        check,
        stage,
    }
}

fn index_of(places: &[Place], tag: TagId) -> Option<usize> {
    places.iter().position(|place| place.tag == tag)
}

/// The rank of each place's room, of the rooms of places in the order of the walk: rooms come in the order of their first place.
pub fn room_ranks<'a>(rooms: impl Iterator<Item = &'a str>) -> Vec<usize> {
    let mut ranks: HashMap<&str, usize> = HashMap::new();
    rooms
        .map(|room| {
            let next = ranks.len();
            *ranks.entry(room).or_insert(next)
        })
        .collect()
}
