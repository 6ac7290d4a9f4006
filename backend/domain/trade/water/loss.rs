//! From what was typed to water lost a day. Decides the formulas, refuses what can't be meant.

use super::knowledge::Water;
use super::method::{Asked, Least, Method};
use crate::domain::field::FieldError;
use crate::domain::measure::{Amount, Unit};

const MINUTES_A_DAY: f64 = 1_440.0;
const HOURS_A_DAY: f64 = 24.0;
const SECONDS_A_DAY: f64 = 86_400.0;
const OUNCES_A_GALLON: f64 = 128.0;
/// # Source
/// US gallon of 231 in3: NIST SP 811 (2008), appendix B.
const LITRES_A_GALLON: f64 = 3.785_411_784;

/// Water lost a day, with how it was reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    litres_a_day: f64,
    gallons_a_day: f64,
    /// The convention or formula, in words, with its source.
    pub convention: String,
}

impl Loss {
    /// A loss as it was kept.
    #[must_use]
    pub fn kept(litres_a_day: f64, convention: &str) -> Self {
        Self {
            litres_a_day,
            gallons_a_day: litres_a_day / LITRES_A_GALLON,
            convention: convention.to_owned(),
        }
    }

    /// The convention by its name; the source in brackets is left out, where it stands with the other values.
    #[must_use]
    pub fn convention_name(&self) -> &str {
        self.convention.split(" (").next().unwrap_or_default()
    }

    fn of_gallons(gallons_a_day: f64, convention: String) -> Self {
        Self {
            litres_a_day: gallons_a_day * LITRES_A_GALLON,
            gallons_a_day,
            convention,
        }
    }

    /// Litres a day.
    #[must_use]
    pub const fn litres_a_day(&self) -> f64 {
        self.litres_a_day
    }

    /// US gallons a day.
    #[must_use]
    pub const fn gallons_a_day(&self) -> f64 {
        self.gallons_a_day
    }
}

struct Reader<'a> {
    typed: &'a dyn Fn(&str) -> String,
    water: &'a Water,
    errors: Vec<FieldError>,
}

/// The loss that a measurement shows; `typed` gives what was typed for a name of [`Method::asks`], empty when nothing was. Drips also
/// read `drips_per_gallon` (a number of one's own) and `convention` (a code of the catalogue); without either the first convention.
///
/// # Errors
/// A sentence for each figure that can't be read or can't be meant.
///
/// # Source
/// Drips as the convention says; a cup, a tank, a cycle and a meter are volume over time; a hole is the flow through a sharp-edged
/// orifice, gpm = 29.84 Cd d² √p with d in inches and p in psi (the constant of hydrant flow tests, from memory).
pub fn measure(
    method: Method,
    typed: &dyn Fn(&str) -> String,
    water: &Water,
) -> Result<Loss, Vec<FieldError>> {
    let mut reader = Reader {
        typed,
        water,
        errors: Vec::new(),
    };
    let figures: Vec<f64> = method.asks().iter().map(|asked| reader.figure(asked)).collect();
    let (per_gallon, convention) = match method {
        Method::Drips => reader.drips_per_gallon(),
        Method::Pinhole => (1.0, reader.orifice()),
        _ => (1.0, "volume over time".to_owned()),
    };
    if !reader.errors.is_empty() {
        return Err(reader.errors);
    }
    let gallons = match (method, figures.as_slice()) {
        (Method::Drips, [per_minute]) => per_minute * MINUTES_A_DAY / per_gallon,
        (Method::Cup, [ounces, seconds]) => ounces / OUNCES_A_GALLON * SECONDS_A_DAY / seconds,
        (Method::Tank, [length, width, drop, hours]) => {
            length * width * drop / water.value("gallon") * HOURS_A_DAY / hours
        }
        (Method::Cycle, [gallons, every]) => gallons * MINUTES_A_DAY / every,
        (Method::Meter, [gallons, hours]) => gallons * HOURS_A_DAY / hours,
        (Method::Pinhole, [diameter, pressure]) => {
            let gallons_a_minute =
                water.value("orifice") * water.value("discharge") * diameter * diameter * pressure.sqrt();
            gallons_a_minute * MINUTES_A_DAY
        }
        _ => f64::NAN,
    };
    if gallons.is_finite() {
        Ok(Loss::of_gallons(gallons, convention))
    } else {
        Err(vec![FieldError::new(
            "",
            "These figures give no loss. Check them and their units.",
        )])
    }
}

