//! Stores what files say, in one transaction: checks first, then portfolios, buildings and all that stands in them with their due rows,
//! then calendars and schedules; noted once.

use serde::Serialize;
use sha2::{Digest as _, Sha256};

use super::files::Files;
use super::laying::{Counting, Laying, context, portfolio_names, read_checks};
use super::{Portfolios, Progress, Report, Step};
use crate::actions::calendars;
use crate::actions::schedules::{Words, take_in};
use crate::clock::Now;
use crate::domain::due::Book;
use crate::domain::register::FixtureId;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::trade::Origin;
use crate::error::{Error, Result};
use crate::exchange::csv::checks::Wanted as WantedCheck;
use crate::exchange::csv::fleet::source::Given;
use crate::store::audit::{self, Subject};
use crate::store::checks::Offer;
use crate::store::fleet::{self, Register};
use crate::store::{Tx, checks, due, portfolios, schedules};

/// Fixtures whose due rows are renewed at a time.
const DUE_BATCH: usize = 1_000;

/// Stores everything; a fault that was not there before the transaction opened takes all of it back.
pub(super) fn store(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    files: &[Given],
    portfolios: &Portfolios,
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    let files = Files::new(files);
    let (wanted, problems) = read_checks(tx, &files)?;
    store_checks(tx, now, &wanted)?;
    let context = context(tx, now)?;
    let mut laying = Laying::new(&context);
    laying.checks(&wanted, problems);
    let known = portfolio_names(tx)?;
    let source = laying.open(&files);
    let register = register(tx, portfolios)?;
    let mut renewal = Renewal {
        book: schedules::book(tx)?,
        fixtures: Vec::new(),
    };
    if let Some(source) = &source {
        let mut count = Counting::new(source, Step::Store, progress);
        for codes in source.buildings().chunks(fleet::BATCH) {
            for (before, after) in laying.batch(tx, source, codes)? {
                let touched = fleet::save(tx, &register, before.as_ref(), after, now.0)?;
                renewal.add(tx, touched)?;
            }
            count.done(codes.len());
        }
    }
    renewal.finish(tx)?;
    let words = Words::load(tx)?;
    let calendars = laying.calendars(tx, files.calendars, &words)?;
    calendars::take_in(tx, &calendars)?;
    let wanted = laying.schedules(files.schedules, &words);
    take_in(tx, actor, now, &wanted)?;
    let report = laying.finish(&known).report;
    if !report.is_sound() {
        return Err(changed_meanwhile());
    }
    note(tx, actor, now, files.all, &report)?;
    Ok(report)
}

fn changed_meanwhile() -> Error {
    Error::Conflict(
        "The fleet was changed while the file was read. Nothing was stored. Import it again.".to_owned(),
    )
}

/// Stores checks that are new or say anything else, and whether each is offered.
fn store_checks(tx: &mut Tx<'_>, now: Now, wanted: &[WantedCheck]) -> Result<()> {
    for one in wanted {
        let (id, was_offered) = match one.before {
            None => (checks::insert(tx, now, Origin::Own, &one.check)?, true),
            Some((id, was_offered, _)) => {
                if one.is_new_version() {
                    checks::update(tx, now, id, &one.check)?;
                    due::mark_stale(tx)?;
                }
                (id, was_offered)
            }
        };
        if was_offered != one.active {
            let offer = if one.active { Offer::Open } else { Offer::Withdrawn };
            checks::set_offer(tx, id, offer)?;
        }
    }
    Ok(())
}

/// Stores portfolios that are new or named anew, and finds what the buildings refer to.
fn register(tx: &mut Tx<'_>, wanted: &Portfolios) -> Result<Register> {
    let known = portfolios::list(tx, &Scope::All)?;
    let mut register = Register {
        technicians: fleet::technicians(tx)?,
        checks: checks::ids_by_code(tx)?,
        portfolios: known
            .iter()
            .map(|portfolio| (portfolio.facts.code.clone(), portfolio.id))
            .collect(),
    };
    for facts in wanted {
        match known.iter().find(|portfolio| portfolio.facts.code == facts.code) {
            None => {
                let id = portfolios::insert(tx, facts)?;
                register.portfolios.insert(facts.code.clone(), id);
            }
            Some(portfolio) if portfolio.facts != *facts => portfolios::update(tx, portfolio.id, facts)?,
            Some(_) => {}
        }
    }
    Ok(register)
}

/// Due rows that are to be written anew.
struct Renewal {
    book: Book,
    fixtures: Vec<FixtureId>,
}

impl Renewal {
    fn add(&mut self, tx: &mut Tx<'_>, touched: Vec<FixtureId>) -> Result<()> {
        self.fixtures.extend(touched);
        if self.fixtures.len() < DUE_BATCH {
            return Ok(());
        }
        due::refresh_by(tx, &self.book, &std::mem::take(&mut self.fixtures))
    }

    fn finish(self, tx: &mut Tx<'_>) -> Result<()> {
        due::refresh_by(tx, &self.book, &self.fixtures)
    }
}

#[derive(Serialize)]
struct NotedFile<'f> {
    name: &'f str,
    bytes: usize,
    sha256: String,
}

fn note(tx: &mut Tx<'_>, actor: &Actor, now: Now, files: &[Given], report: &Report) -> Result<()> {
    let files: Vec<NotedFile<'_>> = files
        .iter()
        .map(|file| NotedFile {
            name: &file.name,
            bytes: file.bytes.len(),
            sha256: Sha256::digest(&file.bytes)
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect(),
        })
        .collect();
    let after = serde_json::json!({ "files": files, "counts": report.counts, "changes": report.changes });
    let subject = Subject { kind: "fleet", id: 0 };
    audit::note(tx, actor, now, "import_fleet", subject, &(), &after)
}
