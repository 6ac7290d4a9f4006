//! The building itself and its portfolio.

use chrono_tz::Tz;

use super::{Context, Reading};
use crate::domain::register::inventory::Inventory;
use crate::domain::register::{BuildingFacts, BuildingText, PortfolioFacts, PortfolioText};
use crate::exchange::csv::Problem;
use crate::exchange::csv::fleet::columns::BUILDING_FACTS;
use crate::exchange::csv::fleet::record::{Overlay, Place, Record};
use crate::exchange::csv::fleet::{cells, statement::Statement};

/// Portfolio of a building that names none.
pub const DEFAULT_PORTFOLIO: &str = "MAIN";

pub(super) fn settle(
    statement: &Statement,
    known: Option<&Inventory>,
    context: &Context,
    reading: &mut Reading,
) -> Option<Inventory> {
    let empty = Record::new(statement.place.clone());
    let record = statement.building.as_ref().unwrap_or(&empty);
    if statement.building.is_none() && known.is_none() {
        reading
            .problems
            .push(not_there(&statement.code, &statement.place));
    }
    let portfolio = portfolio(statement, known, reading);
    let technician = technician(record, known, context, reading);
    Some(Inventory {
        id: known.and_then(|inventory| inventory.id),
        portfolio,
        technician,
        facts: facts(statement, record, known, context, reading)?,
        units: Vec::new(),
    })
}

fn not_there(code: &str, place: &Place) -> Problem {
    Problem::new(
        &place.file,
        place.line,
        "building",
        code,
        format!("There is no building {code}, neither in buildings.csv nor in the register."),
        "Add a row for it to buildings.csv, or mend the code.",
    )
}

fn facts(
    statement: &Statement,
    record: &Record,
    known: Option<&Inventory>,
    context: &Context,
    reading: &mut Reading,
) -> Option<BuildingFacts> {
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay.over(&BUILDING_FACTS, cells::building(known));
    }
    let mut name = overlay.text("building_name");
    if name.trim().is_empty() && known.is_none() {
        name.clone_from(&statement.code);
    }
    let text = BuildingText {
        code: statement.code.clone(),
        name,
        address: overlay.text("address"),
        time_zone: overlay.text("time_zone"),
        code_profile: overlay.text("code_profile"),
        length_unit: overlay.text("length_unit"),
        notice_hours: overlay.text("notice_hours"),
        joined_on: overlay.text("joined_on"),
        built_year: overlay.text("built_year"),
        base_joint: overlay.text("base_joint"),
    };
    let today = context
        .now
        .date_in(text.time_zone.trim().parse().unwrap_or(Tz::UTC));
    if statement.building.is_some() && text.joined_on.trim().is_empty() {
        reading.problems.push(record.problem(
            "joined_on",
            "The day the building joined is missing.",
            "Give it in one of the building's rows, such as 2026-01-05; nothing falls due before.",
        ));
    }
    match BuildingFacts::read(&text, today) {
        Ok(facts) => Some(facts),
        Err(errors) => {
            if statement.building.is_some() {
                let columns = [("code", "building"), ("name", "building_name")];
                reading.problems.extend(record.problems_of(&errors, &columns));
            }
            known.map(|known| known.facts.clone())
        }
    }
}

fn portfolio(statement: &Statement, known: Option<&Inventory>, reading: &mut Reading) -> String {
    let empty = Record::new(statement.place.clone());
    let record = statement.portfolio.as_ref().unwrap_or(&empty);
    let known_code = known.map_or(DEFAULT_PORTFOLIO, |known| &known.portfolio);
    let said = record.text("portfolio");
    let text = PortfolioText {
        code: if said.is_empty() { known_code } else { said }.to_owned(),
        // A name that is not given is settled when the whole file was read.
        name: Some(record.text("portfolio_name"))
            .filter(|name| !name.is_empty())
            .unwrap_or("unnamed")
            .to_owned(),
    };
    match PortfolioFacts::read(&text) {
        Ok(facts) => {
            let named = (!record.text("portfolio_name").is_empty()).then_some(facts.name);
            reading
                .problems
                .extend(reading.portfolios.say(&facts.code, named, record));
            facts.code
        }
        Err(errors) => {
            let columns = [("code", "portfolio"), ("name", "portfolio_name")];
            reading.problems.extend(record.problems_of(&errors, &columns));
            known_code.to_owned()
        }
    }
}

fn technician(
    record: &Record,
    known: Option<&Inventory>,
    context: &Context,
    reading: &mut Reading,
) -> Option<String> {
    let before = known.and_then(|known| known.technician.clone());
    let mut overlay = Overlay::new(Some(record));
    if let Some(known) = known {
        overlay = overlay.over(&BUILDING_FACTS, cells::building(known));
    }
    let email = overlay.text("technician").trim().to_lowercase();
    if email.is_empty() {
        return None;
    }
    if before.as_deref() != Some(&email) && !context.technicians.contains(&email) {
        reading.problems.push(record.problem(
            "technician",
            format!("There is no technician with the address {email}."),
            "Invite the technician first, mend the address, or leave it blank.",
        ));
    }
    Some(email)
}
