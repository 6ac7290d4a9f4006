//! Adds a portfolio.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{PortfolioFacts, PortfolioId, PortfolioText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, portfolios};

/// Adds a portfolio.
///
/// # Errors
/// A sentence for each field that can't be used, or that the code is taken.
pub fn add(db: &Db, actor: &Actor, now: Now, text: &PortfolioText) -> Result<PortfolioId> {
    rights::manager(actor, "add a portfolio")?;
    let facts = PortfolioFacts::read(text).map_err(Error::Fields)?;
    db.write(|tx| {
        if portfolios::by_code(tx, &facts.code)?.is_some() {
            return Err(Error::field(
                "code",
                format!("Portfolio {} is there already. Choose another code.", facts.code),
            ));
        }
        let id = portfolios::insert(tx, &facts)?;
        let subject = Subject {
            kind: "portfolio",
            id: id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "add_portfolio",
            subject,
            &(),
            &snapshot::portfolio(&facts),
        )?;
        Ok(id)
    })
}
