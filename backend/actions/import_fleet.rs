//! Imports a fleet: all of the files or nothing. Everything is read and laid over what is stored before anything is written; every bad
//! row is reported; what would change is told first, and a file that says nothing new changes nothing.
//!
//! Decides who may, in which order, and what is noted; what a file means is decided in `exchange::csv::fleet`.

use std::collections::HashMap;

use serde::Serialize;
use sha2::{Digest as _, Sha256};

use super::register::rights;
use super::schedules::{Words, take_in};
use crate::clock::Now;
use crate::domain::due::Book;
use crate::domain::register::inventory::Inventory;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{FixtureId, PortfolioFacts};
use crate::error::{Error, Result};
use crate::exchange::csv::fleet::difference::{Change, Counts, Difference};
use crate::exchange::csv::fleet::settle::{AskedOf, Context, Reading, settle};
use crate::exchange::csv::fleet::source::{Given, Source};
use crate::exchange::csv::schedules::Wanted;
use crate::exchange::csv::{self, Problem};
use crate::store::audit::{self, Subject};
use crate::store::fleet::{self, Register};
use crate::store::{AnyConnection, Db, Tx, buildings, checks, due, portfolios, schedules};

/// Fixtures whose due rows are renewed at a time.
const DUE_BATCH: usize = 1_000;

/// What a file would do, or did.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Report {
    /// Added, changed and unchanged, by kind.
    pub counts: Counts,
    /// Values that change, the first thousand.
    pub changes: Vec<Change>,
    /// What must be mended; with any of these nothing is stored.
    pub problems: Vec<Problem>,
    /// What is taken, but may not be meant.
    pub notes: Vec<Problem>,
}

impl Report {
    /// Whether it can be stored.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.problems.is_empty()
    }
}

/// How far an import is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// What is being done.
    pub step: Step,
    /// Buildings done.
    pub done: usize,
    /// Buildings in all.
    pub all: usize,
}

/// What is being done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Reading and comparing.
    Read,
    /// Storing.
    Store,
}

/// Tells what the files would do; stores nothing.
///
/// # Errors
/// When the person may not import, or the database does not answer.
pub fn preview(
    db: &Db,
    actor: &Actor,
    now: Now,
    files: &[Given],
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    rights::manager(actor, "import a fleet")?;
    let read = db.read(|conn| Laid::read(conn, now, files, progress))?;
    Ok(read.report)
}

/// Stores what the files say, all of it or, with problems in the report, nothing.
///
/// # Errors
/// When the person may not import, the fleet was changed meanwhile so that the files no longer fit, or the database refuses.
pub fn import(
    db: &Db,
    actor: &Actor,
    now: Now,
    files: &[Given],
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    rights::manager(actor, "import a fleet")?;
    let read = db.read(|conn| Laid::read(conn, now, files, progress))?;
    if !read.report.is_sound() || read.report.counts.is_unchanged() {
        return Ok(read.report);
    }
    let report = db.write(|tx| store(tx, actor, now, files, &read.portfolios, progress))?;
    due::renew_stale(db)?;
    Ok(report)
}

/// Portfolios by code, with the name that each is to have.
type Portfolios = Vec<PortfolioFacts>;

/// Files that were read and laid over what is stored.
struct Laid {
    report: Report,
    portfolios: Portfolios,
}

impl Laid {
    fn read(
        conn: &mut AnyConnection,
        now: Now,
        files: &[Given],
        progress: &mut dyn FnMut(Progress),
    ) -> Result<Self> {
        let context = context(conn, now)?;
        let (files, schedules) = apart(files);
        let mut laying = Laying::new(&context);
        let mut words = Words::load(conn)?;
        if let Some(source) = laying.open(&files, schedules) {
            let mut count = Counting::new(&source, Step::Read, progress);
            for codes in source.buildings().chunks(fleet::BATCH) {
                laying.batch(conn, &source, codes)?;
                count.done(codes.len());
            }
            words.buildings.extend(source.buildings().iter().cloned());
        }
        laying.schedules(schedules, &words);
        Ok(laying.finish(&portfolio_names(conn)?))
    }
}

/// The file of the schedules, which is read after the others: it may name their buildings.
fn apart(files: &[Given]) -> (Vec<Given>, Option<&Given>) {
    let is_schedules = |file: &Given| file.name.eq_ignore_ascii_case(csv::schedules::FILE);
    let others = files.iter().filter(|file| !is_schedules(file)).cloned().collect();
    (others, files.iter().find(|file| is_schedules(file)))
}

/// What a file may refer to.
fn context(conn: &mut AnyConnection, now: Now) -> Result<Context> {
    let checks = checks::load_all(conn)?.into_iter().map(|stored| {
        let asked = AskedOf {
            kinds: stored.check.kinds.clone(),
            parts: stored.check.parts.clone(),
        };
        (stored.check.code.as_str().to_owned(), asked)
    });
    let checks = checks.collect();
    let technicians = buildings::technicians(conn)?;
    Ok(Context {
        now,
        checks,
        technicians: technicians.into_iter().map(|person| person.email).collect(),
    })
}

