//! Where a fixture can leak, and what was seen there: dry, damp, a drip or a stream. Decides which states fail and how a drip or a
//! stream is measured; knows no drawing and no history.

use serde::{Deserialize, Serialize};

use super::water::{Loss, Method, Water, measure};
use super::{FixtureKind, PartKind, Source, Verdict};
use crate::domain::code::words;
use crate::domain::field::FieldError;

/// The checks under which leak points are kept: the points that carry water, and those that carry sewage.
pub const CHECKS: [&str; 2] = ["leak_points_water", "leak_points_sewage"];

words! {
    /// What was seen at a point, the worse the later.
    Wetness "leak" {
        Dry = "dry", "Dry";
        Damp = "damp", "Damp";
        Drip = "drip", "Drip";
        Stream = "stream", "Stream";
    }
}

words! {
    /// What comes out where a point leaks.
    Carries "what it carries" {
        Water = "water", "Water";
        Drain = "drain", "Drain water";
        Sewage = "sewage", "Sewage";
    }
}

words! {
    /// The drawing that shows the points of some kinds of fixture.
    Drawing "drawing" {
        WaterCloset = "water_closet", "Water closet";
        Basin = "basin", "Basin";
        Bathtub = "bathtub", "Bathtub";
        Shower = "shower", "Shower";
        Heater = "heater", "Water heater";
        Washer = "washer", "Appliance with hoses";
    }
}

impl Drawing {
    /// How many points it has.
    #[must_use]
    pub const fn points(self) -> usize {
        match self {
            Self::WaterCloset | Self::Bathtub | Self::Shower | Self::Washer => 4,
            Self::Basin | Self::Heater => 5,
        }
    }
}

impl Wetness {
    /// Dry passes, everything else fails.
    #[must_use]
    pub const fn verdict(self) -> Verdict {
        match self {
            Self::Dry => Verdict::Pass,
            Self::Damp | Self::Drip | Self::Stream => Verdict::Fail,
        }
    }
}

/// A point that can leak.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeakPoint {
    /// Its code, unique at a fixture.
    pub code: String,
    /// Its name: "Supply connection".
    pub name: String,
    /// What comes out.
    pub carries: Carries,
    /// Parts whose failed checks count as seen here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartKind>,
    /// Checks of the fixture itself whose failure counts as seen here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub checks: Vec<String>,
}

/// The points of some kinds of fixture, in the order of their numbers on the drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointSet {
    /// The drawing.
    pub drawing: Drawing,
    /// The kinds of fixture that it shows.
    pub kinds: Vec<FixtureKind>,
    /// The points.
    pub points: Vec<LeakPoint>,
    /// Where they come from.
    pub source: Source,
}

impl PointSet {
    /// The point of this code.
    #[must_use]
    pub fn point(&self, code: &str) -> Option<&LeakPoint> {
        self.points.iter().find(|point| point.code == code)
    }

    /// The point that a check of the fixture (`part` none) or of its part looks at, the first by number.
    #[must_use]
    pub fn point_of(&self, check: &str, part: Option<PartKind>) -> Option<&LeakPoint> {
        self.points.iter().find(|point| match part {
            Some(part) => point.parts.contains(&part),
            None => point.checks.iter().any(|known| known == check),
        })
    }
}

/// What was typed for a point.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    /// Drips counted in a minute, empty when nobody counted.
    pub per_minute: String,
    /// Fluid ounces caught, empty when nobody measured.
    pub ounces: String,
    /// The seconds that took.
    pub seconds: String,
}

/// What was seen at a point, as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointSeen {
    /// The point.
    pub point: String,
    /// Its name then.
    pub name: String,
    /// What was seen.
    pub state: Wetness,
    /// Drips a minute, as typed; empty when nobody counted.
    pub per_minute: String,
    /// Fluid ounces of a timed cup, as typed.
    pub ounces: String,
    /// The time that took, as typed.
    pub seconds: String,
    /// The loss in words with its convention; empty when nothing was measured.
    pub loss: String,
}

/// Leak points as seen at one time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seen {
    /// The points that were looked at.
    pub points: Vec<PointSeen>,
}

impl Seen {
    /// Fails when a point was not dry.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let worst = self.points.iter().map(|seen| seen.state).max();
        worst.map_or(Verdict::Pass, Wetness::verdict)
    }

    /// What was seen in phrases, the points that are not dry first.
    #[must_use]
    pub fn phrases(&self) -> Vec<String> {
        let mut points: Vec<&PointSeen> = self.points.iter().collect();
        points.sort_by_key(|seen| std::cmp::Reverse(seen.state));
        points.into_iter().map(PointSeen::phrase).collect()
    }
}

