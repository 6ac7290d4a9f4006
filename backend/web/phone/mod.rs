//! What the page on the phone asks of the server.

pub mod words;
