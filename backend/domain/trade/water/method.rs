//! The ways in which a technician can measure a leak, and what each of them asks. Decides names, units and which figure may be nothing.

use crate::domain::code::words;
use crate::domain::measure::Unit;

words! {
    /// How a loss of water was measured.
    Method "way of measuring" {
        Drips = "drips", "Drips counted";
        Cup = "cup", "Timed cup";
        Tank = "tank", "Tank drop";
        Cycle = "cycle", "Refill cycle";
        Meter = "meter", "Meter reading";
        Pinhole = "pinhole", "Hole in a pipe";
    }
}

/// Whether a figure may be nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Least {
    /// None measured is an answer: no leak.
    Nothing,
    /// It divides, or nothing is there without it.
    MoreThanNothing,
}

/// One figure that a way of measuring asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked {
    /// Its name in forms and on the command line.
    pub name: &'static str,
    /// Its label.
    pub label: &'static str,
    /// How to take it, in a few words.
    pub hint: &'static str,
    /// The unit a bare number is in.
    pub unit: Unit,
    /// Whether it may be nothing.
    pub least: Least,
    /// The code of the figure that says what is the most that can be meant.
    pub most: &'static str,
}

const fn asked(
    (name, label, hint): (&'static str, &'static str, &'static str),
    unit: Unit,
    least: Least,
    most: &'static str,
) -> Asked {
    Asked {
        name,
        label,
        hint,
        unit,
        least,
        most,
    }
}

const DRIPS: &[Asked] = &[asked(
    (
        "per_minute",
        "Drips a minute",
        "Count a quarter of a minute and take it four times",
    ),
    Unit::Count,
    Least::Nothing,
    "most_drips_per_minute",
)];

const CUP: &[Asked] = &[
    asked(
        ("ounces", "Caught", "In fluid ounces; a cup is 8"),
        Unit::FluidOunce,
        Least::Nothing,
        "most_cup",
    ),
    asked(
        ("seconds", "In", "As 45 s or 1 min 20"),
        Unit::Second,
        Least::MoreThanNothing,
        "most_cup_time",
    ),
];

const TANK: &[Asked] = &[
    asked(
        (
            "length",
            "Tank, inside, left to right",
            "At the height of the water",
        ),
        Unit::Inch,
        Least::MoreThanNothing,
        "most_tank_side",
    ),
    asked(
        (
            "width",
            "Tank, inside, front to back",
            "At the height of the water",
        ),
        Unit::Inch,
        Least::MoreThanNothing,
        "most_tank_side",
    ),
    asked(
        (
            "drop",
            "The water fell by",
            "Stop shut, level marked, nothing flushed",
        ),
        Unit::Inch,
        Least::Nothing,
        "most_tank_side",
    ),
    asked(
        ("hours", "In", "As 2 h or 30 min"),
        Unit::Hour,
        Least::MoreThanNothing,
        "most_hours",
    ),
];

const CYCLE: &[Asked] = &[
    asked(
        (
            "gallons",
            "One refill",
            "The part of a tank that runs in by itself",
        ),
        Unit::Gallon,
        Least::Nothing,
        "most_cycle_volume",
    ),
    asked(
        (
            "every",
            "It refills every",
            "From one start to the next, as 12 min",
        ),
        Unit::Minute,
        Least::MoreThanNothing,
        "most_cycle_time",
    ),
];

const METER: &[Asked] = &[
    asked(
        (
            "gallons",
            "The meter moved by",
            "With its unit, as 3 gal or 0.4 ft3",
        ),
        Unit::Gallon,
        Least::Nothing,
        "most_meter_volume",
    ),
    asked(
        ("hours", "In", "With no water used; two hours at least is usual"),
        Unit::Hour,
        Least::MoreThanNothing,
        "most_hours",
    ),
];

const PINHOLE: &[Asked] = &[
    asked(
        ("diameter", "Hole across", "As 1/16 in"),
        Unit::Inch,
        Least::Nothing,
        "most_hole",
    ),
    asked(
        ("pressure", "Pressure", "As a gauge at the next hose bibb reads"),
        Unit::Psi,
        Least::Nothing,
        "most_pressure",
    ),
];

impl Method {
    /// What it asks, in the order of doing it.
    #[must_use]
    pub const fn asks(self) -> &'static [Asked] {
        match self {
            Self::Drips => DRIPS,
            Self::Cup => CUP,
            Self::Tank => TANK,
            Self::Cycle => CYCLE,
            Self::Meter => METER,
            Self::Pinhole => PINHOLE,
        }
    }

    /// When to take it, in one sentence.
    #[must_use]
    pub const fn when(self) -> &'static str {
        match self {
            Self::Drips => "Single drips that can be counted.",
            Self::Cup => "A stream, or drips too fast to count: catch it in a cup.",
            Self::Tank => "A tank that loses water with its stop shut.",
            Self::Cycle => "A tank that refills by itself from time to time.",
            Self::Meter => "Everything in the unit shut, and the meter still moves.",
            Self::Pinhole => "A hole that sprays and can't be caught.",
        }
    }
}
