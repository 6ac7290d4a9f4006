//! The steps of a turnover as the page shows them: four stages with what is missing in each, what keeps the next one back, and what
//! may be done about it.

use chrono::NaiveDate;

use super::page::Loaded;
use super::said;
use crate::domain::code::Coded as _;
use crate::domain::result::DeficiencyStatus;
use crate::domain::trade::TurnoverStage;
use crate::domain::turnover::{Stage, blocks};
use crate::language::Language;
use crate::store::lists::turnovers::Survey;

/// One stage of the line.
pub struct Mark {
    pub word: String,
    pub detail: String,
    pub key: &'static str,
}

/// A sentence that keeps the next step back.
pub struct Kept {
    pub sentence: String,
    /// The deficiency it is about.
    pub deficiency: Option<i64>,
    /// The deficiency that a manager may waive and whose form is not open.
    pub waivable: Option<i64>,
}

/// A waiver that was given.
pub struct Waived {
    pub number: i64,
    pub words: String,
}

/// The steps.
pub struct Steps {
    pub marks: Vec<Mark>,
    /// Days since the move-in date while nobody has moved in, else 0.
    pub days_over: u32,
    pub kept: Vec<Kept>,
    /// The code of the next stage.
    pub next: &'static str,
    /// The code of a stage that may be reached by a button, with what the button says.
    pub button: Option<(&'static str, String)>,
    /// Whether it may be closed now.
    pub closes: bool,
    pub waived: Vec<Waived>,
}

pub fn steps(language: Language, loaded: &Loaded, waives: Option<i64>) -> Steps {
    let survey = &loaded.survey;
    let stage = survey.turnover.stage;
    let found = survey.blocks();
    let next = stage.next();
    let button = next.filter(|_| found.is_empty()).and_then(|next| match next {
        Stage::Repaired => Some((next.code(), language.say("turnover-say-repaired").into())),
        Stage::Ready => Some((next.code(), language.say("turnover-say-ready").into())),
        _ => None,
    });
    Steps {
        marks: marks(language, survey),
        days_over: said::days_over(survey),
        kept: found
            .iter()
            .map(|block| Kept {
                sentence: language.block(block, &survey.list),
                deficiency: block.deficiency().map(|id| id.0),
                waivable: block.waivable().map(|id| id.0).filter(|id| Some(*id) != waives),
            })
            .collect(),
        next: next.unwrap_or(Stage::MovedIn).code(),
        button,
        closes: next == Some(Stage::MovedIn) && found.is_empty(),
        waived: waived(language, survey),
    }
}

fn marks(language: Language, survey: &Survey) -> Vec<Mark> {
    let reached = usize::try_from(survey.list.reached(survey.turnover.stage)).unwrap_or_default();
    let details = [
        (
            "turnover-mark-found",
            said::count(language, survey.list.count(TurnoverStage::Found)),
        ),
        ("turnover-mark-repaired", repairs(language, survey)),
        ("turnover-mark-ready", ready(language, survey)),
        ("turnover-mark-moved-in", moved_in(language, survey)),
    ];
    let is_over = !survey.turnover.stage.is_open();
    details
        .into_iter()
        .enumerate()
        .map(|(index, (word, detail))| Mark {
            word: language.say(word).into(),
            detail,
            key: match index.cmp(&reached) {
                std::cmp::Ordering::Less => "reached",
                std::cmp::Ordering::Equal if !is_over => "now",
                _ => "ahead",
            },
        })
        .collect()
}

fn repairs(language: Language, survey: &Survey) -> String {
    let open = survey
        .deficiencies
        .iter()
        .filter(|one| one.status == DeficiencyStatus::Open);
    match open.count() {
        0 => language.say("turnover-nothing-to-repair").into(),
        open => language.count("turnover-deficiencies-open", open),
    }
}

fn ready(language: Language, survey: &Survey) -> String {
    match survey.turnover.ready_at {
        Some(at) => format!(
            "{}, {}",
            language.day(survey.local(at).date(), survey.today),
            said::who(language, survey, survey.turnover.ready_by)
        ),
        None => said::count(language, survey.list.count(TurnoverStage::Ready)),
    }
}

fn moved_in(language: Language, survey: &Survey) -> String {
    match (survey.turnover.stage, survey.turnover.closed_at) {
        (Stage::MovedIn, Some(at)) => language
            .say("turnover-closed-on")
            .with("day", language.day(survey.local(at).date(), survey.today))
            .into(),
        _ => said::day_and_distance(language, survey.turnover.facts.move_in_on, survey.today),
    }
}

fn waived(language: Language, survey: &Survey) -> Vec<Waived> {
    let words = |until: NaiveDate| language.day(until, survey.today);
    survey
        .waivers
        .iter()
        .map(|waiver| {
            let one = survey.deficiencies.iter().find(|one| one.id == waiver.deficiency);
            let holds = one.is_some_and(|one| blocks::is_waived(one, &survey.waivers, survey.days()))
                && waiver.holds(survey.days());
            let said = if holds || one.is_none() {
                "turnover-waived"
            } else {
                "turnover-waived-over"
            };
            let said = language.say(said).with("day", words(waiver.facts.until_on));
            let said = said.with("name", &waiver.facts.signed_name);
            Waived {
                number: waiver.deficiency.0,
                words: said.with("reason", &waiver.facts.reason).into(),
            }
        })
        .collect()
}
