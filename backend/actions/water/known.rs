//! Gathers what is known when somebody chooses between repair, replacement and waiting, and says where each figure comes from.

use chrono::{NaiveDate, NaiveTime};

use super::office;
use crate::actions::condition::office::figures;
use crate::domain::choice::Known;
use crate::domain::condition::Condition;
use crate::domain::register::Installed;
use crate::domain::register::person::Scope;
use crate::domain::result::Deficiency;
use crate::domain::trade::Severity;
use crate::domain::trade::life::{Item, Lives, UsefulLife};
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::store::lists::rating;
use crate::store::{AnyConnection, checks, diagnoses, fixtures, parts, terms, water};

/// Days of a mean year.
const DAYS_A_YEAR: f64 = 365.25;

/// Figures that somebody gives instead of what is kept, minor units.
#[derive(Debug, Clone, Copy, Default)]
pub struct Instead {
    /// What the repair costs.
    pub repair_minor: Option<i64>,
    /// What a new one costs in place.
    pub replace_minor: Option<i64>,
}

/// What is known, with a line for each figure that says where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced {
    /// The figures.
    pub known: Known,
    /// Where they come from.
    pub from: Vec<String>,
}

/// What is known of a deficiency that the caller may see, on `today`, with somebody entering on `next_entry`.
///
/// # Errors
/// When the database does not answer.
pub fn known(
    conn: &mut AnyConnection,
    one: &Deficiency,
    today: NaiveDate,
    next_entry: Option<NaiveDate>,
    instead: Instead,
) -> Result<Sourced> {
    let prices = office::prices(conn)?;
    let lives = figures(conn)?.lives;
    let mut from = Vec::new();
    let subject = subject(conn, one)?;
    let life = subject.as_ref().and_then(|(item, _)| lives.of.get(item));
    let repair_minor = repair(conn, one, (&prices, &lives), (instead, today), &mut from)?;
    let replace_minor = match (instead.replace_minor, life) {
        (Some(given), _) => {
            from.push("A new one: as given here.".to_owned());
            Some(given)
        }
        (None, Some(life)) => {
            from.push(format!(
                "A new {}: {}.",
                life.item.name().to_lowercase(),
                life.cost_source.phrase()
            ));
            Some(life.replacement_minor)
        }
        (None, None) => None,
    };
    let failure_minor = match (life, prices.failure_minor) {
        (Some(life), _) => {
            from.push(format!(
                "A failure: what it costs on top of a new {} ({}).",
                life.item.name().to_lowercase(),
                life.cost_source.phrase()
            ));
            Some(life.failure_extra_minor)
        }
        (None, Some(office)) => {
            from.push("A failure: the office's price of one.".to_owned());
            Some(office)
        }
        (None, None) => None,
    };
    if prices.entry_minor.is_some() {
        from.push("An entry: the office's price of one.".to_owned());
    }
    let fails_before = match (&subject, life, next_entry) {
        (Some((_, installed)), Some(life), Some(on)) => {
            chance(life, &lives, *installed, one.severity, (today, on), &mut from)
        }
        _ => None,
    };
    let known = Known {
        repair_minor,
        replace_minor,
        entry_minor: prices.entry_minor,
        failure_minor,
        fails_before,
        leaks: leaks(conn, one)?,
        loss: water::of_deficiency(conn, one.id)?
            .into_iter()
            .next()
            .map(|kept| kept.loss),
        tariff: terms::of_building(conn, one.building)?.tariff,
        next_entry,
    };
    Ok(Sourced { known, from })
}

/// What would be replaced, and since when it is there: the part that is wrong, else the fixture.
fn subject(conn: &mut AnyConnection, one: &Deficiency) -> Result<Option<(Item, Installed)>> {
    let Some(id) = one.fixture else { return Ok(None) };
    if let Some(kind) = one.part {
        let there = parts::of_fixture(conn, id)?
            .into_iter()
            .rfind(|part| part.facts.kind == kind);
        let installed = there.map_or(Installed::Unknown, |part| part.facts.installed);
        return Ok(Some((Item::Part(kind), installed)));
    }
    let placed = fixtures::by_key(conn, &Scope::All, id)?;
    let facts = placed.fixture.facts;
    Ok(Some((Item::Fixture(facts.kind), facts.installed)))
}

