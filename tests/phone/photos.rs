//! Photos: received piece by piece, resumed after a cut, written anew, and refused in words when they are no photo that is taken.

use std::io::Cursor;
use std::time::{Duration, Instant};

use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use serde_json::{Value, json};
use uuid::Uuid;

use super::stage::{Phone, Site, id_of, op, states};
use crate::support::on_both;
use anglestop::domain::trade::TurnoverStage;
use anglestop::store::documents::sha256_of;
use anglestop::store::photos::{self, Photo};

const AT: &str = "2026-02-03T17:50:00.000Z";

/// A picture that does not pack well, so that it has pieces.
fn picture(width: u32, height: u32) -> DynamicImage {
    let noise = |x: u32, y: u32| x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503).rotate_left(7);
    let image = RgbImage::from_fn(width, height, |x, y| {
        let [a, b, c, _] = noise(x, y).to_le_bytes();
        Rgb([a, b, c])
    });
    DynamicImage::ImageRgb8(image)
}

fn written(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A JPEG that says which camera and turns the picture: an EXIF segment behind the start.
fn with_exif(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let mut exif = b"Exif\0\0II*\0\x08\0\0\0\x02\0".to_vec();
    exif.extend_from_slice(&[0x0f, 0x01, 2, 0, 4, 0, 0, 0, b'C', b'A', b'M', 0]);
    exif.extend_from_slice(&[0x12, 0x01, 3, 0, 1, 0, 0, 0, orientation, 0, 0, 0]);
    exif.extend_from_slice(&[0, 0, 0, 0]);
    exif.extend_from_slice(b"GPS 59.3293 18.0686");
    let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
    [&jpeg[..2], &[0xff, 0xe1], &length, &exif, &jpeg[2..]].concat()
}

/// Announces bytes as a photo of a failing answer; the photo's id and the answer's.
fn announce(site: &Site, phone: &Phone, bytes: &[u8]) -> (Uuid, Uuid) {
    let fails = site.answer(AT, "wc_tank_firm", "found", json!({"outcome": "fail"}));
    let photo = op(
        "photo",
        AT,
        json!({"of": fails["id"], "sha256": sha256_of(bytes), "bytes": bytes.len()}),
    );
    let told = phone.send(site, &[fails.clone(), photo.clone()]);
    assert_eq!(states(&told), ["kept", "kept"], "{told:?}");
    (id_of(&photo), id_of(&fails))
}

impl Phone {
    /// Sends a piece; status and what was told.
    fn piece(&self, id: Uuid, from: usize, bytes: &[u8]) -> (u16, Value) {
        let answer = self.browser.send_bytes(
            &format!("/phone/photos/{id}?from={from}"),
            &[("csrf-token", &self.csrf)],
            "application/octet-stream",
            bytes,
        );
        (answer.status, serde_json::from_str(&answer.body).unwrap())
    }

    fn progress(&self, id: Uuid) -> Value {
        let answer = self.browser.get(&format!("/phone/photos/{id}"));
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str(&answer.body).unwrap()
    }

    /// Sends a photo as the page does: from where it stands, piece by piece.
    fn send_photo(&self, id: Uuid, bytes: &[u8], piece: usize) -> (u16, Value) {
        let mut at = usize::try_from(self.progress(id)["received"].as_i64().unwrap()).unwrap();
        loop {
            let (status, told) = self.piece(id, at, &bytes[at..bytes.len().min(at + piece)]);
            if status != 200 || told["is_complete"] == true {
                return (status, told);
            }
            at = usize::try_from(told["received"].as_i64().unwrap()).unwrap();
        }
    }
}

fn kept(site: &Site, id: Uuid) -> Photo {
    site.flat
        .db()
        .read(|conn| photos::by_client_id(conn, id))
        .unwrap()
        .unwrap()
}

fn file(site: &Site, photo: &Photo) -> Vec<u8> {
    site.flat
        .db()
        .read(|conn| photos::file(conn, photo.id))
        .unwrap()
        .unwrap()
}

#[test]
fn a_photo_goes_on_where_it_was_cut_off_and_is_written_anew() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let bytes = with_exif(&written(&picture(2_400, 300), ImageFormat::Jpeg), 6);
        assert!(
            bytes.len() > 2 * 100_000,
            "{} bytes are no three pieces",
            bytes.len()
        );
        let (id, answer) = announce(&site, &phone, &bytes);
        let (status, told) = phone.piece(id, 0, &bytes[..100_000]);
        assert_eq!((status, &told["received"]), (200, &json!(100_000)));
        let (status, told) = phone.piece(id, 150_000, &bytes[150_000..160_000]);
        assert_eq!((status, &told["received"]), (409, &json!(100_000)), "{told}");
        let (_, told) = phone.piece(id, 0, &bytes[..100_000]);
        assert_eq!(told["received"], 100_000, "a piece that is there changes nothing");
        let (_, told) = phone.piece(id, 50_000, &bytes[50_000..120_000]);
        assert_eq!(told["received"], 120_000, "of an overlap what is new counts");
        // Another sign-in goes on, and the clock of the receipt is the server's.
        site.at("2026-02-03T20:00:00");
        let later = site.phone();
        assert_eq!(
            later.progress(id),
            json!({"received": 120_000, "is_complete": false, "refused": ""})
        );
        let (status, told) = later.send_photo(id, &bytes, 256 << 10);
        assert_eq!((status, &told["is_complete"]), (200, &json!(true)), "{told}");
        let photo = kept(&site, id);
        assert_eq!((photo.of, photo.turnover), (answer, Some(site.turnover)));
        assert_eq!(photo.received_at.unwrap().to_string(), "2026-02-03 20:00:00");
        assert_eq!(photo.taken_at.to_string(), "2026-02-03 17:50:00");
        // Upright, at most 2,048 pixels, nothing of the camera in it.
        assert_eq!((photo.width, photo.height), (Some(256), Some(2_048)));
        let file = file(&site, &photo);
        assert_eq!(sha256_of(&file), photo.sha256);
        assert!(
            !file.windows(3).any(|three| three == b"GPS" || three == b"CAM"),
            "the camera is in it"
        );
        assert_eq!(site.count("photo_pieces"), 0);
        // The same again changes nothing.
        assert_eq!(later.piece(id, 0, &bytes[..1_000]).1["is_complete"], true);
        let shown = later.browser.get_bytes(&format!("/photos/{}", photo.id));
        assert_eq!(shown, file);
    });
}

