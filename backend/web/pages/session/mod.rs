//! Signing in and out.

pub mod demo;
pub mod sign_in;
pub mod sign_out;
