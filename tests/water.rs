//! Water lost and what it costs, against what water bodies and others print; symptoms and causes; the command that computes the same.

mod browser;
mod command;
mod demo;
mod diagnosis;
mod pages;
mod rules;

use anglestop::domain::code::Coded;
use anglestop::domain::measure::{Amount, Unit};
use anglestop::domain::trade::water::{Billed, Loss, Method, Tariff, TariffText, measure};
use anglestop::exchange::catalogue::builtin;
use proptest::prelude::*;

fn rows(text: &str, least: usize) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert!(rows.len() >= least, "the case file has {} rows", rows.len());
    rows
}

fn loss(method: &str, given: &str) -> Result<Loss, Vec<anglestop::error::FieldError>> {
    let pairs: Vec<(&str, &str)> = given
        .split(';')
        .map(|pair| pair.split_once('=').unwrap())
        .collect();
    let typed = |name: &str| {
        let found = pairs.iter().find(|(known, _)| *known == name);
        found.map_or_else(String::new, |(_, value)| (*value).to_owned())
    };
    measure(
        Method::from_code(method).unwrap(),
        &typed,
        &builtin().unwrap().water,
    )
}

fn volume(loss: &Loss, unit: &str, days: f64) -> f64 {
    match unit {
        "gal" => loss.gallons_a_day() * days,
        "cup" => loss.gallons_a_day() * 16.0 * days,
        "L" => loss.litres_a_day() * days,
        other => panic!("{other}"),
    }
}

#[test]
fn water_lost_is_what_others_print_and_not_what_they_print_wrongly() {
    let mut sources = std::collections::BTreeSet::new();
    let mut wrong = 0;
    for row in rows(include_str!("oracles/water_loss.csv"), 50) {
        let found = volume(&loss(&row[1], &row[2]).unwrap(), &row[3], row[4].parse().unwrap());
        let expected: f64 = row[6].parse().unwrap();
        match &row[5] {
            "about" => {
                let within: f64 = row[7].parse().unwrap();
                assert!(
                    (found - expected).abs() <= within + expected * 1e-9,
                    "{row:?}: {found}"
                );
            }
            "over" => assert!(found > expected && found < expected * 1.5, "{row:?}: {found}"),
            "wrong" => {
                wrong += 1;
                assert!((found / expected - 1.0).abs() > 0.2, "{row:?}: {found}");
            }
            other => panic!("{other}"),
        }
        sources.insert(row[0].split([',', ':', '(']).next().unwrap().trim().to_owned());
    }
    assert!(sources.len() >= 15 && wrong >= 3, "{sources:?}");
}

#[test]
fn billing_units_and_bills_are_what_utilities_print() {
    for row in rows(include_str!("oracles/billing.csv"), 16) {
        let amount = Amount::parse(&row[2], Unit::Litre).unwrap();
        let (expected, within): (f64, f64) = (row[4].parse().unwrap(), row[5].parse().unwrap());
        let found = match &row[1] {
            "volume" => amount
                .in_unit(Unit::from_code(&row[3]).unwrap())
                .unwrap()
                .to_f64(),
            _ => {
                let (price, billed) = row[3].split_once(' ').unwrap();
                let text = TariffText {
                    water_price: price.to_owned(),
                    sewer_price: String::new(),
                    billed: billed.to_owned(),
                    currency: "USD".to_owned(),
                };
                let tariff = Tariff::read(&text).unwrap().unwrap();
                tariff.cost_minor(amount.in_unit(Unit::Litre).unwrap().to_f64()) as f64
            }
        };
        assert!(
            (found - expected).abs() <= within + expected * 1e-9,
            "{row:?}: {found}"
        );
    }
}

/// Expected values: the Python units library pint, printed by `oracles/units_pint.py`.
#[test]
fn conversions_agree_with_a_units_library() {
    for row in rows(include_str!("oracles/units_pint.csv"), 130) {
        let to = Unit::from_code(&row[2]).unwrap();
        let amount = Amount::parse(&row[1], to).unwrap();
        let found = amount.in_unit(to).unwrap().to_f64();
        let expected: f64 = row[3].parse().unwrap();
        assert!(
            (found - expected).abs() <= expected.abs() * 1e-12 + 1e-12,
            "{row:?}: {found}"
        );
    }
}

#[test]
fn what_cannot_be_meant_is_refused_with_what_to_do() {
    let cases = [
        ("drips", "per_minute=301", "stream"),
        ("drips", "per_minute=-3", "below zero"),
        ("drips", "per_minute=", "nothing was entered"),
        ("drips", "per_minute=60;drips_per_gallon=0", "2000 to 100000"),
        ("drips", "per_minute=60;convention=mine", "ten_thousand"),
        ("cup", "ounces=8;seconds=0", "more than 0"),
        ("cup", "ounces=8 psi;seconds=9", "volume"),
        ("tank", "length=16;width=0;drop=1;hours=2", "more than 0"),
        ("tank", "length=16 ft;width=8;drop=1;hours=2", "over 48"),
        ("cycle", "gallons=0.5;every=0 min", "more than 0"),
        ("meter", "gallons=3;hours=0", "more than 0"),
        ("meter", "gallons=NaN;hours=2", "can't be read"),
        ("pinhole", "diameter=1/16;pressure=900", "over 300"),
        ("pinhole", "diameter=2;pressure=60", "over 1"),
    ];
    for (method, given, part) in cases {
        let errors = loss(method, given).expect_err(given);
        assert!(
            errors.iter().any(|error| error.message.contains(part)),
            "{given}: {errors:?}"
        );
    }
    assert_eq!(
        loss("cup", "ounces=;seconds=0").unwrap_err().len(),
        2,
        "every figure is named at once"
    );
}