#[test]
fn a_photo_may_follow_the_closing_and_is_the_turnovers_all_the_same() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let bytes = written(&picture(40, 30), ImageFormat::Png);
        let (id, _) = announce(&site, &phone, &bytes);
        let flat = &site.flat;
        flat.pass(site.turnover, "2026-02-03", TurnoverStage::Found);
        flat.step(site.turnover, "2026-02-03").unwrap();
        flat.pass(site.turnover, "2026-02-03", TurnoverStage::Ready);
        flat.step(site.turnover, "2026-02-03").unwrap();
        flat.pass(site.turnover, "2026-02-03", TurnoverStage::MoveIn);
        flat.close(site.turnover, "2026-02-03").unwrap();
        site.at("2026-02-06T09:00:00");
        let (status, told) = phone.send_photo(id, &bytes, 500);
        assert_eq!((status, &told["is_complete"]), (200, &json!(true)), "{told}");
        let all = flat
            .db()
            .read(|conn| photos::of_turnover(conn, site.turnover))
            .unwrap();
        assert_eq!(all.len(), 1);
        assert_eq!((all[0].width, all[0].height), (Some(40), Some(30)));
    });
}

#[test]
fn what_is_no_photo_is_refused_in_words_and_soon() {
    let fleet = crate::support::sqlite();
    let site = Site::open(&fleet);
    let phone = site.phone();
    let jpeg = written(&picture(40, 30), ImageFormat::Jpeg);
    let png = written(&picture(40, 30), ImageFormat::Png);
    // One pixel that claims 60,000 by 60,000: the size of a PNG stands at byte 16, its sum behind it is put right.
    let mut bomb = written(&picture(1, 1), ImageFormat::Png);
    bomb[16..24].copy_from_slice(&[0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60]);
    let sum = crc32(&bomb[12..29]).to_be_bytes();
    bomb[29..33].copy_from_slice(&sum);
    // The same as JPEG: height and width in its frame.
    let mut tall = jpeg.clone();
    let frame = tall.windows(2).position(|two| two == [0xff, 0xc0]).unwrap();
    tall[frame + 5..frame + 9].copy_from_slice(&[0xea, 0x60, 0xea, 0x60]);
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        (
            "SVG",
            b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>".to_vec(),
            "no JPEG, PNG or WebP",
        ),
        (
            "HTML",
            b"<!doctype html><script>alert(1)</script>".to_vec(),
            "no JPEG, PNG or WebP",
        ),
        (
            "GIF",
            b"GIF89a\x01\x00\x01\x00\x00\x00\x00;".to_vec(),
            "no JPEG, PNG or WebP",
        ),
        ("a path", b"../../etc/passwd".to_vec(), "no JPEG, PNG or WebP"),
        ("a PNG bomb", bomb, "24 megapixels"),
        ("a JPEG bomb", tall, "24 megapixels"),
        (
            "JPEG and ZIP",
            [&jpeg[..], b"PK\x03\x04 something"].concat(),
            "stands behind the picture",
        ),
        (
            "PNG and HTML",
            [&png[..], b"<script>alert(1)</script>"].concat(),
            "stands behind the picture",
        ),
        ("half a JPEG", jpeg[..jpeg.len() / 2].to_vec(), "can't be read"),
        (
            "JPEG by its first bytes alone",
            b"\xff\xd8\xff<svg onload='alert(1)'/>".to_vec(),
            "can't be read",
        ),
        (
            "an empty WebP",
            b"RIFF\x04\x00\x00\x00WEBP".to_vec(),
            "can't be read",
        ),
    ];
    for (name, bytes, sentence) in cases {
        let (id, _) = announce(&site, &phone, &bytes);
        let before = Instant::now();
        let (status, told) = phone.send_photo(id, &bytes, 256 << 10);
        assert!(
            before.elapsed() < Duration::from_secs(1),
            "{name} took {:?}",
            before.elapsed()
        );
        assert_eq!(status, 422, "{name}: {told}");
        assert!(
            told["detail"].as_str().unwrap().contains(sentence),
            "{name}: {told}"
        );
        assert_eq!(told["detail"], told["refused"]);
        let after = phone.progress(id);
        assert_eq!(
            (&after["is_complete"], &after["refused"]),
            (&json!(false), &told["refused"]),
            "{name}"
        );
    }
    assert_eq!(site.count("photo_files") + site.count("photo_pieces"), 0);
}

