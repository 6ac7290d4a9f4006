//! People: sign-in, links, sessions, roles, on both databases.

use anglestop::actions::people::hashing::Hasher;
use anglestop::actions::people::reset;
use anglestop::clock::Now;
use anglestop::domain::register::person::Actor;
use anglestop::store::{Db, people};

/// A password that keeps the rules.
pub const PASSWORD: &str = "vexed quokka jar bloom";

/// Gives a person a password, as whoever runs the server does.
pub fn give_password(db: &Db, email: &str, password: &str) {
    let person = db.read(|conn| people::by_email(conn, email)).unwrap().unwrap();
    let now = Now("2026-11-25T09:00:00".parse().unwrap());
    reset::set(db, &Hasher::new(2), &Actor::operator(), now, person.id, password).unwrap();
}
