//! What the invented fleet's leaks lose, what was found behind them, and what water costs: figures as a technician would type them.
//! Pure; stores nothing.

use super::chance::Chance;
use crate::domain::register::BuildingTerms;
use crate::domain::trade::water::{Billed, Method, Tariff};

/// A measurement as typed: the way and its figures by name.
pub type Measured = (Method, Vec<(String, String)>);

/// What was found: the symptom and the place of each reply.
pub type Found = (&'static str, &'static [usize]);

/// Water's price in the building of this number; every fourth has none yet, every third a voucher programme.
#[must_use]
pub fn terms(number: usize) -> BuildingTerms {
    let price = |water_minor, sewer_minor, billed| {
        Some(Tariff {
            water_minor,
            sewer_minor,
            billed,
            currency: "USD".to_owned(),
        })
    };
    let tariff = match number % 4 {
        0 => price(463, 512, Billed::Ccf),
        1 => price(618, 0, Billed::Kgal),
        2 => price(214, 305, Billed::CubicMetre),
        _ => None,
    };
    let programme = if number % 3 == 2 { "voucher" } else { "" };
    BuildingTerms {
        tariff,
        programme: programme.to_owned(),
    }
}

/// A measurement that fits the check; none when nobody measured.
pub fn measured(check: &str, chance: &mut Chance) -> Option<Measured> {
    if !chance.per_mille(700) {
        return None;
    }
    let typed = |pairs: &[(&str, String)]| {
        pairs
            .iter()
            .map(|(name, value)| ((*name).to_owned(), value.clone()))
            .collect()
    };
    let one = |chance: &mut Chance, low, high| chance.between(low, high).to_string();
    Some(match check {
        "wc_flushes_again" => {
            let every = format!("{} min", one(chance, 6, 45));
            (
                Method::Cycle,
                typed(&[("gallons", "0.5".to_owned()), ("every", every)]),
            )
        }
        "wc_dye" | "wc_runs_on" => {
            let drop = format!("{}/8", one(chance, 1, 15));
            (
                Method::Tank,
                typed(&[
                    ("length", "15 1/2".to_owned()),
                    ("width", "6 3/4".to_owned()),
                    ("drop", drop),
                    ("hours", "1 h".to_owned()),
                ]),
            )
        }
        "bath_works" | "hose_bibb_sound" => {
            let seconds = one(chance, 40, 240);
            (
                Method::Cup,
                typed(&[("ounces", "8".to_owned()), ("seconds", seconds)]),
            )
        }
        _ => {
            let drips = one(chance, 4, 90);
            (Method::Drips, typed(&[("per_minute", drips)]))
        }
    })
}

/// What was found behind a failure of a check; none when nobody looked further.
pub fn found(check: &str, chance: &mut Chance) -> Option<Found> {
    if !chance.per_mille(600) {
        return None;
    }
    let ways: &[Found] = match check {
        "wc_runs_on" => &[
            ("wc_runs_on", &[1]),
            ("wc_runs_on", &[0, 1]),
            ("wc_runs_on", &[2]),
        ],
        "wc_dye" | "wc_flushes_again" => &[
            ("wc_refills", &[0, 1]),
            ("wc_refills", &[0, 0]),
            ("wc_refills", &[0, 2]),
        ],
        "wc_base_dry" => &[("wc_wet", &[0, 1]), ("wc_wet", &[0, 0])],
        "wc_bowl_firm" => &[("wc_rocks", &[1, 1]), ("wc_rocks", &[1, 2])],
        "faucet_sound" => &[("faucet_drips", &[1, 0]), ("faucet_drips", &[1, 1])],
        "bath_works" => &[("bath_diverter", &[0]), ("faucet_drips", &[1, 0])],
        "heater_leaks" => &[("heater_wet", &[1])],
        "disposer_works" => &[("disposer_hums", &[0]), ("disposer_leaks", &[1])],
        "washer_hose_sound" => &[("hose_wet", &[0, 1])],
        _ => &[],
    };
    chance.pick(ways)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fourth_building_has_no_price_of_water_yet() {
        let priced = (0..8).filter(|number| terms(*number).tariff.is_some()).count();
        assert_eq!(priced, 6);
    }

    #[test]
    fn the_same_chance_types_the_same_figures() {
        let typed = |seed| measured("wc_dye", &mut Chance::new(seed, 1));
        assert_eq!(typed(3), typed(3));
    }
}
