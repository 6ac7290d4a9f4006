//! `anglestop turnover show`: the steps and the checklist of one turnover in the order of the walk.

use clap::Args;
use serde::Serialize;

use super::list::Told;
use super::which::Which;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::trade::outcome::Context;
use crate::domain::turnover::{Item, answered};
use crate::error::{Error, Result};
use crate::store::Db;
use crate::store::lists::turnovers::{Survey, Surveyor};
use crate::store::lists::unit_phones;

/// Options of `turnover show`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(flatten)]
    which: Which,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Serialize)]
struct Shown {
    #[serde(flatten)]
    told: Told,
    items: Vec<ItemTold>,
    reports: Vec<ReportTold>,
}

#[derive(Debug, Serialize)]
struct ItemTold {
    room: String,
    group: String,
    tag: String,
    part: Option<String>,
    check: String,
    title: String,
    stage: String,
    due: Option<String>,
    rechecks: Vec<i64>,
    added_on: Option<String>,
    answered: bool,
    outcome: Option<String>,
    said: Option<String>,
    done_at: Option<String>,
    person: Option<String>,
}

/// A deficiency that no check can ask again.
#[derive(Debug, Serialize)]
struct ReportTold {
    deficiency: i64,
    title: String,
    severity: String,
    added_on: Option<String>,
    answered: bool,
}

/// Shows.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let now = Now::from_system();
    let (survey, told) = db.read(|conn| {
        let turnover = options.which.find(conn)?;
        let survey = Surveyor::new(conn, now)?.of(conn, turnover)?;
        let mut phones = unit_phones::of_units(conn, &[survey.unit.id])?;
        let of_unit = phones.remove(&survey.unit.id).unwrap_or_default();
        let told = Told::of(conn, &survey, &of_unit, now)?;
        Ok((survey, told))
    })?;
    let shown = Shown {
        told,
        items: survey
            .list
            .items
            .iter()
            .map(|item| item_told(&survey, item))
            .collect(),
        reports: reports(&survey),
    };
    if options.json {
        let text = serde_json::to_string_pretty(&shown).map_err(Error::internal)?;
        crate::cli::say!("{text}");
        return Ok(());
    }
    shown.told.print();
    print_items(&shown.items);
    for report in &shown.reports {
        let mark = if report.answered { 'x' } else { ' ' };
        crate::cli::say!(
            "[{mark}] No. {} {}: {}",
            report.deficiency,
            report.severity,
            report.title
        );
    }
    Ok(())
}

fn print_items(items: &[ItemTold]) {
    let mut room = None;
    for item in items {
        if room != Some(&item.room) {
            crate::cli::say!(
                "{}",
                if item.room.is_empty() {
                    "No room named"
                } else {
                    &item.room
                }
            );
            room = Some(&item.room);
        }
        let mark = if item.answered { 'x' } else { ' ' };
        let part = item
            .part
            .as_deref()
            .map(|part| format!(" {part}"))
            .unwrap_or_default();
        let added = item
            .added_on
            .as_deref()
            .map(|day| format!(", added {day}"))
            .unwrap_or_default();
        let said = item
            .said
            .as_deref()
            .map(|said| format!(": {said}"))
            .unwrap_or_default();
        let outcome = item
            .outcome
            .as_deref()
            .map(|word| format!("  {word}"))
            .unwrap_or_default();
        crate::cli::say!(
            "  [{mark}] {}{part} {} ({}, {}{added}){outcome}{said}",
            item.tag,
            item.check,
            item.group,
            item.stage
        );
    }
}

fn item_told(survey: &Survey, item: &Item) -> ItemTold {
    let place = survey.list.places.get(item.place);
    let building = &survey.building.facts;
    let limits = Context {
        profile: building.code_profile.clone(),
        length_unit: building.length_unit,
    };
    let last = item.last().map(|answer| &answer.entry);
    ItemTold {
        room: place.map(|place| place.room.clone()).unwrap_or_default(),
        group: item.check.group.to_string(),
        tag: place.map(|place| place.label.clone()).unwrap_or_default(),
        part: item.key.part.map(|part| part.code().to_owned()),
        check: item.check.code.to_string(),
        title: item.check.title.clone(),
        stage: item.key.stage.to_string(),
        due: item.due.map(|day| day.to_string()),
        rechecks: item.rechecks.iter().map(|id| id.0).collect(),
        added_on: item.added_on.map(|day| day.to_string()),
        answered: item.is_answered,
        outcome: last.map(|entry| entry.outcome.to_string()),
        said: last.map(|entry| answered::in_words(&item.check, entry, &limits)),
        done_at: last.map(|entry| entry.done_at.and_utc().to_rfc3339()),
        person: last.map(|entry| survey.name(entry.person).to_owned()),
    }
}

fn reports(survey: &Survey) -> Vec<ReportTold> {
    let all = survey.list.matters.iter();
    all.map(|matter| ReportTold {
        deficiency: matter.deficiency.0,
        title: matter.title.clone(),
        severity: matter.severity.to_string(),
        added_on: matter.added_on.map(|day| day.to_string()),
        answered: matter.is_answered,
    })
    .collect()
}
