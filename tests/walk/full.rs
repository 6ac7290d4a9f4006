//! The whole turnover in flight mode: every check answered, photos, repairs, each step, the signature; then the tab is killed and the
//! server restarted, on a phone whose clock is two hours off. Everything arrives once and in order.

use std::path::{Path, PathBuf};

use anglestop::domain::turnover::Stage;
use anglestop::store::{documents, photos, turnovers};

use super::line::State;
use super::thumb::Thumb;
use super::{AFTERNOON, MORNING, Office};
use crate::support::{Fleet, postgres, sqlite};

/// Two hours, milliseconds.
const TWO_HOURS: i64 = 2 * 60 * 60 * 1000;
/// Checks that fail on the way, with as many photos each.
const FAILING: usize = 5;
const PHOTOS: usize = 4;

#[test]
fn a_turnover_is_closed_in_flight_mode_and_arrives_once_and_in_order_on_sqlite() {
    closes(&sqlite());
}

#[test]
fn a_turnover_is_closed_in_flight_mode_and_arrives_once_and_in_order_on_postgresql() {
    closes(&postgres());
}

fn closes(fleet: &Fleet) {
    let mut office = Office::open(fleet, 24);
    let folder = tempfile::tempdir().unwrap();
    let pictures = pictures(folder.path());
    let phone = Thumb::of(&office, "technician", TWO_HOURS);
    office.server.clock.set("2026-11-26T16:05:00".parse().unwrap());
    office.line.becomes(State::Cut);
    phone.chrome.flight_mode(true);

    phone.open("/today");
    phone.enter(&office.label);
    fail_some(&phone, &pictures);
    while phone.step() {}
    repair_all(&phone);
    phone.tap_on("[href$='/']:not(.mark a), .bars .first");
    phone.tap("#advance");
    phone.chrome.expect("Before ready");
    while phone.step() {}
    phone.tap("#advance");
    phone.chrome.expect("Move-in day");
    while phone.step() {}
    phone.tap_on(".bars .first");
    phone.chrome.fill("#name", "R. Vance");
    phone.tap_on("#close");
    phone.chrome.expect("Signed on this phone");
    let kept = phone.kept();
    assert!(kept.len() >= 60, "{} items", kept.len());
    assert!(phone.unsent().contains("not yet sent"), "{}", phone.unsent());
    assert!(office.results().is_empty(), "nothing was sent");

    phone.chrome.kill_tab();
    office.restart(AFTERNOON);
    office.line.becomes(State::Whole);
    phone.chrome.flight_mode(false);
    phone.chrome.clock_off_by(TWO_HOURS);
    office.with_a_running_clock(AFTERNOON, || {
        phone.open("/today");
        phone.until_sent(240);
    });
    office.has_exactly(&kept);
    arrived(&office, FAILING * PHOTOS);
}

/// Walks until so many checks failed, each with a note and its photos.
fn fail_some(phone: &Thumb, pictures: &[PathBuf]) {
    let mut failed = 0;
    while failed < FAILING {
        if phone.has("#fail") && is_moderate(phone) {
            phone.fail_item(
                &format!("Seen on the way, {failed}"),
                &pictures[failed * PHOTOS..][..PHOTOS],
            );
            failed += 1;
        } else if phone.has("#pass-all") {
            phone.tap_on(".bars a[href*='/i/']");
        } else {
            assert!(phone.step(), "too few checks:\n{}", phone.chrome.text());
        }
    }
}

fn is_moderate(phone: &Thumb) -> bool {
    let said = phone
        .chrome
        .script("return document.querySelector('#fail').innerText");
    said.as_str().unwrap().contains("Moderate")
}

fn repair_all(phone: &Thumb) {
    phone.tap_on(".bars a[href$='/fix']");
    for _ in 0..FAILING {
        phone.tap(".fill details.more-of:has(form) > summary");
        phone.chrome.fill(".fill details[open] input[name=parts]", "Seal");
        phone.chrome.fill(".fill details[open] input[name=minutes]", "20");
        let before = phone.kept_repairs();
        phone.tap(".fill details[open] button.act");
        phone.until(&format!(
            "return document.querySelectorAll('.fill details.more-of:has(form)').length < {}",
            FAILING - before
        ));
    }
}

impl Thumb {
    fn kept_repairs(&self) -> usize {
        let found = self.chrome.ask(
            "const store = await import('/assets/phone/store.js'); return (await store.ops()).filter((op) => op.kind === 'repaired').length",
        );
        usize::try_from(found.as_u64().unwrap()).unwrap()
    }
}

/// The turnover is closed with its record, in the times at which it was done, and every photo is there.
fn arrived(office: &Office<'_>, expected: usize) {
    let (turnover, record, pictures) = office
        .db
        .read(|conn| {
            let scope = anglestop::domain::register::person::Scope::All;
            Ok((
                turnovers::find(conn, &scope, office.turnover)?,
                documents::of_turnover(conn, office.turnover)?,
                photos::of_turnover(conn, office.turnover)?,
            ))
        })
        .unwrap();
    assert_eq!(turnover.stage, Stage::MovedIn);
    assert_eq!(turnover.signed_name, "R. Vance");
    assert!(record.is_some(), "its record is kept");
    let received = pictures.iter().filter(|photo| photo.received_at.is_some());
    assert_eq!(received.count(), expected);
    let (from, to) = (MORNING.parse().unwrap(), office.server.clock.now().0);
    for entry in office.results() {
        assert!(
            entry.done_at >= from && entry.done_at <= to,
            "a phone two hours off says {}",
            entry.done_at
        );
        assert!(
            entry.done_at
                > AFTERNOON.parse::<chrono::NaiveDateTime>().unwrap() - chrono::TimeDelta::minutes(30),
            "its own time, corrected: {}",
            entry.done_at
        );
    }
}

/// Pictures of nothing in particular, each another one.
fn pictures(folder: &Path) -> Vec<PathBuf> {
    (0..FAILING * PHOTOS)
        .map(|number| {
            let file = folder.join(format!("photo-{number}.jpg"));
            let shade = |x: u32, y: u32| {
                let step = u32::try_from(number).unwrap() * 11;
                image::Rgb([
                    u8::try_from((x + step) % 256).unwrap(),
                    u8::try_from((y * 2 + step) % 256).unwrap(),
                    u8::try_from((x * y / 97) % 256).unwrap(),
                ])
            };
            image::RgbImage::from_fn(1280, 960, shade).save(&file).unwrap();
            file
        })
        .collect()
}
