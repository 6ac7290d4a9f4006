//! What water costs where a building stands: a price for water and one for sewer, per the volume that the bill counts in.
//! Decides the money that a loss costs; knows no currency but its word.

use super::loss::Loss;
use crate::domain::code::{Coded as _, words};
use crate::domain::field::FieldError;
use crate::domain::measure::Unit;

/// Days of a week.
pub const DAYS_A_WEEK: f64 = 7.0;

/// The dearest volume that is believed, minor units: ten thousand of the currency.
const MOST_MINOR: i64 = 1_000_000;

words! {
    /// The volume that a bill counts in.
    Billed "billing unit" {
        Ccf = "ccf", "CCF (hundred cubic feet)";
        Kgal = "kgal", "kgal (thousand US gallons)";
        CubicMetre = "m3", "m³ (cubic metre)";
    }
}

impl Billed {
    /// The unit of measure.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Self::Ccf => Unit::HundredCubicFeet,
            Self::Kgal => Unit::ThousandGallons,
            Self::CubicMetre => Unit::CubicMetre,
        }
    }

    /// Litres in it.
    #[must_use]
    pub fn litres(self) -> f64 {
        self.unit().factor().to_f64() / Unit::Litre.factor().to_f64()
    }
}

/// A tariff.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tariff {
    /// Water, minor units of the currency per billing unit.
    pub water_minor: i64,
    /// Sewer, minor units of the currency per billing unit; 0 where it is not billed by volume.
    pub sewer_minor: i64,
    /// The billing unit.
    pub billed: Billed,
    /// The currency as the office writes it: `USD`, `EUR`.
    pub currency: String,
}

/// A tariff as typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TariffText {
    /// Price of water, `4.63`; empty for no tariff.
    pub water_price: String,
    /// Price of sewer; empty for none.
    pub sewer_price: String,
    /// Code of the billing unit.
    pub billed: String,
    /// Currency.
    pub currency: String,
}

impl From<&Tariff> for TariffText {
    fn from(tariff: &Tariff) -> Self {
        Self {
            water_price: price(tariff.water_minor),
            sewer_price: price(tariff.sewer_minor),
            billed: tariff.billed.to_string(),
            currency: tariff.currency.clone(),
        }
    }
}

fn price(minor: i64) -> String {
    format!("{}.{:02}", minor / 100, minor % 100)
}

impl Tariff {
    /// Reads a tariff; none when nothing was typed for a price.
    ///
    /// # Errors
    /// A sentence for each field that can't be used.
    pub fn read(text: &TariffText) -> Result<Option<Self>, Vec<FieldError>> {
        if text.water_price.trim().is_empty() && text.sewer_price.trim().is_empty() {
            return Ok(None);
        }
        let mut errors = Vec::new();
        let mut amount = |name: &str, given: &str| match given.trim() {
            "" => 0,
            given => read_price(given).unwrap_or_else(|sentence| {
                errors.push(FieldError::new(name, sentence));
                0
            }),
        };
        let water_minor = amount("water_price", &text.water_price);
        let sewer_minor = amount("sewer_price", &text.sewer_price);
        let billed = match text.billed.trim() {
            "" => Billed::Ccf,
            code => Billed::from_code(code).unwrap_or_else(|sentence| {
                errors.push(FieldError::new("billed", sentence));
                Billed::Ccf
            }),
        };
        let currency = text.currency.trim().to_uppercase();
        if currency.len() != 3 || !currency.chars().all(|c| c.is_ascii_uppercase()) {
            let sentence = format!("“{currency}” is no currency code. Write its three letters, such as USD.");
            errors.push(FieldError::new("currency", sentence));
        }
        if errors.is_empty() {
            Ok(Some(Self {
                water_minor,
                sewer_minor,
                billed,
                currency,
            }))
        } else {
            Err(errors)
        }
    }

    /// What so many litres cost, minor units, rounded to the nearest.
    #[must_use]
    pub fn cost_minor(&self, litres: f64) -> i64 {
        to_whole(litres / self.billed.litres() * to_f64(self.water_minor + self.sewer_minor))
    }

    /// What a loss costs in so many days, minor units.
    #[must_use]
    pub fn cost_of(&self, loss: &Loss, days: f64) -> i64 {
        self.cost_minor(loss.litres_a_day() * days)
    }

    /// The tariff in words: `4.63 + 5.10 USD per CCF`.
    #[must_use]
    pub fn phrase(&self) -> String {
        format!(
            "{} water and {} sewer, {} per {}",
            price(self.water_minor),
            price(self.sewer_minor),
            self.currency,
            self.billed.unit().symbol()
        )
    }
}

fn read_price(given: &str) -> Result<i64, String> {
    let minor = crate::domain::result::money::parse(given)?;
    if minor > MOST_MINOR {
        return Err(format!(
            "“{given}” is over 10,000.00 for one billing unit. Check the figure and the unit."
        ));
    }
    Ok(minor)
}

/// # Source
/// Prices are at most 2,000,000 minor units, exact in a floating-point number.
#[expect(
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "prices are far below the 15 digits that a floating-point number keeps"
)]
fn to_f64(minor: i64) -> f64 {
    minor as f64
}

/// The nearest whole number; the ends of what fits for what does not.
#[expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    reason = "the conversion saturates, and money at the ends is nobody's bill"
)]
fn to_whole(value: f64) -> i64 {
    value.round() as i64
}
