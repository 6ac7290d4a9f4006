//! Turnovers: the lines of those that are open, one turnover as a walk with its steps, and the signed record.
//!
//! Everything of one turnover is one page; a form that is refused shows the same page again with what to mend.

pub mod advance;
pub mod cancel;
pub mod close;
pub mod csv;
mod kept;
pub mod list;
pub mod new;
mod page;
pub mod paper;
pub mod record;
mod said;
mod steps;
pub mod waive;
mod walk;

pub use walk::show;
