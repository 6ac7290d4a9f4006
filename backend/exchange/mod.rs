//! Formats: bytes to domain values and back. Knows no database and no page.

pub mod catalogue;
