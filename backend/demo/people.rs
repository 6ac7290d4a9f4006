//! The people of the invented office: a manager, a technician for every few hundred units, an owner a portfolio.

use super::Scenario;
use super::chance::Chance;
use super::words::Words;
use crate::domain::register::person::Role;

/// Units that one technician looks after.
const UNITS_A_TECHNICIAN: usize = 400;

/// Somebody of the office.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// As shown.
    pub name: String,
    /// Ends in `.example`.
    pub email: String,
    /// What they do.
    pub role: Role,
    /// Local hour of the digest.
    pub digest_hour: i64,
    /// For an owner: which portfolio.
    pub portfolio: Option<usize>,
}

/// How many portfolios the fleet has: two for a small one, so that there is a neighbour.
#[must_use]
pub fn portfolios(scenario: &Scenario, words: &Words) -> usize {
    (scenario.units / 800 + 2).min(words.portfolios.len())
}

/// How many technicians there are; at least two.
#[must_use]
pub fn technicians(scenario: &Scenario) -> usize {
    (scenario.units / UNITS_A_TECHNICIAN + 1).max(2)
}

/// Everybody: the manager first, then the technicians, then the owners.
#[must_use]
pub fn everybody(scenario: &Scenario, words: &Words) -> Vec<Person> {
    let mut chance = Chance::new(scenario.seed, 1);
    let mut number = 0;
    let mut person = |role: Role, portfolio: Option<usize>| {
        number += 1;
        let (first, last) = (chance.word(&words.first_names), chance.word(&words.last_names));
        let address = format!(
            "{}.{}{number}@brindle-office.example",
            first.to_lowercase(),
            last.to_lowercase()
        );
        Person {
            name: format!("{first} {last}"),
            email: address,
            role,
            digest_hour: 6,
            portfolio,
        }
    };
    let mut all = vec![person(Role::Manager, None)];
    all.extend((0..technicians(scenario)).map(|_| person(Role::Technician, None)));
    all.extend((0..portfolios(scenario, words)).map(|portfolio| person(Role::Owner, Some(portfolio))));
    all
}
