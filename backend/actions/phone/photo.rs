//! Takes the announcement of a photo: its answer, its size and its sum, so that the record can name it while its bytes are to come.

use super::taking::{Done, Taking};
use crate::domain::register::TurnoverId;
use crate::error::{Error, Result};
use crate::exchange::phone::sync::{Photo as Wire, Sent, State, Told};
use crate::exchange::photo::MOST_BYTES;
use crate::store::photos::{self, Photo};
use crate::store::{Tx, results};

/// The most photos of one answer.
const MOST_OF_ONE: usize = 50;

pub(super) fn announce(tx: &mut Tx<'_>, taking: &Taking<'_>, sent: &Sent, one: &Wire) -> Result<Done> {
    if let Some(known) = photos::by_client_id(tx, sent.id)? {
        if known.person != taking.person || known.of != one.of {
            let sentence = "The id of this photo is already taken. Take it once more.";
            return Err(Error::Conflict(sentence.to_owned()));
        }
        return Ok(Done::Taken(told(sent, State::Already, &known.refused)));
    }
    if !is_sum(&one.sha256) || one.bytes <= 0 {
        return Err(Error::refused(
            "The photo came without its size or its sum. Take it once more.",
        ));
    }
    let of = results::by_client_ids(tx, &[one.of])?.remove(&one.of);
    let unit = of.as_ref().map(|(_, entry)| entry.unit).or(taking.unit);
    let reached = match unit {
        Some(unit) => taking.reaches(tx, unit)?,
        None => None,
    };
    let (place, _) = reached.ok_or_else(|| Error::not_found("such unit"))?;
    if photos::of_answer(tx, one.of)?.len() >= MOST_OF_ONE {
        return Err(Error::refused(format!(
            "This answer has {MOST_OF_ONE} photos already. Leave out those that show the same."
        )));
    }
    let refused = if one.bytes > MOST_BYTES {
        let mega = (one.bytes + (1 << 20) - 1) >> 20;
        format!("The photo has {mega} MiB; at most 10 MiB are taken. Take it again with fewer pixels.")
    } else {
        String::new()
    };
    let turnover: Option<TurnoverId> = of.and_then(|(_, entry)| entry.turnover).map(|(id, _)| id);
    let photo = Photo {
        id: 0,
        client_id: sent.id,
        of: one.of,
        building: place.building,
        unit: place.unit,
        turnover,
        person: taking.person,
        taken_at: taking.done_at(sent),
        announced_at: taking.now.0,
        sent_sha256: one.sha256.to_lowercase(),
        sent_bytes: one.bytes,
        received_at: None,
        sha256: String::new(),
        width: None,
        height: None,
        refused: refused.clone(),
    };
    photos::announce(tx, &photo)?;
    Ok(Done::Taken(told(sent, State::Kept, &refused)))
}

fn told(sent: &Sent, state: State, refused: &str) -> Told {
    if refused.is_empty() {
        Told::new(sent.id, state)
    } else {
        Told::new(sent.id, State::Attention).saying(refused)
    }
}

fn is_sum(text: &str) -> bool {
    text.len() == 64 && text.chars().all(|c| c.is_ascii_hexdigit())
}

/// Whether somebody may go on sending a photo: whoever announced it, and whoever sees its building.
pub(super) fn may_send(taking: &crate::domain::register::person::Actor, photo: &Photo) -> bool {
    taking.person == Some(photo.person) || taking.scope.sees(photo.building)
}
