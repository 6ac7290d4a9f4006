//! What the open leaks add up to, and what waiting a week costs: of one building, or of all that a person may see.

use std::collections::BTreeMap;

use super::words;
use crate::domain::measure::LengthUnit;
use crate::domain::register::BuildingId;
use crate::domain::register::person::Scope;
use crate::domain::trade::water::DAYS_A_WEEK;
use crate::error::{Error, Result};
use crate::exchange::catalogue;
use crate::language::Language;
use crate::store::lists::water::{self, Leak};
use crate::store::{AnyConnection, terms};

/// The open leaks of a scope.
pub(in crate::web::pages) struct Leaks {
    /// Every open leak, the largest loss first.
    pub all: Vec<Leak>,
    /// What the measured ones lose, litres a day.
    pub litres_a_day: f64,
    /// What waiting a week costs, by currency, minor units.
    pub week_minor: BTreeMap<String, i64>,
    /// Measured leaks where the building has no tariff.
    pub without_tariff: usize,
}

impl Leaks {
    /// Reads them.
    pub fn load(conn: &mut AnyConnection, scope: &Scope, building: Option<BuildingId>) -> Result<Self> {
        let known = &catalogue::builtin().map_err(Error::internal)?.water;
        let leaking: Vec<&str> = known.leaking.iter().map(|code| code.as_str()).collect();
        let all = water::leaks(conn, scope, building, &leaking)?;
        let terms = terms::all(conn)?;
        let mut leaks = Self {
            all,
            litres_a_day: 0.0,
            week_minor: BTreeMap::new(),
            without_tariff: 0,
        };
        for leak in &leaks.all {
            let Some(loss) = &leak.loss else { continue };
            leaks.litres_a_day += loss.litres_a_day();
            match terms.get(&leak.building).and_then(|terms| terms.tariff.as_ref()) {
                Some(tariff) => {
                    let week = leaks.week_minor.entry(tariff.currency.clone()).or_default();
                    *week += tariff.cost_of(loss, DAYS_A_WEEK);
                }
                None => leaks.without_tariff += 1,
            }
        }
        Ok(leaks)
    }

    /// How many were measured.
    pub fn measured(&self) -> usize {
        self.all.iter().filter(|leak| leak.loss.is_some()).count()
    }

    /// What waiting a week costs, in words; empty when nothing is known of it.
    pub fn week(&self, language: Language) -> String {
        let each: Vec<String> = self
            .week_minor
            .iter()
            .map(|(currency, minor)| words::amount(*minor, currency))
            .collect();
        language.listed(&each)
    }

    /// All of it in one or two sentences; none when no leak is open.
    pub fn sentence(&self, language: Language, unit: LengthUnit) -> Option<String> {
        if self.all.is_empty() {
            return None;
        }
        let measured = self.measured();
        let not_measured = self.all.len() - measured;
        let counted = |key, number: usize| {
            let said = language.say(key).with("count", number);
            said.with("number", language.grouped(number))
        };
        let mut said = Vec::new();
        if measured > 0 {
            let volume = words::volume(language, self.litres_a_day, unit);
            said.push(counted("water-measured-leaks", measured).with("volume", volume));
        }
        let week = self.week(language);
        if !week.is_empty() {
            said.push(language.say("water-week-costs").with("cost", week));
        }
        if not_measured > 0 {
            said.push(counted("water-not-measured", not_measured));
        }
        if self.without_tariff > 0 {
            said.push(counted("water-without-tariff", self.without_tariff));
        }
        let said: Vec<String> = said.into_iter().map(String::from).collect();
        Some(said.join(" "))
    }
}
