//! Formats: bytes to domain values and back. Knows no database and no page.

pub mod catalogue;
//! Formats: bytes to domain values and back. Knows no database, no page and no clock.

pub mod csv;
