//! The other forms of an issued paper, kept with it byte for byte: its PDF, what it was made from, the household's copy. Inserted with
//! the paper and read for ever, as the paper itself.

use diesel::prelude::*;

use super::coded::read_code;
use super::documents::{Document, altered, sha256_of};
use super::schema::{document_forms, documents};
use super::{AnyConnection, Tx};
use crate::coded;
use crate::domain::code::Coded;
use crate::domain::register::{DocumentId, TurnoverId};
use crate::error::{Error, Result};

coded! {
    /// Another form of a paper.
    Form "form" {
        /// The same as PDF.
        Pdf = "pdf",
        /// What it was made from, as JSON.
        Manifest = "manifest",
        /// The copy for the household, as a page.
        Copy = "copy",
        /// The copy for the household, as PDF.
        CopyPdf = "copy_pdf",
    }
}

impl Form {
    /// What people call it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pdf => "PDF",
            Self::Manifest => "manifest",
            Self::Copy => "household's copy",
            Self::CopyPdf => "household's copy as PDF",
        }
    }
}

/// A form to be kept.
#[derive(Debug, Clone, Copy)]
pub struct NewForm<'a> {
    /// Which.
    pub form: Form,
    /// Of the bytes.
    pub media_type: &'a str,
    /// Offered on download; ASCII.
    pub file_name: &'a str,
    /// The file itself.
    pub bytes: &'a [u8],
}

/// A form without its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptForm {
    /// Of which paper.
    pub document: DocumentId,
    /// Which.
    pub form: Form,
    /// Of the bytes.
    pub media_type: String,
    /// Offered on download.
    pub file_name: String,
    /// Of the bytes, hexadecimal.
    pub sha256: String,
}

/// Keeps a form with the SHA-256 of its bytes.
///
/// # Errors
/// When the paper has that form already, or the database refuses.
pub fn insert(tx: &mut Tx<'_>, document: DocumentId, new: NewForm<'_>) -> Result<()> {
    diesel::insert_into(document_forms::table)
        .values((
            document_forms::document_id.eq(document.0),
            document_forms::form.eq(new.form.code()),
            document_forms::media_type.eq(new.media_type),
            document_forms::file_name.eq(new.file_name),
            document_forms::bytes.eq(new.bytes),
            document_forms::sha256.eq(sha256_of(new.bytes)),
        ))
        .execute(&mut **tx)?;
    Ok(())
}

/// The forms of a paper, in the order of [`Form`]; none for a paper that was issued before there were any.
///
/// # Errors
/// When the database does not answer.
pub fn of_document(conn: &mut AnyConnection, document: DocumentId) -> Result<Vec<KeptForm>> {
    let rows: Vec<(i64, String, String, String, String)> = document_forms::table
        .filter(document_forms::document_id.eq(document.0))
        .select((
            document_forms::document_id,
            document_forms::form,
            document_forms::media_type,
            document_forms::file_name,
            document_forms::sha256,
        ))
        .load(conn)?;
    let forms: Result<Vec<KeptForm>> = rows
        .into_iter()
        .map(|(document, form, media_type, file_name, sha256)| {
            Ok(KeptForm {
                document: DocumentId(document),
                form: read_code(&form)?,
                media_type,
                file_name,
                sha256,
            })
        })
        .collect();
    let mut forms = forms?;
    forms.sort_by_key(|kept| kept.form);
    Ok(forms)
}

/// One form of a paper, exactly as it was issued.
///
/// # Errors
/// [`Error::NotFound`] when the paper has no such form; when its bytes no longer match their sum, which somebody must have caused
/// outside of this program, or the database does not answer.
pub fn read(conn: &mut AnyConnection, document: &Document, form: Form) -> Result<(KeptForm, Vec<u8>)> {
    let kept = of_document(conn, document.id)?
        .into_iter()
        .find(|kept| kept.form == form);
    let kept = kept.ok_or_else(|| {
        let of = "this record; it was made before such forms were kept";
        Error::not_found(format!("{} of {of}", form.name()))
    })?;
    let bytes = stored(conn, document.id, form)?;
    if sha256_of(&bytes) == kept.sha256 {
        Ok((kept, bytes))
    } else {
        Err(altered(&kept.file_name, &kept.sha256))
    }
}

/// The bytes of a form as they are stored now, whether they match their sum or not.
///
/// # Errors
/// When the database does not answer.
pub fn stored(conn: &mut AnyConnection, document: DocumentId, form: Form) -> Result<Vec<u8>> {
    let bytes = document_forms::table
        .find((document.0, form.code()))
        .select(document_forms::bytes)
        .first(conn)?;
    Ok(bytes)
}

/// The turnover, and the form when it is not the paper itself, of which a file with this SHA-256 was issued.
///
/// # Errors
/// When the database does not answer.
pub fn by_sha256(conn: &mut AnyConnection, sha256: &str) -> Result<Option<(TurnoverId, Option<Form>)>> {
    let paper: Option<Option<i64>> = documents::table
        .filter(documents::sha256.eq(sha256))
        .filter(documents::turnover_id.is_not_null())
        .select(documents::turnover_id)
        .first(conn)
        .optional()?;
    if let Some(Some(turnover)) = paper {
        return Ok(Some((TurnoverId(turnover), None)));
    }
    let form: Option<(Option<i64>, String)> = document_forms::table
        .inner_join(documents::table)
        .filter(document_forms::sha256.eq(sha256))
        .select((documents::turnover_id, document_forms::form))
        .first(conn)
        .optional()?;
    match form {
        Some((Some(turnover), form)) => Ok(Some((TurnoverId(turnover), Some(read_code(&form)?)))),
        _ => Ok(None),
    }
}
