//! One's own account: sessions, password, zone and hour.

pub mod hours;
pub mod password;
pub mod sessions;
pub mod show;
