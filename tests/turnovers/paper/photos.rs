//! Photos in the record: their pictures taken out again by pdfimages of Poppler, their sums, and those that come after the signing.

use anglestop::domain::register::TurnoverId;
use anglestop::domain::trade::TurnoverStage;
use anglestop::store::document_forms::Form;
use anglestop::store::documents::sha256_of;
use anglestop::store::{AnyConnection, Db};
use diesel::RunQueryDsl as _;

use super::{form, page, pages, poppler, sql};
use crate::support::on_both;
use crate::support::server::Server;
use crate::turnovers::stage::{Flat, MOVE_IN, flat};

/// A picture of its own for each number.
pub fn jpeg(number: u8, (width, height): (u32, u32)) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        let shade = |value: u32| u8::try_from(value % 251).unwrap();
        image::Rgb([
            shade(x + u32::from(number) * 17),
            shade(y),
            number.wrapping_mul(40),
        ])
    });
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 80)
        .encode_image(&picture)
        .unwrap();
    bytes
}

/// The word of a database for bytes.
fn literal(db: &Db, bytes: &[u8]) -> String {
    let hex: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    let is_sqlite = db
        .read(|conn| Ok(matches!(conn, AnyConnection::Sqlite(_))))
        .unwrap();
    if is_sqlite {
        format!("x'{hex}'")
    } else {
        format!("'\\x{hex}'")
    }
}

/// The client id of the photo with a number.
pub fn client_id(number: u8) -> String {
    format!("0199f000-0000-7000-8000-0000000000{number:02}")
}

/// Announces photos of the first answers of a turnover.
pub fn announce(flat: &Flat, id: TurnoverId, count: u8) {
    let survey = flat.survey(id, MOVE_IN);
    let answers = survey.list.items.iter().filter_map(|item| item.last());
    for (number, answer) in (1..=count).zip(answers.cycle()) {
        let of = answer.entry.client_id;
        sql(
            flat.db(),
            &format!(
                "INSERT INTO photos (client_id, result_client_id, building_id, unit_id, turnover_id, person_id, taken_at, announced_at, \
                 sent_sha256, sent_bytes, sha256, refused) VALUES ('{}', '{of}', {}, {}, {id}, 2, '2026-02-09 15:{number:02}:00', \
                 '2026-02-09 16:00:00', '{}', {}, '', '')",
                client_id(number),
                flat.small.building,
                flat.small.unit,
                sha256_of(&[number]),
                1000 + i64::from(number),
            ),
        );
    }
}

/// What the server does when a photo has come.
pub fn arrive(flat: &Flat, number: u8, bytes: &[u8], at: &str) {
    let id = client_id(number);
    sql(
        flat.db(),
        &format!(
            "UPDATE photos SET received_at = '{at}', sha256 = '{}' WHERE client_id = '{id}'",
            sha256_of(bytes)
        ),
    );
    let bytes = literal(flat.db(), bytes);
    flat.db()
        .write(|tx| {
            let insert =
                format!("INSERT INTO photo_files SELECT id, {bytes} FROM photos WHERE client_id = '{id}'");
            Ok(diesel::sql_query(insert).execute(&mut **tx)?)
        })
        .unwrap();
}

/// A closed turnover with three photos, of which the second was still to come.
pub fn with_photos(db: &Db) -> (Flat, TurnoverId, Vec<Vec<u8>>) {
    let flat = flat(db);
    let id = flat.ready();
    flat.pass(id, MOVE_IN, TurnoverStage::MoveIn);
    announce(&flat, id, 3);
    let pictures = vec![jpeg(1, (320, 240)), jpeg(2, (240, 320)), jpeg(3, (200, 320))];
    for number in [1, 3] {
        arrive(
            &flat,
            number,
            &pictures[usize::from(number) - 1],
            "2026-02-09 17:30:00",
        );
    }
    flat.close(id, MOVE_IN).unwrap();
    (flat, id, pictures)
}

#[test]
fn a_photo_comes_out_of_the_pdf_as_it_is_kept_and_its_sum_stands_beneath_it() {
    on_both(|fleet| {
        let (_, id, pictures) = with_photos(&fleet.db);
        let pdf = form(&fleet.db, id, Form::Pdf);
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("record.pdf");
        std::fs::write(&file, &pdf).unwrap();
        let status = std::process::Command::new("pdfimages")
            .args(["-all"])
            .arg(&file)
            .arg(folder.path().join("photo"))
            .status()
            .unwrap();
        assert!(status.success());
        let mut taken_out: Vec<Vec<u8>> = Vec::new();
        for entry in std::fs::read_dir(folder.path()).unwrap() {
            let path = entry.unwrap().path();
            if path != file {
                taken_out.push(std::fs::read(path).unwrap());
            }
        }
        taken_out.sort();
        let mut kept = vec![pictures[0].clone(), pictures[2].clone()];
        kept.sort();
        assert_eq!(taken_out, kept);
        let all = pages(&pdf).join(" ");
        let without_spaces = all.replace(' ', "");
        for picture in kept {
            assert!(without_spaces.contains(&format!("SHA-256{}", sha256_of(&picture))));
        }
        assert!(
            all.contains("Received Mon 9 Feb 2026, 11:30 by the server's clock"),
            "{all}"
        );
    });
}

#[test]
fn a_photo_that_is_to_come_is_named_with_its_announced_sum_and_found_by_it_when_it_came() {
    on_both(|fleet| {
        let (flat, id, pictures) = with_photos(&fleet.db);
        let announced = sha256_of(&[2]);
        let pdf = form(&fleet.db, id, Form::Pdf);
        let all = pages(&pdf).join(" ");
        assert!(
            all.contains("1 of them had not arrived when this was signed."),
            "{all}"
        );
        assert!(all.contains("Still to come when this was signed"), "{all}");
        assert!(
            all.replace(' ', "").contains(&format!("SHA-256{announced}")),
            "{all}"
        );
        let html = page(&fleet.db, id);
        assert!(html.contains(&announced) && html.contains("Still to come when this was signed"));
        assert_eq!(html.matches("href=\"/photos/").count(), 2);
        let server = Server::start(&fleet.db, "2026-02-11T18:00:00");
        let manager = server.signed_in("manager");
        let shown = |page: &str| (page.contains("1 still to come"), page.contains(&announced));
        assert_eq!(
            shown(&manager.get(&format!("/turnovers/{id}")).body),
            (true, true)
        );
        arrive(&flat, 2, &pictures[1], "2026-02-11 09:00:00");
        let body = manager.get(&format!("/turnovers/{id}")).body;
        assert_eq!(shown(&body), (false, true));
        assert!(body.contains("after the signing"), "{body}");
        assert_eq!(
            form(&fleet.db, id, Form::Pdf),
            pdf,
            "the record stays as it was signed"
        );
    });
}

#[test]
fn photos_stand_in_the_copy_too_without_who_took_them() {
    on_both(|fleet| {
        let (_, id, pictures) = with_photos(&fleet.db);
        let pdf = form(&fleet.db, id, Form::CopyPdf);
        let images = poppler("pdfimages", &["-list"], &pdf);
        assert_eq!(images.lines().count(), 2 + 2, "{images}");
        let all = pages(&pdf).join(" ");
        assert!(all.replace(' ', "").contains(&sha256_of(&pictures[0])), "{all}");
        assert!(!all.contains("Rosa"), "{all}");
    });
}
