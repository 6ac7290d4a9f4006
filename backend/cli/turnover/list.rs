//! `anglestop turnover list`: turnovers with what keeps each back.

use clap::{Args, ValueEnum};
use serde::Serialize;

use super::which::building;
use crate::clock::Now;
use crate::domain::register::person::Scope;
use crate::domain::turnover::Block;
use crate::error::{Error, Result};
use crate::language::Language;
use crate::store::lists::turnovers::{self as lists, Survey, Surveyor, Which};
use crate::store::lists::unit_phones::{self, UnitPhone};
use crate::store::{AnyConnection, Db, document_forms, documents};

/// Rows that are read at a time.
const CHUNK: i64 = 200;

/// Options of `turnover list`.
#[derive(Debug, Args)]
pub struct Options {
    /// Only of this building
    #[arg(long, value_name = "CODE")]
    building: Option<String>,
    /// Which ones
    #[arg(long, value_enum, default_value = "open")]
    state: State,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum State {
    /// Open ones, the earliest move-in first
    Open,
    /// Closed and cancelled ones, the latest first
    Over,
    /// Open ones, then those that are over
    All,
}

/// One turnover.
#[derive(Debug, Serialize)]
pub(super) struct Told {
    turnover: i64,
    building: String,
    unit: String,
    stage: String,
    move_out_on: String,
    move_in_on: String,
    occupancy: String,
    answered: usize,
    asked: usize,
    kept_back: Vec<String>,
    signed_name: Option<String>,
    record: Option<i64>,
    sha256: Option<String>,
    forms: Vec<FormTold>,
    phones: Vec<PhoneTold>,
}

/// What a phone that fetched the unit last said.
#[derive(Debug, Serialize)]
struct PhoneTold {
    person: String,
    heard_at: String,
    unsent_answers: usize,
    unsent_photos: usize,
    is_silent: bool,
    #[serde(skip)]
    words: String,
}

fn phones(survey: &Survey, phones: &[UnitPhone], now: Now) -> Vec<PhoneTold> {
    let told = unit_phones::of_note(phones, &survey.turnover, now.0).into_iter();
    let told = told.map(|(phone, is_silent)| {
        let (heard, zone) = (&phone.heard, survey.building.facts.time_zone);
        let words = Language::ENGLISH.last_heard(&phone.person, heard, zone, survey.today);
        PhoneTold {
            person: phone.person.clone(),
            heard_at: format!("{}Z", heard.heard_at.format("%Y-%m-%dT%H:%M:%S")),
            unsent_answers: heard.unsent_answers,
            unsent_photos: heard.unsent_photos,
            is_silent,
            words: if is_silent {
                format!("{}: {words}", Language::ENGLISH.silence(heard.heard_at, now.0))
            } else {
                words
            },
        }
    });
    told.collect()
}

/// Another form of the record.
#[derive(Debug, Serialize)]
struct FormTold {
    form: String,
    file_name: String,
    sha256: String,
}

impl Told {
    pub(super) fn of(
        conn: &mut AnyConnection,
        survey: &Survey,
        of_unit: &[UnitPhone],
        now: Now,
    ) -> Result<Self> {
        let one = &survey.turnover;
        let paper = documents::of_turnover(conn, one.id)?;
        let forms = match &paper {
            Some(paper) => document_forms::of_document(conn, paper.id)?,
            None => Vec::new(),
        };
        let total = survey.list.total();
        Ok(Self {
            turnover: one.id.0,
            building: survey.building.facts.code.clone(),
            unit: survey.unit.facts.label.clone(),
            stage: one.stage.to_string(),
            move_out_on: one.facts.move_out_on.to_string(),
            move_in_on: one.facts.move_in_on.to_string(),
            occupancy: survey.unit.facts.occupancy.to_string(),
            answered: total.answered,
            asked: total.asked,
            kept_back: survey.blocks().iter().map(Block::sentence).collect(),
            signed_name: Some(one.signed_name.clone()).filter(|name| !name.is_empty()),
            record: paper.as_ref().map(|paper| paper.number),
            sha256: paper.map(|paper| paper.sha256),
            phones: phones(survey, of_unit, now),
            forms: forms
                .into_iter()
                .map(|kept| FormTold {
                    form: kept.form.to_string(),
                    file_name: kept.file_name,
                    sha256: kept.sha256,
                })
                .collect(),
        })
    }

    /// A line, and a line for each thing that keeps it back.
    pub(super) fn print(&self) {
        crate::cli::say!(
            "{:>4}  {} {}  {}  out {}  in {}  {} of {} answered",
            self.turnover,
            self.building,
            self.unit,
            self.stage,
            self.move_out_on,
            self.move_in_on,
            self.answered,
            self.asked
        );
        for sentence in &self.kept_back {
            crate::cli::say!("      {sentence}");
        }
        for phone in &self.phones {
            crate::cli::say!("      {}.", phone.words);
        }
        if let (Some(number), Some(sum)) = (self.record, &self.sha256) {
            crate::cli::say!("      Record {number}, SHA-256 {sum}");
        }
        for form in &self.forms {
            crate::cli::say!("      {}, SHA-256 {}", form.file_name, form.sha256);
        }
    }
}

/// Lists.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let now = Now::from_system();
    let told = db.read(|conn| {
        let only = match &options.building {
            None => None,
            Some(code) => Some(building(conn, code)?.id),
        };
        let surveyor = Surveyor::new(conn, now)?;
        let mut told = Vec::new();
        for which in options.state.wanted() {
            let mut after = None;
            loop {
                let lines = lists::page(conn, &Scope::All, *which, only, after, CHUNK)?;
                let Some(last) = lines.last() else { break };
                after = Some(last.turnover.id);
                let units: Vec<_> = lines.iter().map(|line| line.turnover.unit).collect();
                let phones = unit_phones::of_units(conn, &units)?;
                for line in lines {
                    let survey = surveyor.of(conn, line.turnover)?;
                    let of_unit = phones.get(&survey.turnover.unit).map_or(&[][..], Vec::as_slice);
                    told.push(Told::of(conn, &survey, of_unit, now)?);
                }
            }
        }
        Ok(told)
    })?;
    if options.json {
        let text = serde_json::to_string_pretty(&told).map_err(Error::internal)?;
        crate::cli::say!("{text}");
        return Ok(());
    }
    if told.is_empty() {
        eprintln!("No turnover here. Open one with anglestop turnover open.");
    }
    told.iter().for_each(Told::print);
    Ok(())
}

impl State {
    fn wanted(self) -> &'static [Which] {
        match self {
            Self::Open => &[Which::Open],
            Self::Over => &[Which::Over],
            Self::All => &[Which::Open, Which::Over],
        }
    }
}
