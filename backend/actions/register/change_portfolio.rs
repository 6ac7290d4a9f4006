//! Changes the code or the name of a portfolio.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{PortfolioFacts, PortfolioId, PortfolioText};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, portfolios};

/// Changes a portfolio.
///
/// # Errors
/// A sentence for each field that can't be used, that the code is taken, or that there is no such portfolio.
pub fn change(db: &Db, actor: &Actor, now: Now, id: PortfolioId, text: &PortfolioText) -> Result<()> {
    rights::manager(actor, "change a portfolio")?;
    let facts = PortfolioFacts::read(text).map_err(Error::Fields)?;
    db.write(|tx| {
        let before = portfolios::by_key(tx, id)?;
        if portfolios::by_code(tx, &facts.code)?.is_some_and(|other| other.id != id) {
            return Err(Error::field(
                "code",
                format!("Portfolio {} is there already. Choose another code.", facts.code),
            ));
        }
        portfolios::update(tx, id, &facts)?;
        let subject = Subject {
            kind: "portfolio",
            id: id.0,
        };
        let (before, after) = (snapshot::portfolio(&before.facts), snapshot::portfolio(&facts));
        audit::note(tx, actor, now, "change_portfolio", subject, &before, &after)
    })
}
