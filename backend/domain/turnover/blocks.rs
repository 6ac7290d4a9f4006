//! What keeps a turnover from its next step, each in a sentence that says what to do. Decides the rules of each step; takes none.

use std::cmp::Reverse;

use chrono::NaiveDate;

use super::checklist::Checklist;
use super::item::Item;
use super::stage::Stage;
use super::waiver::Waiver;
use crate::domain::register::DeficiencyId;
use crate::domain::result::{Deficiency, DeficiencyStatus};
use crate::domain::trade::{Severity, TurnoverStage};

/// How many items a sentence names before it counts the rest.
const NAMED: usize = 3;

/// What to do about a life-threatening deficiency.
const NEVER_WAIVED: &str =
    "It is never waived: note the repair and let its re-check pass. Until then the unit stays off line.";

/// The days that rules compare with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// The unit's local date.
    pub today: NaiveDate,
    /// Local date of the move-in.
    pub move_in_on: NaiveDate,
}

/// Something that keeps a turnover from its next step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// Checks without an answer.
    Unanswered {
        /// Of which part of the checklist.
        stage: TurnoverStage,
        /// How many of how many.
        left: usize,
        /// All of the part.
        asked: usize,
        /// The first of them, in the order of the walk.
        first: Vec<String>,
    },
    /// A grave deficiency whose repair was not noted.
    Unrepaired {
        /// Its number.
        number: DeficiencyId,
        /// The label of its place; empty for the unit as a whole.
        place: String,
        /// What is wrong.
        title: String,
        /// How grave.
        severity: Severity,
    },
    /// A grave deficiency that is not closed.
    Standing {
        /// Its number.
        number: DeficiencyId,
        /// The label of its place; empty for the unit as a whole.
        place: String,
        /// What is wrong.
        title: String,
        /// How grave: life-threatening or severe.
        severity: Severity,
        /// Where it stands.
        status: DeficiencyStatus,
        /// The last day of a waiver that no longer holds.
        waiver_ended: Option<NaiveDate>,
    },
}

/// What keeps a turnover from reaching `to`; nothing when the step may be taken.
///
/// Repaired needs an answer to every as-found check, and every life-threatening or severe deficiency repaired or waived. Ready and
/// moved in need an answer to all of their checks, no life-threatening deficiency, and no severe one that is not waived. Moderate and
/// low ones keep nobody back.
#[must_use]
pub fn blocks(
    to: Stage,
    list: &Checklist,
    deficiencies: &[Deficiency],
    waivers: &[Waiver],
    days: Days,
) -> Vec<Block> {
    let unanswered = to
        .needs()
        .iter()
        .filter(|stage| list.count(**stage).left() > 0)
        .map(|stage| unanswered(list, *stage));
    let mut grave: Vec<&Deficiency> = deficiencies
        .iter()
        .filter(|one| one.stands() && !is_waived(one, waivers, days))
        .filter(|one| one.severity.is_grave())
        .collect();
    grave.sort_by_key(|one| (Reverse(one.severity.rank()), one.id));
    let grave = grave.into_iter().filter_map(|one| match to {
        Stage::Found | Stage::Cancelled => None,
        Stage::Repaired => (one.status == DeficiencyStatus::Open).then(|| Block::Unrepaired {
            number: one.id,
            place: place_of(list, one),
            title: one.title.clone(),
            severity: one.severity,
        }),
        Stage::Ready | Stage::MovedIn => Some(standing(list, one, waivers)),
    });
    unanswered.chain(grave).collect()
}

/// Whether a waiver lets a deficiency stand; a life-threatening one never.
#[must_use]
pub fn is_waived(one: &Deficiency, waivers: &[Waiver], days: Days) -> bool {
    one.severity == Severity::Severe
        && waivers
            .iter()
            .any(|waiver| waiver.deficiency == one.id && waiver.holds(days))
}

/// Something of the checklist that has no answer yet.
#[derive(Debug, Clone, Copy)]
pub enum Unanswered<'a> {
    /// A check.
    Item(&'a Item),
    /// A deficiency that no check can ask again.
    Matter(DeficiencyId),
}

/// The first of a part of the checklist that have no answer, in the order of the walk: those that a sentence names.
#[must_use]
pub fn first_unanswered(list: &Checklist, stage: TurnoverStage) -> Vec<Unanswered<'_>> {
    let items = list
        .items
        .iter()
        .filter(|item| item.key.stage == stage && !item.is_answered)
        .map(Unanswered::Item);
    let matters = list
        .matters
        .iter()
        .filter(|matter| stage == TurnoverStage::Ready && !matter.is_answered)
        .map(|matter| Unanswered::Matter(matter.deficiency));
    items.chain(matters).take(NAMED).collect()
}

