//! A rental unit or a common area. Decides its label, place in the elevation and occupancy; knows neither household nor fixtures.

use super::typed::Typed;
use super::{BuildingId, UnitId};
use crate::domain::code::words;
use crate::domain::field::FieldError;

words! {
    /// Whether somebody can live in it.
    UnitKind "kind of unit" {
        Unit = "unit", "Unit";
        CommonArea = "common_area", "Common area";
    }
}

words! {
    /// The state of a unit now.
    Occupancy "occupancy" {
        Occupied = "occupied", "Occupied";
        Vacant = "vacant", "Vacant";
        Turnover = "turnover", "In turnover";
        OffLine = "off_line", "Off line";
    }
}

/// A unit as typed.
#[derive(Debug, Clone, Default)]
pub struct UnitText {
    /// As on the door.
    pub label: String,
    /// `unit` or `common_area`; empty for a unit.
    pub kind: String,
    /// Storey; empty for 1.
    pub floor: String,
    /// Position from the left, empty when unknown.
    pub riser: String,
    /// Occupancy; empty for occupied.
    pub occupancy: String,
}

/// A unit as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitFacts {
    /// As on the door, unique in the building.
    pub label: String,
    /// Common areas have no household.
    pub kind: UnitKind,
    /// Storey from -9 to 199: 1 is the ground floor, 0 or less below ground.
    pub floor: i64,
    /// Position along the street from the left, 1 to 199; none when unknown.
    pub riser: Option<i64>,
    /// State of the unit now. A common area is occupied (in use) or off line.
    pub occupancy: Occupancy,
}

/// A unit of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// Key.
    pub id: UnitId,
    /// Where.
    pub building: BuildingId,
    /// The unit's place in the first interval of an item never done, in millionths of it, 0 to 999,999; see [`spread_of`].
    pub spread_ppm: i64,
    /// What it is.
    pub facts: UnitFacts,
}

impl From<&UnitFacts> for UnitText {
    /// What somebody would type to say the same.
    fn from(facts: &UnitFacts) -> Self {
        Self {
            label: facts.label.clone(),
            kind: facts.kind.to_string(),
            floor: facts.floor.to_string(),
            riser: facts.riser.map_or_else(String::new, |riser| riser.to_string()),
            occupancy: facts.occupancy.to_string(),
        }
    }
}

impl UnitFacts {
    /// Reads what was typed.
    ///
    /// # Errors
    /// A sentence for each field that can't be used; fields are named as in [`UnitText`].
    pub fn read(text: &UnitText) -> Result<Self, Vec<FieldError>> {
        let mut typed = Typed::new();
        let kind = typed.choice("kind", &text.kind, UnitKind::Unit);
        let occupancy = typed.choice("occupancy", &text.occupancy, Occupancy::Occupied);
        if kind == UnitKind::CommonArea && matches!(occupancy, Occupancy::Vacant | Occupancy::Turnover) {
            typed.refuse(
                "occupancy",
                "Nobody lives in a common area. Choose occupied (in use) or off_line.",
            );
        }
        let facts = Self {
            label: typed.needed("label", "Unit label", &text.label, 24),
            kind,
            floor: typed.whole("floor", "Floor", &text.floor, -9..=199).unwrap_or(1),
            riser: typed.whole("riser", "Riser", &text.riser, 1..=199),
            occupancy,
        };
        typed.finish(facts)
    }
}

/// The place of a unit in the first interval of what was never done there, in millionths of the interval: the golden ratio times
/// its key, so that consecutive units lie level over it and a unit stays whole.
///
/// ```
/// use anglestop::domain::register::{UnitId, unit::spread_of};
/// assert_eq!(spread_of(UnitId(1)), 618_034);
/// assert_eq!(spread_of(UnitId(2)), 236_068);
/// ```
#[must_use]
pub fn spread_of(unit: UnitId) -> i64 {
    i64::try_from(i128::from(unit.0) * 618_034 % 1_000_000).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_common_area_is_never_vacant() {
        let text = UnitText {
            label: "Laundry".to_owned(),
            kind: "common_area".to_owned(),
            occupancy: "vacant".to_owned(),
            ..UnitText::default()
        };
        let errors = UnitFacts::read(&text).err().unwrap_or_default();
        assert_eq!(errors.first().map(|e| e.field.as_str()), Some("occupancy"));
    }

    #[test]
    fn consecutive_units_lie_level_over_an_interval() {
        let mut tenths = [0_u32; 10];
        for key in 1..=1000 {
            if let Some(count) = usize::try_from(spread_of(UnitId(key)) / 100_000)
                .ok()
                .and_then(|tenth| tenths.get_mut(tenth))
            {
                *count += 1;
            }
        }
        assert!(
            tenths.iter().all(|count| (98..=102).contains(count)),
            "{tenths:?}"
        );
    }
}
