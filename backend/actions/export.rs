//! Writes the fleet out, one consistent state of it, a batch of buildings at a time.

use std::collections::HashMap;
use std::io::Write;

use super::checks::kept;
use super::schedules::Words;
use crate::clock::Now;
use crate::domain::register::person::Scope;
use crate::domain::register::{Building, BuildingId, PortfolioFacts, TurnoverId};
use crate::error::Result;
use crate::exchange::csv::fleet::columns::FolderFile;
use crate::exchange::csv::fleet::folder::FolderWriter;
use crate::exchange::csv::fleet::one::OneWriter;
use crate::exchange::csv::results::{ResultLine, ResultWriter};
use crate::exchange::csv::turnovers::{Beside, TurnoverWriter};
use crate::exchange::csv::{self, Audience};
use crate::store::lists::result_lines::{self, ResultRow};
use crate::store::lists::{turnover_lines, unit_phones};
use crate::store::{AnyConnection, buildings, calendars, checks, fleet, portfolios};

/// Which buildings are written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// All that may be seen.
    All,
    /// The one with this code.
    Building(String),
}

fn keys(conn: &mut AnyConnection, scope: &Scope, which: &Which) -> Result<Vec<BuildingId>> {
    match which {
        Which::All => fleet::buildings(conn, scope),
        Which::Building(code) => Ok(vec![buildings::by_code(conn, scope, code)?.id]),
    }
}

fn chosen(conn: &mut AnyConnection, scope: &Scope, which: &Which) -> Result<Vec<Building>> {
    match which {
        Which::All => buildings::list(conn, scope),
        Which::Building(code) => Ok(vec![buildings::by_code(conn, scope, code)?]),
    }
}

/// Writes the one CSV. Callers read in one transaction.
///
/// # Errors
/// When there is no such building, `out` can't be written, or the database does not answer.
pub fn fleet(
    conn: &mut AnyConnection,
    scope: &Scope,
    which: &Which,
    out: impl Write,
    audience: Audience,
) -> Result<()> {
    let keys = keys(conn, scope, which)?;
    let prior = fleet::prior_checks(conn, &Scope::Buildings(keys.iter().copied().collect()))?;
    let names = portfolio_names(conn)?;
    let mut writer = OneWriter::begin(out, audience, prior)?;
    for batch in keys.chunks(fleet::BATCH) {
        for building in fleet::load(conn, batch)? {
            let name = names.get(&building.portfolio).map_or("", String::as_str);
            writer.write(&building, name)?;
        }
    }
    writer.finish()?.flush()?;
    Ok(())
}

/// Writes the folder, each file where `open` says. Callers read in one transaction.
///
/// # Errors
/// When a file can't be written, or the database does not answer.
pub fn folder<W: Write>(
    conn: &mut AnyConnection,
    scope: &Scope,
    open: impl FnMut(FolderFile) -> std::io::Result<W>,
    audience: Audience,
) -> Result<Vec<(FolderFile, W)>> {
    let portfolios: Vec<PortfolioFacts> = portfolios::list(conn, scope)?
        .into_iter()
        .map(|portfolio| portfolio.facts)
        .collect();
    let mut writer = FolderWriter::begin(open, audience, &portfolios)?;
    for batch in fleet::buildings(conn, scope)?.chunks(fleet::BATCH) {
        for building in fleet::load(conn, batch)? {
            writer.write(&building)?;
        }
    }
    Ok(writer.finish()?)
}

/// Writes the checks of the users' own, and built-in ones that were withdrawn. Callers read in one transaction.
///
/// # Errors
/// When `out` can't be written, or the database does not answer.
pub fn checks(conn: &mut AnyConnection, out: impl Write, audience: Audience) -> Result<()> {
    let stored = checks::load_all(conn)?;
    csv::checks::write(out, audience, stored.iter().map(kept))?.flush()?;
    Ok(())
}

