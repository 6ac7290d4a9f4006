//! Reads a CSV as people save it: with or without a byte order mark, any line ends, columns in any order. Refuses, with where and
//! what to do, what can't be read: another encoding, another delimiter, a quotation mark that is never closed.
//!
//! Decides what a row is; knows nothing of what the columns mean.

use std::borrow::Cow;
use std::io::Cursor;

use csv::{Position, StringRecord};

use super::Problem;

/// A file whose first line was read. Rows are read as often as needed; the file is never copied.
#[derive(Debug)]
pub struct Sheet<'f> {
    name: Cow<'f, str>,
    text: &'f str,
    header: Vec<String>,
}

/// Where a row begins, so that it can be read again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct At {
    byte: u64,
    /// Line of the file, the first is 1.
    pub line: u64,
}

/// One row while it is read.
#[derive(Debug, Clone, Copy)]
pub struct Row<'r> {
    /// Where it begins.
    pub at: At,
    record: &'r StringRecord,
}

impl Row<'_> {
    /// The cell in this column, as it stands; blank when the row is shorter.
    #[must_use]
    pub fn cell(&self, index: usize) -> &str {
        self.record.get(index).unwrap_or_default()
    }
}

impl<'f> Sheet<'f> {
    /// Opens a file of this name.
    ///
    /// # Errors
    /// What is wrong with the file as a whole.
    pub fn open(name: &'f str, bytes: &'f [u8]) -> Result<Self, Problem> {
        let text = decoded(name, bytes)?;
        closed_quotes(name, text)?;
        let mut sheet = Self {
            name: Cow::Borrowed(name),
            text,
            header: Vec::new(),
        };
        let mut first = StringRecord::new();
        let there_is_one = sheet.reader().read_record(&mut first).unwrap_or(false);
        if !there_is_one {
            return Err(Problem::new(
                name,
                1,
                "",
                "",
                "The file is empty.",
                "Begin with a line of column names, then a line for each row.",
            ));
        }
        sheet.header = first
            .iter()
            .map(|cell| cell.trim().to_ascii_lowercase())
            .collect();
        sheet.delimited_by_commas()?;
        Ok(sheet)
    }

    /// Name of the file.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The names of the columns, trimmed, in lower case, in the order of the file.
    #[must_use]
    pub fn header(&self) -> &[String] {
        &self.header
    }

    /// Where a column stands.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|known| known == name)
    }

    /// Reads every row that is not all blank; rows with another number of cells than the first line are answered as problems.
    #[must_use]
    pub fn each(&self, mut take: impl FnMut(Row<'_>)) -> Vec<Problem> {
        let mut problems = Vec::new();
        let mut reader = self.reader();
        let mut record = StringRecord::new();
        let _ = reader.read_record(&mut record);
        let mut lines = Lines::of(self.text);
        while reader.read_record(&mut record).unwrap_or(false) {
            let at = lines.at(record.position().map_or(0, Position::byte));
            if record.iter().all(|cell| cell.trim().is_empty()) {
                continue;
            }
            if record.len() == self.header.len() {
                take(Row { at, record: &record });
            } else {
                problems.push(self.uneven(at, &record));
            }
        }
        problems
    }

    /// Reads some rows again.
    pub fn again(&self, rows: &[At], mut take: impl FnMut(Row<'_>)) {
        let mut reader = self.reader();
        let mut record = StringRecord::new();
        for &at in rows {
            let mut position = Position::new();
            position.set_byte(at.byte);
            if reader.seek(position).is_ok() && reader.read_record(&mut record).unwrap_or(false) {
                take(Row { at, record: &record });
            }
        }
    }

    fn reader(&self) -> csv::Reader<Cursor<&'f [u8]>> {
        csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .from_reader(Cursor::new(self.text.as_bytes()))
    }

    fn uneven(&self, at: At, record: &StringRecord) -> Problem {
        Problem::new(
            self.name(),
            at.line,
            "",
            &record.iter().collect::<Vec<_>>().join(","),
            format!(
                "This row has {} cells; the first line names {} columns.",
                record.len(),
                self.header.len()
            ),
            "Give every row a cell for each column, blank ones too, and put a text that holds a comma in quotation marks.",
        )
    }

    fn delimited_by_commas(&self) -> Result<(), Problem> {
        let [only] = self.header.as_slice() else {
            return Ok(());
        };
        let other = [(';', "semicolons"), ('\t', "tabs"), ('|', "bars")]
            .into_iter()
            .find(|(sign, _)| only.contains(*sign));
        match other {
            None => Ok(()),
            Some((_, signs)) => Err(Problem::new(
                self.name(),
                1,
                "",
                only,
                format!("The columns are separated by {signs}."),
                "Save the file again as CSV with commas between the columns.",
            )),
        }
    }
}

