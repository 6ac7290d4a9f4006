//! Households: for managers alone.

pub mod edit;
pub mod form;
pub mod leave;
pub mod new;
