//! Buildings: the list, one building from the street, adding and changing.

pub mod edit;
pub mod form;
pub mod front;
pub mod list;
pub mod new;
pub mod show;
