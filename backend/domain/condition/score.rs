//! The published federal deduction method, applied to an office's own records: what each deficiency takes away, which of them count
//! once, and what is reported. Decides the arithmetic; refuses to call the outcome an official score.
//!
//! ```
//! use anglestop::domain::condition::score::{Area, Defect, Method, score};
//! use anglestop::domain::trade::Severity;
//! let defects: Vec<Defect> = (1..=12)
//!     .map(|unit| Defect::new(Area::Unit, &unit.to_string(), "wc_flushes", Severity::LifeThreatening))
//!     .collect();
//! let found = score(&Method::published(), &defects, 25)?;
//! assert_eq!((found.unit_loss, found.score, found.passes), (28.8, 71.2, true));
//! # Ok::<(), String>(())
//! ```

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::domain::code::words;
use crate::domain::trade::{Severity, Source};

words! {
    /// Where a deficiency was found.
    Area "area" {
        Outside = "outside", "Outside";
        Inside = "inside", "Inside (common areas)";
        Unit = "unit", "Unit";
    }
}

/// What one deficiency takes away before it is divided by the units inspected, in tenths of a point, by area.
///
/// # Source
/// 88 FR 43371 (7 July 2023).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weights {
    /// Outside, tenths of a point.
    pub outside: i64,
    /// Inside, tenths of a point.
    pub inside: i64,
    /// In a unit, tenths of a point.
    pub unit: i64,
}

impl Weights {
    /// The weight in an area, tenths of a point.
    #[must_use]
    pub const fn in_area(&self, area: Area) -> i64 {
        match area {
            Area::Outside => self.outside,
            Area::Inside => self.inside,
            Area::Unit => self.unit,
        }
    }
}

/// The method as published from a day on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Method {
    /// The first day on which it holds.
    pub valid_from: NaiveDate,
    /// Life-threatening.
    pub life_threatening: Weights,
    /// Severe.
    pub severe: Weights,
    /// Moderate.
    pub moderate: Weights,
    /// Low.
    pub low: Weights,
    /// A score below this fails, tenths of a point.
    pub fails_below: i64,
    /// The units' part alone fails from this loss on, tenths of a point.
    pub unit_loss_fails_at: i64,
    /// The most that is reported then, tenths of a point.
    pub reported_at_most: i64,
    /// Where it was published.
    pub source: Source,
}

impl Method {
    /// The method as published in 2023.
    ///
    /// # Source
    /// 88 FR 43371 (7 July 2023): weights, the threshold of 60, the units' threshold of 30 and the reported 59. That the lower of
    /// score and 59 is reported is from memory.
    #[must_use]
    pub fn published() -> Self {
        let weights = |outside, inside, unit| Weights {
            outside,
            inside,
            unit,
        };
        Self {
            valid_from: NaiveDate::from_ymd_opt(2023, 7, 7).unwrap_or_default(),
            life_threatening: weights(496, 545, 600),
            severe: weights(122, 134, 148),
            moderate: weights(45, 50, 55),
            low: weights(20, 22, 24),
            fails_below: 600,
            unit_loss_fails_at: 300,
            reported_at_most: 590,
            source: Source::published("88 FR 43371 (7 July 2023)"),
        }
    }

    /// What a deficiency takes away, tenths of a point before it is divided by the units inspected.
    #[must_use]
    pub const fn weight(&self, severity: Severity, area: Area) -> i64 {
        match severity {
            Severity::LifeThreatening => self.life_threatening.in_area(area),
            Severity::Severe => self.severe.in_area(area),
            Severity::Moderate => self.moderate.in_area(area),
            Severity::Low => self.low.in_area(area),
        }
    }
}

/// The method that held on a day: the latest that had begun, else the first.
#[must_use]
pub fn method_on(methods: &[Method], day: NaiveDate) -> Option<&Method> {
    methods
        .iter()
        .filter(|method| method.valid_from <= day)
        .max_by_key(|method| method.valid_from)
        .or_else(|| methods.iter().min_by_key(|method| method.valid_from))
}

/// A deficiency that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Defect {
    /// In which area.
    pub area: Area,
    /// The unit, or the building of a common area; not looked at outside, where a deficiency counts once.
    pub place: String,
    /// Which deficiency of the standard.
    pub deficiency: String,
    /// How grave.
    pub severity: Severity,
}

