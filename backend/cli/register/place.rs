//! How things are addressed: building by code, unit by label, fixture by the label of its place, part by its kind.

use clap::Args;

use super::Desk;
use crate::domain::code::Coded as _;
use crate::domain::register::{Building, Fixture, Part, Tag, Unit};
use crate::domain::trade::PartKind;
use crate::error::{Error, Result};
use crate::store::{AnyConnection, buildings, fixtures, parts, tags, units};

/// A unit.
#[derive(Debug, Args)]
pub struct AtUnit {
    /// Code of the building, such as ALDER
    #[arg(long, value_name = "CODE")]
    pub building: String,
    /// Label of the unit, as on its door, such as 204
    #[arg(long, value_name = "LABEL")]
    pub unit: String,
}

/// The fixture in service at a place.
#[derive(Debug, Args)]
pub struct AtTag {
    #[command(flatten)]
    pub unit: AtUnit,
    /// Label of the place, such as WC-1
    #[arg(long, value_name = "LABEL")]
    pub tag: String,
}

/// A part in service of a fixture.
#[derive(Debug, Args)]
pub struct AtPart {
    #[command(flatten)]
    pub tag: AtTag,
    /// Kind of the part, such as wax_seal or supply_line
    #[arg(long, value_name = "KIND")]
    pub part: String,
}

/// The building with this code.
pub(super) fn building(conn: &mut AnyConnection, desk: &Desk, code: &str) -> Result<Building> {
    buildings::by_code(conn, &desk.actor.scope, code).map_err(|error| match error {
        Error::NotFound(_) => Error::refused(format!(
            "There is no building {code}. “anglestop register show” lists those that are there."
        )),
        other => other,
    })
}

impl AtUnit {
    /// The unit with its building.
    pub(super) fn find(&self, desk: &Desk) -> Result<(Building, Unit)> {
        desk.db.read(|conn| self.find_on(conn, desk))
    }

    fn find_on(&self, conn: &mut AnyConnection, desk: &Desk) -> Result<(Building, Unit)> {
        let building = building(conn, desk, &self.building)?;
        let unit = units::by_label(conn, building.id, &self.unit)?.ok_or_else(|| {
            let code = &building.facts.code;
            Error::refused(format!(
                "{code} has no unit {}. “anglestop register show --building {code}” lists its units.",
                self.unit
            ))
        })?;
        Ok((building, unit))
    }
}

impl AtTag {
    /// The place, whatever stands there.
    pub(super) fn find_tag(&self, desk: &Desk) -> Result<(Building, Unit, Tag)> {
        desk.db.read(|conn| self.find_tag_on(conn, desk))
    }

    fn find_tag_on(&self, conn: &mut AnyConnection, desk: &Desk) -> Result<(Building, Unit, Tag)> {
        let (building, unit) = self.unit.find_on(conn, desk)?;
        let tag = tags::by_label(conn, unit.id, &self.tag)?.ok_or_else(|| {
            let (code, label) = (&building.facts.code, &unit.facts.label);
            Error::refused(format!(
                "Unit {label} has no tag {}. “anglestop register show --building {code} --unit {label}” lists its tags.",
                self.tag
            ))
        })?;
        Ok((building, unit, tag))
    }

    /// What is in service at the place.
    pub(super) fn find(&self, desk: &Desk) -> Result<Fixture> {
        desk.db.read(|conn| self.find_on(conn, desk))
    }

    fn find_on(&self, conn: &mut AnyConnection, desk: &Desk) -> Result<Fixture> {
        let (_, _, tag) = self.find_tag_on(conn, desk)?;
        fixtures::in_service_at(conn, tag.id)?.ok_or_else(|| {
            Error::refused(format!(
                "Nothing stands at {} now. Add a fixture there with “anglestop register fixture add --tag {}”.",
                tag.label, tag.label
            ))
        })
    }
}

impl AtPart {
    /// The part in service.
    pub(super) fn find(&self, desk: &Desk) -> Result<Part> {
        let kind = PartKind::from_code(&self.part).map_err(Error::refused)?;
        desk.db.read(|conn| {
            let fixture = self.tag.find_on(conn, desk)?;
            parts::in_service_on(conn, fixture.id, kind)?.ok_or_else(|| {
                Error::refused(format!(
                    "{} has no {} in service. Add one with “anglestop register part add”.",
                    self.tag.tag, self.part
                ))
            })
        })
    }
}
