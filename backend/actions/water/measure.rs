//! Takes a measurement of a leak. Append-only: a new one counts, the old ones stay readable.

use crate::actions::results::staff_only;
use crate::clock::Now;
use crate::domain::register::DeficiencyId;
use crate::domain::register::person::Actor;
use crate::domain::result::{EventKind, WaterLoss};
use crate::domain::trade::water::{Loss, Method, measure as reckon};
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::store::deficiencies::{self, Event};
use crate::store::{Db, audit, water};

/// A measurement as typed.
#[derive(Debug, Clone)]
pub struct Measure {
    /// Of which deficiency.
    pub deficiency: DeficiencyId,
    /// How it was measured.
    pub method: Method,
    /// The figures as typed, by name; also `convention` or `drips_per_gallon` for drips.
    pub typed: Vec<(String, String)>,
}

/// Keeps a measurement and answers with what is lost.
///
/// # Errors
/// A sentence for each figure that can't be used; [`Error::NotFound`] outside of what the caller may see; a sentence when it is closed.
pub fn measure(db: &Db, actor: &Actor, now: Now, command: &Measure) -> Result<Loss> {
    staff_only(actor)?;
    let typed = |name: &str| {
        let found = command.typed.iter().find(|(known, _)| known == name);
        found.map_or_else(String::new, |(_, value)| value.trim().to_owned())
    };
    let knowledge = &catalogue::builtin().map_err(Error::internal)?.water;
    let loss = reckon(command.method, &typed, knowledge).map_err(Error::Fields)?;
    let names = command.method.asks().iter().map(|asked| asked.name);
    let kept: Vec<(String, String)> = names
        .chain(["convention", "drips_per_gallon"])
        .map(|name| (name.to_owned(), typed(name)))
        .filter(|(_, value)| !value.is_empty())
        .collect();
    db.write(|tx| {
        let one = deficiencies::find(tx, &actor.scope, command.deficiency)?;
        if !one.stands() {
            return Err(Error::refused(format!(
                "Number {} is closed and loses nothing. If it leaks again, record the failing check or report it anew.",
                one.id
            )));
        }
        let measured = WaterLoss {
            deficiency: one.id,
            method: command.method,
            typed: kept,
            loss: loss.clone(),
            measured_at: now.0,
            person: actor.person,
        };
        water::append(tx, &measured)?;
        let text = format!(
            "Water lost: {:.1} gal a day ({:.0} L). {}; {}.",
            loss.gallons_a_day(),
            loss.litres_a_day(),
            measured.typed_in_words(),
            loss.convention
        );
        deficiencies::append_event(
            tx,
            &Event {
                deficiency: one.id,
                at: now.0,
                person: actor.person,
                kind: EventKind::Noted,
                text,
                result: None,
            },
        )?;
        let subject = audit::Subject {
            kind: "deficiency",
            id: one.id.0,
        };
        let after = serde_json::json!({ "method": command.method.to_string(), "litres_a_day": loss.litres_a_day() });
        audit::note(tx, actor, now, "measure_water", subject, &(), &after)?;
        Ok(loss)
    })
}
