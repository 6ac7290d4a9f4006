//! The steps of a turnover at the command line: opened, advanced, waived, closed, cancelled.

use clap::Args;

use super::which::{OfUnit, Which, unit};
use crate::actions::turnovers as acts;
use crate::clock::Now;
use crate::domain::code::Coded as _;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::turnover::{Stage, TurnoverText, WaiverText};
use crate::error::{Error, Result};
use crate::store::Db;

/// Options of `turnover open`.
#[derive(Debug, Args)]
pub struct Open {
    #[command(flatten)]
    of: OfUnit,
    /// Day of the move-out
    #[arg(long, value_name = "DATE")]
    move_out: String,
    /// Day of the move-in; what falls due until then is asked too
    #[arg(long, value_name = "DATE")]
    move_in: String,
    /// Note that the household that lives there moves out on that day
    #[arg(long)]
    ends_stay: bool,
    /// Free text; it will stand in the record
    #[arg(long, default_value = "", value_name = "TEXT")]
    note: String,
}

/// Options of `turnover advance`.
#[derive(Debug, Args)]
pub struct Advance {
    #[command(flatten)]
    which: Which,
    /// repaired or ready; the next one when not given. A step that was taken already changes nothing
    #[arg(long, value_name = "STAGE")]
    to: Option<String>,
}

/// Options of `turnover waive`.
#[derive(Debug, Args)]
pub struct Waive {
    #[command(flatten)]
    which: Which,
    /// Number of the severe deficiency
    #[arg(long, value_name = "NUMBER")]
    deficiency: i64,
    /// Why it may stand
    #[arg(long, value_name = "TEXT")]
    reason: String,
    /// Who answers for it
    #[arg(long, value_name = "NAME")]
    name: String,
    /// Last day of the waiver, not before the move-in
    #[arg(long, value_name = "DATE")]
    until: String,
}

/// Options of `turnover close`.
#[derive(Debug, Args)]
pub struct Close {
    #[command(flatten)]
    which: Which,
    /// The name that signs
    #[arg(long, value_name = "NAME")]
    name: String,
}

/// Options of `turnover cancel`.
#[derive(Debug, Args)]
pub struct Cancel {
    #[command(flatten)]
    which: Which,
    /// Why it is given up
    #[arg(long, value_name = "TEXT")]
    reason: String,
}

/// Opens a turnover.
pub fn open(db: &Db, options: &Open) -> Result<()> {
    let unit = db.read(|conn| unit(conn, &options.of.building, &options.of.unit))?;
    let command = acts::Open {
        unit: unit.id,
        text: TurnoverText {
            move_out_on: options.move_out.clone(),
            move_in_on: options.move_in.clone(),
            note: options.note.clone(),
        },
        stay: if options.ends_stay {
            acts::Stay::EndsOnMoveOut
        } else {
            acts::Stay::AsItIs
        },
    };
    let id = acts::open(db, &Actor::operator(), Now::from_system(), &command)?;
    crate::cli::say!("Turnover {id} of unit {} is open.", unit.facts.label);
    Ok(())
}

/// Takes the next step.
pub fn advance(db: &Db, options: &Advance) -> Result<()> {
    let turnover = db.read(|conn| options.which.find(conn))?;
    let to = options.to.as_deref().map(Stage::from_code).transpose();
    let command = acts::Advance {
        turnover: turnover.id,
        to: to.map_err(Error::refused)?,
    };
    let stage = acts::advance(db, &Actor::operator(), Now::from_system(), command)?;
    crate::cli::say!("Turnover {} is {} now.", turnover.id, stage.name().to_lowercase());
    Ok(())
}

/// Waives.
pub fn waive(db: &Db, options: &Waive) -> Result<()> {
    let turnover = db.read(|conn| options.which.find(conn))?;
    let command = acts::Waive {
        turnover: turnover.id,
        deficiency: DeficiencyId(options.deficiency),
        text: WaiverText {
            reason: options.reason.clone(),
            name: options.name.clone(),
            until: options.until.clone(),
        },
    };
    acts::waive(db, &Actor::operator(), Now::from_system(), &command)?;
    crate::cli::say!("No. {} is waived until {}.", options.deficiency, options.until);
    Ok(())
}

/// Closes.
pub fn close(db: &Db, options: &Close) -> Result<()> {
    let turnover = db.read(|conn| options.which.find(conn))?;
    let command = acts::Close {
        turnover: turnover.id,
        name: options.name.clone(),
    };
    let paper = acts::close(db, &Actor::operator(), Now::from_system(), &command)?;
    crate::cli::say!(
        "Turnover {} is closed. Record {}, {}, SHA-256 {}.",
        turnover.id,
        paper.number,
        paper.file_name,
        paper.sha256
    );
    Ok(())
}

/// Cancels.
pub fn cancel(db: &Db, options: &Cancel) -> Result<()> {
    let turnover = db.read(|conn| options.which.find(conn))?;
    let command = acts::Cancel {
        turnover: turnover.id,
        reason: options.reason.clone(),
    };
    acts::cancel(db, &Actor::operator(), Now::from_system(), &command)?;
    crate::cli::say!("Turnover {} is cancelled.", turnover.id);
    Ok(())
}
