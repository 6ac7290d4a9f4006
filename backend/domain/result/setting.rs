//! Where a failed fixture stands, as far as gravity depends on it. Decides which kinds stand in for each other; the grades are the
//! trade's.

use super::Deficiency;
use crate::domain::register::unit::UnitKind;
use crate::domain::register::{CheckId, TagId};
use crate::domain::trade::{FixtureKind, Setting};

/// Another fixture in service in the same unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Neighbour {
    /// What it is.
    pub kind: FixtureKind,
    /// Whether it can be used now.
    pub use_now: Use,
}

/// Whether a fixture can be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Nothing says otherwise.
    Works,
    /// An open deficiency says that it does not work.
    OutOfUse,
}

/// Whether what stands at a place works: no check that says it does not (`says_no`) has a deficiency there.
#[must_use]
pub fn use_at(tag: TagId, deficiencies: &[Deficiency], says_no: impl Fn(CheckId) -> bool) -> Use {
    let out_of_use = deficiencies
        .iter()
        .any(|one| one.stands() && one.tag == Some(tag) && one.check.is_some_and(&says_no));
    if out_of_use { Use::OutOfUse } else { Use::Works }
}

/// Whether a household that lost one can use the other instead.
///
/// # Source
/// HUD NSPIRE standards name the bathtub and the shower together ("only bathtub or shower"); every other kind stands for itself.
#[must_use]
pub fn stands_in(one: FixtureKind, other: FixtureKind) -> bool {
    use FixtureKind::{Bathtub, Shower};
    one == other || matches!((one, other), (Bathtub, Shower) | (Shower, Bathtub))
}

/// The setting of a fixture of `kind`; `neighbours` are the others in service in the unit, without itself. One that is out of use
/// itself does not count: with two broken there is none.
#[must_use]
pub fn setting(unit: UnitKind, kind: FixtureKind, neighbours: &[Neighbour]) -> Setting {
    let another = neighbours
        .iter()
        .any(|other| stands_in(kind, other.kind) && other.use_now == Use::Works);
    match (unit, another) {
        (UnitKind::CommonArea, _) => Setting::CommonArea,
        (UnitKind::Unit, true) => Setting::OneOfSeveral,
        (UnitKind::Unit, false) => Setting::OnlyOneInUnit,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORKING_SHOWER: Neighbour = Neighbour {
        kind: FixtureKind::Shower,
        use_now: Use::Works,
    };

    #[test]
    fn a_shower_stands_in_for_a_bathtub_but_not_for_a_water_closet() {
        let in_unit = |kind| setting(UnitKind::Unit, kind, &[WORKING_SHOWER]);
        assert_eq!(in_unit(FixtureKind::Bathtub), Setting::OneOfSeveral);
        assert_eq!(in_unit(FixtureKind::WaterCloset), Setting::OnlyOneInUnit);
    }

    #[test]
    fn a_neighbour_that_is_out_of_use_does_not_count() {
        let broken = Neighbour {
            use_now: Use::OutOfUse,
            ..WORKING_SHOWER
        };
        assert_eq!(
            setting(UnitKind::Unit, FixtureKind::Shower, &[broken]),
            Setting::OnlyOneInUnit
        );
    }

    #[test]
    fn in_a_common_area_nobody_depends_on_the_only_one() {
        assert_eq!(
            setting(UnitKind::CommonArea, FixtureKind::WaterCloset, &[]),
            Setting::CommonArea
        );
    }
}
