//! The register: who and what there is, and the invariants of each by itself. Knows nothing of where it is stored.

pub mod ids;
pub mod label;
pub mod person;

pub use ids::*;
