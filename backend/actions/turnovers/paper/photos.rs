//! The photos of a record: numbered as they were taken, each with who took it, when the server received it and its SHA-256. One that
//! is still to come is named with the SHA-256 under which it was announced, by which it is found when it arrives.

use uuid::Uuid;

use super::Closing;
use crate::exchange::paper::{Photo, Section};
use crate::language;
use crate::store::photos::Photo as Kept;

/// Which photos show an answer, in words; none when none does.
pub(super) fn numbers(closing: &Closing<'_>, answer: Uuid) -> Option<String> {
    let numbers: Vec<String> = (1..)
        .zip(closing.photos)
        .filter(|(_, (photo, _))| photo.of == answer)
        .map(|(number, _): (usize, _)| number.to_string())
        .collect();
    match numbers.as_slice() {
        [] => None,
        [one] => Some(format!("Photo {one}")),
        many => Some(format!("Photos {}", many.join(", "))),
    }
}

/// All of them, as the office keeps them.
pub(super) fn of_record(closing: &Closing<'_>) -> Option<Section> {
    let to_come = closing
        .photos
        .iter()
        .filter(|(photo, _)| photo.received_at.is_none())
        .count();
    let mut lead = vec![format!(
        "{}, each named in the row of its check.",
        language::count(closing.photos.len(), "photo", "photos")
    )];
    if to_come > 0 {
        lead.push(format!(
            "{to_come} of them had not arrived when this was signed. Each is found by the SHA-256 under which it was announced."
        ));
    }
    section(closing, lead, |photo| {
        let mut under = vec![format!(
            "Taken {} · {}",
            closing.when(photo.taken_at),
            closing.survey.name(Some(photo.person))
        )];
        match photo.received_at {
            Some(at) => {
                under.push(format!("Received {} by the server's clock", closing.when(at)));
                under.push(format!("SHA-256 {}", photo.sha256));
            }
            None => {
                under.push(format!("Announced: {} bytes", photo.sent_bytes));
                under.push(format!("SHA-256 {}", photo.sent_sha256));
            }
        }
        under
    })
}

/// Those that are there, as the household sees them: when, and by which sum they are found at the office.
pub(super) fn of_copy(closing: &Closing<'_>) -> Option<Section> {
    let lead = vec!["The pictures are in the PDF form of this copy.".to_owned()];
    section(closing, lead, |photo| {
        let mut under = vec![format!("Taken {}", closing.when(photo.taken_at))];
        if !photo.sha256.is_empty() {
            under.push(format!("SHA-256 {}", photo.sha256));
        }
        under
    })
}

fn section(
    closing: &Closing<'_>,
    lead: Vec<String>,
    under: impl Fn(&Kept) -> Vec<String>,
) -> Option<Section> {
    let photos = (1..)
        .zip(closing.photos)
        .map(|(number, (photo, bytes)): (usize, _)| Photo {
            caption: match place(closing, photo.of) {
                "" => format!("Photo {number}"),
                place => format!("Photo {number}, {place}"),
            },
            under: under(photo),
            link: if photo.received_at.is_some() {
                format!("/photos/{}", photo.id)
            } else {
                String::new()
            },
            jpeg: bytes.clone(),
            instead: match photo.refused.as_str() {
                "" => "Still to come when this was signed".to_owned(),
                why => format!("Could not be taken: {why}"),
            },
        });
    (!closing.photos.is_empty()).then(|| Section {
        heading: "Photos".to_owned(),
        lead,
        photos: photos.collect(),
        ..Section::default()
    })
}

/// The label of the place whose answer a photo shows; empty when no answer of this record has it.
fn place<'a>(closing: &'a Closing<'_>, answer: Uuid) -> &'a str {
    let list = &closing.survey.list;
    let shown =
        |item: &&crate::domain::turnover::Item| item.answers.iter().any(|one| one.entry.client_id == answer);
    let item = list.items.iter().find(shown);
    item.and_then(|item| list.places.get(item.place))
        .map_or("", |place| place.label.as_str())
}
