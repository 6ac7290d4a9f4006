//! `anglestop labels`: makes labels of places, lists them, and lays them out on sheets.

mod list;
mod sheet;

use clap::{Args, Subcommand};

use super::Setting;
use crate::actions::labels::{self, Choice};
use crate::clock::Now;
use crate::domain::register::person::{Actor, Scope};
use crate::error::{Error, Result};
use crate::language;
use crate::store::labels::Labelled;
use crate::store::{AnyConnection, buildings, tags, units};

/// Options of `labels`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  anglestop labels make --building ALDER
  anglestop labels list --building ALDER > labels.csv
  anglestop labels sheet --building ALDER --unit 204 --unit 205 --grid a4_24 --out labels.html

A label's code is an address with a random end and holds nothing of the place. Whoever scans it must sign in.")]
pub struct Options {
    #[command(subcommand)]
    act: Act,
}

#[derive(Debug, Subcommand)]
enum Act {
    /// Make labels for the places that have none
    Make(Places),
    /// Give one place a new label; its old code ends
    Renew(Renew),
    /// List places with their codes as CSV
    List(list::Options),
    /// Write sheets of labels to print, as one HTML file
    Sheet(sheet::Options),
}

/// Which places are meant.
#[derive(Debug, Args)]
struct Places {
    /// Code of the building
    #[arg(long, value_name = "CODE")]
    building: String,
    /// Label of a unit, as on its door; may be given more than once; the whole building when not given
    #[arg(long, value_name = "LABEL")]
    unit: Vec<String>,
    /// Label of a place in the one unit that is given, such as WC-1; may be given more than once
    #[arg(long, value_name = "TAG", requires = "unit")]
    place: Vec<String>,
}

/// One place.
#[derive(Debug, Args)]
struct Renew {
    /// Code of the building
    #[arg(long, value_name = "CODE")]
    building: String,
    /// Label of the unit, as on its door
    #[arg(long, value_name = "LABEL")]
    unit: String,
    /// Label of the place, such as WC-1
    #[arg(long, value_name = "TAG")]
    place: String,
}

impl Places {
    fn choice(&self, conn: &mut AnyConnection) -> Result<Choice> {
        let building =
            buildings::by_code(conn, &Scope::All, &self.building).map_err(|error| match error {
                Error::NotFound(_) => Error::refused(format!(
                    "There is no building “{}” here. Check its code.",
                    self.building
                )),
                other => other,
            })?;
        let mut choice = Choice {
            building: building.facts.code.clone(),
            ..Choice::default()
        };
        for label in &self.unit {
            let unit = units::by_label(conn, building.id, label)?.ok_or_else(|| {
                Error::refused(format!(
                    "There is no unit “{label}” in {}. Check its label.",
                    choice.building
                ))
            })?;
            choice.units.push(unit.id);
        }
        if self.place.is_empty() {
            return Ok(choice);
        }
        let [unit] = choice.units[..] else {
            return Err(Error::refused("--place wants one --unit, whose places it names."));
        };
        choice.units.clear();
        for label in &self.place {
            let tag = tags::by_label(conn, unit, label)?.ok_or_else(|| {
                Error::refused(format!(
                    "There is no place “{label}” in this unit. Check its label."
                ))
            })?;
            choice.tags.push(tag.id);
        }
        Ok(choice)
    }

    /// The building's code and the places.
    fn load(&self, conn: &mut AnyConnection) -> Result<(String, Vec<Labelled>)> {
        let choice = self.choice(conn)?;
        let (building, places) = labels::choose(conn, &Scope::All, &choice)?;
        Ok((building.facts.code, places))
    }
}

/// Runs one of the acts.
///
/// # Errors
/// A sentence that says what could not be done; then nothing was stored.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    match &options.act {
        Act::Make(places) => {
            let choice = db.read(|conn| places.choice(conn))?;
            let made = labels::make(&db, &Actor::operator(), Now::from_system(), &choice)?;
            eprintln!("{} made.", language::count(made, "label", "labels"));
            Ok(())
        }
        Act::Renew(options) => {
            let places = Places {
                building: options.building.clone(),
                unit: vec![options.unit.clone()],
                place: vec![options.place.clone()],
            };
            let (_, found) = db.read(|conn| places.load(conn))?;
            let old = found.into_iter().find_map(|place| place.code).ok_or_else(|| {
                Error::refused(format!(
                    "{} has no label to renew. Make one with anglestop labels make.",
                    options.place
                ))
            })?;
            let (_, code) = labels::renew(&db, &Actor::operator(), Now::from_system(), &old)?;
            crate::cli::say!("{}", code.as_str());
            Ok(())
        }
        Act::List(options) => list::run(&db, options),
        Act::Sheet(options) => sheet::run(&db, options),
    }
}
