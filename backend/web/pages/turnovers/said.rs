//! The words of a turnover that the list and its page say alike.

use chrono::NaiveDate;

use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::PersonId;
use crate::domain::trade::TurnoverStage;
use crate::domain::turnover::{Count, Stage};
use crate::language::Language;
use crate::picture::stage_line::{StageLine, stage_line};
use crate::picture::turnover_calendar::TurnoverLine;
use crate::store::lists::turnovers::Survey;
use crate::store::lists::unit_phones::{self, UnitPhone};

/// Part of a checklist as links and headings call it.
pub fn part(language: Language, stage: TurnoverStage) -> String {
    let said = match stage {
        TurnoverStage::Found => language.say("turnover-part-found"),
        TurnoverStage::Ready => language.say("turnover-part-ready"),
        TurnoverStage::MoveIn => language.say("turnover-part-move-in"),
    };
    said.to_string()
}

/// `12 of 31`.
pub fn count(language: Language, count: Count) -> String {
    let said = language.say("done-of").with("done", count.answered);
    said.with("all", count.asked).to_string()
}

/// `Fri 27 Nov, in 2 days`.
pub fn day_and_distance(language: Language, day: NaiveDate, today: NaiveDate) -> String {
    format!("{}, {}", language.day(day, today), language.distance(day, today))
}

/// Who did something in a turnover.
pub fn who(language: Language, survey: &Survey, person: Option<PersonId>) -> String {
    match person.map(|person| survey.names.get(&person)) {
        None => language.say("turnover-command-line").to_string(),
        Some(None) => language.say("turnover-somebody").to_string(),
        Some(Some(name)) => name.clone(),
    }
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
fn so_far(language: Language, survey: &Survey) -> String {
    let move_in = day_and_distance(language, survey.turnover.facts.move_in_on, survey.today);
    language
        .say("turnover-so-far")
        .with("reached", survey.list.reached(survey.turnover.stage))
        .with("in", move_in)
        .to_string()
}

/// The stage line of an open turnover.
pub fn line(language: Language, survey: &Survey) -> String {
    stage_line(&StageLine {
        title: so_far(language, survey),
        reached: survey.list.reached(survey.turnover.stage),
        days_over: days_over(survey),
    })
}

/// An open turnover as a line on the calendar of its list.
pub fn calendar_line(language: Language, survey: &Survey) -> TurnoverLine {
    let facts = &survey.turnover.facts;
    TurnoverLine {
        title: language
            .say("turnover-on-calendar")
            .with("unit", &survey.unit.facts.label)
            .with("building", &survey.building.facts.name)
            .with("out", language.day(facts.move_out_on, survey.today))
            .with("so-far", so_far(language, survey))
            .to_string(),
        move_out: facts.move_out_on,
        move_in: facts.move_in_on,
        reached: survey.list.reached(survey.turnover.stage),
        today: survey.today,
    }
}

/// What a phone that fetched the unit last said.
#[derive(Clone)]
pub struct PhoneSaid {
    /// `R. Vance's phone last heard Tue 24 Nov, 14:05; 3 answers not yet sent there`.
    pub words: String,
    /// `silent for 4 days`, when it was silent for too long.
    pub silent: Option<String>,
    /// Whether something is on it alone.
    pub holds: bool,
}

/// What the phones last said that are worth a word in this turnover, the one heard last first.
pub fn phones(language: Language, survey: &Survey, phones: &[UnitPhone], now: Now) -> Vec<PhoneSaid> {
    let of_note = unit_phones::of_note(phones, &survey.turnover, now.0);
    let said = of_note.into_iter().map(|(phone, is_silent)| PhoneSaid {
        words: language.last_heard(
            &phone.person,
            &phone.heard,
            survey.building.facts.time_zone,
            survey.today,
        ),
        holds: phone.heard.holds_something(),
        silent: is_silent.then(|| language.silence(phone.heard.heard_at, now.0)),
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
pub fn kept_back(language: Language, survey: &Survey) -> Vec<Short> {
    let blocks = survey.blocks();
    match survey.turnover.stage.next() {
        Some(next) if blocks.is_empty() => vec![Short {
            severity: "",
            words: language.say(may_be(next)).to_string(),
        }],
        _ => blocks
            .iter()
            .map(|block| Short {
                severity: block.severity().map_or("", |severity| severity.code()),
                words: language.block_short(block),
            })
            .collect(),
    }
}

const fn may_be(next: Stage) -> &'static str {
    match next {
        Stage::Repaired => "turnover-may-be-repaired",
        Stage::Ready => "turnover-may-be-ready",
        Stage::MovedIn | Stage::Found | Stage::Cancelled => "turnover-may-be-closed",
    }
}

/// The parts of the checklist that an address names: `found`, `ready` or `move_in`.
pub fn part_named(code: &str) -> Option<TurnoverStage> {
    TurnoverStage::from_code(code).ok()
}
