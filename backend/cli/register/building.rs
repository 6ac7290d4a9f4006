//! `anglestop register building`.

use clap::{Args, Subcommand};

use super::{Desk, calendar, place, take, terms};
use crate::actions::register::add_building::{self, BuildingForm};
use crate::actions::register::change_building;
use crate::domain::register::BuildingText;
use crate::error::Result;
use crate::store::{buildings, portfolios};

/// What is done with buildings.
#[derive(Debug, Subcommand)]
pub enum What {
    /// Add a building; needs at least a name, a portfolio and a time zone
    Add {
        /// Short code, such as ALDER
        code: String,
        #[command(flatten)]
        facts: Box<Facts>,
    },
    /// Change what is given of a building and leave the rest
    Change {
        /// Its code now
        building: String,
        /// Another code
        #[arg(long)]
        code: Option<String>,
        #[command(flatten)]
        facts: Box<Facts>,
    },
    /// Set what water costs there, and the programme of times to correct
    Terms(terms::Terms),
    /// Say when planned work is done there: working days, public holidays, shut-down periods
    #[command(subcommand)]
    Calendar(calendar::What),
}

/// What a building is.
#[derive(Debug, Args)]
pub struct Facts {
    /// Name
    #[arg(long)]
    name: Option<String>,
    /// Code of the portfolio, whose building it is
    #[arg(long, value_name = "CODE")]
    portfolio: Option<String>,
    /// IANA time zone, such as America/Chicago
    #[arg(long, value_name = "ZONE")]
    time_zone: Option<String>,
    /// Address
    #[arg(long)]
    address: Option<String>,
    /// Mail address of the technician who looks after it
    #[arg(long, value_name = "EMAIL")]
    technician: Option<String>,
    /// ipc, upc, ada, ada_dwelling or own; ipc when not given
    #[arg(long, value_name = "CODE")]
    code_profile: Option<String>,
    /// in or mm; in when not given
    #[arg(long, value_name = "UNIT")]
    length_unit: Option<String>,
    /// Notice before entry, hours; 24 when not given
    #[arg(long, value_name = "HOURS")]
    notice_hours: Option<String>,
    /// The day it joined; nothing falls due before; today when not given
    #[arg(long, value_name = "DATE")]
    joined_on: Option<String>,
    /// Year built
    #[arg(long, value_name = "YEAR")]
    built_year: Option<String>,
    /// Joint between water closet and floor: sealed, rear_open or not_noted; not_noted when not given
    #[arg(long, value_name = "POLICY")]
    base_joint: Option<String>,
}

impl Facts {
    fn over(&self, mut form: BuildingForm) -> BuildingForm {
        take(&mut form.portfolio, self.portfolio.as_ref());
        take(&mut form.technician, self.technician.as_ref());
        let text = &mut form.text;
        take(&mut text.name, self.name.as_ref());
        take(&mut text.time_zone, self.time_zone.as_ref());
        take(&mut text.address, self.address.as_ref());
        take(&mut text.code_profile, self.code_profile.as_ref());
        take(&mut text.length_unit, self.length_unit.as_ref());
        take(&mut text.notice_hours, self.notice_hours.as_ref());
        take(&mut text.joined_on, self.joined_on.as_ref());
        take(&mut text.built_year, self.built_year.as_ref());
        take(&mut text.base_joint, self.base_joint.as_ref());
        form
    }
}

pub(super) fn run(desk: &Desk, what: &What) -> Result<()> {
    let form = match what {
        What::Add { code, facts } => {
            let mut form = facts.over(BuildingForm::default());
            form.text.code.clone_from(code);
            add_building::add(&desk.db, &desk.actor, desk.now, &form)?;
            eprintln!("Building added.");
            form
        }
        What::Change {
            building,
            code,
            facts,
        } => {
            let (id, now) = as_it_is(desk, building)?;
            let mut form = facts.over(now);
            take(&mut form.text.code, code.as_ref());
            change_building::change(&desk.db, &desk.actor, desk.now, id, &form)?;
            eprintln!("Building changed.");
            form
        }
        What::Terms(options) => return terms::run(desk, options),
        What::Calendar(what) => return calendar::run(desk, what),
    };
    crate::cli::say!("{}", form.text.code.trim().to_uppercase());
    Ok(())
}

fn as_it_is(desk: &Desk, code: &str) -> Result<(crate::domain::register::BuildingId, BuildingForm)> {
    desk.db.read(|conn| {
        let found = place::building(conn, desk, code)?;
        let technician = buildings::technicians(conn)?
            .into_iter()
            .find(|person| Some(person.id) == found.technician)
            .map_or_else(String::new, |person| person.email);
        let form = BuildingForm {
            portfolio: portfolios::by_key(conn, found.portfolio)?.facts.code,
            technician,
            text: BuildingText::from(&found.facts),
        };
        Ok((found.id, form))
    })
}
