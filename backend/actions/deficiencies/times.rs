//! The times to correct that the office chose: a programme of the catalogue, any severity changed from it, and what the second time does
//! to a severity. A building may hold to another programme. They hold for what opens from then on; a deficiency keeps its deadline.

use crate::clock::Now;
use crate::domain::code::Coded;
use crate::domain::register::BuildingId;
use crate::domain::register::person::{Actor, Role};
use crate::domain::result::times::{parse, text, with};
use crate::domain::trade::correction::{CorrectionTimes, Programme};
use crate::domain::trade::{Escalation, Severity};
use crate::error::{Error, FieldError, Result};
use crate::exchange::catalogue;
use crate::store::{AnyConnection, Db, audit, settings, terms};

/// The name under which the programme is kept.
pub(in crate::actions) const PROGRAMME: &str = "correction.programme";
/// The name under which it is kept what the second time does.
pub(in crate::actions) const ESCALATION: &str = "correction.escalation";

/// The name under which a severity's own time is kept.
pub(in crate::actions) fn key(severity: Severity) -> String {
    format!("correction.{severity}")
}

/// The programmes that can be chosen, the default first.
///
/// # Errors
/// When the built-in catalogue can't be read.
pub fn programmes() -> Result<&'static [Programme]> {
    Ok(&catalogue::builtin().map_err(Error::internal)?.programmes)
}

fn programme(code: &str) -> Result<Option<&'static Programme>> {
    Ok(programmes()?.iter().find(|programme| programme.code == code))
}

/// What the office chose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Times {
    /// Code of the programme.
    pub programme: String,
    /// A severity's own time, as `24 h`, `30 d` or `none`; empty takes the programme's. In the order of the severities.
    pub own: Vec<(Severity, String)>,
    /// What the second time does to a severity.
    pub escalation: Escalation,
}

/// What the office chose, as a form shows it.
///
/// # Errors
/// When the database does not answer.
pub fn chosen(conn: &mut AnyConnection) -> Result<Times> {
    let own = Severity::ALL
        .iter()
        .map(|severity| {
            Ok((
                *severity,
                settings::get(conn, &key(*severity))?.unwrap_or_default(),
            ))
        })
        .collect::<Result<_>>()?;
    let chosen = settings::get(conn, PROGRAMME)?.unwrap_or_default();
    let programme = match programme(&chosen)? {
        Some(programme) => programme.code.clone(),
        None => programmes()?
            .first()
            .map(|programme| programme.code.clone())
            .unwrap_or_default(),
    };
    Ok(Times {
        programme,
        own,
        escalation: escalation(conn)?,
    })
}

/// What the second time within twelve months does to a severity; one grade graver unless the office chose otherwise.
///
/// # Errors
/// When the database does not answer.
pub fn escalation(conn: &mut AnyConnection) -> Result<Escalation> {
    let chosen = settings::get(conn, ESCALATION)?.unwrap_or_default();
    Ok(Escalation::from_code(&chosen).unwrap_or(Escalation::OneGrade))
}

/// The times that hold now in a building: those of its own programme, else the office's.
///
/// # Errors
/// When the database does not answer.
pub fn in_building(conn: &mut AnyConnection, building: BuildingId) -> Result<CorrectionTimes> {
    let own = terms::of_building(conn, building)?.programme;
    match programme(&own)? {
        Some(programme) => Ok(programme.times),
        None => current(conn),
    }
}

/// The times that hold now.
///
/// # Errors
/// When the database does not answer.
pub fn current(conn: &mut AnyConnection) -> Result<CorrectionTimes> {
    let chosen = chosen(conn)?;
    let mut times =
        programme(&chosen.programme)?.map_or(CorrectionTimes::DEFAULT, |programme| programme.times);
    for (severity, own) in &chosen.own {
        if let Ok(allowance) = parse(own) {
            times = with(times, *severity, allowance);
        }
    }
    Ok(times)
}

/// Chooses the times.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::Forbidden`] for anybody but a manager.
pub fn choose(db: &Db, actor: &Actor, now: Now, times: &Times) -> Result<()> {
    if actor.role != Role::Manager {
        return Err(Error::Forbidden(
            "The times to correct are set by a manager.".to_owned(),
        ));
    }
    let mut errors = Vec::new();
    if programme(&times.programme)?.is_none() {
        let codes: Vec<&str> = programmes()?
            .iter()
            .map(|programme| programme.code.as_str())
            .collect();
        errors.push(FieldError::new(
            "programme",
            format!(
                "“{}” is no programme. Choose one of {}.",
                times.programme,
                codes.join(", ")
            ),
        ));
    }
    let mut values = vec![
        (PROGRAMME.to_owned(), times.programme.clone()),
        (ESCALATION.to_owned(), times.escalation.to_string()),
    ];
    for (severity, own) in &times.own {
        if own.trim().is_empty() {
            values.push((key(*severity), String::new()));
            continue;
        }
        match parse(own) {
            Ok(allowance) => values.push((key(*severity), text(allowance))),
            Err(sentence) => errors.push(FieldError::new(severity.code(), sentence)),
        }
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    db.write(|tx| {
        let before = chosen(tx)?;
        for (key, value) in &values {
            settings::set(tx, key, value)?;
        }
        let after = chosen(tx)?;
        let told = |times: &Times| {
            let own = times.own.iter().filter(|(_, own)| !own.is_empty());
            let own: serde_json::Map<_, _> = own
                .map(|(severity, own)| (severity.to_string(), own.clone().into()))
                .collect();
            serde_json::json!({ "programme": times.programme, "own": own, "escalation": times.escalation.to_string() })
        };
        let subject = audit::Subject {
            kind: "settings",
            id: 0,
        };
        audit::note(
            tx,
            actor,
            now,
            "choose_correction_times",
            subject,
            &told(&before),
            &told(&after),
        )
    })
}
