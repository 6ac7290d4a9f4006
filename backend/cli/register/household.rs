//! `anglestop register household`.

use clap::Subcommand;

use super::Desk;
use super::place::AtUnit;
use crate::actions::register::{add_household, move_out};
use crate::domain::register::HouseholdText;
use crate::error::{Error, Result};
use crate::store::households;

/// What is done with households.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add the household that moves in
    Add {
        #[command(flatten)]
        at: AtUnit,
        /// Name, as the lease has it
        #[arg(long)]
        name: String,
        /// Language, such as en, es or pt-BR
        #[arg(long, default_value = "en")]
        language: String,
        /// Telephone or mail; technicians don't see it
        #[arg(long, default_value = "")]
        contact: String,
        /// When entry was agreed, in words
        #[arg(long, default_value = "")]
        agreed_hours: String,
        /// Days without entry, in words
        #[arg(long, default_value = "")]
        no_entry_days: String,
        /// Move-in; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        moved_in_on: String,
    },
    /// Note that the household that lives there moves out
    Leave {
        #[command(flatten)]
        at: AtUnit,
        /// First day on which it no longer lives there; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
    },
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    let at = match what {
        What::Add {
            at,
            name,
            language,
            contact,
            agreed_hours,
            no_entry_days,
            moved_in_on,
        } => {
            let (_, unit) = at.find(desk)?;
            let text = HouseholdText {
                name: name.clone(),
                language: language.clone(),
                contact: contact.clone(),
                agreed_hours: agreed_hours.clone(),
                no_entry_days: no_entry_days.clone(),
                moved_in_on: moved_in_on.clone(),
            };
            add_household::add(&desk.db, &desk.actor, desk.now, unit.id, &text)?;
            eprintln!("Household added.");
            at
        }
        What::Leave { at, on } => {
            leave(desk, at, on)?;
            eprintln!("Move-out noted.");
            at
        }
    };
    crate::cli::say!("{} {}", at.building.trim().to_uppercase(), at.unit.trim());
    Ok(())
}

fn leave(desk: &Desk, at: &AtUnit, on: &str) -> Result<()> {
    let (building, unit) = at.find(desk)?;
    let today = desk.now.date_in(building.facts.time_zone);
    let living = desk
        .db
        .read(|conn| households::of_unit(conn, unit.id))?
        .into_iter()
        .find(|household| household.lives_there_on(today))
        .ok_or_else(|| {
            Error::refused(format!(
                "No household lives in unit {} today, so none can leave.",
                unit.facts.label
            ))
        })?;
    move_out::leave(&desk.db, &desk.actor, desk.now, living.id, on)
}