/// Counts lines up to where a row begins, going forward only.
struct Lines<'f> {
    text: &'f [u8],
    seen: usize,
    line: u64,
}

impl<'f> Lines<'f> {
    fn of(text: &'f str) -> Self {
        Self {
            text: text.as_bytes(),
            seen: 0,
            line: 1,
        }
    }

    /// The first byte at or after `byte` that is no line end, and its line: the reader skips empty lines only while it reads.
    fn at(&mut self, byte: u64) -> At {
        let mut byte = usize::try_from(byte).unwrap_or(usize::MAX).min(self.text.len());
        while matches!(self.text.get(byte), Some(b'\r' | b'\n')) {
            byte += 1;
        }
        for index in self.seen..byte {
            let ends = match self.text[index] {
                b'\n' => true,
                b'\r' => self.text.get(index + 1) != Some(&b'\n'),
                _ => false,
            };
            self.line += u64::from(ends);
        }
        self.seen = byte;
        At {
            byte: byte as u64,
            line: self.line,
        }
    }
}

fn decoded<'f>(name: &str, bytes: &'f [u8]) -> Result<&'f str, Problem> {
    let save_again = "Save the file again as “CSV UTF-8”, then import that.";
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        let reason = "The file is UTF-16 text, which is not read here.";
        return Err(Problem::new(name, 1, "", "", reason, save_again));
    }
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(bytes);
    let line_of = |end: usize| 1 + bytes[..end].iter().filter(|&&byte| byte == b'\n').count() as u64;
    if let Some(at) = bytes.iter().position(|&byte| byte == 0) {
        let reason = "The file holds a zero byte, so it is no text: a spreadsheet's own format, or damaged.";
        return Err(Problem::new(name, line_of(at), "", "", reason, save_again));
    }
    std::str::from_utf8(bytes).map_err(|cause| {
        let at = cause.valid_up_to();
        let reason = format!(
            "The byte {:02X} here is not UTF-8; the file was probably saved in an older encoding such as Windows-1252.",
            bytes[at]
        );
        Problem::new(name, line_of(at), "", "", reason, save_again)
    })
}

/// A quotation mark opens at the beginning of a cell alone; one that is never closed would swallow the rest of the file.
fn closed_quotes(name: &str, text: &str) -> Result<(), Problem> {
    let (mut line, mut opened, mut begins) = (1_u64, None, true);
    for byte in text.bytes() {
        match (opened, byte) {
            (None, b'"') if begins => opened = Some(line),
            (Some(_), b'"') => opened = None,
            _ => {}
        }
        // After a closing mark the next one doubles it, so it opens again.
        begins = matches!(byte, b',' | b'\r' | b'\n' | b'"');
        line += u64::from(byte == b'\n');
    }
    match opened {
        None => Ok(()),
        Some(line) => Err(Problem::new(
            name,
            line,
            "",
            "\"",
            "A quotation mark that opens on this line is never closed.",
            "Close it, or write two quotation marks where one is part of the text.",
        )),
    }
}

#[cfg(test)]
#[path = "sheet_tests.rs"]
mod tests;
