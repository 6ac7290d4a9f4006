//! The list of people, for a terminal or a program.

use std::io::Write as _;

use serde::Serialize;

use crate::cli::until_the_pipe_closes;
use crate::domain::code::Coded;
use crate::domain::register::person::Role;
use crate::error::{Error, Result};
use crate::store::Db;
use crate::store::assignments::{self, Place};
use crate::store::people::{self, Listed};

#[derive(Serialize)]
struct Line {
    name: String,
    email: String,
    role: &'static str,
    status: &'static str,
    buildings: Vec<String>,
    portfolios: Vec<String>,
    time_zone: &'static str,
    digest_hour: i64,
    language: String,
    /// UTC, RFC 3339; null before the first sign-in.
    last_seen: Option<String>,
}

/// Writes the list to standard output.
pub(super) fn write(db: &Db, json: bool) -> Result<()> {
    let lines: Vec<Line> = db.read(|conn| {
        let mut places = assignments::by_person(conn)?;
        let listed = people::list(conn)?;
        Ok(listed
            .into_iter()
            .map(|listed| {
                let theirs = places.remove(&listed.person.id).unwrap_or_default();
                line(listed, theirs)
            })
            .collect())
    })?;
    let text = if json {
        let mut text = serde_json::to_string_pretty(&lines).map_err(Error::internal)?;
        text.push('\n');
        text
    } else {
        lines.iter().map(as_text).collect()
    };
    until_the_pipe_closes(std::io::stdout().write_all(text.as_bytes()))
}

fn line(listed: Listed, theirs: Vec<Place>) -> Line {
    let codes: Vec<String> = theirs.into_iter().map(|place| place.code).collect();
    let (buildings, portfolios) = match listed.person.role {
        Role::Owner => (Vec::new(), codes),
        Role::Technician | Role::Manager => (codes, Vec::new()),
    };
    Line {
        name: listed.person.facts.name,
        email: listed.person.facts.email,
        role: listed.person.role.code(),
        status: listed.person.standing.code(),
        buildings,
        portfolios,
        time_zone: listed.person.facts.time_zone.name(),
        digest_hour: listed.person.facts.digest_hour,
        language: listed.person.facts.language.to_string(),
        last_seen: listed
            .last_seen_at
            .map(|at| at.format("%Y-%m-%dT%H:%M:%SZ").to_string()),
    }
}

fn as_text(line: &Line) -> String {
    let places = [line.buildings.join(" "), line.portfolios.join(" ")].concat();
    format!(
        "{:<10}  {:<8}  {:<34}  {:<24}  {places}\n",
        line.role, line.status, line.email, line.name
    )
}
