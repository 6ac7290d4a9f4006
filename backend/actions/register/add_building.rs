//! Adds a building to a portfolio.

use super::{rights, snapshot};
use crate::clock::Now;
use crate::domain::field::FieldError;
use crate::domain::register::person::{Actor, Scope};
use crate::domain::register::{Building, BuildingFacts, BuildingId, BuildingText, PersonId, PortfolioId};
use crate::error::{Error, Result};
use crate::store::audit::{self, Subject};
use crate::store::{Db, Tx, buildings, portfolios};

/// A building as typed, with whose it is and who looks after it.
#[derive(Debug, Clone, Default)]
pub struct BuildingForm {
    /// Code of the portfolio.
    pub portfolio: String,
    /// Mail address of the technician, empty for nobody.
    pub technician: String,
    /// What it is.
    pub text: BuildingText,
}

/// Adds a building. Its technician sees it from then on.
///
/// # Errors
/// A sentence for each field that can't be used, or that the code is taken.
pub fn add(db: &Db, actor: &Actor, now: Now, form: &BuildingForm) -> Result<BuildingId> {
    rights::manager(actor, "add a building")?;
    let facts = BuildingFacts::read(&form.text, form.text.date_there(now.0));
    db.write(|tx| {
        let (portfolio, technician, facts) = resolve(tx, form, facts)?;
        if buildings::by_code(tx, &Scope::All, &facts.code).is_ok() {
            return Err(taken(&facts.code));
        }
        let id = buildings::insert(tx, portfolio, technician, &facts, now.0)?;
        if let Some(technician) = technician {
            buildings::let_see(tx, technician, id)?;
        }
        let building = Building {
            id,
            portfolio,
            technician,
            facts,
        };
        let subject = Subject {
            kind: "building",
            id: id.0,
        };
        audit::note(
            tx,
            actor,
            now,
            "add_building",
            subject,
            &(),
            &snapshot::building(&building),
        )?;
        Ok(id)
    })
}

/// The refusal of a code that another building has.
pub(super) fn taken(code: &str) -> Error {
    Error::field(
        "code",
        format!("Building {code} is there already. Choose another code."),
    )
}

/// Finds portfolio and technician, and tells everything that is wrong together.
pub(super) fn resolve(
    tx: &mut Tx<'_>,
    form: &BuildingForm,
    facts: Result<BuildingFacts, Vec<FieldError>>,
) -> Result<(PortfolioId, Option<PersonId>, BuildingFacts)> {
    let mut errors = Vec::new();
    let code = form.portfolio.trim().to_uppercase();
    let portfolio = portfolios::by_code(tx, &code)?;
    if portfolio.is_none() {
        let sentence = if code.is_empty() {
            "Portfolio is empty. Choose whose building it is.".to_owned()
        } else {
            format!("There is no portfolio {code}. Choose one that is there, or add it first.")
        };
        errors.push(FieldError::new("portfolio", sentence));
    }
    let email = form.technician.trim().to_lowercase();
    let technician = buildings::technicians(tx)?
        .into_iter()
        .find(|person| person.email == email)
        .map(|person| person.id);
    if technician.is_none() && !email.is_empty() {
        errors.push(FieldError::new(
            "technician",
            format!("There is no technician {email}. Choose one of the people, or leave it empty."),
        ));
    }
    match (facts, portfolio) {
        (Ok(facts), Some(portfolio)) if errors.is_empty() => Ok((portfolio.id, technician, facts)),
        (facts, _) => {
            errors.extend(facts.err().unwrap_or_default());
            Err(Error::Fields(errors))
        }
    }
}
