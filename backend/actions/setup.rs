//! Makes a database ready to work with: its tables, the built-in checks, the schedules of the catalogue. Every command and every server
//! begins with it, and a second time changes nothing.
//!
//! The built-in checks are ours: a newer catalogue adds a version and the older ones stay. Schedules are taken from the catalogue once and
//! are the office's from then on. A check or a schedule of the users' own that has the code of one of ours is left as it is.

use std::collections::HashMap;

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::due::{Scope, Terms, read_timing};
use crate::domain::register::CheckId;
use crate::domain::register::person::Actor;
use crate::domain::trade::catalogue::Pack;
use crate::domain::trade::{Catalogue, Check, Origin, ScheduleTemplate};
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::store::audit::Subject;
use crate::store::checks::StoredCheck;
use crate::store::{AnyConnection, Db, Tx, audit, checks, due, migrate, schedules};

/// Brings the tables to this version, and the built-in checks and schedules into them; then goes on for a
/// moment with what an interrupted change of a schedule left undone. Answers how many migrations there were.
///
/// # Errors
/// When the database was made by a newer version or refuses; then nothing was changed.
pub fn prepare(db: &Db, now: Now) -> Result<usize> {
    let steps = migrate::run(db)?;
    let built_in = catalogue::builtin().map_err(Error::internal)?;
    if db.read(|conn| is_behind(conn, built_in))? {
        db.write(|tx| take_in(tx, now, built_in))?;
    }
    due::begin_renewal(db)?;
    Ok(steps)
}

/// What the catalogue has and the database has not.
#[derive(Default)]
struct Missing<'a> {
    new: Vec<&'a Check>,
    newer: Vec<(CheckId, &'a Check)>,
    schedules: Vec<&'a ScheduleTemplate>,
    first_time: bool,
}

impl<'a> Missing<'a> {
    fn find(conn: &mut AnyConnection, built_in: &'a Catalogue) -> Result<Self> {
        let stored = checks::load_all(conn)?;
        let by_code: HashMap<&str, &StoredCheck> = stored
            .iter()
            .map(|stored| (stored.check.code.as_str(), stored))
            .collect();
        let mut missing = Self {
            first_time: stored.is_empty(),
            ..Self::default()
        };
        for check in &built_in.checks {
            match by_code.get(check.code.as_str()) {
                None => missing.new.push(check),
                Some(stored) if stored.origin == Origin::Builtin && stored.check.version < check.version => {
                    missing.newer.push((stored.id, check));
                }
                Some(_) => {}
            }
        }
        let there = schedules::load_all(conn)?;
        missing.schedules = built_in
            .schedules
            .iter()
            .filter(|template| {
                there
                    .iter()
                    .all(|schedule| schedule.terms.code != template.code.as_str())
            })
            .collect();
        Ok(missing)
    }

    fn is_empty(&self) -> bool {
        self.new.is_empty() && self.newer.is_empty() && self.schedules.is_empty()
    }
}

fn is_behind(conn: &mut AnyConnection, built_in: &Catalogue) -> Result<bool> {
    Ok(!Missing::find(conn, built_in)?.is_empty())
}

fn take_in(tx: &mut Tx<'_>, now: Now, built_in: &Catalogue) -> Result<()> {
    let missing = Missing::find(tx, built_in)?;
    if missing.is_empty() {
        return Ok(()); // another process was faster
    }
    for check in &missing.new {
        checks::insert(tx, now, Origin::Builtin, check)?;
    }
    for (id, check) in &missing.newer {
        checks::update(tx, now, *id, check)?;
    }
    let ids = checks::ids_by_code(tx)?;
    for template in &missing.schedules {
        let mut terms = terms_of(template, &ids)?;
        // What a later version brings along waits until somebody switches it on.
        terms.active &= missing.first_time;
        schedules::insert(tx, &terms)?;
    }
    due::mark_stale(tx)?;
    let subject = Subject {
        kind: "catalogue",
        id: 0,
    };
    let taken = serde_json::json!({
        "new_checks": missing.new.len(),
        "newer_checks": missing.newer.len(),
        "schedules": missing.schedules.len(),
    });
    audit::note(
        tx,
        &Actor::operator(),
        now,
        "take in catalogue",
        subject,
        &(),
        &taken,
    )
}

/// A schedule of the catalogue as it stands in a fresh office: the yearly pack makes things due, the resident's is recorded, the others
/// wait to be switched on.
fn terms_of(template: &ScheduleTemplate, ids: &HashMap<String, CheckId>) -> Result<Terms> {
    let timing = read_timing(
        template.anchor.code(),
        &template.rule,
        template.start,
        template.lead_days,
        template.grace_days,
        template.early_days,
    )
    .map_err(Error::internal)?;
    let asked = template.checks.iter().map(|code| {
        ids.get(code.as_str())
            .copied()
            .ok_or_else(|| Error::internal(format!("schedule {} names no check {code}", template.code)))
    });
    Ok(Terms {
        code: template.code.as_str().to_owned(),
        name: template.name.clone(),
        pack: Some(template.pack),
        active: matches!(template.pack, Pack::Yearly | Pack::Resident),
        recorded_only: template.recorded_only,
        timing,
        scope: Scope {
            kinds: template.scope.kinds.clone(),
            parts: template.scope.parts.clone(),
            min_age_years: template.scope.age_years,
            ..Scope::default()
        },
        checks: asked.collect::<Result<Vec<_>>>()?,
        technician: None,
    })
}
