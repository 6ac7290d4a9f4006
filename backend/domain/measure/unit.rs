//! The units people measure with, each with its exact factor. Decides factors and spellings; compares nothing.

use super::Ratio;
use crate::domain::code::{Coded, words};

words! {
    /// What is measured.
    Quantity "quantity" {
        Length = "length", "length";
        Time = "time", "time";
        Volume = "volume", "volume";
        Flow = "flow", "flow";
        Pressure = "pressure", "pressure";
        Temperature = "temperature", "temperature";
        Count = "count", "count";
        Percent = "percent", "percentage";
    }
}

words! {
    /// A unit of measure.
    Unit "unit" {
        Inch = "in", "inches";
        Foot = "ft", "feet";
        Millimetre = "mm", "millimetres";
        Centimetre = "cm", "centimetres";
        Metre = "m", "metres";
        Second = "s", "seconds";
        Minute = "min", "minutes";
        Hour = "h", "hours";
        Gallon = "gal", "US gallons";
        Quart = "qt", "US quarts";
        Cup = "cup", "US cups";
        FluidOunce = "oz", "US fluid ounces";
        ImperialGallon = "imp_gal", "imperial gallons";
        CubicFoot = "ft3", "cubic feet";
        CubicMetre = "m3", "cubic metres";
        HundredCubicFeet = "CCF", "hundred cubic feet";
        ThousandGallons = "kgal", "thousand US gallons";
        Litre = "L", "litres";
        Millilitre = "mL", "millilitres";
        GallonPerMinute = "gpm", "gallons a minute";
        LitrePerMinute = "L/min", "litres a minute";
        Psi = "psi", "pounds per square inch";
        Kilopascal = "kPa", "kilopascals";
        Bar = "bar", "bar";
        Fahrenheit = "F", "degrees Fahrenheit";
        Celsius = "C", "degrees Celsius";
        Count = "count", "pieces";
        Percent = "%", "per cent";
    }
}

impl Quantity {
    /// The units of this quantity, as a phrase for a sentence.
    #[must_use]
    pub fn units_in_words(self) -> String {
        let units: Vec<&str> = Unit::ALL
            .iter()
            .filter(|unit| unit.quantity() == self)
            .map(|unit| unit.code())
            .collect();
        units.join(", ")
    }

    /// Whether a value below zero can be measured.
    #[must_use]
    pub const fn may_be_negative(self) -> bool {
        matches!(self, Self::Temperature)
    }
}

impl Unit {
    /// What the unit measures.
    #[must_use]
    pub const fn quantity(self) -> Quantity {
        match self {
            Self::Inch | Self::Foot | Self::Millimetre | Self::Centimetre | Self::Metre => Quantity::Length,
            Self::Second | Self::Minute | Self::Hour => Quantity::Time,
            Self::Gallon
            | Self::Quart
            | Self::Cup
            | Self::FluidOunce
            | Self::ImperialGallon
            | Self::CubicFoot
            | Self::CubicMetre
            | Self::HundredCubicFeet
            | Self::ThousandGallons
            | Self::Litre
            | Self::Millilitre => Quantity::Volume,
            Self::GallonPerMinute | Self::LitrePerMinute => Quantity::Flow,
            Self::Psi | Self::Kilopascal | Self::Bar => Quantity::Pressure,
            Self::Fahrenheit | Self::Celsius => Quantity::Temperature,
            Self::Count => Quantity::Count,
            Self::Percent => Quantity::Percent,
        }
    }

    /// What one of it is in the base unit of its quantity, exactly. Base units: nanometre, second, nanolitre, nanolitre a second,
    /// pascal, kelvin, piece, per cent.
    ///
    /// # Source
    /// International yard and pound agreement of 1959 (1 in = 25.4 mm, 1 lb = 0.45359237 kg), US gallon of 231 in3, imperial gallon of
    /// 4.54609 L, standard gravity 9.80665 m/s2: NIST SP 811 (2008), appendix B.
    #[must_use]
    pub const fn factor(self) -> Ratio {
        let (numerator, denominator) = match self {
            Self::Inch => (25_400_000, 1),
            Self::Foot => (304_800_000, 1),
            Self::Millimetre => (1_000_000, 1),
            Self::Centimetre => (10_000_000, 1),
            Self::Metre => (1_000_000_000, 1),
            Self::Second | Self::Count | Self::Percent | Self::Celsius => (1, 1),
            Self::Minute => (60, 1),
            Self::Hour => (3_600, 1),
            Self::Gallon => (3_785_411_784, 1),
            Self::Quart => (946_352_946, 1),
            Self::Cup => (473_176_473, 2),
            Self::FluidOunce => (473_176_473, 16),
            Self::ImperialGallon => (4_546_090_000, 1),
            Self::CubicFoot => (28_316_846_592, 1),
            Self::CubicMetre => (1_000_000_000_000, 1),
            Self::HundredCubicFeet => (2_831_684_659_200, 1),
            Self::ThousandGallons => (3_785_411_784_000, 1),
            Self::Litre => (1_000_000_000, 1),
            Self::Millilitre => (1_000_000, 1),
            Self::GallonPerMinute => (315_450_982, 5),
            Self::LitrePerMinute => (50_000_000, 3),
            Self::Psi => (8_896_443_230_521, 1_290_320_000),
            Self::Kilopascal => (1_000, 1),
            Self::Bar => (100_000, 1),
            Self::Fahrenheit => (5, 9),
        };
        Ratio::of(numerator, denominator)
    }

