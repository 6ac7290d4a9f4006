//! Parts of a fixture: adding, correcting their age, replacing, retiring.

pub mod change;
pub mod end;
pub mod form;
pub mod new;
pub mod replace;
pub mod retire;
