//! `anglestop register show`: the buildings, the units of one, the fixtures of a unit, or one place with its history; as lines for
//! people, or as JSON.

use clap::Args;
use serde_json::{Value, json};

use super::Desk;
use super::place::{self, AtTag, AtUnit};
use crate::domain::code::Coded as _;
use crate::domain::register::{Building, Fixture, Installed, Part, Unit};
use crate::error::{Error, Result};
use crate::store::fixtures::Standing;
use crate::store::{buildings, fixtures, parts, units};

/// Options of `register show`.
#[derive(Debug, Args)]
pub struct Options {
    /// Code of a building; without it, all buildings
    #[arg(long, value_name = "CODE")]
    building: Option<String>,
    /// Label of a unit of the building: what stands in it
    #[arg(long, value_name = "LABEL", requires = "building")]
    unit: Option<String>,
    /// Label of a place in the unit: what stands and stood there, with parts
    #[arg(long, value_name = "LABEL", requires = "unit")]
    tag: Option<String>,
    /// As an array of JSON objects
    #[arg(long)]
    json: bool,
}

pub(super) fn run(desk: &Desk, options: &Options) -> Result<()> {
    let rows = rows(desk, options)?;
    if options.json {
        crate::cli::say!(
            "{}",
            serde_json::to_string_pretty(&rows).map_err(Error::internal)?
        );
    } else {
        for row in &rows {
            crate::cli::say!("{}", line(row));
        }
        if rows.is_empty() {
            eprintln!("Nothing is there yet. “anglestop register --help” says how to add it.");
        }
    }
    Ok(())
}

fn rows(desk: &Desk, options: &Options) -> Result<Vec<Value>> {
    let Some(building) = &options.building else {
        let all = desk.db.read(|conn| buildings::list(conn, &desk.actor.scope))?;
        return Ok(all.iter().map(building_row).collect());
    };
    let Some(unit) = &options.unit else {
        return desk.db.read(|conn| {
            let found = place::building(conn, desk, building)?;
            let all = units::of_building(conn, found.id)?;
            Ok(all.iter().map(unit_row).collect())
        });
    };
    let at = AtUnit {
        building: building.clone(),
        unit: unit.clone(),
    };
    let Some(tag) = &options.tag else {
        let (_, unit) = at.find(desk)?;
        let all = desk.db.read(|conn| fixtures::standing_in(conn, unit.id))?;
        return Ok(all.iter().map(standing_row).collect());
    };
    let at = AtTag {
        unit: at,
        tag: tag.clone(),
    };
    let (_, _, tag) = at.find_tag(desk)?;
    desk.db.read(|conn| {
        let mut rows = Vec::new();
        for fixture in fixtures::history_of(conn, tag.id)? {
            let parts = parts::of_fixture(conn, fixture.id)?;
            rows.push(fixture_row(&tag.label, &fixture, &parts));
        }
        Ok(rows)
    })
}

fn building_row(building: &Building) -> Value {
    let facts = &building.facts;
    json!({
        "building": facts.code, "name": facts.name, "address": facts.address, "time_zone": facts.time_zone.name(),
        "code_profile": facts.code_profile.as_str(), "length_unit": facts.length_unit.code(),
        "notice_hours": facts.notice_hours, "joined_on": facts.joined_on, "built_year": facts.built_year,
        "base_joint": facts.base_joint.code(),
    })
}

fn unit_row(unit: &Unit) -> Value {
    let facts = &unit.facts;
    json!({
        "unit": facts.label, "kind": facts.kind.code(), "floor": facts.floor, "riser": facts.riser,
        "occupancy": facts.occupancy.code(),
    })
}

fn standing_row(one: &Standing) -> Value {
    let mut row = fixture_row(&one.tag.label, &one.fixture, &one.parts);
    row["room"] = json!(one.room.as_ref().map(|room| &room.name));
    row
}

fn fixture_row(tag: &str, fixture: &Fixture, parts: &[Part]) -> Value {
    let facts = &fixture.facts;
    json!({
        "fixture": tag, "kind": facts.kind.code(), "maker": facts.maker, "model": facts.model,
        "installed_on": facts.installed.date(), "installed_estimated": facts.installed.is_estimated(),
        "status": fixture.status.code(), "stood_from": fixture.stood_from, "stood_until": fixture.stood_until,
        "note": facts.note, "parts": parts.iter().map(part_row).collect::<Vec<_>>(),
    })
}

fn part_row(part: &Part) -> Value {
    let installed: Installed = part.facts.installed;
    json!({
        "part": part.facts.kind.code(), "installed_on": installed.date(),
        "installed_estimated": installed.is_estimated(), "status": part.status.code(),
        "stood_from": part.stood_from, "stood_until": part.stood_until,
    })
}

/// A row for people: its values in order, what is empty left out; parts by their kinds.
fn line(row: &Value) -> String {
    let Some(fields) = row.as_object() else {
        return String::new();
    };
    fields
        .iter()
        .filter_map(|(name, value)| match value {
            Value::String(text) if !text.is_empty() => Some(text.replace('\n', ", ")),
            Value::Number(number) => Some(format!("{name} {number}")),
            Value::Bool(true) => Some(name.replace('_', " ")),
            Value::Array(parts) if !parts.is_empty() => {
                let kinds: Vec<_> = parts.iter().filter_map(|part| part["part"].as_str()).collect();
                Some(format!("parts {}", kinds.join(" ")))
            }
            _ => None,
        })
        .collect::<Vec<_>>()
        .join(" · ")
}
