//! Whether a record is unaltered: the bytes of each of its forms against their sums, the list that it was made from against the rows of
//! today, each photo against its sum and against what was announced. And whether a file that somebody was given was issued here.
//!
//! What it shows: a change of one of these that does not take the others along. It shows no change by somebody who may write everything
//! (rows, list, forms and sums at once); a file or a printed SHA-256 in somebody else's hands does. It shows nothing of whether what was
//! recorded is true.

use serde_json::Value;

use super::gather;
use super::paper::MARK;
use crate::domain::register::person::Scope;
use crate::domain::register::{DeficiencyId, TurnoverId};
use crate::domain::turnover::Turnover;
use crate::error::{Error, Result};
use crate::exchange::manifest;
use crate::language;
use crate::store::document_forms::{self, Form, KeptForm};
use crate::store::documents::{self, Document, sha256_of};
use crate::store::photos::{self, Photo};
use crate::store::{AnyConnection, turnovers};

/// What was found of a record.
#[derive(Debug, Clone)]
pub struct Proof {
    /// Of which turnover.
    pub turnover: TurnoverId,
    /// The record.
    pub paper: Document,
    /// Its other forms.
    pub forms: Vec<KeptForm>,
    /// What is not as it was signed, a sentence each; nothing when it is unaltered.
    pub differences: Vec<String>,
    /// What came later or could not be looked at, a sentence each. No difference.
    pub notes: Vec<String>,
}

/// What a file is that somebody was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// Byte for byte a form of a record that was issued here.
    Issued {
        /// Of which turnover.
        turnover: TurnoverId,
        /// What people call the form.
        form: &'static str,
    },
    /// It says that it is of a record that was issued here, and no form of that has these bytes.
    Altered {
        /// Of which turnover.
        turnover: TurnoverId,
        /// Why not, with the first byte that differs from the form it is nearest to.
        sentence: String,
    },
    /// No record of ours.
    Unknown,
}

/// Looks at the record of a turnover.
///
/// # Errors
/// When there is no such turnover, it has no record, or the database does not answer.
pub fn prove(conn: &mut AnyConnection, scope: &Scope, id: TurnoverId) -> Result<Proof> {
    let turnover = turnovers::find(conn, scope, id)?;
    let paper = documents::of_turnover(conn, id)?.ok_or_else(|| {
        Error::refused(format!(
            "Turnover {id} is {}, and only a closed one has a record.",
            turnover.stage.name().to_lowercase()
        ))
    })?;
    let forms = document_forms::of_document(conn, paper.id)?;
    let (mut differences, mut notes) = (Vec::new(), Vec::new());
    let page = documents::stored(conn, paper.id)?;
    differences.extend(against_sum("page", &paper.file_name, &page, &paper.sha256));
    let mut made_from = None;
    for form in &forms {
        let bytes = document_forms::stored(conn, paper.id, form.form)?;
        differences.extend(against_sum(
            form.form.name(),
            &form.file_name,
            &bytes,
            &form.sha256,
        ));
        if form.form == Form::Manifest {
            made_from = Some(bytes);
        } else {
            differences.extend(against_mark(form, &bytes, &forms));
        }
    }
    match &made_from {
        None if forms.is_empty() => notes.push(
            "This record was made before lists of what it was made from were kept: only its bytes could be looked at.".to_owned(),
        ),
        None => differences.push("The list that the record was made from (its manifest) is gone.".to_owned()),
        Some(bytes) => {
            missing_forms(&forms, &mut differences);
            rows(conn, turnover, bytes, (&mut differences, &mut notes))?;
        }
    }
    photos(conn, id, (&mut differences, &mut notes))?;
    Ok(Proof {
        turnover: id,
        paper,
        forms,
        differences,
        notes,
    })
}

fn against_sum(what: &str, file: &str, bytes: &[u8], sha256: &str) -> Option<String> {
    let now = sha256_of(bytes);
    (now != sha256).then(|| {
        format!(
            "The {what} of the record ({file}) was issued with SHA-256 {sha256}; its stored bytes have {now}."
        )
    })
}

/// Each form names the list that it was made from.
fn against_mark(form: &KeptForm, bytes: &[u8], forms: &[KeptForm]) -> Option<String> {
    let list = forms.iter().find(|one| one.form == Form::Manifest)?;
    let marks = marks(bytes);
    (!marks.contains(&list.sha256)).then(|| {
        format!(
            "The {} of the record ({}) does not name the list that is stored with it, SHA-256 {}.",
            form.form.name(),
            form.file_name,
            list.sha256
        )
    })
}

fn missing_forms(forms: &[KeptForm], differences: &mut Vec<String>) {
    for form in [Form::Pdf, Form::Copy, Form::CopyPdf] {
        if !forms.iter().any(|one| one.form == form) {
            differences.push(format!("The {} of the record is gone.", form.name()));
        }
    }
}

/// The list against the rows of today.
fn rows(
    conn: &mut AnyConnection,
    turnover: Turnover,
    bytes: &[u8],
    (differences, notes): (&mut Vec<String>, &mut Vec<String>),
) -> Result<()> {
    let Some(kept) = manifest::read(bytes) else {
        differences.push(
            "The list that the record was made from can't be read, so the rows could not be looked at."
                .to_owned(),
        );
        return Ok(());
    };
    let ids = |list: &str| -> Vec<DeficiencyId> {
        let rows = kept[list].as_array().into_iter().flatten();
        rows.filter_map(|row| row["id"].as_i64())
            .map(DeficiencyId)
            .collect()
    };
    let today = gather::later(conn, turnover, &ids("left"), &ids("put_right"))?;
    let (found, later) = manifest::differences(&kept, &manifest::rows(today.rows()));
    differences.extend(found.into_iter().map(|one| one.sentence));
    notes.extend(later);
    notes.extend(to_come(&kept, &today.photos));
    Ok(())
}

