//! What pages and mails read: joins over aggregates, read only, one file a list. Whoever calls has checked what the person may see, or
//! gives the scope.

pub mod arrivals;
pub mod buildings;
pub mod condition;
pub mod deficiencies;
pub mod digest;
pub mod due;
pub mod due_lines;
pub mod histories;
pub mod past_digest;
pub mod place;
pub mod rating;
pub mod record;
pub mod result_lines;
pub mod turnover_lines;
pub mod turnovers;
pub mod unit_counts;
pub mod unit_phones;
pub mod visits;
pub mod water;
