//! `anglestop turnover paper`: the record as it was signed, in any of its forms, byte for byte.

use std::io::Write as _;
use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::which::Which;
use crate::error::{Error, Result};
use crate::store::document_forms::{self, Form};
use crate::store::{Db, documents};

/// Options of `turnover paper`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(flatten)]
    which: Which,
    /// Which form of it
    #[arg(long, value_enum, default_value = "page")]
    form: Wanted,
    /// Where to write it; standard output when not given
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Wanted {
    /// The record as a page
    Page,
    /// The record as PDF
    Pdf,
    /// What both were made from, as JSON
    Manifest,
    /// The household's copy as a page
    Copy,
    /// The household's copy as PDF
    CopyPdf,
}

impl Wanted {
    const fn form(self) -> Option<Form> {
        match self {
            Self::Page => None,
            Self::Pdf => Some(Form::Pdf),
            Self::Manifest => Some(Form::Manifest),
            Self::Copy => Some(Form::Copy),
            Self::CopyPdf => Some(Form::CopyPdf),
        }
    }
}

/// Writes the record.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let (name, sha256, bytes) = db.read(|conn| {
        let turnover = options.which.find(conn)?;
        let paper = documents::of_turnover(conn, turnover.id)?.ok_or_else(|| {
            Error::refused(format!(
                "Turnover {} is {}, and only a closed one has a record.",
                turnover.id,
                turnover.stage.name().to_lowercase()
            ))
        })?;
        match options.form.form() {
            None => {
                let bytes = documents::bytes(conn, &paper)?;
                Ok((format!("Record {}", paper.number), paper.sha256, bytes))
            }
            Some(form) => {
                let (kept, bytes) = document_forms::read(conn, &paper, form)?;
                Ok((
                    format!("Record {}, {},", paper.number, form.name()),
                    kept.sha256,
                    bytes,
                ))
            }
        }
    })?;
    match &options.output {
        Some(file) => {
            std::fs::write(file, &bytes)
                .map_err(|cause| Error::refused(format!("{} can't be written: {cause}.", file.display())))?;
            eprintln!("{name} written, SHA-256 {sha256}.");
            Ok(())
        }
        None => crate::cli::until_the_pipe_closes(std::io::stdout().lock().write_all(&bytes)),
    }
}
