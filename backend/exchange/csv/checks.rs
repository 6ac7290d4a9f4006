//! Checks as CSV: those of the users' own with the whole procedure as JSON, and built-in ones that were withdrawn. The rest come with the
//! program. Decides what a row means for the checks that are there; stores nothing.

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::text::unguard;
use super::{Audience, Cell, Column, Problem, Row, Sheet, Table, column};
use crate::domain::register::CheckId;
use crate::domain::trade::{Check, Origin};
use crate::exchange::catalogue::{check_from_json, check_to_json};

/// Name of the file in a folder.
pub const FILE: &str = "checks.csv";

/// The columns, in order.
pub const COLUMNS: [Column; 3] = [
    Column::new("check", "Code of the check", "code", "our_mixing_valve"),
    Column::new(
        "active",
        "yes when it is offered to new schedules",
        "yes or no",
        "yes",
    )
    .or_blank("yes"),
    Column::new(
        "body",
        "The whole procedure of a check of one's own, as JSON",
        "JSON",
        "{\"code\":\"our_mixing_valve\",…}",
    )
    .or_blank("it is built in"),
];

/// A check that is there.
#[derive(Debug, Clone, Copy)]
pub struct Kept<'k> {
    /// Its key.
    pub id: CheckId,
    /// Ours or the users' own.
    pub origin: Origin,
    /// Whether it is offered to new schedules.
    pub active: bool,
    /// The procedure, current version.
    pub check: &'k Check,
}

/// What a file wants of one check.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The check that is there, with whether it is offered and its version; none when it is new.
    pub before: Option<(CheckId, bool, u32)>,
    /// Whether it is to be offered.
    pub active: bool,
    /// The procedure; its version is one more than that of the check that is there when it says anything else.
    pub check: Check,
}

impl Wanted {
    /// Whether the procedure is new or another than before.
    #[must_use]
    pub fn is_new_version(&self) -> bool {
        self.before
            .is_none_or(|(_, _, version)| version != self.check.version)
    }
}

/// Writes the checks that don't come with the program, and those of it that were withdrawn.
///
/// # Errors
/// When `out` can't be written.
pub fn write<'k, W: Write>(
    out: W,
    audience: Audience,
    checks: impl IntoIterator<Item = Kept<'k>>,
) -> io::Result<W> {
    let mut table = Table::begin(out, audience, &column::names(&COLUMNS))?;
    for kept in checks {
        let body = match kept.origin {
            Origin::Own => Cell::text(check_to_json(kept.check).map_err(io::Error::other)?),
            Origin::Builtin if kept.active => continue,
            Origin::Builtin => Cell::Blank,
        };
        let active = Cell::Code(if kept.active { "yes" } else { "no" });
        table.row([Cell::text(kept.check.code.as_str()), active, body])?;
    }
    table.finish()
}

/// Reads a file: what it wants of each check, and what must be mended.
#[must_use]
pub fn read(name: &str, bytes: &[u8], known: &[Kept<'_>]) -> (Vec<Wanted>, Vec<Problem>) {
    let sheet = match Sheet::open(name, bytes) {
        Ok(sheet) => sheet,
        Err(problem) => return (Vec::new(), vec![problem]),
    };
    let mut reader = Reader {
        problems: header(&sheet),
        known: known
            .iter()
            .map(|kept| (kept.check.code.as_str(), *kept))
            .collect(),
        first: BTreeMap::new(),
        sheet: &sheet,
    };
    if !reader.problems.is_empty() {
        return (Vec::new(), reader.problems);
    }
    let mut wanted = Vec::new();
    let uneven = sheet.each(|row| wanted.extend(reader.row(&row)));
    reader.problems.extend(uneven);
    (wanted, reader.problems)
}

fn header(sheet: &Sheet<'_>) -> Vec<Problem> {
    let names = column::names(&COLUMNS);
    let unknown = sheet
        .header()
        .iter()
        .filter(|name| !names.contains(&name.as_str()));
    let missing = ["check", "body"]
        .into_iter()
        .filter(|name| sheet.column(name).is_none());
    let told = |name: &str, value: &str, reason: String| {
        let remedy = format!("Name the columns {}.", names.join(", "));
        Problem::new(sheet.name(), 1, name, value, reason, remedy)
    };
    unknown
        .map(|name| told(name, name, format!("There is no column {name}.")))
        .chain(missing.map(|name| told(name, "", format!("The column {name} is missing."))))
        .collect()
}

struct Reader<'s, 'f, 'k> {
    sheet: &'s Sheet<'f>,
    known: BTreeMap<&'k str, Kept<'k>>,
    first: BTreeMap<String, u64>,
    problems: Vec<Problem>,
}

