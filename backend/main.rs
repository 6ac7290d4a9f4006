//! Parses the command line and dispatches.
fn main() {}
