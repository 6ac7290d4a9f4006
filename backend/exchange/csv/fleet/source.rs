//! What was given to be imported: the one CSV, or files of the folder, told apart by their names.

use super::columns::FolderFile;
use super::folder::{Folder, unknown_checks};
use super::one::OneFile;
use super::settle::{Context, Reading};
use super::statement::Statement;
use crate::exchange::csv::{Problem, calendars, checks, schedules};

/// A file by its name, as it was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Given {
    /// Name without its folder.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// The fleet as given.
pub enum Source<'f> {
    /// One CSV.
    One(OneFile<'f>),
    /// A folder.
    Folder(Folder<'f>),
}

impl<'f> Source<'f> {
    /// Opens what was given; what is wrong with files as a whole is put into `reading`.
    #[must_use]
    pub fn open(files: &[&'f Given], context: &Context, reading: &mut Reading) -> Option<Self> {
        if let [file] = files
            && file_of(&file.name).is_none()
        {
            return OneFile::open(&file.name, &file.bytes, context, reading).map(Self::One);
        }
        let mut known = Vec::new();
        for file in files {
            match file_of(&file.name) {
                Some(kind) if known.iter().any(|(other, _, _)| *other == kind) => {
                    reading
                        .problems
                        .push(misplaced(&file.name, "is there twice", "Give each file once."));
                }
                Some(kind) => known.push((kind, file.name.as_str(), file.bytes.as_slice())),
                None => {
                    let mut names: Vec<_> = FolderFile::ALL.iter().map(|file| file.name()).collect();
                    names.extend([checks::FILE, calendars::FILE, schedules::FILE]);
                    let remedy = format!("Give the one CSV by itself, or files named {}.", names.join(", "));
                    reading
                        .problems
                        .push(misplaced(&file.name, "is no file of the folder form", &remedy));
                }
            }
        }
        if files.is_empty() {
            reading
                .problems
                .push(misplaced("", "There is no file.", "Choose a CSV."));
        }
        Some(Self::Folder(Folder::open(&known, reading)))
    }

    /// The codes of the buildings it speaks of.
    #[must_use]
    pub fn buildings(&self) -> &[String] {
        match self {
            Self::One(file) => file.buildings(),
            Self::Folder(folder) => folder.buildings(),
        }
    }

    /// What it says of one building.
    #[must_use]
    pub fn statement(&self, code: &str, context: &Context, reading: &mut Reading) -> Statement {
        match self {
            Self::One(file) => file.statement(code, reading),
            Self::Folder(folder) => {
                let statement = folder.statement(code, reading);
                unknown_checks(&statement, context, reading);
                statement
            }
        }
    }
}

fn file_of(name: &str) -> Option<FolderFile> {
    FolderFile::ALL
        .into_iter()
        .find(|file| file.name().eq_ignore_ascii_case(name))
}

fn misplaced(name: &str, reason: &str, remedy: &str) -> Problem {
    let reason = if name.is_empty() {
        reason.to_owned()
    } else {
        format!("{name} {reason}.")
    };
    Problem::new(name, 1, "", "", reason, remedy)
}
