//! Portfolios: adding and changing. They are listed as a filter of the buildings.

pub mod edit;
pub mod form;
pub mod new;
