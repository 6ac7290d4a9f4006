//! The record of a closed turnover on its page: its forms with their sums, and its photos, also those that came after the signing.

use crate::language::Language;
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
    pub words: String,
    pub name: String,
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
    pub fn of(
        language: Language,
        survey: &Survey,
        paper: &Document,
        forms: Vec<KeptForm>,
        photos: &[Photo],
    ) -> Self {
        let manifest = forms.iter().find(|form| form.form == Form::Manifest);
        Self {
            number: paper.number,
            kept: when(language, survey, paper.issued_at),
            sha256: paper.sha256.clone(),
            manifest: manifest.map(|form| form.sha256.clone()),
            forms: forms
                .into_iter()
                .filter_map(|form| link(language, form))
                .collect(),
            to_come: photos
                .iter()
                .filter(|photo| photo.received_at.is_none() && photo.refused.is_empty())
                .count(),
            photos: photos
                .iter()
                .map(|photo| row(language, survey, paper, photo))
                .collect(),
        }
    }
}

fn link(language: Language, form: KeptForm) -> Option<FormLink> {
    let (address, words, name) = match form.form {
        Form::Pdf => ("paper.pdf", "turnover-record-pdf", "turnover-sum-pdf"),
        Form::Copy => ("copy", "turnover-copy", "turnover-sum-copy"),
        Form::CopyPdf => ("copy.pdf", "turnover-copy-pdf", "turnover-sum-copy-pdf"),
        Form::Manifest => return None,
    };
    Some(FormLink {
        address,
        words: language.say(words).into(),
        name: language.say(name).into(),
        sha256: form.sha256,
    })
}

fn when(language: Language, survey: &Survey, at: chrono::NaiveDateTime) -> String {
    language.moment(at, survey.building.facts.time_zone, survey.today)
}

fn row(language: Language, survey: &Survey, paper: &Document, photo: &Photo) -> PhotoRow {
    let items = survey.list.items.iter();
    let shown = items
        .filter(|item| {
            item.answers
                .iter()
                .any(|answer| answer.entry.client_id == photo.of)
        })
        .map(|item| language.item(&survey.list, item))
        .next();
    let said = match (photo.received_at, photo.refused.as_str()) {
        (Some(at), _) if at > paper.issued_at => language
            .say("turnover-photo-after")
            .with("received", when(language, survey, at)),
        (Some(at), _) => language
            .say("turnover-photo-here")
            .with("received", when(language, survey, at)),
        (None, "") => language.say("turnover-photo-to-come"),
        (None, why) => language
            .say("turnover-photo-refused")
            .with("why", language.sentence(why)),
    };
    PhotoRow {
        id: photo.id,
        name: shown.unwrap_or_else(|| language.say("turnover-photo").into()),
        is_here: photo.received_at.is_some(),
        words: said.with("taken", when(language, survey, photo.taken_at)).into(),
        sha256: photo.sha256.clone(),
        announced: photo.sent_sha256.clone(),
    }
}
