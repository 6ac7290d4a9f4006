//! One's own account: sessions, password, zone and hour, language.

pub mod hours;
pub mod language;
pub mod password;
pub mod sessions;
pub mod show;
