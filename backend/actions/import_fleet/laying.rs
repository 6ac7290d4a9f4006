//! Lays files over what is stored and gathers what would change, what must be mended and what may not be meant. Writes nothing.

use std::collections::HashMap;
use std::sync::Arc;

use super::files::Files;
use super::{Portfolios, Progress, Report, Step};
use crate::actions::checks::kept;
use crate::actions::schedules::Words;
use crate::clock::Now;
use crate::domain::due::{AskedCheck, Book, WorkCalendar};
use crate::domain::register::inventory::Inventory;
use crate::domain::register::person::Scope;
use crate::domain::register::{CheckId, PortfolioFacts};
use crate::error::Result;
use crate::exchange::csv::calendars::Wanted as WantedCalendar;
use crate::exchange::csv::checks::{Kept, Wanted as WantedCheck};
use crate::exchange::csv::fleet::difference::Difference;
use crate::exchange::csv::fleet::settle::{AskedOf, Context, Reading, settle};
use crate::exchange::csv::fleet::source::{Given, Source};
use crate::exchange::csv::schedules::Wanted as WantedSchedule;
use crate::exchange::csv::{self, Problem};
use crate::store::{AnyConnection, buildings, calendars, checks, fleet, portfolios};

/// Files that were read and laid over what is stored.
pub(super) struct Laid {
    pub report: Report,
    pub portfolios: Portfolios,
}

impl Laid {
    /// Reads everything, to tell what would change.
    pub(super) fn read(
        conn: &mut AnyConnection,
        now: Now,
        files: &[Given],
        progress: &mut dyn FnMut(Progress),
    ) -> Result<Self> {
        let files = Files::new(files);
        let (wanted, problems) = read_checks(conn, &files)?;
        let mut context = context(conn, now)?;
        let new = wanted
            .iter()
            .map(|one| (one.check.code.as_str().to_owned(), asked_of(&one.check)));
        context.checks.extend(new);
        let mut laying = Laying::new(&context);
        laying.checks(&wanted, problems);
        let mut words = Words::load(conn)?;
        words.book = with_checks(&words.book, &wanted);
        if let Some(source) = laying.open(&files) {
            let mut count = Counting::new(&source, Step::Read, progress);
            for codes in source.buildings().chunks(fleet::BATCH) {
                laying.batch(conn, &source, codes)?;
                count.done(codes.len());
            }
            words.buildings.extend(source.buildings().iter().cloned());
        }
        laying.calendars(conn, files.calendars, &words)?;
        laying.schedules(files.schedules, &words);
        Ok(laying.finish(&portfolio_names(conn)?))
    }
}

/// What a file may refer to, as it is stored.
pub(super) fn context(conn: &mut AnyConnection, now: Now) -> Result<Context> {
    let stored = checks::load_all(conn)?;
    let technicians = buildings::technicians(conn)?;
    Ok(Context {
        now,
        checks: stored
            .iter()
            .map(|stored| (stored.check.code.as_str().to_owned(), asked_of(&stored.check)))
            .collect(),
        technicians: technicians.into_iter().map(|person| person.email).collect(),
    })
}

fn asked_of(check: &crate::domain::trade::Check) -> AskedOf {
    AskedOf {
        kinds: check.kinds.clone(),
        parts: check.parts.clone(),
    }
}

/// What the file of the checks wants, and what must be mended in it.
pub(super) fn read_checks(
    conn: &mut AnyConnection,
    files: &Files<'_>,
) -> Result<(Vec<WantedCheck>, Vec<Problem>)> {
    let Some(file) = files.checks else {
        return Ok((Vec::new(), Vec::new()));
    };
    let stored = checks::load_all(conn)?;
    let known: Vec<Kept<'_>> = stored.iter().map(kept).collect();
    Ok(csv::checks::read(&file.name, &file.bytes, &known))
}

/// A book in which a schedule of the same import finds the checks that it names; those that are not stored yet have keys of their own.
fn with_checks(book: &Book, wanted: &[WantedCheck]) -> Book {
    let is_wanted = |asked: &&AskedCheck| wanted.iter().all(|one| one.check.code != asked.check.code);
    let new = (1_i64..).zip(wanted).map(|(at, one)| AskedCheck {
        id: one.before.map_or(CheckId(-at), |(id, _, _)| id),
        check: Arc::new(one.check.clone()),
        active: one.active,
    });
    let checks = book.checks().filter(is_wanted).cloned().chain(new).collect();
    Book::new(checks, book.schedules().cloned().collect())
}

/// Tells how far it is, batch by batch.
pub(super) struct Counting<'p> {
    progress: &'p mut dyn FnMut(Progress),
    now: Progress,
}

impl<'p> Counting<'p> {
    pub(super) fn new(source: &Source<'_>, step: Step, progress: &'p mut dyn FnMut(Progress)) -> Self {
        let all = source.buildings().len();
        let now = Progress { step, done: 0, all };
        Self { progress, now }
    }

    pub(super) fn done(&mut self, buildings: usize) {
        self.now.done += buildings;
        (self.progress)(self.now);
    }
}

/// What became of a building: before and after.
pub(super) type Settled = (Option<Inventory>, Inventory);

/// Files while they are laid over what is stored.
pub(super) struct Laying<'c> {
    context: &'c Context,
    reading: Reading,
    difference: Difference,
}

impl<'c> Laying<'c> {
    pub(super) fn new(context: &'c Context) -> Self {
        Self {
            context,
            reading: Reading::default(),
            difference: Difference::default(),
        }
    }

    /// Opens the files of the fleet; checks and schedules may come alone.
    pub(super) fn open<'f>(&mut self, files: &Files<'f>) -> Option<Source<'f>> {
        if !files.speak_of_the_fleet() {
            return None;
        }
        Source::open(&files.fleet, self.context, &mut self.reading)
    }

    /// Adds what was read of the checks.
    pub(super) fn checks(&mut self, wanted: &[WantedCheck], problems: Vec<Problem>) {
        self.reading.problems.extend(problems);
        for one in wanted {
            self.difference.check(one);
        }
    }

    /// Reads the calendars and answers with what is to be stored.
    pub(super) fn calendars(
        &mut self,
        conn: &mut AnyConnection,
        file: Option<&Given>,
        words: &Words,
    ) -> Result<Vec<WantedCalendar>> {
        let Some(file) = file else { return Ok(Vec::new()) };
        let (wanted, problems) =
            csv::calendars::read(&file.name, &file.bytes, |code| words.buildings.contains(code));
        self.reading.problems.extend(problems);
        let mut known = calendars::all(conn)?;
        let stored: HashMap<String, WorkCalendar> = buildings::list(conn, &Scope::All)?
            .into_iter()
            .filter_map(|building| Some((building.facts.code, known.remove(&building.id)?)))
            .collect();
        Ok(wanted
            .into_iter()
            .filter(|one| self.difference.calendar(stored.get(&one.building), one))
            .collect())
    }

    /// Reads the schedules and answers with what is to be stored.
    pub(super) fn schedules(&mut self, file: Option<&Given>, words: &Words) -> Vec<WantedSchedule> {
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
    pub(super) fn batch(
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
    pub(super) fn finish(mut self, known: &HashMap<String, String>) -> Laid {
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

pub(super) fn portfolio_names(conn: &mut AnyConnection) -> Result<HashMap<String, String>> {
    let known = portfolios::list(conn, &Scope::All)?;
    Ok(known
        .into_iter()
        .map(|portfolio| (portfolio.facts.code, portfolio.facts.name))
        .collect())
}
