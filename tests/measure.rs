//! Measures as people type them: exact, as typed, and against published conversion factors.

use anglestop::domain::code::Coded;
use anglestop::domain::measure::{Amount, Length, LengthUnit, MeasureError, Ratio, Unit};
use proptest::prelude::*;

fn inches(text: &str) -> Length {
    Length::parse(text, LengthUnit::Inch).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn a_length_is_read_as_people_type_it() {
    let cases = [
        ("14 7/8\"", 377_825_000),
        ("14 7/8", 377_825_000),
        ("14-7/8", 377_825_000),
        ("14⅞", 377_825_000),
        ("14 7⁄8 in", 377_825_000),
        ("14.875", 377_825_000),
        ("14.875 inches", 377_825_000),
        ("7/8", 22_225_000),
        ("378 mm", 378_000_000),
        ("378mm", 378_000_000),
        ("37,8 cm", 378_000_000),
        ("37.8CM", 378_000_000),
        ("0.378 m", 378_000_000),
        ("2 ft 3 in", 685_800_000),
        ("2' 3\"", 685_800_000),
        ("2'3 1/2\"", 698_500_000),
        ("2 ft 3", 685_800_000),
        ("2 ft", 609_600_000),
        ("  19  ", 482_600_000),
        ("0", 0),
    ];
    for (text, nm) in cases {
        assert_eq!(inches(text).nm(), nm, "{text}");
    }
    assert_eq!(
        Length::parse("378", LengthUnit::Millimetre).unwrap().nm(),
        378_000_000
    );
    assert_eq!(inches("482.6 mm"), inches("19 in"));
}

#[test]
fn what_cannot_be_read_is_refused_with_what_to_write() {
    let cases = [
        ("", "nothing was entered"),
        ("about a foot", "can't be read"),
        ("14 7/0", "divides by zero"),
        ("1,200 mm", "two ways"),
        ("-3 in", "below zero"),
        ("12 furlongs", "is no unit we know"),
        ("12 psi", "a length is asked for"),
        ("3 in 2 ft", "can't be read"),
        ("3 in 4", "can't be read"),
        ("1/3 in", "no exact length"),
        ("14.", "can't be read"),
        ("14 7/", "can't be read"),
        ("1e5", "is no unit we know"),
        ("NaN", "can't be read"),
        ("9999999999999 in", "larger or finer"),
        ("999999999999 m", "no exact length"),
        ("1 2 3", "can't be read"),
    ];
    for (text, part) in cases {
        let error = Length::parse(text, LengthUnit::Inch).expect_err(text).to_string();
        assert!(error.contains(part), "{text}: {error}");
    }
    let long = "1".repeat(400);
    assert!(Length::parse(&long, LengthUnit::Inch).is_err());
}

#[test]
fn inches_are_shown_in_sixteenths_exactly_or_as_just_over() {
    let cases = [
        ("14 7/8", "14 7/8 in"),
        ("14.5", "14 1/2 in"),
        ("1/16", "1/16 in"),
        ("0", "0 in"),
        ("21", "21 in"),
        ("381 mm", "15 in"),
        ("378 mm", "just over 14 7/8 in"),
        ("533 mm", "just over 20 15/16 in"),
        ("0.5 mm", "just over 0 in"),
    ];
    for (typed, shown) in cases {
        assert_eq!(inches(typed).in_inches().to_string(), shown, "{typed}");
    }
    assert_eq!(inches("1/16").in_millimetres(), "1.5875 mm");
    assert_eq!(inches("15").show(LengthUnit::Millimetre), "381 mm");
}

#[test]
fn times_are_read_as_people_type_them() {
    let second = |seconds: i64| Amount::of(Ratio::whole(seconds), Unit::Second).unwrap();
    for (text, seconds) in [
        ("80", 80),
        ("80 s", 80),
        ("1 min 20", 80),
        ("1 min 20 s", 80),
        ("1:20", 80),
        ("1' 20\"", 80),
        ("1m20s", 80),
        ("2 h", 7_200),
        ("1 h 30", 5_400),
    ] {
        assert_eq!(
            Amount::parse(text, Unit::Second).unwrap(),
            second(seconds),
            "{text}"
        );
    }
    assert_eq!(Amount::parse("1.5", Unit::Minute).unwrap(), second(90));
    for text in ["1:7", "1:75", "1:20:30", "20 s 1 min", "1 min 20 min"] {
        assert!(Amount::parse(text, Unit::Second).is_err(), "{text}");
    }
}

#[test]
fn every_other_quantity_is_read_with_its_units() {
    let same = [
        ("1.28 gal", "163.84 oz", Unit::Gallon),
        ("4 qt", "1 gal", Unit::Gallon),
        ("16 cups", "1 gal", Unit::Gallon),
        ("1 m3", "1000 L", Unit::Litre),
        ("1 L/min", "60 L/min", Unit::LitrePerMinute),
        ("100 kPa", "1 bar", Unit::Psi),
        ("-40 F", "-40 C", Unit::Fahrenheit),
        ("212 °F", "100 °C", Unit::Celsius),
        ("14 %", "14", Unit::Percent),
        ("3", "3 pieces", Unit::Count),
    ];
    for (one, other, unit) in same {
        let compared = Amount::parse(one, unit)
            .unwrap()
            .compare(&Amount::parse(other, unit).unwrap())
            .unwrap();
        let expected = if one == "1 L/min" {
            std::cmp::Ordering::Less
        } else {
            std::cmp::Ordering::Equal
        };
        assert_eq!(compared, expected, "{one} and {other}");
    }
    assert!(matches!(
        Amount::parse("-1 psi", Unit::Psi),
        Err(MeasureError::Negative(_))
    ));
    assert!(matches!(
        Amount::parse("60 F", Unit::Psi),
        Err(MeasureError::WrongQuantity { .. })
    ));
}

/// Source of the expected values: NIST SP 811 (2008), appendix B, in the data file.
#[test]
fn conversions_agree_with_the_published_factors() {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_bytes!("oracles/units.csv").as_slice());
    let mut rows = 0;
    for row in reader.records().map(Result::unwrap) {
        rows += 1;
        let unit = |word: &str| {
            Unit::ALL
                .iter()
                .copied()
                .find(|unit| unit.code() == word)
                .unwrap()
        };
        let word = row[0].split_once(' ').unwrap().1;
        let from = Unit::ALL
            .iter()
            .copied()
            .find(|unit| Unit::from_word(word, unit.quantity()) == Some(*unit))
            .unwrap_or_else(|| panic!("{word}"));
        let value = Amount::parse(&row[0], from)
            .unwrap()
            .in_unit(unit(&row[1]))
            .unwrap();
        let value = value.to_f64();
        let published: f64 = row[2].parse().unwrap();
        let tolerance: f64 = row[3].parse().unwrap();
        let allowed = tolerance + published.abs() * 1e-12;
        assert!((value - published).abs() <= allowed, "{row:?}: {value}");
    }
    assert!(rows >= 19, "{rows}");
}

