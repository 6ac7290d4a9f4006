//! One line of a turnover's checklist: a check at a place for a stage, why it is asked, and its answers. Decides what is one item and
//! when it is answered.

use std::sync::Arc;

use chrono::{NaiveDate, NaiveDateTime};

use crate::domain::register::{CheckId, DeficiencyId, FixtureId, ResultId};
use crate::domain::result::{DeficiencyStatus, Entry};
use crate::domain::trade::{Check, PartKind, Severity, TurnoverStage};

/// What makes an item one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ItemKey {
    /// Of which fixture.
    pub fixture: FixtureId,
    /// Of which part; none for the fixture itself.
    pub part: Option<PartKind>,
    /// Which check.
    pub check: CheckId,
    /// For which stage.
    pub stage: TurnoverStage,
}

/// A result of the turnover.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// Its key.
    pub id: ResultId,
    /// What was seen.
    pub entry: Entry,
}

/// One item of the checklist.
#[derive(Debug, Clone)]
pub struct Item {
    /// Which.
    pub key: ItemKey,
    /// Its place, as index into the checklist's places.
    pub place: usize,
    /// The procedure as it is asked now.
    pub check: Arc<Check>,
    /// The due date that brought it, or that it meets as well; none when nothing falls due by the move-in.
    pub due: Option<NaiveDate>,
    /// The deficiencies that it re-checks.
    pub rechecks: Vec<DeficiencyId>,
    /// The local date it was added after the opening; none when it was there from the opening on.
    pub added_on: Option<NaiveDate>,
    /// False when nothing asks for it any more: it was due and is done, its deficiency is closed, or what stood there is gone.
    pub is_asked: bool,
    /// Its answers in this turnover, in the order in which they were done; the last one counts.
    pub answers: Vec<Answer>,
    /// Whether an answer counts for the checklist.
    pub is_answered: bool,
}

impl Item {
    /// The answer that counts.
    #[must_use]
    pub fn last(&self) -> Option<&Answer> {
        self.answers.last()
    }
}

/// A deficiency that no check can ask again: a resident's report, or a place where nothing stands that is asked that check.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Matter {
    /// Which.
    pub deficiency: DeficiencyId,
    /// Its place, as index into the checklist's places; none for the unit as a whole.
    pub place: Option<usize>,
    /// What is wrong, in one line.
    pub title: String,
    /// How grave.
    pub severity: Severity,
    /// Where it stands.
    pub status: DeficiencyStatus,
    /// The local date it was added after the opening; none when it was there from the opening on.
    pub added_on: Option<NaiveDate>,
    /// Whether somebody said something about it in this turnover.
    pub is_answered: bool,
}

/// How much of a part of the checklist is answered.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    /// With an answer that counts.
    pub answered: usize,
    /// Of these, those that say only why it could not be checked.
    pub missed: usize,
    /// All of it.
    pub asked: usize,
}

impl Count {
    /// What still needs an answer.
    #[must_use]
    pub const fn left(self) -> usize {
        self.asked.saturating_sub(self.answered)
    }
}

/// Whether an instant is one that counts after a repair: any, or one after it when there was one.
pub(super) fn counts_after(repaired_at: Option<NaiveDateTime>, at: NaiveDateTime) -> bool {
    repaired_at.is_none_or(|repaired_at| at > repaired_at)
}