impl Defect {
    /// A deficiency.
    #[must_use]
    pub fn new(area: Area, place: &str, deficiency: &str, severity: Severity) -> Self {
        Self {
            area,
            place: place.to_owned(),
            deficiency: deficiency.to_owned(),
            severity,
        }
    }

    /// What makes two the same: one deficiency counts once in a unit, once in a building's inside, once outside.
    fn key(&self) -> (Area, &str, &str) {
        let place = if self.area == Area::Outside {
            ""
        } else {
            self.place.as_str()
        };
        (self.area, place, self.deficiency.as_str())
    }
}

/// What one area and severity takes away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deduction {
    /// In which area.
    pub area: Area,
    /// How grave.
    pub severity: Severity,
    /// How many count.
    pub count: u32,
    /// The weight of each, points.
    pub weight: f64,
    /// Taken from the score, points.
    pub loss: f64,
}

/// The outcome.
#[derive(Debug, Clone, PartialEq)]
pub struct Score {
    /// 100 less all deductions, not below 0.
    pub score: f64,
    /// Taken by the units' part alone, points.
    pub unit_loss: f64,
    /// The score as reported: held down when the units' part alone fails.
    pub reported: f64,
    /// Whether the reported score is at or over the threshold.
    pub passes: bool,
    /// Units inspected.
    pub units_inspected: u32,
    /// What makes it, area by area, gravest first.
    pub deductions: Vec<Deduction>,
    /// Given deficiencies that were the same as another and did not count again.
    pub repeats: usize,
}

/// The deficiencies that count: of those that are the same, one, the gravest.
#[must_use]
pub fn counted<'a>(defects: impl IntoIterator<Item = &'a Defect>) -> Vec<&'a Defect> {
    let mut once: BTreeMap<(Area, &str, &str), &Defect> = BTreeMap::new();
    for defect in defects {
        let known = once.entry(defect.key()).or_insert(defect);
        if defect.severity.rank() > known.severity.rank() {
            *known = defect;
        }
    }
    once.into_values().collect()
}

/// Scores what was found in `units_inspected` units.
///
/// # Errors
/// A sentence when no unit was inspected: there is nothing to divide by.
pub fn score(method: &Method, defects: &[Defect], units_inspected: u32) -> Result<Score, String> {
    if units_inspected == 0 {
        return Err(
            "No unit was inspected, so there is no score. Give the number of units inspected, 1 or more."
                .to_owned(),
        );
    }
    let counted = counted(defects);
    let mut counts: BTreeMap<(Area, Severity), u32> = BTreeMap::new();
    for defect in &counted {
        *counts.entry((defect.area, defect.severity)).or_default() += 1;
    }
    let per_unit = |tenths: i64| tenths_as_points(tenths) / f64::from(units_inspected);
    let mut all = 0;
    let mut of_units = 0;
    let mut deductions = Vec::new();
    for ((area, severity), count) in counts {
        let weight = method.weight(severity, area);
        let tenths = i64::from(count) * weight;
        all += tenths;
        if area == Area::Unit {
            of_units += tenths;
        }
        deductions.push(Deduction {
            area,
            severity,
            count,
            weight: tenths_as_points(weight),
            loss: per_unit(tenths),
        });
    }
    let units = i64::from(units_inspected);
    // The comparisons are made in whole numbers, so that a loss of exactly 30 is one.
    let units_fail = of_units >= method.unit_loss_fails_at * units;
    let left = (1_000 * units - all).max(0);
    let score = per_unit(left);
    let (reported, passes) = if units_fail {
        (score.min(tenths_as_points(method.reported_at_most)), false)
    } else {
        (score, left >= method.fails_below * units)
    };
    Ok(Score {
        score,
        unit_loss: per_unit(of_units),
        reported,
        passes,
        units_inspected,
        deductions,
        repeats: defects.len() - counted.len(),
    })
}

/// Tenths of a point as points. The amounts are far below the whole numbers that a float holds exactly.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "sums of weights stay far below 2^53"
)]
fn tenths_as_points(tenths: i64) -> f64 {
    tenths as f64 / 10.0
}
