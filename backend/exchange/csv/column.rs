//! Columns as data: name, meaning, unit, example, and what a blank means. Pages, `--columns` and the readers use the same list.

use super::{Audience, Cell, Table};

/// One column of one of our files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its name in the first line, `snake_case`.
    pub name: &'static str,
    /// What it says, in one sentence.
    pub meaning: &'static str,
    /// Its unit or form: `days`, `date`, `code`, `text`.
    pub unit: &'static str,
    /// A value as it may stand.
    pub example: &'static str,
    /// What a blank means; empty where there is never one.
    pub blank: &'static str,
}

impl Column {
    /// What is told of it, in the order of [`DOCUMENTED`].
    const fn texts(&self) -> [&'static str; 5] {
        [self.name, self.meaning, self.unit, self.example, self.blank]
    }

    /// A column that always has a value.
    #[must_use]
    pub const fn new(
        name: &'static str,
        meaning: &'static str,
        unit: &'static str,
        example: &'static str,
    ) -> Self {
        Self {
            name,
            meaning,
            unit,
            example,
            blank: "",
        }
    }

    /// The same column, which may be blank; `meaning` says what that means.
    #[must_use]
    pub const fn or_blank(self, meaning: &'static str) -> Self {
        Self {
            blank: meaning,
            ..self
        }
    }
}

/// The columns of a list that documents columns.
const DOCUMENTED: [Column; 5] = [
    Column::new("column", "Name in the first line", "text", "tag"),
    Column::new("meaning", "What it says", "text", "Label of the place"),
    Column::new("unit", "Unit or form", "text", "days"),
    Column::new("example", "A value as it may stand", "text", "WC-1"),
    Column::new("blank", "What a blank means", "text", "none is known").or_blank("never blank"),
];

/// The names of columns, for a first line.
#[must_use]
pub fn names(columns: &[Column]) -> Vec<&'static str> {
    columns.iter().map(|column| column.name).collect()
}

/// Writes what each column means as a CSV of its own.
///
/// # Errors
/// When `out` can't be written.
pub fn describe(columns: &[Column], out: impl std::io::Write) -> std::io::Result<()> {
    let mut table = Table::begin(out, Audience::Program, &names(&DOCUMENTED))?;
    for column in columns {
        table.row(column.texts().map(Cell::text))?;
    }
    table.finish().map(drop)
}

/// Writes what each column of several files means, each with the name of its file.
///
/// # Errors
/// When `out` can't be written.
pub fn describe_files(files: &[(&str, Vec<Column>)], out: impl std::io::Write) -> std::io::Result<()> {
    let mut columns = vec!["file"];
    columns.extend(names(&DOCUMENTED));
    let mut table = Table::begin(out, Audience::Program, &columns)?;
    for (file, columns) in files {
        for column in columns {
            let texts = std::iter::once(*file).chain(column.texts());
            table.row(texts.map(Cell::text))?;
        }
    }
    table.finish().map(drop)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_described_line_by_line() {
        let columns = [Column::new("floor", "Storey, 1 is the ground floor", "number", "-1").or_blank("1")];
        let mut out = Vec::new();
        describe(&columns, &mut out).unwrap_or_default();
        assert_eq!(
            String::from_utf8_lossy(&out),
            "column,meaning,unit,example,blank\r\nfloor,\"Storey, 1 is the ground floor\",number,'-1,1\r\n"
        );
    }
}
