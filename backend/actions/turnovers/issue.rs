//! Issues the record of a turnover at its closing, in the transaction of the closing: a page, the same as PDF, the list of what both
//! were made from, and the household's copy as page and PDF. Their bytes are kept with their SHA-256 and never change.

use std::collections::HashMap;
use std::sync::Arc;

use super::gather::{self, Gathered};
use super::paper::{self, Closing};
use crate::clock::Now;
use crate::domain::measure::LengthUnit;
use crate::domain::register::CheckId;
use crate::domain::register::person::Actor;
use crate::domain::trade::Check;
use crate::domain::turnover::Turnover;
use crate::error::{Error, Result};
use crate::exchange::manifest;
use crate::exchange::paper::{self as printed, Paper};
use crate::exchange::pdf::{self, Making, Sheet};
use crate::store::document_forms::{self, Form, NewForm};
use crate::store::documents::{self, Document, DocumentKind, NewDocument, sha256_of};
use crate::store::lists::turnovers::Survey;
use crate::store::photos::{self, Photo};
use crate::store::{Tx, checks, turnovers};

/// Keeps the record of a turnover that `closed` is already stored as.
pub(super) fn issue(
    tx: &mut Tx<'_>,
    actor: &Actor,
    now: Now,
    survey: &Survey,
    closed: &Turnover,
) -> Result<Document> {
    let number = documents::next_number(tx, closed.building, DocumentKind::Turnover)?;
    // As it is read back: what the database makes of an instant is what it is compared with later.
    let stored = turnovers::find(tx, &actor.scope, closed.id)?;
    let gathered = gather::at_closing(tx, stored, survey)?;
    let made_from = manifest::bytes(number, gathered.rows(), &gather::names(tx, survey, &gathered)?);
    let sum = sha256_of(&made_from);
    let earlier = earlier_versions(tx, survey)?;
    let photos = with_bytes(tx, &gathered)?;
    let repairs = gather::repairs(tx, &gathered)?;
    let closing = Closing {
        survey,
        closed,
        number,
        closed_by: &actor.name,
        put_right: &gathered.put_right,
        repairs: &repairs,
        earlier: &earlier,
        photos: &photos,
        manifest: &sum,
    };
    let paper = paper::compose(&closing);
    let copy = paper::copy::compose(&closing);
    let name = format!("turnover-{}-{number}", survey.building.facts.code.to_lowercase());
    let new = NewDocument {
        kind: DocumentKind::Turnover,
        building: closed.building,
        turnover: Some(closed.id),
        number,
        as_of: survey.today,
        media_type: printed::MEDIA_TYPE,
        file_name: &format!("{name}.html"),
        bytes: &printed::html(&paper),
        issued_at: now.0,
        issued_by: actor.person,
    };
    let document = documents::insert(tx, &new)?;
    let making = Making {
        sheet: match survey.building.facts.length_unit {
            LengthUnit::Inch => Sheet::Letter,
            LengthUnit::Millimetre => Sheet::A4,
        },
        made_at: now.0,
    };
    let as_pdf = |paper: &Paper| pdf::pdf(paper, making).map(|(bytes, _)| bytes);
    let forms = [
        (Form::Pdf, pdf::MEDIA_TYPE, ".pdf", as_pdf(&paper)?),
        (Form::Manifest, manifest::MEDIA_TYPE, "-manifest.json", made_from),
        (
            Form::Copy,
            printed::MEDIA_TYPE,
            "-copy.html",
            printed::html(&copy),
        ),
        (Form::CopyPdf, pdf::MEDIA_TYPE, "-copy.pdf", as_pdf(&copy)?),
    ];
    for (form, media_type, ending, bytes) in &forms {
        let new = NewForm {
            form: *form,
            media_type,
            file_name: &format!("{name}{ending}"),
            bytes,
        };
        document_forms::insert(tx, document.id, new)?;
    }
    Ok(document)
}

fn with_bytes(tx: &mut Tx<'_>, gathered: &Gathered) -> Result<Vec<(Photo, Option<Vec<u8>>)>> {
    let mut photos = Vec::with_capacity(gathered.photos.len());
    for photo in &gathered.photos {
        photos.push((photo.clone(), photos::file(tx, photo.id)?));
    }
    Ok(photos)
}

/// The procedures of answers that were given to an earlier version than today's.
fn earlier_versions(tx: &mut Tx<'_>, survey: &Survey) -> Result<HashMap<(CheckId, i64), Arc<Check>>> {
    let mut found = HashMap::new();
    for item in &survey.list.items {
        for answer in &item.answers {
            let version = answer.entry.check_version;
            if version == i64::from(item.check.version) || found.contains_key(&(item.key.check, version)) {
                continue;
            }
            let number = u32::try_from(version).map_err(Error::internal)?;
            if let Some(check) = checks::by_version(tx, item.key.check, number)? {
                found.insert((item.key.check, version), check);
            }
        }
    }
    Ok(found)
}
