//! What people read: messages in the languages that have a folder in `seeds/language`, and numbers, dates and distances as each reads
//! them. Decides no word of its own but the English ones that pages outside of the catalogue still say (`english`).
//!
//! ```
//! use anglestop::language::Language;
//! let spanish = Language::of("es");
//! assert_eq!(spanish.count("figures-units", 3), "3 unidades");
//! assert_eq!(Language::of("xx"), Language::ENGLISH, "a language without a folder is read as English");
//! ```

mod asked;
pub mod catalogue;
mod dated;
mod due;
pub mod english;
mod evidence;
mod figures;
mod judged;
mod moved;
mod phones;
mod said;
pub mod sentence;
mod symptom;
mod term;
mod tongue;
pub mod trade;
mod turnover;

pub use english::{age, count, day, distance, due_dates_moved, grouped, moment};
pub use said::Said;
pub use symptom::CauseWords;
pub use tongue::Language;
pub use trade::CheckWords;
