//! Writes the fleet out, one consistent state of it, a batch of buildings at a time.

use std::collections::HashMap;
use std::io::Write;

use crate::domain::register::person::Scope;
use crate::domain::register::{BuildingId, PortfolioFacts};
use crate::error::Result;
use crate::exchange::csv::Audience;
use crate::exchange::csv::fleet::columns::FolderFile;
use crate::exchange::csv::fleet::folder::FolderWriter;
use crate::exchange::csv::fleet::one::OneWriter;
use crate::store::{AnyConnection, buildings, fleet, portfolios};

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

fn portfolio_names(conn: &mut AnyConnection) -> Result<HashMap<String, String>> {
    let known = portfolios::list(conn, &Scope::All)?;
    Ok(known
        .into_iter()
        .map(|portfolio| (portfolio.facts.code, portfolio.facts.name))
        .collect())
}
