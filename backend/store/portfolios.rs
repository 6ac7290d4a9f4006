//! Portfolios as stored.

use diesel::prelude::*;

use super::schema::{buildings, portfolios};
use super::{AnyConnection, Tx};
use crate::domain::register::person::Scope;
use crate::domain::register::{Portfolio, PortfolioFacts, PortfolioId};
use crate::error::{Error, Result};

type Row = (i64, String, String);

fn portfolio((id, code, name): Row) -> Portfolio {
    Portfolio {
        id: PortfolioId(id),
        facts: PortfolioFacts { code, name },
    }
}

/// Stores a new portfolio.
///
/// # Errors
/// When its code is taken, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, facts: &PortfolioFacts) -> Result<PortfolioId> {
    let id: i64 = diesel::insert_into(portfolios::table)
        .values((portfolios::code.eq(&facts.code), portfolios::name.eq(&facts.name)))
        .returning(portfolios::id)
        .get_result(&mut **tx)?;
    Ok(PortfolioId(id))
}

/// Stores what a portfolio is now.
///
/// # Errors
/// When its code is taken, or the database refuses.
pub fn update(tx: &mut Tx<'_>, id: PortfolioId, facts: &PortfolioFacts) -> Result<()> {
    diesel::update(portfolios::table.find(id.0))
        .set((portfolios::code.eq(&facts.code), portfolios::name.eq(&facts.name)))
        .execute(&mut **tx)?;
    Ok(())
}

/// The portfolio with this key.
///
/// # Errors
/// When there is none, or the database does not answer.
pub fn by_key(conn: &mut AnyConnection, id: PortfolioId) -> Result<Portfolio> {
    let row: Option<Row> = portfolios::table.find(id.0).first(conn).optional()?;
    row.map(portfolio)
        .ok_or_else(|| Error::not_found("such portfolio"))
}

/// The portfolio with this code, in capitals.
///
/// # Errors
/// When the database does not answer.
pub fn by_code(conn: &mut AnyConnection, code: &str) -> Result<Option<Portfolio>> {
    let row: Option<Row> = portfolios::table
        .filter(portfolios::code.eq(code))
        .first(conn)
        .optional()?;
    Ok(row.map(portfolio))
}

/// The portfolios that have a building within `scope`, by code; with [`Scope::All`] also those that have none yet.
///
/// # Errors
/// When the database does not answer.
pub fn list(conn: &mut AnyConnection, scope: &Scope) -> Result<Vec<Portfolio>> {
    let mut query = portfolios::table.order(portfolios::code).into_boxed();
    if let Some(keys) = super::buildings::keys_of(scope) {
        let theirs = buildings::table
            .filter(buildings::id.eq_any(keys))
            .select(buildings::portfolio_id);
        query = query.filter(portfolios::id.eq_any(theirs));
    }
    let rows: Vec<Row> = query.load(conn)?;
    Ok(rows.into_iter().map(portfolio).collect())
}
