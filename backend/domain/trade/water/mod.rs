//! Water lost at a leak: from what can be counted, timed or read to volume a day, and to money at a tariff.
//! Decides the arithmetic and names the convention behind each figure; knows no deficiency and no building.
//!
//! ```
//! use anglestop::domain::trade::water::{Method, measure};
//! use anglestop::exchange::catalogue::builtin;
//! let water = &builtin()?.water;
//! let typed = |name: &str| if name == "per_minute" { "60".to_owned() } else { String::new() };
//! let loss = measure(Method::Drips, &typed, water).map_err(|refused| format!("{refused:?}"))?;
//! assert!((loss.gallons_a_day() - 8.64).abs() < 1e-9); // a drip a second, 10,000 drips a gallon
//! let stream = |name: &str| if name == "per_minute" { "301".to_owned() } else { String::new() };
//! assert!(measure(Method::Drips, &stream, water).is_err());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod knowledge;
mod loss;
mod method;
mod tariff;

pub use knowledge::{DripConvention, Figure, Water};
pub use loss::{Loss, measure};
pub use method::{Asked, Least, Method};
pub use tariff::{Billed, DAYS_A_WEEK, Tariff, TariffText};
