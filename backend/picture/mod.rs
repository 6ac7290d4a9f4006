//! Drawings as SVG text, one module a picture. A picture decides where lines stand; it knows no page, no database, no clock
//! and no colour: every shape names a class of `templates/assets/css/pictures.css`, which serves light, dark and print.
//! No `style` attribute and no `id` is ever written, so a strict content policy holds and a picture may stand many times on a page.
//!
//! ```
//! use anglestop::domain::due::Window;
//! use anglestop::picture::window_line::{WindowLine, window_line};
//! let as_of = "2026-11-25".parse()?;
//! let window = Window::around("2026-11-05".parse()?, 21, 8);
//! assert!(window_line(&WindowLine::new(window, as_of)).contains("<title>12 days over;"));
//! # Ok::<(), chrono::ParseError>(())
//! ```

mod ink;

pub mod before_after;
pub mod elevation;
pub mod forecast;
pub mod label_sheet;
pub mod load;
pub mod plan;
pub mod points;
pub mod section;
pub mod shares;
pub mod stage_line;
pub mod trend;
pub mod turnover_calendar;
pub mod window_line;
pub mod year;
