//! Formats: bytes to domain values and back. Knows no database, no page and no clock.

pub mod catalogue;
pub mod csv;
pub mod due_line;
pub mod evidence;
pub mod manifest;
pub mod paper;
pub mod pdf;
pub mod phone;
pub mod photo;
pub mod sent;
