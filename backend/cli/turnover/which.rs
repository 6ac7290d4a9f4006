//! Which unit or turnover a command is about: by building and unit, or by its number.

use clap::Args;

use crate::domain::register::person::Scope;
use crate::domain::register::{Building, TurnoverId, Unit};
use crate::domain::turnover::Turnover;
use crate::error::{Error, Result};
use crate::store::{AnyConnection, buildings, turnovers, units};

/// A unit by the labels people use.
#[derive(Debug, Args)]
pub struct OfUnit {
    /// Code of the building
    #[arg(long, value_name = "CODE")]
    pub building: String,
    /// Label of the unit, as on its door
    #[arg(long, value_name = "LABEL")]
    pub unit: String,
}

/// A turnover by its unit or its number.
#[derive(Debug, Args)]
pub struct Which {
    /// Code of the building
    #[arg(
        long,
        value_name = "CODE",
        requires = "unit",
        required_unless_present = "turnover"
    )]
    pub building: Option<String>,
    /// Label of the unit, as on its door; its open turnover is meant, else its latest
    #[arg(long, value_name = "LABEL", requires = "building")]
    pub unit: Option<String>,
    /// Number of the turnover
    #[arg(long, value_name = "NUMBER", conflicts_with_all = ["building", "unit"])]
    pub turnover: Option<i64>,
}

/// The building with this code.
pub fn building(conn: &mut AnyConnection, code: &str) -> Result<Building> {
    buildings::by_code(conn, &Scope::All, code).map_err(|error| match error {
        Error::NotFound(_) => Error::refused(format!("There is no building “{code}” here. Check its code.")),
        other => other,
    })
}

/// The unit with this label.
pub fn unit(conn: &mut AnyConnection, code: &str, label: &str) -> Result<Unit> {
    let building = building(conn, code)?;
    units::by_label(conn, building.id, label)?.ok_or_else(|| {
        Error::refused(format!(
            "There is no unit “{label}” in {}. Check its label.",
            building.facts.code
        ))
    })
}

impl Which {
    /// The turnover: of a unit the open one, else the latest.
    pub fn find(&self, conn: &mut AnyConnection) -> Result<Turnover> {
        if let Some(number) = self.turnover {
            return turnovers::find(conn, &Scope::All, TurnoverId(number)).map_err(|error| match error {
                Error::NotFound(_) => Error::refused(format!(
                    "There is no turnover {number} here. See anglestop turnover list."
                )),
                other => other,
            });
        }
        let (code, label) = (
            self.building.as_deref().unwrap_or_default(),
            self.unit.as_deref().unwrap_or_default(),
        );
        let unit = unit(conn, code, label)?;
        let found = match turnovers::open_of_unit(conn, unit.id)? {
            Some(open) => Some(open),
            None => turnovers::latest_of_unit(conn, unit.id)?,
        };
        found.ok_or_else(|| {
            Error::refused(format!(
                "Unit {} has no turnover. Open one with anglestop turnover open.",
                unit.facts.label
            ))
        })
    }
}
