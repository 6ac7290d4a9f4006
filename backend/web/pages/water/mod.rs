//! Water and money: what a leak loses, what a building's leaks add up to, what water costs, and what a choice costs.

pub mod building;
pub mod choice;
pub mod measure;
pub mod of_deficiency;
pub mod prices;
pub mod summary;
pub mod terms;
pub mod words;
