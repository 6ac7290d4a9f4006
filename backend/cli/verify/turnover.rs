//! `anglestop verify turnover`: whether a signed record is unaltered, by the turnover's number or by a file that somebody was given.

use clap::Args;
use serde::Serialize;

use crate::actions::turnovers::prove::{self, Given, Proof};
use crate::cli::Setting;
use crate::domain::register::TurnoverId;
use crate::domain::register::person::Scope;
use crate::error::{Error, Result};
use crate::language;
use crate::store::documents::sha256_of;

/// Options of `verify turnover`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  anglestop verify turnover record.pdf
  anglestop verify turnover 17 --json

It holds the bytes of the record's page, PDF and household's copy against the SHA-256 with which they were issued, the list that the
record was made from against the rows of today, and each photo against its SHA-256. It shows a change of one of them. It can't show a
change by somebody who may write all of the database at once; a file or a printed SHA-256 in somebody else's hands can. Whether what
was recorded is true it can't show.")]
pub struct Options {
    /// A file (PDF or page) that somebody was given, or the number of a turnover
    #[arg(value_name = "FILE|ID")]
    what: String,
    /// As JSON
    #[arg(long)]
    json: bool,
}

/// What is said of a record and of a file.
#[derive(Debug, Serialize)]
struct Told {
    unaltered: bool,
    file: Option<FileTold>,
    turnover: Option<i64>,
    record: Option<i64>,
    forms: Vec<FormTold>,
    differences: Vec<String>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
struct FileTold {
    sha256: String,
    state: &'static str,
    sentence: String,
}

#[derive(Debug, Serialize)]
struct FormTold {
    form: String,
    file_name: String,
    sha256: String,
}

/// Looks and says what was found.
///
/// # Errors
/// When something is altered, the file is no record of ours or can't be read, there is no such record, or the database does not answer.
pub fn run(setting: &Setting, options: &Options) -> Result<()> {
    let db = setting.open_there()?;
    let told = match options.what.parse::<i64>() {
        Ok(number) => db.read(|conn| {
            let proof = prove::prove(conn, &Scope::All, TurnoverId(number))
                .map_err(|error| unknown(error, number))?;
            Ok(of_record(None, Some(proof)))
        })?,
        Err(_no_number) => {
            let bytes = std::fs::read(&options.what)
                .map_err(|cause| Error::refused(format!("{} can't be read: {cause}.", options.what)))?;
            db.read(|conn| {
                let given = prove::given(conn, &Scope::All, &bytes)?;
                let proof = match &given {
                    Given::Issued { turnover, .. } | Given::Altered { turnover, .. } => {
                        Some(prove::prove(conn, &Scope::All, *turnover)?)
                    }
                    Given::Unknown => None,
                };
                let file = of_file(&options.what, &bytes, &given, proof.as_ref());
                Ok(of_record(Some(file), proof))
            })?
        }
    };
    print(&told, options)
}

fn unknown(error: Error, number: i64) -> Error {
    match error {
        Error::NotFound(_) => Error::refused(format!(
            "There is no turnover {number} here. See anglestop turnover list --state over."
        )),
        other => other,
    }
}

fn of_file(name: &str, bytes: &[u8], given: &Given, proof: Option<&Proof>) -> FileTold {
    let record = proof.map_or_else(String::new, |proof| {
        format!("record {} of turnover {}", proof.paper.number, proof.turnover)
    });
    let (state, sentence) = match given {
        Given::Issued { form, .. } => (
            "issued",
            format!("{name} is byte for byte the {form} of {record} as it was issued."),
        ),
        Given::Altered { sentence, .. } => (
            "altered",
            format!("{name} says that it is {record}, and is not as that was issued. {sentence}"),
        ),
        Given::Unknown => (
            "unknown",
            format!("{name} is no record that was issued here, and names none."),
        ),
    };
    FileTold {
        sha256: sha256_of(bytes),
        state,
        sentence,
    }
}

fn of_record(file: Option<FileTold>, proof: Option<Proof>) -> Told {
    let is_issued = file.as_ref().is_none_or(|file| file.state == "issued");
    let mut told = Told {
        unaltered: is_issued,
        file,
        turnover: None,
        record: None,
        forms: Vec::new(),
        differences: Vec::new(),
        notes: Vec::new(),
    };
    if let Some(proof) = proof {
        told.unaltered = is_issued && proof.differences.is_empty();
        told.turnover = Some(proof.turnover.0);
        told.record = Some(proof.paper.number);
        told.forms = vec![FormTold {
            form: "page".to_owned(),
            file_name: proof.paper.file_name,
            sha256: proof.paper.sha256,
        }];
        told.forms.extend(proof.forms.into_iter().map(|form| FormTold {
            form: form.form.to_string(),
            file_name: form.file_name,
            sha256: form.sha256,
        }));
        told.differences = proof.differences;
        told.notes = proof.notes;
    }
    told
}

fn print(told: &Told, options: &Options) -> Result<()> {
    let record = match (told.record, told.turnover) {
        (Some(record), Some(turnover)) => format!("Record {record} of turnover {turnover}"),
        _ => String::new(),
    };
    if options.json {
        let text = serde_json::to_string_pretty(told).map_err(Error::internal)?;
        crate::cli::say!("{text}");
    } else {
        if let Some(file) = &told.file {
            crate::cli::say!("{}", file.sentence);
        }
        for sentence in &told.differences {
            crate::cli::say!("{sentence}");
        }
        for sentence in &told.notes {
            crate::cli::say!("{sentence}");
        }
    }
    if !told.differences.is_empty() {
        let things = language::count(told.differences.len(), "thing is", "things are");
        return Err(Error::refused(format!(
            "{record} is altered: {things} not as it was signed."
        )));
    }
    match &told.file {
        Some(file) if file.state != "issued" => Err(Error::refused(match file.state {
            "altered" => format!("The file is altered. {record} as it is kept here is unaltered."),
            _ => "Nothing here could be held against it.".to_owned(),
        })),
        _ => {
            eprintln!("{record} is unaltered.");
            Ok(())
        }
    }
}
