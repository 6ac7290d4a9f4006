//! CSV, RFC 4180: tables written by type, sheets read as people save them, columns documented as data.
//!
//! - [`Table`] writes: text is guarded against spreadsheets that run it ([`text`]), numbers and dates of ours are not.
//! - [`Sheet`] reads: any column order, line ends, byte order mark; what can't be read is a [`Problem`] with what to do.
//! - [`Column`] documents a column once, for readers, pages and `--columns`.
//!
//! ```
//! use anglestop::exchange::csv::{Audience, Cell, Sheet, Table};
//! let mut table = Table::begin(Vec::new(), Audience::Program, &["unit", "floor"])?;
//! table.row([Cell::text("=A1"), Cell::Whole(-1)])?;
//! let bytes = table.finish()?;
//! assert_eq!(bytes, b"unit,floor\r\n'=A1,-1\r\n");
//! let sheet = Sheet::open("units.csv", &bytes).map_err(|problems| format!("{problems:?}"))?;
//! assert_eq!(sheet.header(), ["unit", "floor"]);
//! assert!(Sheet::open("units.csv", b"unit;floor\r\n").is_err());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod answers;
pub mod calendars;
pub mod checks;
pub mod column;
pub mod condition;
pub mod fleet;
pub mod forecast;
pub mod problem;
pub mod results;
pub mod schedules;
pub mod score;
mod sheet;
mod table;
pub mod text;
pub mod turnovers;

pub use column::Column;
pub use problem::Problem;
pub use sheet::{At, Row, Sheet};
pub use table::{Audience, Cell, Table};

/// What the bytes are.
pub const MEDIA_TYPE: &str = "text/csv; charset=utf-8";
