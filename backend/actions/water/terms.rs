//! Sets what holds in one building instead of the office's own: what water costs, which programme of times to correct.

use crate::actions::deficiencies::times;
use crate::actions::register::rights;
use crate::clock::Now;
use crate::domain::register::person::Actor;
use crate::domain::register::{BuildingId, BuildingTerms};
use crate::domain::trade::water::{Tariff, TariffText};
use crate::error::{Error, FieldError, Result};
use crate::store::{Db, audit, buildings, terms};

/// Terms as typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TermsText {
    /// What water costs.
    pub tariff: TariffText,
    /// Code of the programme of times to correct; empty for the office's.
    pub programme: String,
}

/// The command.
#[derive(Debug, Clone)]
pub struct SetTerms {
    /// Of which building.
    pub building: BuildingId,
    /// The terms.
    pub text: TermsText,
}

/// Sets the terms of a building. They hold from now on; a deficiency keeps the deadline it was opened with.
///
/// # Errors
/// A sentence for each field that can't be used; [`Error::Forbidden`] for anybody but a manager.
pub fn set_terms(db: &Db, actor: &Actor, now: Now, command: &SetTerms) -> Result<()> {
    rights::manager(actor, "set the terms of a building")?;
    let mut errors = Vec::new();
    let tariff = Tariff::read(&command.text.tariff).unwrap_or_else(|wrong| {
        errors.extend(wrong);
        None
    });
    let programme = command.text.programme.trim();
    let known = times::programmes()?;
    if !programme.is_empty() && !known.iter().any(|one| one.code == programme) {
        let codes: Vec<&str> = known.iter().map(|one| one.code.as_str()).collect();
        errors.push(FieldError::new(
            "programme",
            format!(
                "“{programme}” is no programme. Choose one of {}, or none for the office's.",
                codes.join(", ")
            ),
        ));
    }
    if !errors.is_empty() {
        return Err(Error::Fields(errors));
    }
    let after = BuildingTerms {
        tariff,
        programme: programme.to_owned(),
    };
    db.write(|tx| {
        let building = buildings::by_key(tx, &actor.scope, command.building)?;
        let before = terms::of_building(tx, building.id)?;
        terms::set(tx, building.id, &after)?;
        let told = |terms: &BuildingTerms| {
            serde_json::json!({
                "tariff": terms.tariff.as_ref().map(Tariff::phrase),
                "programme": terms.programme,
            })
        };
        let subject = audit::Subject {
            kind: "building",
            id: building.id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "set_terms",
            subject,
            &told(&before),
            &told(&after),
        )
    })
}