/// Writes the calendars of buildings that have one. Callers read in one transaction.
///
/// # Errors
/// When `out` can't be written, or the database does not answer.
pub fn calendars(conn: &mut AnyConnection, scope: &Scope, out: impl Write, audience: Audience) -> Result<()> {
    let known = calendars::all(conn)?;
    let buildings = buildings::list(conn, scope)?;
    let of = buildings.iter().filter_map(|building| {
        let calendar = known.get(&building.id)?;
        Some((building.facts.code.as_str(), calendar))
    });
    Ok(csv::calendars::write(out, audience, of)?)
}

/// Writes every schedule, a row for each check it asks for. Callers read in one transaction.
///
/// # Errors
/// When `out` can't be written, or the database does not answer.
pub fn schedules(conn: &mut AnyConnection, out: impl Write, audience: Audience) -> Result<()> {
    let words = Words::load(conn)?;
    Ok(csv::schedules::write(out, audience, &words.known())?)
}

/// Writes every result, in the order in which each building's were recorded. Callers read in one transaction.
///
/// # Errors
/// When there is no such building, `out` can't be written, or the database does not answer.
pub fn results(
    conn: &mut AnyConnection,
    scope: &Scope,
    which: &Which,
    out: impl Write,
    audience: Audience,
) -> Result<()> {
    let mut writer = ResultWriter::begin(out, audience)?;
    for building in chosen(conn, scope, which)? {
        let mut after = 0;
        loop {
            let rows = result_lines::of_building(conn, building.id, after)?;
            let Some(last) = rows.last() else { break };
            after = last.key;
            for row in rows {
                writer.write(&building.facts.code, &line(row))?;
            }
        }
    }
    Ok(writer.finish()?)
}

/// Writes every turnover, open and over, building by building in the order in which they were opened. Callers read in one transaction.
///
/// # Errors
/// When there is no such building, `out` can't be written, or the database does not answer.
pub fn turnovers(
    conn: &mut AnyConnection,
    scope: &Scope,
    which: &Which,
    out: impl Write,
    audience: Audience,
) -> Result<()> {
    let mut writer = TurnoverWriter::begin(out, audience)?;
    for building in chosen(conn, scope, which)? {
        let mut after = TurnoverId(0);
        loop {
            let rows = turnover_lines::of_building(conn, building.id, after)?;
            let Some(last) = rows.last() else { break };
            after = last.turnover.id;
            let open = rows.iter().filter(|row| row.turnover.stage.is_open());
            let units: Vec<_> = open.map(|row| row.turnover.unit).collect();
            let phones = unit_phones::of_units(conn, &units)?;
            for row in &rows {
                let of_unit = phones.get(&row.turnover.unit).into_iter().flatten();
                let heard = of_unit.map(|phone| phone.heard);
                let heard: Vec<_> = heard.filter(|phone| phone.matters(&row.turnover)).collect();
                let beside = Beside {
                    phones: &heard,
                    building: &building.facts.code,
                    unit: &row.unit,
                    opened_on: Now(row.turnover.opened_at).date_in(building.facts.time_zone),
                    by: [
                        row.opened_by.as_deref(),
                        row.ready_by.as_deref(),
                        row.closed_by.as_deref(),
                    ],
                    record: row
                        .record
                        .as_ref()
                        .map(|kept| (kept.number, kept.page.as_str(), kept.pdf.as_deref())),
                };
                writer.write(&row.turnover, beside)?;
            }
        }
    }
    writer.finish()?.flush()?;
    Ok(())
}

fn line(row: ResultRow) -> ResultLine {
    ResultLine {
        id: row.id,
        unit: row.unit,
        tag: row.tag,
        kind: row.kind,
        part: row.part,
        check: row.check,
        check_version: row.check_version,
        outcome: row.outcome,
        reason: row.reason,
        reading: row.reading,
        note: row.note,
        done_at: row.done_at,
        done_on: row.done_on,
        received_at: row.received_at,
        person: row.person,
        asked: row.asked,
        detail: row.detail,
    }
}

fn portfolio_names(conn: &mut AnyConnection) -> Result<HashMap<String, String>> {
    let known = portfolios::list(conn, &Scope::All)?;
    Ok(known
        .into_iter()
        .map(|portfolio| (portfolio.facts.code, portfolio.facts.name))
        .collect())
}