#[test]
fn sizes_and_sums_that_can_not_be_are_refused_before_a_byte_is_sent() {
    let fleet = crate::support::sqlite();
    let site = Site::open(&fleet);
    let phone = site.phone();
    let of = site.tank(AT);
    let photo = |sum: &str, bytes: i64| {
        op(
            "photo",
            AT,
            json!({"of": of["id"], "sha256": sum, "bytes": bytes}),
        )
    };
    let sum = "ab".repeat(32);
    let large = photo(&sum, (10 << 20) + 1);
    let ops = [of.clone(), large.clone(), photo("../x", 9), photo(&sum, 0)];
    let told = phone.send(&site, &ops);
    assert_eq!(
        states(&told),
        ["kept", "attention", "attention", "attention"],
        "{told:?}"
    );
    assert!(told[1].1.contains("at most 10 MiB"), "{told:?}");
    assert!(
        phone.progress(id_of(&large))["refused"]
            .as_str()
            .unwrap()
            .contains("10 MiB")
    );
    // A piece beyond what was announced, one that is too large, one of a photo that nobody announced.
    let small = written(&picture(4, 3), ImageFormat::Png);
    let (id, _) = announce(&site, &phone, &small[..20]);
    assert_eq!(phone.piece(id, 0, &small).0, 422);
    assert_eq!(phone.piece(id, 0, &vec![0xff; (256 << 10) + 1]).0, 413);
    assert_eq!(phone.piece(super::stage::id(), 0, &small).0, 404);
}

#[test]
fn bytes_that_are_not_those_announced_are_asked_for_again() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let bytes = written(&picture(40, 30), ImageFormat::Png);
        let (id, _) = announce(&site, &phone, &bytes);
        let mut spoilt = bytes.clone();
        *spoilt.last_mut().unwrap() ^= 1;
        let (status, told) = phone.piece(id, 0, &spoilt);
        assert_eq!((status, &told["received"]), (409, &json!(0)), "{told}");
        let (status, told) = phone.send_photo(id, &bytes, 1_000);
        assert_eq!((status, &told["is_complete"]), (200, &json!(true)), "{told}");
    });
}

#[test]
fn a_photo_whose_server_stopped_at_its_last_byte_is_kept_by_the_clockwork() {
    on_both(|fleet| {
        let site = Site::open(fleet);
        let phone = site.phone();
        let bytes = written(&picture(40, 30), ImageFormat::WebP);
        let (id, _) = announce(&site, &phone, &bytes);
        let photo = kept(&site, id);
        site.flat
            .db()
            .write(|tx| photos::add_piece(tx, photo.id, 0, &bytes))
            .unwrap();
        let clockwork = anglestop::jobs::Clockwork {
            db: site.flat.db().clone(),
            clock: site.server.clock.clone(),
            mailer: None,
            public_url: site.server.address.clone(),
        };
        clockwork.round(site.server.clock.now()).unwrap();
        assert!(kept(&site, id).received_at.is_some());
        // Batches and steps are forgotten once no phone can send them again; results and photos are not.
        let before = (site.count("results"), site.count("photos"));
        assert!(site.count("phone_batches") > 0 && site.count("phone_steps") > 0);
        clockwork
            .round(anglestop::clock::Now("2026-06-03T17:00:00".parse().unwrap()))
            .unwrap();
        assert!(site.count("phone_batches") > 0, "119 days");
        clockwork
            .round(anglestop::clock::Now("2026-06-04T17:00:00".parse().unwrap()))
            .unwrap();
        assert_eq!(site.count("phone_batches") + site.count("phone_steps"), 0);
        assert_eq!((site.count("results"), site.count("photos")), before);
    });
}

/// The sum of a PNG's chunk (ISO 3309, from memory).
fn crc32(bytes: &[u8]) -> u32 {
    let mut sum = u32::MAX;
    for byte in bytes {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 {
                (sum >> 1) ^ 0xedb8_8320
            } else {
                sum >> 1
            };
        }
    }
    !sum
}
