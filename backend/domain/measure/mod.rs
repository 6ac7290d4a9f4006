//! Lengths, volumes, times and pressures: as people type them and exact.
//! Decides what a typed value is, to the last digit, and how it is shown; knows no limit and no fixture.
//!
//! ```
//! use anglestop::domain::measure::{Length, LengthUnit};
//! let side = Length::parse("14 7/8\"", LengthUnit::Inch)?;
//! assert_eq!(side.nm(), 377_825_000);
//! assert_eq!(side.in_inches().to_string(), "14 7/8 in");
//! assert_eq!(Length::parse("482.6 mm", LengthUnit::Inch), Length::parse("19", LengthUnit::Inch));
//! assert!(Length::parse("about a foot", LengthUnit::Inch).is_err());
//! # Ok::<(), anglestop::domain::measure::MeasureError>(())
//! ```

mod amount;
mod error;
mod length;
mod ratio;
mod text;
mod unit;

pub use amount::Amount;
pub use error::MeasureError;
pub use length::{Inches, Length, LengthUnit};
pub use ratio::Ratio;
pub use unit::{Quantity, Unit};
