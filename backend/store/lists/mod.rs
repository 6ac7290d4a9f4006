//! What pages and mails read: joins over aggregates, one file a list.

pub mod digest;
//! Lists for pages: joins over aggregates, read only, one module a list. Whoever calls has checked what the person may see, or
//! gives the scope.

pub mod buildings;
pub mod due_lines;
pub mod place;
pub mod unit_counts;
