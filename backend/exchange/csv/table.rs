//! Writes a CSV by type: text is guarded, our own numbers and dates are not. RFC 4180: commas, CR LF, quotes where needed.

use std::borrow::Cow;
use std::io::Write;

use chrono::{NaiveDate, NaiveDateTime};

use super::text::guard;

/// Who reads the file, which decides about the byte order mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Audience {
    /// A program: UTF-8 without a mark.
    Program,
    /// A browser's download, opened in a spreadsheet: UTF-8 with a mark, or accents break.
    Spreadsheet,
}

/// One value, written by its type.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell<'a> {
    /// Nothing is known.
    Blank,
    /// What a person typed; guarded.
    Text(Cow<'a, str>),
    /// A word of ours (`in_service`), which never needs a guard.
    Code(&'static str),
    /// A whole number.
    Whole(i64),
    /// A number with a fraction.
    Decimal(f64),
    /// `2026-11-25`.
    Date(NaiveDate),
    /// An instant in UTC, `2026-11-25T09:00:00Z`.
    Instant(NaiveDateTime),
}

impl<'a> Cell<'a> {
    /// What a person typed; empty is the same as nothing.
    pub fn text(text: impl Into<Cow<'a, str>>) -> Self {
        Self::Text(text.into())
    }

    /// A date, or nothing.
    #[must_use]
    pub fn date(date: Option<NaiveDate>) -> Self {
        date.map_or(Self::Blank, Self::Date)
    }

    /// A whole number, or nothing.
    #[must_use]
    pub fn whole(number: Option<i64>) -> Self {
        number.map_or(Self::Blank, Self::Whole)
    }

    /// The value as text, without a guard.
    #[must_use]
    pub fn plain(&self) -> Cow<'_, str> {
        match self {
            Self::Blank => Cow::Borrowed(""),
            Self::Text(text) => Cow::Borrowed(text),
            Self::Code(code) => Cow::Borrowed(code),
            Self::Whole(number) => Cow::Owned(number.to_string()),
            Self::Decimal(number) => Cow::Owned(number.to_string()),
            Self::Date(date) => Cow::Owned(date.format("%Y-%m-%d").to_string()),
            Self::Instant(instant) => Cow::Owned(instant.format("%Y-%m-%dT%H:%M:%SZ").to_string()),
        }
    }

    fn written(&self) -> Cow<'_, str> {
        match self {
            Self::Text(text) => guard(text),
            other => other.plain(),
        }
    }
}

/// A CSV that is being written, line by line, so that it may be as long as it likes.
pub struct Table<W: Write> {
    inner: csv::Writer<W>,
}

impl<W: Write> Table<W> {
    /// Goes on after what `out` holds already, which began with the line of names.
    pub fn go_on(out: W) -> Self {
        Self {
            inner: csv::WriterBuilder::new()
                .terminator(csv::Terminator::CRLF)
                .flexible(false)
                .from_writer(out),
        }
    }

    /// Begins with the line of names.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn begin(mut out: W, audience: Audience, names: &[impl AsRef<str>]) -> std::io::Result<Self> {
        if audience == Audience::Spreadsheet {
            out.write_all("\u{feff}".as_bytes())?;
        }
        let mut table = Self::go_on(out);
        let names = names.iter().map(AsRef::as_ref);
        table.inner.write_record(names).map_err(as_io)?;
        Ok(table)
    }

    /// Writes one line; as many cells as there are names.
    ///
    /// # Errors
    /// When the number of cells is off or `out` can't be written.
    pub fn row<'a>(&mut self, cells: impl IntoIterator<Item = Cell<'a>>) -> std::io::Result<()> {
        for cell in cells {
            self.inner.write_field(cell.written().as_bytes()).map_err(as_io)?;
        }
        self.inner.write_record(None::<&[u8]>).map_err(as_io)
    }

    /// Flushes and gives back what was written to.
    ///
    /// # Errors
    /// When `out` can't be written.
    pub fn finish(self) -> std::io::Result<W> {
        self.inner
            .into_inner()
            .map_err(|cause| std::io::Error::new(cause.error().kind(), cause.error().to_string()))
    }
}

/// The failure of the writer itself, with its kind, so that a reader that has gone is told from a full disk.
fn as_io(cause: csv::Error) -> std::io::Error {
    match cause.into_kind() {
        csv::ErrorKind::Io(cause) => cause,
        kind => std::io::Error::other(format!("{kind:?}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A reader that has gone.
    struct Gone;

    impl Write for Gone {
        fn write(&mut self, _bytes: &[u8]) -> std::io::Result<usize> {
            Err(std::io::ErrorKind::BrokenPipe.into())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_reader_that_has_gone_is_told_as_such_however_much_was_written() {
        let mut table = Table::go_on(Gone);
        let failed = (0..10_000).find_map(|number| table.row([Cell::Whole(number)]).err());
        assert_eq!(
            failed.map(|cause| cause.kind()),
            Some(std::io::ErrorKind::BrokenPipe)
        );
    }

    #[test]
    fn text_is_guarded_and_numbers_of_ours_are_not() {
        let mut table = Table::begin(Vec::new(), Audience::Program, &["a", "b", "c", "d"])
            .unwrap_or_else(|_| unreachable!());
        let day = NaiveDate::from_ymd_opt(2026, 2, 3);
        let row = [
            Cell::text("-1"),
            Cell::Whole(-1),
            Cell::date(day),
            Cell::text("5/16\", dry"),
        ];
        assert!(table.row(row).is_ok());
        let bytes = table.finish().unwrap_or_default();
        assert_eq!(
            String::from_utf8_lossy(&bytes),
            "a,b,c,d\r\n'-1,-1,2026-02-03,\"5/16\"\", dry\"\r\n"
        );
    }

    #[test]
    fn only_a_spreadsheet_gets_the_byte_order_mark() {
        let begun = |audience| {
            Table::begin(Vec::new(), audience, &["é"])
                .and_then(Table::finish)
                .unwrap_or_default()
        };
        assert_eq!(begun(Audience::Program), "é\r\n".as_bytes());
        assert_eq!(begun(Audience::Spreadsheet), "\u{feff}é\r\n".as_bytes());
    }
}
