//! The sentences that stand where work can hurt someone. Decides the words; the checks say which of them apply.

use super::FixtureKind;
use crate::domain::code::{Coded as _, words};

/// The sentence that ends every caution.
pub const DEFERENCE: &str = "Local codes and licensed practice decide.";

/// What a page says first where gas may be smelled, before any form.
pub const GAS_SMELL: &str = "Smell gas? Leave now, touch no switch, light nothing, and call the gas emergency number or the fire service from outside.";

words! {
    /// A danger that a check touches.
    Caution "caution" {
        Gas = "gas", "Gas";
        Combustion = "combustion", "Flue gas";
        HotWater = "hot_water", "Hot water";
        Electricity = "electricity", "Electricity";
        Sewage = "sewage", "Sewage";
        Pressure = "pressure", "Pressure";
        OldStops = "old_stops", "Old stops";
        Asbestos = "asbestos", "Asbestos";
        LeadPaint = "lead_paint", "Lead paint";
        ConfinedSpace = "confined_space", "Crawl spaces";
        Backflow = "backflow", "Drinking water";
    }
}

impl Caution {
    /// Whether a fixture of this kind has the danger at all: one check may be asked of many kinds, and no hot water runs to a water
    /// closet.
    #[must_use]
    pub const fn concerns(self, kind: FixtureKind) -> bool {
        !matches!(
            (self, kind),
            (
                Self::HotWater,
                FixtureKind::WaterCloset | FixtureKind::Urinal | FixtureKind::HoseBibb
            )
        )
    }

    /// What to mind, without the gas-smell sentence that begins and the deference that ends it.
    ///
    /// # Source
    /// Burns: 140 F for 5 s, adults, Moritz and Henriques 1947. Paint: 40 CFR 745. Gas smell: common practice of gas utilities, no
    /// source. Everything else: common practice, no source.
    #[must_use]
    pub const fn advice(self) -> &'static str {
        match self {
            Self::Gas => "Look at gas connectors and valves only; work on them is for a licensed gas fitter.",
            Self::Combustion => {
                "Flue gas kills without a smell. A loose, rusted or disconnected flue, soot or scorch marks: shut the heater off, air the room, keep people out, and call a licensed gas fitter."
            }
            Self::HotWater => {
                "Water at 140 F (60 C) burns a grown hand in 5 seconds, a child's sooner. Run it away from you, keep hands out of the stream, and don't turn a storage heater down to cool a tap: a mixing valve does that."
            }
            Self::Electricity => {
                "Switch the circuit off and prove it dead before touching a wire or a wet appliance. Never stand in water. An open cover or bare conductor: keep people away and call a licensed electrician."
            }
            Self::Sewage => {
                "Sewage carries disease. Gloves and eye protection, no eating, keep residents away from what it touched, and wash before the next room."
            }
            Self::Pressure => {
                "Pipes are under pressure. Know which valve upstream shuts the water before loosening anything, and keep your face out of line of the fitting."
            }
            Self::OldStops => {
                "An old stop can weep or snap. Turn it only with the upstream shutoff proven and a spare at hand, not late in the day or before a weekend, and never force it. A look is an answer too."
            }
            Self::Asbestos => {
                "Old resilient flooring and its glue may hold asbestos. Before the bowl is lifted over it, stop and ask; don't scrape, sand or break it."
            }
            Self::LeadPaint => {
                "Painted surfaces of buildings from before 1978 may hold lead. Don't sand or scrape; above 6 square feet in a room lead-safe work rules apply (40 CFR 745)."
            }
            Self::ConfinedSpace => {
                "Never go into a crawl space alone or with wet live cables in it. Tell someone, take light, gloves and mask, and come out at any smell of gas or sewage."
            }
            Self::Backflow => {
                "A backflow device keeps foul water out of the drinking water. Only a licensed tester works on it; never bypass it or leave its valves shut."
            }
        }
    }

    /// What to mind; for gas, what to do at its smell comes first.
    #[must_use]
    pub fn warning(self) -> String {
        match self {
            Self::Gas => format!("{GAS_SMELL} {}", self.advice()),
            _ => self.advice().to_owned(),
        }
    }

    /// The warnings of these dangers as far as a fixture of this kind has them, each once, gas first; every one where no kind is known.
    #[must_use]
    pub fn warnings(dangers: &[Self], kind: Option<FixtureKind>) -> Vec<String> {
        let those = that_concern(dangers, kind);
        those.into_iter().map(Self::warning).collect()
    }

    /// The whole sentence for a page: the warning, then that local codes and licensed practice decide.
    #[must_use]
    pub fn sentence(self) -> String {
        format!("{} {DEFERENCE}", self.warning())
    }
}

/// Those of the dangers that a fixture of this kind has, each once, gas first; all of them where no kind is known.
#[must_use]
pub fn that_concern(dangers: &[Caution], kind: Option<FixtureKind>) -> Vec<Caution> {
    let concerns =
        |danger: &&Caution| dangers.contains(danger) && kind.is_none_or(|kind| danger.concerns(kind));
    Caution::ALL.iter().filter(concerns).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_is_warned_of_hot_water_at_a_water_closet() {
        let dangers = [Caution::Pressure, Caution::HotWater];
        let at = |kind| Caution::warnings(&dangers, kind).len();
        assert_eq!(at(Some(FixtureKind::WaterCloset)), 1);
        assert_eq!(at(Some(FixtureKind::Lavatory)), 2);
        assert_eq!(at(None), 2, "what is not known is not left out");
    }

    #[test]
    fn the_smell_of_gas_comes_before_every_other_warning() {
        let said = Caution::warnings(&[Caution::HotWater, Caution::Gas, Caution::Gas], None);
        assert_eq!(said.len(), 2, "each once");
        assert!(said[0].starts_with(GAS_SMELL), "{said:?}");
    }
}
