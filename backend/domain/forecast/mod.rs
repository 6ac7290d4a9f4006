//! What will have to be replaced in the years ahead, and what it costs: expected by kind and year, with quantiles. The sums are those of
//! their parts, in whole minor units. Knows neither buildings nor dates; ages come in as they count.

mod renewal;
mod spread;

use std::collections::BTreeMap;

pub use renewal::{Renewals, renewals};
pub use spread::{Alike, quantiles};

use spread::{number, whole};

use crate::domain::trade::life::{Item, Lives};

/// The most years that are looked ahead.
pub const MOST_YEARS: usize = 30;

/// One that stands there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Which kind.
    pub item: Item,
    /// The age that counts, years, 0 or more.
    pub age_years: f64,
}

/// What is expected.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Expected {
    /// Replacements.
    pub replacements: f64,
    /// Their cost, minor units.
    pub cost_minor: i64,
}

impl Expected {
    fn add(&mut self, other: Self) {
        self.replacements += other.replacements;
        self.cost_minor += other.cost_minor;
    }
}

/// One kind over the years.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Which kind.
    pub item: Item,
    /// How many stand there.
    pub standing: usize,
    /// Year by year.
    pub years: Vec<Expected>,
    /// All years together.
    pub total: Expected,
}

/// A sum with how far it may lie from what is expected.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sum {
    /// What is expected.
    pub expected: Expected,
    /// One in ten stays below, minor units.
    pub low_minor: i64,
    /// One in two, minor units.
    pub median_minor: i64,
    /// Nine in ten, minor units.
    pub high_minor: i64,
}

/// What is expected of a building or a portfolio.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// By kind, fixtures first.
    pub lines: Vec<Line>,
    /// Each year over all kinds.
    pub years: Vec<Sum>,
    /// Everything.
    pub total: Sum,
    /// Those that stand there but have no life in the catalogue and so are not forecast.
    pub without_life: usize,
}

/// Looks `years` ahead.
///
/// # Errors
/// A sentence when the years are out of range or a life can't be reckoned with.
pub fn forecast(standing: &[Standing], lives: &Lives, years: usize) -> Result<Forecast, String> {
    if !(1..=MOST_YEARS).contains(&years) {
        return Err(format!(
            "A forecast of {years} years can't be made. Give 1 to {MOST_YEARS}."
        ));
    }
    let mut alike: BTreeMap<(Item, i64), usize> = BTreeMap::new();
    let mut without_life = 0;
    for one in standing {
        if lives.of.contains_key(&one.item) {
            *alike.entry((one.item, months(one.age_years))).or_default() += 1;
        } else {
            without_life += 1;
        }
    }
    let mut parts: BTreeMap<Item, Parts> = BTreeMap::new();
    let mut by_year: Vec<Vec<Alike>> = vec![Vec::new(); years];
    let mut in_all = Vec::new();
    for ((item, months), places) in alike {
        let Some(life) = lives.of.get(&item) else { continue };
        let cost_minor = life.replacement_minor;
        let found = renewals(&life.lifetime()?, number(months) / 12.0, years);
        let part = parts.entry(item).or_insert_with(|| Parts::new(years));
        part.standing += places;
        let count = number(i64::try_from(places).unwrap_or(i64::MAX));
        for ((sum, groups), expected) in part.years.iter_mut().zip(&mut by_year).zip(&found.by_year) {
            *sum += count * expected;
            // In one year hardly any place needs two, so one replacement stands for what is expected.
            let chance = expected.min(1.0);
            groups.push(Alike {
                cost_minor,
                chances: vec![1.0 - chance, chance],
                places,
            });
        }
        in_all.push(Alike {
            cost_minor,
            chances: found.in_all,
            places,
        });
    }
    let lines: Vec<Line> = parts
        .into_iter()
        .filter_map(|(item, part)| Some(part.line(item, lives.of.get(&item)?.replacement_minor)))
        .collect();
    let of_year = |year: usize| total(lines.iter().filter_map(|line| line.years.get(year)));
    Ok(Forecast {
        total: sum(total(lines.iter().map(|line| &line.total)), &in_all),
        years: by_year
            .iter()
            .enumerate()
            .map(|(year, groups)| sum(of_year(year), groups))
            .collect(),
        lines,
        without_life,
    })
}

/// Whole months of an age, so that what is as good as alike is reckoned once.
fn months(age_years: f64) -> i64 {
    whole(age_years.clamp(0.0, 500.0) * 12.0)
}

fn total<'a>(parts: impl Iterator<Item = &'a Expected>) -> Expected {
    let mut all = Expected::default();
    for part in parts {
        all.add(*part);
    }
    all
}

fn sum(expected: Expected, groups: &[Alike]) -> Sum {
    let found = quantiles(groups, &[0.1, 0.5, 0.9]);
    let at = |place: usize| found.get(place).copied().unwrap_or_default();
    Sum {
        expected,
        low_minor: at(0),
        median_minor: at(1),
        high_minor: at(2),
    }
}

/// A kind while it is summed up.
struct Parts {
    standing: usize,
    years: Vec<f64>,
}

impl Parts {
    fn new(years: usize) -> Self {
        Self {
            standing: 0,
            years: vec![0.0; years],
        }
    }

    fn line(self, item: Item, cost_minor: i64) -> Line {
        let years: Vec<Expected> = self
            .years
            .into_iter()
            .map(|replacements| Expected {
                replacements,
                cost_minor: whole(replacements * number(cost_minor)),
            })
            .collect();
        Line {
            item,
            standing: self.standing,
            total: total(years.iter()),
            years,
        }
    }
}
