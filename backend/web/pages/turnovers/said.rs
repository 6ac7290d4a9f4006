//! The words of a turnover that the list and its page say alike.

use chrono::NaiveDate;

use crate::domain::code::Coded as _;
use crate::domain::trade::TurnoverStage;
use crate::domain::turnover::{Count, Stage};
use crate::language;
use crate::picture::stage_line::{StageLine, stage_line};
use crate::store::lists::turnovers::Survey;

/// Part of a checklist as links and headings call it.
pub const fn part(stage: TurnoverStage) -> &'static str {
    match stage {
        TurnoverStage::Found => "As found",
        TurnoverStage::Ready => "Before ready",
        TurnoverStage::MoveIn => "Move-in day",
    }
}

/// `12 of 31`.
pub fn count(count: Count) -> String {
    format!("{} of {}", count.answered, count.asked)
}

/// `Fri 27 Nov, in 2 days`.
pub fn day_and_distance(day: NaiveDate, today: NaiveDate) -> String {
    format!(
        "{}, {}",
        language::day(day, today),
        language::distance(day, today)
    )
}

/// Days since the move-in date of an open turnover, else 0.
pub fn days_over(survey: &Survey) -> u32 {
    if !survey.turnover.stage.is_open() {
        return 0;
    }
    let over = (survey.today - survey.turnover.facts.move_in_on).num_days();
    u32::try_from(over.max(0)).unwrap_or_default()
}

/// The stage line of an open turnover.
pub fn line(survey: &Survey) -> String {
    let reached = survey.list.reached(survey.turnover.stage);
    let words = ["as found", "repaired", "ready", "moved in"];
    let done = usize::try_from(reached).unwrap_or_default();
    let done = words.get(..done).unwrap_or(&words);
    let move_in = survey.turnover.facts.move_in_on;
    let so_far = if done.is_empty() {
        "being looked over".to_owned()
    } else {
        format!("{} done", done.join(", "))
    };
    stage_line(&StageLine {
        title: format!("{so_far}; move-in {}", day_and_distance(move_in, survey.today)),
        reached,
        days_over: days_over(survey),
    })
}

/// Something that keeps a turnover back, in a few words.
pub struct Short {
    /// Code of the severity, when it is about a deficiency; else empty.
    pub severity: &'static str,
    /// `14 of 14 as-found checks to answer`, `No. 3 severe, open`.
    pub words: String,
}

/// What keeps it from its next stage, or that the step may be taken.
pub fn kept_back(survey: &Survey) -> Vec<Short> {
    let blocks = survey.blocks();
    match survey.turnover.stage.next() {
        Some(next) if blocks.is_empty() => vec![Short {
            severity: "",
            words: may_be(next).to_owned(),
        }],
        _ => blocks
            .iter()
            .map(|block| Short {
                severity: block.severity().map_or("", |severity| severity.code()),
                words: block.short(),
            })
            .collect(),
    }
}

const fn may_be(next: Stage) -> &'static str {
    match next {
        Stage::Repaired => "it may be called repaired",
        Stage::Ready => "it may be called ready",
        Stage::MovedIn | Stage::Found | Stage::Cancelled => "it may be closed",
    }
}

/// The parts of the checklist that an address names: `found`, `ready` or `move_in`.
pub fn part_named(code: &str) -> Option<TurnoverStage> {
    TurnoverStage::from_code(code).ok()
}
