//! What the product exists for, as pure functions: no clock, no I/O, no database, no async.

pub mod choice;
pub mod code;
pub mod condition;
pub mod digest;
pub mod due;
pub mod field;
pub mod forecast;
pub mod measure;
pub mod printed_label;
pub mod recurrence;
pub mod register;
pub mod result;
pub mod trade;
pub mod turnover;
pub mod visit;