impl PointSeen {
    /// One phrase: "Base: drip, 1.7 gal a day".
    #[must_use]
    pub fn phrase(&self) -> String {
        let state = self.state.name().to_lowercase();
        if self.loss.is_empty() {
            format!("{}: {state}", self.name)
        } else {
            format!("{}: {state}, {}", self.name, self.loss)
        }
    }
}

/// Reads what was seen at a point. A drip may be counted, a stream caught in a cup; what is folded away for another state is left out.
///
/// # Errors
/// A sentence for each figure that can't be read or can't be meant, under the name of its field.
pub fn read(
    point: &LeakPoint,
    state: Wetness,
    typed: &Typed,
    water: &Water,
) -> Result<PointSeen, Vec<FieldError>> {
    let mut seen = PointSeen {
        point: point.code.clone(),
        name: point.name.clone(),
        state,
        per_minute: String::new(),
        ounces: String::new(),
        seconds: String::new(),
        loss: String::new(),
    };
    match state {
        Wetness::Drip => seen.per_minute.clone_from(&typed.per_minute),
        Wetness::Stream => {
            seen.ounces.clone_from(&typed.ounces);
            seen.seconds.clone_from(&typed.seconds);
        }
        Wetness::Dry | Wetness::Damp => {}
    }
    // What comes out of a drain or with the sewage is not lost from the supply: it is kept as typed and not reckoned.
    if point.carries == Carries::Water
        && let Some(measured) = lost(&seen, water)?
    {
        seen.loss = format!(
            "{:.2} gal or {:.1} L a day by {}",
            measured.loss.gallons_a_day(),
            measured.loss.litres_a_day(),
            measured.loss.convention_name(),
        );
    }
    Ok(seen)
}

/// What was measured at a point.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// How.
    pub method: Method,
    /// The figures as typed, by name.
    pub typed: Vec<(String, String)>,
    /// What they come to.
    pub loss: Loss,
}

/// What is lost at a point; none when nothing was counted or caught there.
///
/// # Errors
/// As [`read`].
pub fn lost(seen: &PointSeen, water: &Water) -> Result<Option<Measured>, Vec<FieldError>> {
    let typed = [
        ("per_minute", &seen.per_minute),
        ("ounces", &seen.ounces),
        ("seconds", &seen.seconds),
    ];
    let typed: Vec<(String, String)> = typed
        .into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(name, text)| (name.to_owned(), text.clone()))
        .collect();
    let method = match typed.first() {
        None => return Ok(None),
        Some((name, _)) if name == "per_minute" => Method::Drips,
        Some(_) => Method::Cup,
    };
    let given = |name: &str| {
        let found = typed.iter().find(|(known, _)| known == name);
        found.map_or_else(String::new, |(_, text)| text.clone())
    };
    let loss = measure(method, &given, water)?;
    Ok(Some(Measured { method, typed, loss }))
}

/// What is lost at several points together, with what each loses where there is more than one; none when nothing was measured.
///
/// # Errors
/// As [`read`].
pub fn lost_together(points: &[PointSeen], water: &Water) -> Result<Option<Measured>, Vec<FieldError>> {
    let mut each = Vec::new();
    for seen in points {
        if let Some(measured) = lost(seen, water)? {
            each.push((seen.name.as_str(), measured));
        }
    }
    each.sort_by(|(_, one), (_, other)| other.loss.litres_a_day().total_cmp(&one.loss.litres_a_day()));
    if each.len() < 2 {
        return Ok(each.pop().map(|(_, measured)| measured));
    }
    let litres = each
        .iter()
        .map(|(_, measured)| measured.loss.litres_a_day())
        .sum();
    let words: Vec<String> = each
        .iter()
        .map(|(name, one)| {
            format!(
                "{name} {:.2} gal a day by {}",
                one.loss.gallons_a_day(),
                one.loss.convention_name()
            )
        })
        .collect();
    Ok(each.first().map(|(_, greatest)| Measured {
        method: greatest.method,
        typed: Vec::new(),
        loss: Loss::kept(
            litres,
            &format!("the sum of {} points: {}", each.len(), words.join("; ")),
        ),
    }))
}
