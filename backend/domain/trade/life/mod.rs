//! How long fixtures and parts last: useful lives by kind with their sources, what remains to one of an age, and when to plan its
//! replacement. Knows no fixture that stands anywhere and no date.

pub mod fit;
pub mod gamma;
mod replacement;
mod useful;
mod weibull;

pub use fit::fit;
pub use replacement::{BestAge, best_age};
pub use useful::{Item, Lives, UsefulLife};
pub use weibull::Weibull;