fn unanswered(list: &Checklist, stage: TurnoverStage) -> Block {
    let count = list.count(stage);
    let first = first_unanswered(list, stage).into_iter();
    let named = first.map(|open| match open {
        Unanswered::Item(item) => list.name(item),
        Unanswered::Matter(number) => format!("No. {number}"),
    });
    Block::Unanswered {
        stage,
        left: count.left(),
        asked: count.asked,
        first: named.collect(),
    }
}

fn place_of(list: &Checklist, one: &Deficiency) -> String {
    let place = list.places.iter().find(|place| Some(place.tag) == one.tag);
    place.map_or_else(String::new, |place| place.label.clone())
}

fn standing(list: &Checklist, one: &Deficiency, waivers: &[Waiver]) -> Block {
    let ended = waivers.iter().filter(|waiver| waiver.deficiency == one.id);
    Block::Standing {
        number: one.id,
        place: place_of(list, one),
        title: one.title.clone(),
        severity: one.severity,
        status: one.status,
        waiver_ended: ended.map(|waiver| waiver.facts.until_on).max(),
    }
}

impl Block {
    /// The sentence: what is missing and what to do.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::Unanswered {
                stage,
                left,
                asked,
                first,
            } => {
                let more = left.saturating_sub(first.len());
                let mut named = first.join("; ");
                if more > 0 {
                    named = format!("{named}; and {more} more");
                }
                let (noun, verb) = (
                    asked_words(*stage, *asked),
                    if *left == 1 { "has" } else { "have" },
                );
                format!("{left} of {asked} {noun} {verb} no answer: {named}.")
            }
            Self::Unrepaired {
                number,
                place,
                title,
                severity,
            } => {
                let remedy = if *severity == Severity::LifeThreatening {
                    NEVER_WAIVED
                } else {
                    "Note the repair first."
                };
                format!(
                    "No. {number}{} is {} and not repaired: {title}. {remedy}",
                    at(place),
                    severity.name().to_lowercase()
                )
            }
            Self::Standing {
                number,
                place,
                title,
                severity,
                status,
                waiver_ended,
            } => {
                let state = if *status == DeficiencyStatus::Repaired {
                    "repaired but not re-checked"
                } else {
                    "open"
                };
                let remedy = if *severity == Severity::LifeThreatening {
                    NEVER_WAIVED.to_owned()
                } else {
                    let ended = waiver_ended.map_or_else(String::new, |day| {
                        format!(
                            "Its waiver until {} no longer covers the move-in. ",
                            day.format("%a %-d %b %Y")
                        )
                    });
                    format!("{ended}Let its re-check pass, or let a manager waive it until a day.")
                };
                format!(
                    "No. {number}{} is {} and {state}: {title}. {remedy}",
                    at(place),
                    severity.name().to_lowercase()
                )
            }
        }
    }

    /// The same in a few words, for a line of a list.
    #[must_use]
    pub fn short(&self) -> String {
        match self {
            Self::Unanswered {
                stage, left, asked, ..
            } => {
                format!("{left} of {asked} {} to answer", asked_words(*stage, *asked))
            }
            Self::Unrepaired { number, severity, .. } => {
                format!("No. {number} {}, not repaired", severity.name().to_lowercase())
            }
            Self::Standing {
                number,
                severity,
                status,
                ..
            } => {
                let state = if *status == DeficiencyStatus::Repaired {
                    "to re-check"
                } else {
                    "open"
                };
                format!("No. {number} {}, {state}", severity.name().to_lowercase())
            }
        }
    }

    /// The deficiency that a manager could waive to lift it.
    #[must_use]
    pub fn waivable(&self) -> Option<DeficiencyId> {
        match self {
            Self::Standing { number, severity, .. } | Self::Unrepaired { number, severity, .. }
                if *severity == Severity::Severe =>
            {
                Some(*number)
            }
            _ => None,
        }
    }

    /// How grave the deficiency is that it is about.
    #[must_use]
    pub const fn severity(&self) -> Option<Severity> {
        match self {
            Self::Standing { severity, .. } | Self::Unrepaired { severity, .. } => Some(*severity),
            Self::Unanswered { .. } => None,
        }
    }

    /// The deficiency that it is about.
    #[must_use]
    pub const fn deficiency(&self) -> Option<DeficiencyId> {
        match self {
            Self::Standing { number, .. } | Self::Unrepaired { number, .. } => Some(*number),
            Self::Unanswered { .. } => None,
        }
    }
}

fn at(place: &str) -> String {
    if place.is_empty() {
        String::new()
    } else {
        format!(" at {place}")
    }
}

fn asked_words(stage: TurnoverStage, asked: usize) -> &'static str {
    match (stage, asked) {
        (TurnoverStage::Found, 1) => "as-found check",
        (TurnoverStage::Found, _) => "as-found checks",
        (TurnoverStage::Ready, 1) => "check before ready",
        (TurnoverStage::Ready, _) => "checks before ready",
        (TurnoverStage::MoveIn, 1) => "move-in day check",
        (TurnoverStage::MoveIn, _) => "move-in day checks",
    }
}
