//! How many taps the walk costs: 30 passing checks in at most 45, one by one or a stretch at once; a failing one with photo and note in
//! at most 4.

use super::Office;
use super::thumb::Thumb;
use crate::support::sqlite;

/// The taps of a walk from today's list to 30 passing checks, with `step` on each screen.
fn to_thirty(step: impl Fn(&Thumb)) -> u32 {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    phone.taps();
    phone.enter(&office.label);
    while phone.kept_or_sent(&office) < 30 {
        step(&phone);
    }
    phone.taps()
}

#[test]
fn thirty_passing_checks_one_by_one_cost_at_most_forty_five_taps() {
    let taps = to_thirty(|phone| {
        if phone.has("#pass-all") {
            phone.tap_on(".bars a[href*='/i/']");
        } else {
            assert!(phone.step());
        }
    });
    println!("30 checks one by one: {taps} taps");
    assert!(taps <= 45, "{taps} taps for 30 checks");
}

#[test]
fn thirty_passing_checks_by_stretches_cost_fewer() {
    let taps = to_thirty(|phone| assert!(phone.step()));
    println!("30 checks by stretches: {taps} taps");
    assert!(taps <= 30, "{taps} taps for 30 checks");
}

#[test]
fn a_failing_check_with_photo_and_note_costs_at_most_four_taps() {
    let fleet = sqlite();
    let office = Office::open(&fleet, 12);
    let phone = Thumb::in_hand(&office);
    phone.enter(&office.label);
    phone.tap_on(".bars a.first");
    phone.tap_on(".checks a");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("seen.jpg");
    image::RgbImage::new(640, 480).save(&file).unwrap();
    phone.taps();
    phone.fail_item("Rocks on the floor", &[file]);
    let taps = phone.taps();
    println!("a failing check with photo and note: {taps} taps");
    assert!(taps <= 4, "{taps} taps for a failing check");
    phone.until_sent(30);
    assert_eq!(office.results()[0].note, "Rocks on the floor");
}