    /// What is added before the factor applies; zero but for temperatures.
    #[must_use]
    pub const fn offset(self) -> Ratio {
        match self {
            Self::Fahrenheit => Ratio::of(45_967, 100),
            Self::Celsius => Ratio::of(27_315, 100),
            _ => Ratio::of(0, 1),
        }
    }

    /// The symbol a page prints after the number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::ImperialGallon => "imp gal",
            Self::FluidOunce => "fl oz",
            Self::CubicFoot => "ft³",
            Self::CubicMetre => "m³",
            Self::Fahrenheit => "°F",
            Self::Celsius => "°C",
            Self::Count => "",
            other => other.code(),
        }
    }

    /// A typed value with this unit behind it when it has none of its own.
    ///
    /// ```
    /// use anglestop::domain::measure::Unit;
    /// assert_eq!(Unit::Second.behind("84"), "84 s");
    /// assert_eq!(Unit::Second.behind("1:20"), "1:20");
    /// assert_eq!(Unit::Inch.behind("14 7/8\""), "14 7/8\"");
    /// assert_eq!(Unit::Inch.behind(""), "");
    /// ```
    #[must_use]
    pub fn behind(self, typed: &str) -> String {
        let has_unit = typed
            .chars()
            .any(|c| c.is_alphabetic() || matches!(c, '"' | '\'' | '”' | '″' | '’' | '′' | '%' | '°' | ':'));
        let symbol = self.symbol();
        if typed.is_empty() || has_unit || symbol.is_empty() {
            typed.to_owned()
        } else {
            format!("{typed} {symbol}")
        }
    }

    /// The unit that a bare number has after a number in this one: `2 ft 3`, `1 min 20`.
    #[must_use]
    pub const fn next_smaller(self) -> Option<Self> {
        match self {
            Self::Foot => Some(Self::Inch),
            Self::Hour => Some(Self::Minute),
            Self::Minute => Some(Self::Second),
            _ => None,
        }
    }

    /// A value as somebody would type it, for sentences.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Inch | Self::Foot => "14 7/8 in",
            Self::Millimetre | Self::Centimetre | Self::Metre => "378 mm",
            Self::Second | Self::Minute | Self::Hour => "1 min 20 s",
            Self::Gallon | Self::Quart | Self::Cup | Self::ImperialGallon | Self::CubicFoot => "1.28 gal",
            Self::FluidOunce => "8 oz",
            Self::HundredCubicFeet => "0.5 CCF",
            Self::ThousandGallons => "1.2 kgal",
            Self::Litre | Self::Millilitre | Self::CubicMetre => "4.8 L",
            Self::GallonPerMinute => "2.2 gpm",
            Self::LitrePerMinute => "8.3 L/min",
            Self::Psi => "62 psi",
            Self::Kilopascal | Self::Bar => "430 kPa",
            Self::Fahrenheit => "118 F",
            Self::Celsius => "48 C",
            Self::Count => "3",
            Self::Percent => "14 %",
        }
    }

    /// The unit that somebody means by a word, whatever the case; some words depend on what is asked for (`m`, `'`, `"`).
    #[must_use]
    pub fn from_word(word: &str, wanted: Quantity) -> Option<Self> {
        let lower = word.trim_end_matches('.').to_lowercase();
        let unit = match (lower.as_str(), wanted) {
            ("\"" | "”" | "″" | "''" | "’’", Quantity::Time) => Self::Second,
            ("'" | "’" | "′" | "m", Quantity::Time) => Self::Minute,
            ("\"" | "”" | "″" | "''" | "’’" | "in" | "inch" | "inches", _) => Self::Inch,
            ("'" | "’" | "′" | "ft" | "foot" | "feet", _) => Self::Foot,
            ("mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters", _) => Self::Millimetre,
            ("cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters", _) => Self::Centimetre,
            ("m" | "metre" | "metres" | "meter" | "meters", _) => Self::Metre,
            ("s" | "sec" | "secs" | "second" | "seconds", _) => Self::Second,
            ("min" | "mins" | "minute" | "minutes", _) => Self::Minute,
            ("h" | "hr" | "hrs" | "hour" | "hours", _) => Self::Hour,
            ("gal" | "gals" | "gallon" | "gallons", _) => Self::Gallon,
            ("qt" | "quart" | "quarts", _) => Self::Quart,
            ("cup" | "cups", _) => Self::Cup,
            ("oz" | "fl oz" | "floz" | "ounce" | "ounces", _) => Self::FluidOunce,
            ("imp gal" | "imp_gal", _) => Self::ImperialGallon,
            ("ft3" | "ft³" | "cf", _) => Self::CubicFoot,
            ("m3" | "m³", _) => Self::CubicMetre,
            ("ccf" | "hcf" | "hundred cubic feet", _) => Self::HundredCubicFeet,
            ("kgal" | "thousand gallons", _) => Self::ThousandGallons,
            ("l" | "litre" | "litres" | "liter" | "liters", _) => Self::Litre,
            ("ml" | "millilitre" | "millilitres" | "milliliter" | "milliliters", _) => Self::Millilitre,
            ("gpm" | "gal/min", _) => Self::GallonPerMinute,
            ("l/min" | "lpm", _) => Self::LitrePerMinute,
            ("psi", _) => Self::Psi,
            ("kpa", _) => Self::Kilopascal,
            ("bar", _) => Self::Bar,
            ("f" | "°f" | "deg f" | "fahrenheit", _) => Self::Fahrenheit,
            ("c" | "°c" | "deg c" | "celsius", _) => Self::Celsius,
            ("count" | "pcs" | "pieces" | "times", _) => Self::Count,
            ("%" | "percent" | "per cent", _) => Self::Percent,
            _ => return None,
        };
        Some(unit)
    }
}
