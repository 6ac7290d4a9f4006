//! Volumes and money of leaks as people read them, the building's own unit first.

use crate::domain::measure::LengthUnit;
use crate::domain::result::{WaterLoss, money};
use crate::domain::trade::water::{Loss, Tariff};
use crate::language::Language;

/// Litres of a US gallon, from a loss of one.
const LITRES_A_GALLON: f64 = 3.785_411_784;

/// A number of volume: one decimal below 10, else whole with its thousands apart.
///
/// ```
/// use anglestop::language::Language;
/// use anglestop::web::pages::water::words::number;
/// let said = |value| number(Language::ENGLISH, value);
/// assert_eq!(said(8.64), "8.6");
/// assert_eq!(said(0.02), "under 0.1");
/// assert_eq!(said(12_898.3), "12,898");
/// ```
#[must_use]
pub fn number(language: Language, value: f64) -> String {
    if value <= 0.0 {
        "0".to_owned()
    } else if value < 0.05 {
        language.say("water-under-tenth").into()
    } else if value < 9.95 {
        language.decimal(value, 1)
    } else {
        let whole = format!("{value:.0}");
        whole.parse().map_or(whole, |whole| language.grouped(whole))
    }
}

/// So many litres in both units, the building's first: `8.6 gal (33 L)`.
#[must_use]
pub fn volume(language: Language, litres: f64, unit: LengthUnit) -> String {
    let (gal, l) = (
        number(language, litres / LITRES_A_GALLON),
        number(language, litres),
    );
    match unit {
        LengthUnit::Inch => format!("{gal} gal ({l} L)"),
        LengthUnit::Millimetre => format!("{l} L ({gal} gal)"),
    }
}

/// What so many litres cost, empty without a tariff.
#[must_use]
pub fn cost(litres: f64, tariff: Option<&Tariff>) -> String {
    tariff.map_or_else(String::new, |tariff| {
        amount(tariff.cost_minor(litres), &tariff.currency)
    })
}

/// An amount with its currency.
#[must_use]
pub fn amount(minor: i64, currency: &str) -> String {
    format!("{} {currency}", money::text(minor)).trim().to_owned()
}

/// A loss a day in words.
#[must_use]
pub fn a_day(language: Language, loss: &Loss, unit: LengthUnit) -> String {
    let said = language.say("water-a-day");
    said.with("volume", volume(language, loss.litres_a_day(), unit))
        .into()
}

/// The figures of a measurement as they were typed, in one line.
#[must_use]
pub fn typed(language: Language, kept: &WaterLoss) -> String {
    let said = kept
        .figures()
        .map(|(label, typed)| format!("{}: {typed}", language.sentence(label)));
    said.collect::<Vec<_>>().join(", ")
}
