//! `anglestop register unit`.

use clap::{Args, Subcommand};

use super::place::{self, AtUnit};
use super::{Desk, take};
use crate::actions::register::{add_unit, change_unit};
use crate::domain::register::UnitText;
use crate::error::Result;

/// What is done with units.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a unit or common area
    Add {
        #[command(flatten)]
        at: AtUnit,
        #[command(flatten)]
        facts: Facts,
    },
    /// Change what is given of a unit and leave the rest
    Change {
        #[command(flatten)]
        at: AtUnit,
        /// Another label
        #[arg(long)]
        label: Option<String>,
        #[command(flatten)]
        facts: Facts,
    },
}

/// What a unit is.
#[derive(Debug, Args)]
pub struct Facts {
    /// unit or common_area; unit when not given
    #[arg(long)]
    kind: Option<String>,
    /// Floor: 1 is the ground floor, 0 or less below ground; 1 when not given
    #[arg(long, allow_negative_numbers = true)]
    floor: Option<String>,
    /// Column from the left, seen from the street
    #[arg(long)]
    riser: Option<String>,
    /// occupied, vacant or off_line; occupied when not given
    #[arg(long)]
    occupancy: Option<String>,
}

impl Facts {
    fn over(&self, mut text: UnitText) -> UnitText {
        take(&mut text.kind, self.kind.as_ref());
        take(&mut text.floor, self.floor.as_ref());
        take(&mut text.riser, self.riser.as_ref());
        take(&mut text.occupancy, self.occupancy.as_ref());
        text
    }
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    match what {
        What::Add { at, facts } => {
            let building = desk.db.read(|conn| place::building(conn, desk, &at.building))?;
            let text = facts.over(UnitText {
                label: at.unit.clone(),
                ..UnitText::default()
            });
            add_unit::add(&desk.db, &desk.actor, desk.now, building.id, &text)?;
            eprintln!("Unit added.");
            crate::cli::say!("{} {}", building.facts.code, at.unit.trim());
        }
        What::Change { at, label, facts } => {
            let (building, unit) = at.find(desk)?;
            let mut text = facts.over(UnitText::from(&unit.facts));
            take(&mut text.label, label.as_ref());
            change_unit::change(&desk.db, &desk.actor, desk.now, unit.id, &text)?;
            eprintln!("Unit changed.");
            crate::cli::say!("{} {}", building.facts.code, text.label.trim());
        }
    }
    Ok(())
}
