//! The due list: what is to be done, the most overdue first, as a page, as print and as a file.

mod address;
pub mod csv;
pub mod list;
pub mod load;
pub mod moved;

pub(super) use address::{key_text, read_key};