impl Reader<'_, '_, '_> {
    fn row(&mut self, row: &Row<'_>) -> Option<Wanted> {
        let cell = |name: &str| {
            let index = self.sheet.column(name);
            index
                .map_or("", |index| unguard(row.cell(index).trim()))
                .to_owned()
        };
        let (code, active, body) = (cell("check"), cell("active"), cell("body"));
        let refuse = |this: &mut Self, column: &str, value: &str, reason: String, remedy: &str| {
            let problem = Problem::new(this.sheet.name(), row.at.line, column, value, reason, remedy);
            this.problems.push(problem);
        };
        let mut is_sound = true;
        if let Some(first) = self.first.insert(code.clone(), row.at.line) {
            is_sound = false;
            refuse(
                self,
                "check",
                &code,
                format!("Line {first} speaks of the same check."),
                "Take one of the two rows out.",
            );
        }
        let active = match active.as_str() {
            "yes" | "" => true,
            "no" => false,
            other => {
                is_sound = false;
                refuse(
                    self,
                    "active",
                    other,
                    format!("Active is “{other}”."),
                    "It must be yes or no.",
                );
                true
            }
        };
        let known = self.known.get(code.as_str()).copied();
        let said = Said { code, active, body };
        match said.wanted(known) {
            Ok(wanted) => is_sound.then_some(wanted),
            Err((column, reason, remedy)) => {
                let value = if column == "check" { &said.code } else { &said.body };
                refuse(self, column, value, reason, remedy);
                None
            }
        }
    }
}

type Refusal = (&'static str, String, &'static str);

/// What a row says.
struct Said {
    code: String,
    active: bool,
    body: String,
}

impl Said {
    fn wanted(&self, known: Option<Kept<'_>>) -> Result<Wanted, Refusal> {
        let (code, active) = (&self.code, self.active);
        let before = known.map(|kept| (kept.id, kept.active, kept.check.version));
        if self.body.is_empty() {
            let kept = known.ok_or_else(|| {
                let reason = format!("There is no check “{code}”.");
                ("check", reason, "Give its body, or name a check that there is.")
            })?;
            let check = kept.check.clone();
            return Ok(Wanted {
                before,
                active,
                check,
            });
        }
        if known.is_some_and(|kept| kept.origin == Origin::Builtin) {
            let reason = format!("Check {code} is built in and is kept up to date by us.");
            return Err((
                "body",
                reason,
                "Leave the body blank, or give your own check another code.",
            ));
        }
        let mut check = check_from_json(&self.body).map_err(|error| {
            let remedy = "Give a body as `anglestop export folder` writes it.";
            ("body", format!("The body can't be read: {error}."), remedy)
        })?;
        if check.code.as_str() != code {
            let reason = format!("The body is that of check {}.", check.code);
            return Err(("check", reason, "Give the row the code of its body."));
        }
        if let Some(kept) = known {
            let read = check.version;
            check.version = kept.check.version;
            if check != *kept.check {
                check.version = read.max(kept.check.version + 1);
            }
        }
        Ok(Wanted {
            before,
            active,
            check,
        })
    }
}
