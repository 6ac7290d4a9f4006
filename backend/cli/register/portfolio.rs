//! `anglestop register portfolio`.

use clap::Subcommand;

use super::{Desk, take};
use crate::actions::register::{add_portfolio, change_portfolio};
use crate::domain::register::PortfolioText;
use crate::error::{Error, Result};
use crate::store::portfolios;

/// What is done with portfolios.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a portfolio
    Add {
        /// Short code, such as NORTH
        #[arg(long)]
        code: String,
        /// Name, as the owner calls it
        #[arg(long)]
        name: String,
    },
    /// Change the code or the name of a portfolio
    Change {
        /// Its code now
        portfolio: String,
        /// Another code
        #[arg(long)]
        code: Option<String>,
        /// Another name
        #[arg(long)]
        name: Option<String>,
    },
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    let text = match what {
        What::Add { code, name } => {
            let text = PortfolioText {
                code: code.clone(),
                name: name.clone(),
            };
            add_portfolio::add(&desk.db, &desk.actor, desk.now, &text)?;
            eprintln!("Portfolio added.");
            text
        }
        What::Change {
            portfolio,
            code,
            name,
        } => {
            let wanted = portfolio.trim().to_uppercase();
            let found = desk
                .db
                .read(|conn| portfolios::by_code(conn, &wanted))?
                .ok_or_else(|| {
                    Error::refused(format!(
                        "There is no portfolio {wanted}. Add it with “anglestop register portfolio add”."
                    ))
                })?;
            let mut text = PortfolioText {
                code: found.facts.code,
                name: found.facts.name,
            };
            take(&mut text.code, code.as_ref());
            take(&mut text.name, name.as_ref());
            change_portfolio::change(&desk.db, &desk.actor, desk.now, found.id, &text)?;
            eprintln!("Portfolio changed.");
            text
        }
    };
    crate::cli::say!("{}", text.code.trim().to_uppercase());
    Ok(())
}
