//! The words of a turnover that the list and its page say alike.

use chrono::NaiveDate;

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::trade::TurnoverStage;
use crate::domain::turnover::{Count, Stage};
use crate::language;
use crate::picture::stage_line::{StageLine, stage_line};
use crate::picture::turnover_calendar::TurnoverLine;
use crate::store::lists::turnovers::Survey;
use crate::store::lists::unit_phones::{self, UnitPhone};

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

/// How far an open turnover has come, in words: `as found, repaired done; move-in Fri 27 Nov, in 2 days`.
fn so_far(survey: &Survey) -> String {
    let reached = survey.list.reached(survey.turnover.stage);
    let words = ["as found", "repaired", "ready", "moved in"];
    let done = usize::try_from(reached).unwrap_or_default();
    let done = words.get(..done).unwrap_or(&words);
    let so_far = if done.is_empty() {
        "being looked over".to_owned()
    } else {
        format!("{} done", done.join(", "))
    };
    let move_in = day_and_distance(survey.turnover.facts.move_in_on, survey.today);
    format!("{so_far}; move-in {move_in}")
}

/// The stage line of an open turnover.
pub fn line(survey: &Survey) -> String {
    stage_line(&StageLine {
        title: so_far(survey),
        reached: survey.list.reached(survey.turnover.stage),
        days_over: days_over(survey),
    })
}

/// An open turnover as a line on the calendar of its list.
pub fn calendar_line(survey: &Survey) -> TurnoverLine {
    let facts = &survey.turnover.facts;
    TurnoverLine {
        title: format!(
            "Unit {}, {}: move-out {}; {}",
            survey.unit.facts.label,
            survey.building.facts.name,
            language::day(facts.move_out_on, survey.today),
            so_far(survey)
        ),
        move_out: facts.move_out_on,
        move_in: facts.move_in_on,
        reached: survey.list.reached(survey.turnover.stage),
        today: survey.today,
    }
}

/// What a phone that fetched the unit last said.
pub struct PhoneSaid {
    /// `R. Vance's phone last heard Tue 24 Nov, 14:05; 3 answers not yet sent there`.
    pub words: String,
    /// `silent for 4 days`, when it was silent for too long.
    pub silent: Option<String>,
}

/// What the phones last said that are worth a word in this turnover, the one heard last first.
pub fn phones(survey: &Survey, phones: &[UnitPhone], now: Now) -> Vec<PhoneSaid> {
    let of_note = unit_phones::of_note(phones, &survey.turnover, now.0);
    let said = of_note.into_iter().map(|(phone, is_silent)| PhoneSaid {
        words: language::last_heard(
            &phone.person,
            &phone.heard,
            survey.building.facts.time_zone,
            survey.today,
        ),
        silent: is_silent.then(|| language::silence(phone.heard.heard_at, now.0)),
    });
    said.collect()
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
