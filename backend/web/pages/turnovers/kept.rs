//! The record of a closed turnover on its page: its forms with their sums, and its photos, also those that came after the signing.

use crate::language;
use crate::store::document_forms::{Form, KeptForm};
use crate::store::documents::Document;
use crate::store::lists::turnovers::Survey;
use crate::store::photos::Photo;

/// A record as the page shows it.
#[derive(Debug, Clone)]
pub(super) struct Record {
    pub number: i64,
    pub kept: String,
    pub sha256: String,
    pub manifest: Option<String>,
    pub forms: Vec<FormLink>,
    pub photos: Vec<PhotoRow>,
    pub to_come: usize,
}

/// A form beside the page itself.
#[derive(Debug, Clone)]
pub(super) struct FormLink {
    pub address: &'static str,
    pub words: &'static str,
    pub name: &'static str,
    pub sha256: String,
}

/// A photo, by what it is found.
#[derive(Debug, Clone)]
pub(super) struct PhotoRow {
    pub id: i64,
    pub name: String,
    pub is_here: bool,
    pub words: String,
    pub sha256: String,
    pub announced: String,
}

impl Record {
    pub fn of(survey: &Survey, paper: &Document, forms: Vec<KeptForm>, photos: &[Photo]) -> Self {
        let manifest = forms.iter().find(|form| form.form == Form::Manifest);
        Self {
            number: paper.number,
            kept: when(survey, paper.issued_at),
            sha256: paper.sha256.clone(),
            manifest: manifest.map(|form| form.sha256.clone()),
            forms: forms.into_iter().filter_map(link).collect(),
            to_come: photos
                .iter()
                .filter(|photo| photo.received_at.is_none() && photo.refused.is_empty())
                .count(),
            photos: photos.iter().map(|photo| row(survey, paper, photo)).collect(),
        }
    }
}

fn link(form: KeptForm) -> Option<FormLink> {
    let (address, words) = match form.form {
        Form::Pdf => ("paper.pdf", "Record as PDF"),
        Form::Copy => ("copy", "Copy for the household"),
        Form::CopyPdf => ("copy.pdf", "Copy as PDF"),
        Form::Manifest => return None,
    };
    Some(FormLink {
        address,
        words,
        name: form.form.name(),
        sha256: form.sha256,
    })
}

fn when(survey: &Survey, at: chrono::NaiveDateTime) -> String {
    let local = survey.local(at);
    format!(
        "{}, {}",
        language::day(local.date(), survey.today),
        local.format("%H:%M")
    )
}

fn row(survey: &Survey, paper: &Document, photo: &Photo) -> PhotoRow {
    let items = survey.list.items.iter();
    let shown = items
        .filter(|item| {
            item.answers
                .iter()
                .any(|answer| answer.entry.client_id == photo.of)
        })
        .map(|item| survey.list.name(item))
        .next();
    let words = match (photo.received_at, photo.refused.as_str()) {
        (Some(at), _) if at > paper.issued_at => {
            format!("received {}, after the signing", when(survey, at))
        }
        (Some(at), _) => format!("received {}", when(survey, at)),
        (None, "") => "still to come".to_owned(),
        (None, why) => format!("could not be taken: {why}"),
    };
    PhotoRow {
        id: photo.id,
        name: shown.unwrap_or_else(|| "Photo".to_owned()),
        is_here: photo.received_at.is_some(),
        words: format!("taken {}, {words}", when(survey, photo.taken_at)),
        sha256: photo.sha256.clone(),
        announced: photo.sent_sha256.clone(),
    }
}