/// What the repair costs: as given, as noted, its minutes at the price of an hour, or what one of its severity usually does.
fn repair(
    conn: &mut AnyConnection,
    one: &Deficiency,
    (prices, lives): (&office::Prices, &Lives),
    (instead, today): (Instead, NaiveDate),
    from: &mut Vec<String>,
) -> Result<Option<i64>> {
    if let Some(given) = instead.repair_minor {
        from.push("Repair: as given here.".to_owned());
        return Ok(Some(given));
    }
    if let Some(noted) = one.cost_minor {
        from.push("Repair: as noted at the last one.".to_owned());
        return Ok(Some(noted));
    }
    let minutes = match one.minutes {
        Some(minutes) => Some(minutes),
        None => minutes_of_cause(conn, one)?,
    };
    if let Some((minutes, hour)) = minutes.zip(prices.hour_minor) {
        from.push(format!(
            "Repair: {minutes} min at the office's price of an hour, parts left out."
        ));
        return Ok(Some(labour(minutes, hour)));
    }
    if let Some(minor) = usual_here(conn, one, today)? {
        from.push("Repair: the middle cost of earlier ones here.".to_owned());
        return Ok(Some(minor));
    }
    let usual = lives.remedy.get(&one.severity);
    if let Some((_, source)) = usual {
        let grave = one.severity.name().to_lowercase();
        from.push(format!(
            "Repair: what a {grave} one usually costs ({}).",
            source.phrase()
        ));
    }
    Ok(usual.map(|(minor, _)| *minor))
}

/// What deficiencies of the same check usually cost in the building, as the score's index takes it too.
fn usual_here(conn: &mut AnyConnection, one: &Deficiency, today: NaiveDate) -> Result<Option<i64>> {
    let Some(check) = one.check else { return Ok(None) };
    let Some(stored) = checks::by_id(conn, check)? else {
        return Ok(None);
    };
    // No database compares the end of time as text.
    let tomorrow = today.succ_opt().unwrap_or(today).and_time(NaiveTime::MIN);
    let usual = rating::usual_costs(conn, one.building, tomorrow)?;
    Ok(usual.get(stored.check.code.as_str()).copied())
}

/// The chance that it fails before somebody comes, when its age is known.
fn chance(
    life: &UsefulLife,
    lives: &Lives,
    installed: Installed,
    severity: Severity,
    (today, on): (NaiveDate, NaiveDate),
    from: &mut Vec<String>,
) -> Option<f64> {
    let since = installed.date()?;
    let years = |from: NaiveDate, to: NaiveDate| {
        let days = i32::try_from((to - from).num_days().max(0)).unwrap_or(i32::MAX);
        f64::from(days) / DAYS_A_YEAR
    };
    let condition = match severity {
        Severity::LifeThreatening | Severity::Severe => Condition::Unsafe,
        Severity::Moderate => Condition::Repair,
        Severity::Low => Condition::Watch,
    };
    let age = lives.effective_age(years(since, today), condition);
    let chance = life.lifetime().ok()?.fails_within(age, years(today, on));
    from.push(format!(
        "Fails before: {}, mean life {} years ({}), counted as {age:.1} years old in its condition.",
        life.item.name(),
        life.mean_years,
        life.life_source.phrase()
    ));
    Some(chance)
}

/// The minutes of the cause that was found last.
fn minutes_of_cause(conn: &mut AnyConnection, one: &Deficiency) -> Result<Option<f64>> {
    let known = &catalogue::builtin().map_err(Error::internal)?.symptoms;
    let last = diagnoses::of_deficiency(conn, one.id)?.into_iter().next();
    Ok(last
        .and_then(|last| known.cause(&last.cause))
        .map(|cause| cause.minutes))
}

/// Minutes at a price of the hour, minor units, rounded up to the next.
fn labour(minutes: f64, hour_minor: i64) -> i64 {
    let whole_minutes = format!("{:.0}", minutes.clamp(0.0, 10_000.0).ceil())
        .parse::<i64>()
        .unwrap_or_default();
    whole_minutes.saturating_mul(hour_minor).saturating_add(59) / 60
}

/// Whether it loses water, by its check; of a report nobody knows.
///
/// # Errors
/// When the database does not answer.
pub fn leaks(conn: &mut AnyConnection, one: &Deficiency) -> Result<bool> {
    let Some(check) = one.check else { return Ok(false) };
    let leaking = &catalogue::builtin().map_err(Error::internal)?.water.leaking;
    let stored = checks::by_id(conn, check)?;
    Ok(stored.is_some_and(|stored| leaking.contains(&stored.check.code)))
}