/// What became of the photos that were still to come.
fn to_come(kept: &Value, photos: &[Photo]) -> Vec<String> {
    let awaited = kept["photos"].as_array().into_iter().flatten();
    let awaited = awaited.filter(|row| row["received_at"].is_null());
    let told = awaited.filter_map(|row| {
        let id = row["client_id"].as_str()?;
        let photo = photos.iter().find(|photo| photo.client_id.to_string() == id)?;
        let announced = format!("announced with SHA-256 {}", photo.sent_sha256);
        Some(match (photo.received_at, photo.refused.as_str()) {
            (Some(at), _) => format!(
                "Photo {id}, {announced}, arrived after the signing, on {} UTC.",
                at.format("%Y-%m-%d %H:%M")
            ),
            (None, "") => format!("Photo {id}, {announced}, is still to come."),
            (None, why) => format!("Photo {id}, {announced}, could not be taken: {why}"),
        })
    });
    told.collect()
}

/// The kept bytes of each photo against its sum.
fn photos(
    conn: &mut AnyConnection,
    id: TurnoverId,
    (differences, notes): (&mut Vec<String>, &mut Vec<String>),
) -> Result<()> {
    let mut looked_at = 0;
    for photo in photos::of_turnover(conn, id)? {
        let bytes = photos::file(conn, photo.id)?;
        match (photo.received_at, bytes) {
            (Some(_), Some(bytes)) => {
                looked_at += 1;
                let now = sha256_of(&bytes);
                if now != photo.sha256 {
                    differences.push(format!(
                        "Photo {} was kept with SHA-256 {}; its stored bytes have {now}.",
                        photo.client_id, photo.sha256
                    ));
                }
            }
            (Some(_), None) => differences.push(format!(
                "Photo {} was received, and its bytes are gone.",
                photo.client_id
            )),
            (None, Some(_)) => differences.push(format!(
                "Photo {} has bytes, and nothing says when they were received.",
                photo.client_id
            )),
            (None, None) => {}
        }
    }
    if looked_at > 0 {
        notes.push(format!(
            "{} held against {} SHA-256.",
            language::count(looked_at, "photo was", "photos were"),
            if looked_at == 1 { "its" } else { "their" }
        ));
    }
    Ok(())
}

/// Whether a file was issued here, within a scope.
///
/// # Errors
/// When the database does not answer.
pub fn given(conn: &mut AnyConnection, scope: &Scope, bytes: &[u8]) -> Result<Given> {
    if let Some((turnover, form)) = document_forms::by_sha256(conn, &sha256_of(bytes))?
        && seen(conn, scope, turnover)?
    {
        let form = form.map_or("page", Form::name);
        return Ok(Given::Issued { turnover, form });
    }
    for mark in marks(bytes) {
        if let Some((turnover, Some(Form::Manifest))) = document_forms::by_sha256(conn, &mark)?
            && seen(conn, scope, turnover)?
        {
            let sentence = nearest(conn, turnover, bytes)?;
            return Ok(Given::Altered { turnover, sentence });
        }
    }
    Ok(Given::Unknown)
}

fn seen(conn: &mut AnyConnection, scope: &Scope, id: TurnoverId) -> Result<bool> {
    match turnovers::find(conn, scope, id) {
        Ok(_) => Ok(true),
        Err(Error::NotFound(_)) => Ok(false),
        Err(other) => Err(other),
    }
}

/// The sums of lists that a file names, in the order in which they stand in it.
fn marks(bytes: &[u8]) -> Vec<String> {
    let begin = MARK.as_bytes();
    let places = bytes
        .windows(begin.len())
        .enumerate()
        .filter(|(_, window)| *window == begin);
    let sums = places.filter_map(|(at, _)| {
        let sum = bytes.get(at + begin.len()..at + begin.len() + 64)?;
        let is_sum = sum.iter().all(|byte| byte.is_ascii_hexdigit());
        is_sum.then(|| String::from_utf8_lossy(sum).into_owned())
    });
    let mut found: Vec<String> = Vec::new();
    for sum in sums {
        if !found.contains(&sum) {
            found.push(sum);
        }
    }
    found
}

/// From which form a file differs latest, and where.
fn nearest(conn: &mut AnyConnection, turnover: TurnoverId, bytes: &[u8]) -> Result<String> {
    let Some(paper) = documents::of_turnover(conn, turnover)? else {
        return Ok("The record is gone.".to_owned());
    };
    let mut issued = vec![("page", documents::stored(conn, paper.id)?)];
    for form in document_forms::of_document(conn, paper.id)? {
        issued.push((
            form.form.name(),
            document_forms::stored(conn, paper.id, form.form)?,
        ));
    }
    let same = |other: &[u8]| {
        bytes
            .iter()
            .zip(other)
            .take_while(|(one, other)| one == other)
            .count()
    };
    let nearest = issued.iter().max_by_key(|(_, other)| same(other));
    Ok(nearest.map_or_else(String::new, |(name, other)| {
        format!(
            "It differs from the {name} that was issued from byte {} on ({} there, {} here).",
            same(other) + 1,
            language::count(other.len(), "byte", "bytes"),
            language::count(bytes.len(), "byte", "bytes")
        )
    }))
}