#[test]
fn every_unit_is_read_by_its_own_code_and_example() {
    for unit in Unit::ALL.iter().copied() {
        assert_eq!(
            Unit::from_word(unit.code(), unit.quantity()),
            Some(unit),
            "{unit}"
        );
        assert!(Amount::parse(unit.example(), unit).is_ok(), "{unit}");
        let (up, down) = (
            unit.factor(),
            Ratio::new(unit.factor().numerator(), unit.factor().denominator()),
        );
        assert_eq!(Some(up), down, "the factor of {unit} is not in lowest terms");
    }
}

proptest! {
    /// Sixteenths come back as typed.
    #[test]
    fn prop_sixteenths_shown_and_read_again_are_the_same(sixteenths in 0_i32..100_000) {
        let length = Length::from_sixteenths(sixteenths);
        prop_assert_eq!(inches(&length.in_inches().to_string()), length);
    }

    /// Millimetres with up to six decimals come back as typed, whatever the default unit.
    #[test]
    fn prop_millimetres_shown_and_read_again_are_the_same(nm in 0_i64..9_000_000_000) {
        let length = Length::from_nm(nm);
        prop_assert_eq!(inches(&length.in_millimetres()), length);
    }

    /// Into any unit of the quantity and back is the same value: conversions lose nothing.
    #[test]
    fn prop_a_conversion_and_back_loses_nothing(
        whole in 0_i64..1_000_000, from in 0..Unit::ALL.len(), to in 0..Unit::ALL.len(),
    ) {
        let (from, to) = (Unit::ALL[from], Unit::ALL[to]);
        let amount = Amount::of(Ratio::whole(whole), from).unwrap();
        match amount.in_unit(to) {
            Some(value) => {
                prop_assert_eq!(from.quantity(), to.quantity());
                prop_assert_eq!(Amount::of(value, to), Some(amount));
            }
            None => prop_assert_ne!(from.quantity(), to.quantity()),
        }
    }

    /// Whatever is typed, there is an answer or a sentence, never a panic.
    #[test]
    fn prop_any_text_is_answered(text in "\\PC{0,50}") {
        for unit in Unit::ALL.iter().copied() {
            if let Err(error) = Amount::parse(&text, unit) {
                prop_assert!(!error.to_string().is_empty());
            }
        }
    }
}