/// Tells how far it is, batch by batch.
struct Counting<'p> {
    progress: &'p mut dyn FnMut(Progress),
    now: Progress,
}

impl<'p> Counting<'p> {
    fn new(source: &Source<'_>, step: Step, progress: &'p mut dyn FnMut(Progress)) -> Self {
        let all = source.buildings().len();
        let now = Progress { step, done: 0, all };
        Self { progress, now }
    }

    fn done(&mut self, buildings: usize) {
        self.now.done += buildings;
        (self.progress)(self.now);
    }
}

/// What became of a building: before and after.
type Settled = (Option<Inventory>, Inventory);

/// Files while they are laid over what is stored.
struct Laying<'c> {
    context: &'c Context,
    reading: Reading,
    difference: Difference,
}

impl<'c> Laying<'c> {
    fn new(context: &'c Context) -> Self {
        Self {
            context,
            reading: Reading::default(),
            difference: Difference::default(),
        }
    }

    /// Opens the files of the fleet; the schedules may come alone.
    fn open<'f>(&mut self, files: &'f [Given], schedules: Option<&Given>) -> Option<Source<'f>> {
        if files.is_empty() && schedules.is_some() {
            return None;
        }
        Source::open(files, self.context, &mut self.reading)
    }

    /// Reads the schedules and answers with what is to be stored.
    fn schedules(&mut self, file: Option<&Given>, words: &Words) -> Vec<Wanted> {
        let Some(file) = file else { return Vec::new() };
        let known = words.known();
        let read = csv::schedules::read(&file.name, &file.bytes, &known);
        self.reading.problems.extend(read.problems);
        read.wanted
            .into_iter()
            .filter(|wanted| self.difference.schedule(wanted, &known))
            .collect()
    }

    /// Lays the files over some of the buildings that they speak of, and answers with what became of each.
    fn batch(
        &mut self,
        conn: &mut AnyConnection,
        source: &Source<'_>,
        codes: &[String],
    ) -> Result<Vec<Settled>> {
        let ids: Vec<_> = fleet::by_codes(conn, codes)?.into_values().collect();
        let stored = fleet::load(conn, &ids)?;
        let mut known: HashMap<String, Inventory> = stored
            .into_iter()
            .map(|inventory| (inventory.facts.code.clone(), inventory))
            .collect();
        let mut settled = Vec::with_capacity(codes.len());
        for code in codes {
            let statement = source.statement(code, self.context, &mut self.reading);
            let before = known.remove(code);
            let Some(after) = settle(&statement, before.as_ref(), self.context, &mut self.reading) else {
                continue;
            };
            self.difference.add(before.as_ref(), &after);
            settled.push((before, after));
        }
        Ok(settled)
    }

    /// Ends it; `known` are the portfolios that were there before, names by code.
    fn finish(mut self, known: &HashMap<String, String>) -> Laid {
        let mut wanted = Vec::new();
        for (code, name) in self.reading.portfolios.iter() {
            let before = known.get(code).map(String::as_str);
            let name = name.or(before).unwrap_or(code);
            self.difference.portfolio(code, before, name);
            wanted.push(PortfolioFacts {
                code: code.to_owned(),
                name: name.to_owned(),
            });
        }
        let by_line = |a: &Problem, b: &Problem| (&a.file, a.line).cmp(&(&b.file, b.line));
        self.reading.problems.sort_by(by_line);
        self.reading.notes.sort_by(by_line);
        Laid {
            report: Report {
                counts: self.difference.counts,
                changes: self.difference.changes,
                problems: self.reading.problems,
                notes: self.reading.notes,
            },
            portfolios: wanted,
        }
    }
}

fn store(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    files: &[Given],
    portfolios: &Portfolios,
    progress: &mut dyn FnMut(Progress),
) -> Result<Report> {
    let context = context(tx, now)?;
    let mut laying = Laying::new(&context);
    let known = portfolio_names(tx)?;
    let (of_fleet, of_schedules) = apart(files);
    let source = laying.open(&of_fleet, of_schedules);
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
    let wanted = laying.schedules(of_schedules, &words);
    take_in(tx, &wanted)?;
    let report = laying.finish(&known).report;
    if !report.is_sound() {
        return Err(changed_meanwhile());
    }
    note(tx, actor, now, files, &report)?;
    Ok(report)
}

fn portfolio_names(conn: &mut AnyConnection) -> Result<HashMap<String, String>> {
    let known = portfolios::list(conn, &Scope::All)?;
    Ok(known
        .into_iter()
        .map(|portfolio| (portfolio.facts.code, portfolio.facts.name))
        .collect())
}

fn changed_meanwhile() -> Error {
    Error::Conflict(
        "The fleet was changed while the file was read. Nothing was stored. Import it again.".to_owned(),
    )
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
