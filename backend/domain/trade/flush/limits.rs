//! What a flush test is compared with, from the catalogue's figures, and the band that an office may set for itself. Decides that the
//! figures are there and in order.

use crate::domain::measure::{Amount, Unit};
use crate::domain::trade::{Catalogue, Figure};

/// A figure with its exact value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// The exact value.
    pub amount: Amount,
    /// The value as printed: "180 s".
    pub said: String,
    /// Where it comes from, as a phrase.
    pub source: String,
}

impl Bar {
    fn of(figure: &Figure, unit: Unit) -> Result<Self, String> {
        Ok(Self {
            amount: figure
                .amount(unit)
                .map_err(|error| format!("{}: {error}", figure.code))?,
            said: figure.value.clone(),
            source: figure.source.phrase(),
        })
    }

    /// The value in a unit, for drawings and files.
    #[must_use]
    pub fn in_unit(&self, unit: Unit) -> f64 {
        self.amount
            .in_unit(unit)
            .map_or(0.0, crate::domain::measure::Ratio::to_f64)
    }
}

/// The usual refill times of an office, as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    /// Quick below, such as "30 s".
    pub least: String,
    /// Slow above, such as "90 s".
    pub most: String,
}

/// Everything that a run is compared with.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// The least flow that the code expects of the supply.
    pub supply: Bar,
    /// The pressure at which it expects it.
    pub pressure: Bar,
    /// Refills are usual from here.
    pub usual_least: Bar,
    /// Refills are usual up to here, slow beyond.
    pub usual_most: Bar,
    /// Refills are slow up to here, restricted beyond.
    pub slow_most: Bar,
    /// The fewest flushes of a run.
    pub run_least: usize,
    /// The most flushes of a run.
    pub run_most: usize,
    /// The most that the refills of a steady run differ, of their mean.
    pub steady_most: Bar,
    /// The most water a flush may take by federal law.
    pub volume: Bar,
    /// The fewest readings among which a trend is looked for.
    pub trend_readings: usize,
    /// The chance of a trend among steady readings below which one is told, 0 to 1.
    pub trend_chance: f64,
}

impl Limits {
    /// The limits of a catalogue.
    ///
    /// # Errors
    /// A phrase when a figure is missing, measures something else, or the bands are out of order.
    pub fn of(catalogue: &Catalogue) -> Result<Self, String> {
        let figure = |code: &str| {
            catalogue
                .figure(code)
                .ok_or_else(|| format!("the figure \"{code}\" is missing; write it"))
        };
        let bar = |code: &str, unit| Bar::of(figure(code)?, unit);
        let count = |code: &str| {
            let counted = bar(code, Unit::Count)?;
            counted
                .amount
                .base()
                .to_whole()
                .and_then(|count| usize::try_from(count).ok())
                .ok_or_else(|| format!("{code}: \"{}\" is no count; write a whole number", counted.said))
        };
        let limits = Self {
            supply: bar("flush_supply_flow", Unit::GallonPerMinute)?,
            pressure: bar("flush_supply_pressure", Unit::Psi)?,
            usual_least: bar("flush_refill_usual_least", Unit::Second)?,
            usual_most: bar("flush_refill_usual_most", Unit::Second)?,
            slow_most: bar("flush_refill_slow_most", Unit::Second)?,
            run_least: count("flush_run_least")?,
            run_most: count("flush_run_most")?,
            steady_most: bar("flush_steady_most", Unit::Percent)?,
            volume: bar("flush_volume_federal", Unit::Gallon)?,
            trend_readings: count("flush_trend_readings")?,
            trend_chance: bar("flush_trend_chance", Unit::Percent)?.in_unit(Unit::Percent) / 100.0,
        };
        limits.in_order()
    }

    /// The same with an office's own usual band.
    ///
    /// # Errors
    /// A phrase when a time can't be read, or the band is out of order with the limit beyond which a refill is restricted.
    pub fn with_band(mut self, band: &Band) -> Result<Self, String> {
        let own = |text: &str| {
            Ok::<Bar, String>(Bar {
                amount: Amount::parse(text, Unit::Second).map_err(|error| error.to_string())?,
                said: with_seconds(text),
                source: "the office's own band".to_owned(),
            })
        };
        self.usual_least = own(&band.least)?;
        self.usual_most = own(&band.most)?;
        self.in_order()
    }

    fn in_order(self) -> Result<Self, String> {
        let under =
            |one: &Bar, other: &Bar| one.amount.compare(&other.amount).is_ok_and(|order| order.is_lt());
        if under(&self.usual_least, &self.usual_most)
            && !under(&self.slow_most, &self.usual_most)
            && (1..=self.run_most).contains(&self.run_least)
        {
            return Ok(self);
        }
        Err(format!(
            "{} to {} is no band below {}; write the shorter time first, and the longer one at most {}",
            self.usual_least.said, self.usual_most.said, self.slow_most.said, self.slow_most.said
        ))
    }
}

/// A typed time with its unit behind it when none was typed.
fn with_seconds(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(|c: char| c.is_ascii_digit()) && !text.contains(':') {
        format!("{text} s")
    } else {
        text.to_owned()
    }
}
