//! Mail: composing it from values, and delivering what waits in the outbox. The only room that names lettre.

pub mod compose;
pub mod deliver;
