//! `anglestop register`: adds, changes, moves, retires and replaces what the register holds, addressed as people do: by the codes of
//! buildings, the labels of units and tags. Only what is given changes. The name of what was made goes to standard output.

mod building;
mod calendar;
mod fixture;
mod household;
mod part;
mod place;
mod portfolio;
mod room;
mod show;
mod terms;
mod unit;

use clap::{Args, Subcommand};

use super::Setting;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::error::Result;
use crate::store::Db;

/// Options of `register`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// The buildings of one owner
    #[command(subcommand)]
    Portfolio(portfolio::What),
    /// A building, with what decides its days and limits
    #[command(subcommand)]
    Building(building::What),
    /// A rental unit or a common area
    #[command(subcommand)]
    Unit(unit::What),
    /// Who lives in a unit
    #[command(subcommand)]
    Household(household::What),
    /// A room of a unit, in the order of the walk
    #[command(subcommand)]
    Room(room::What),
    /// What stands at a place of a unit
    #[command(subcommand)]
    Fixture(fixture::What),
    /// A wearing part of a fixture
    #[command(subcommand)]
    Part(part::What),
    /// Show the buildings, the units of one, the fixtures of a unit, or one place with its history
    Show(show::Options),
}

/// What every one of them works with.
struct Desk {
    db: Db,
    actor: Actor,
    now: Now,
}

/// Does what was asked.
///
/// # Errors
/// When a value can't be used, or there is no such thing.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let desk = Desk {
        db: setting.open()?,
        actor: Actor::operator(),
        now: Now::from_system(),
    };
    match &options.what {
        What::Portfolio(what) => portfolio::run(&desk, what),
        What::Building(what) => building::run(&desk, what),
        What::Unit(what) => unit::run(&desk, what),
        What::Household(what) => household::run(&desk, what),
        What::Room(what) => room::run(&desk, what),
        What::Fixture(what) => fixture::run(&desk, what),
        What::Part(what) => part::run(&desk, what),
        What::Show(options) => show::run(&desk, options),
    }
}

/// Takes a value over when one was given.
fn take(into: &mut String, given: Option<&String>) {
    if let Some(given) = given {
        given.clone_into(into);
    }
}