#[test]
fn each_figure_names_its_convention_because_they_disagree_by_half() {
    let of = |convention: &str| loss("drips", &format!("per_minute=60;convention={convention}")).unwrap();
    let (most, least) = (of("ten_thousand"), of("quarter_ml"));
    assert!(most.gallons_a_day() / least.gallons_a_day() > 1.5);
    assert!(most.convention.contains("10,000 drips a gallon") && most.convention.contains("AWWA"));
    assert!(least.convention.contains("USGS"));
    let pinhole = loss("pinhole", "diameter=1/16;pressure=60").unwrap();
    assert!(pinhole.convention.contains("0.62"), "{}", pinhole.convention);
}

#[test]
fn a_tariff_reads_as_bills_are_written_and_names_what_it_cannot_use() {
    let text = TariffText {
        water_price: "4.63".to_owned(),
        sewer_price: "5.1".to_owned(),
        billed: "kgal".to_owned(),
        currency: "usd".to_owned(),
    };
    let tariff = Tariff::read(&text).unwrap().unwrap();
    assert_eq!(tariff.phrase(), "4.63 water and 5.10 sewer, USD per kgal");
    // A thousand gallons cost one unit of each, whatever unit they were measured in.
    assert_eq!(tariff.cost_minor(Billed::Kgal.litres()), 973);
    assert_eq!(Tariff::read(&TariffText::default()).unwrap(), None);
    let wrong = TariffText {
        water_price: "4,63".to_owned(),
        sewer_price: "-1".to_owned(),
        billed: "acre".to_owned(),
        currency: "dollars".to_owned(),
    };
    let fields: Vec<String> = Tariff::read(&wrong)
        .unwrap_err()
        .into_iter()
        .map(|error| error.field)
        .collect();
    assert_eq!(fields, ["water_price", "sewer_price", "billed", "currency"]);
}

proptest! {
    /// More drips, a faster cup, a deeper drop, a higher pressure never lose less.
    #[test]
    fn prop_a_worse_reading_never_loses_less(one in 0_u32..300, other in 0_u32..300, fixed in 1_u32..48) {
        let (less, more) = (one.min(other), one.max(other));
        let cases = [
            ("drips", format!("per_minute={less}"), format!("per_minute={more}")),
            ("cup", format!("ounces={less};seconds={fixed}"), format!("ounces={more};seconds={fixed}")),
            ("cup", format!("ounces={fixed};seconds={}", more + 1), format!("ounces={fixed};seconds={}", less + 1)),
            ("pinhole", format!("diameter=1/{fixed};pressure={less}"), format!("diameter=1/{fixed};pressure={more}")),
            ("meter", format!("gallons={less};hours={fixed}"), format!("gallons={more};hours={fixed}")),
            ("cycle", format!("gallons=0.5;every={}", more + 1), format!("gallons=0.5;every={}", less + 1)),
        ];
        for (method, better, worse) in cases {
            let (better, worse) = (loss(method, &better).unwrap(), loss(method, &worse).unwrap());
            prop_assert!(better.gallons_a_day() <= worse.gallons_a_day());
        }
    }

    /// A loss kept in litres comes back in gallons, and money for two weeks is twice the money for one within a cent.
    #[test]
    fn prop_a_kept_loss_is_the_same_loss(ounces in 0_u32..640, seconds in 1_u32..86_400, price in 0_i64..100_000) {
        let measured = loss("cup", &format!("ounces={ounces};seconds={seconds}")).unwrap();
        let kept = Loss::kept(measured.litres_a_day(), &measured.convention);
        prop_assert!((kept.gallons_a_day() - measured.gallons_a_day()).abs() <= measured.gallons_a_day() * 1e-12);
        for billed in Billed::ALL.iter().copied() {
            let tariff = Tariff { water_minor: price, sewer_minor: 2 * price, billed, currency: "USD".to_owned() };
            let (one, two) = (tariff.cost_of(&kept, 7.0), tariff.cost_of(&kept, 14.0));
            prop_assert!((two - 2 * one).abs() <= 1, "{one} {two}");
        }
    }

    /// What is typed in any unit of volume comes back in it exactly, through any other.
    #[test]
    fn prop_volumes_come_back_as_typed(whole in 0_i64..1_000_000, from in 0..Unit::ALL.len(), to in 0..Unit::ALL.len()) {
        let (from, to) = (Unit::ALL[from], Unit::ALL[to]);
        let typed = Amount::parse(&format!("{whole} {}", from.code()), from).unwrap();
        if let Some(there) = typed.in_unit(to) {
            prop_assert_eq!(Amount::of(there, to).unwrap().in_unit(from), typed.in_unit(from));
        }
    }
}
