//! `anglestop register part`.

use clap::{Args, Subcommand};

use super::Desk;
use super::place::AtPart;
use crate::actions::register::{add_part, change_part, replace_part, retire_part};
use crate::domain::register::PartText;
use crate::error::Result;

/// What is done with parts.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a part to the fixture at a place
    Add {
        #[command(flatten)]
        at: AtPart,
        /// Day it was installed; a year or a month alone is an estimate
        #[arg(long, value_name = "DATE", default_value = "")]
        installed_on: String,
        #[command(flatten)]
        estimate: Estimate,
    },
    /// Correct the day on which a part was installed
    Change {
        #[command(flatten)]
        at: AtPart,
        /// Day it was installed; a year or a month alone is an estimate; empty when not known
        #[arg(long, value_name = "DATE")]
        installed_on: String,
        #[command(flatten)]
        estimate: Estimate,
    },
    /// Replace a part by a new one of its kind
    Replace {
        #[command(flatten)]
        at: AtPart,
        /// The day the new one was installed; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
    },
    /// Retire a part that the fixture no longer has
    Retire {
        #[command(flatten)]
        at: AtPart,
        /// First day it was no longer there; today when not given
        #[arg(long, value_name = "DATE", default_value = "")]
        on: String,
    },
}

/// How sure the day is.
#[derive(Debug, Args)]
pub struct Estimate {
    /// That day is an estimate
    #[arg(long)]
    estimated: bool,
}

impl Estimate {
    fn text(&self, kind: &str, installed_on: &str) -> PartText {
        PartText {
            kind: kind.to_owned(),
            installed_on: installed_on.to_owned(),
            installed_estimated: if self.estimated { "yes" } else { "" }.to_owned(),
        }
    }
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    let Desk { db, actor, now } = desk;
    let (at, said) = match what {
        What::Add {
            at,
            installed_on,
            estimate,
        } => {
            let fixture = at.tag.find(desk)?;
            let text = estimate.text(&at.part, installed_on);
            add_part::add(db, actor, *now, fixture.id, &text)?;
            (at, "Part added.")
        }
        What::Change {
            at,
            installed_on,
            estimate,
        } => {
            let text = estimate.text(&at.part, installed_on);
            change_part::change(db, actor, *now, at.find(desk)?.id, &text)?;
            (at, "Part changed.")
        }
        What::Replace { at, on } => {
            replace_part::replace(db, actor, *now, at.find(desk)?.id, on)?;
            (at, "Part replaced.")
        }
        What::Retire { at, on } => {
            retire_part::retire(db, actor, *now, at.find(desk)?.id, on)?;
            (at, "Part retired.")
        }
    };
    eprintln!("{said}");
    crate::cli::say!("{} {}", at.tag.tag.trim().to_uppercase(), at.part);
    Ok(())
}
