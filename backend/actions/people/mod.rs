//! People: signing in, inviting, resetting, disabling.

pub mod sign_in;