impl Reader<'_> {
    fn refuse(&mut self, name: &str, sentence: String) -> f64 {
        self.errors.push(FieldError::new(name, sentence));
        0.0
    }

    /// A figure in the unit that is asked for; 0 beside an error when it can't be used.
    fn figure(&mut self, asked: &Asked) -> f64 {
        let given = (self.typed)(asked.name);
        let amount = match Amount::parse(&given, asked.unit) {
            Ok(amount) => amount,
            Err(error) => return self.refuse(asked.name, format!("{}: {error}.", asked.label)),
        };
        let Some(value) = amount.in_unit(asked.unit).map(|value| value.to_f64()) else {
            return self.refuse(asked.name, format!("{}: the figure is too long.", asked.label));
        };
        if asked.least == Least::MoreThanNothing && value <= 0.0 {
            let sentence = format!(
                "{}: “{}” is nothing, and nothing can be reckoned from it. Give more than 0.",
                asked.label,
                given.trim()
            );
            return self.refuse(asked.name, sentence);
        }
        let most = self.water.value(asked.most);
        if value > most {
            let beyond = match asked.name {
                "per_minute" => "that is a stream; time a cup instead",
                _ => "check the figure and its unit",
            };
            let sentence = format!(
                "{}: “{}” is over {most} {}; {beyond}.",
                asked.label,
                given.trim(),
                asked.unit.symbol()
            );
            return self.refuse(asked.name, sentence.replace(" ;", ";"));
        }
        value
    }

    /// How many drips make a gallon, and who says so.
    fn drips_per_gallon(&mut self) -> (f64, String) {
        let own = (self.typed)("drips_per_gallon");
        if !own.trim().is_empty() {
            let name = "drips_per_gallon";
            let (least, most) = (
                self.water.value("least_drips_per_gallon"),
                self.water.value("most_drips_per_gallon"),
            );
            let parsed = Amount::parse(&own, Unit::Count)
                .ok()
                .and_then(|amount| amount.in_unit(Unit::Count));
            return match parsed.map(|value| value.to_f64()) {
                Some(value) if (least..=most).contains(&value) => {
                    (value, format!("{} drips a gallon, as given", own.trim()))
                }
                _ => {
                    let sentence = format!(
                        "Drips per gallon: “{}” is not {least} to {most}. Usual are 10000, 11350 and 15140.",
                        own.trim()
                    );
                    (self.refuse(name, sentence), String::new())
                }
            };
        }
        let code = (self.typed)("convention");
        let convention = match code.trim() {
            "" => self.water.conventions.first(),
            code => self.water.convention(code),
        };
        match convention {
            Some(convention) => (
                convention.drips_per_gallon,
                format!("{} ({})", convention.name, convention.source.phrase()),
            ),
            None => {
                let known: Vec<&str> = self
                    .water
                    .conventions
                    .iter()
                    .map(|one| one.code.as_str())
                    .collect();
                let sentence = format!(
                    "“{}” is no convention of a drip. Choose one of {}.",
                    code.trim(),
                    known.join(", ")
                );
                (self.refuse("convention", sentence), String::new())
            }
        }
    }

    fn orifice(&self) -> String {
        format!(
            "flow through a sharp-edged hole, discharge coefficient {}",
            self.water.value("discharge")
        )
    }
}
