//! Parses the command line and dispatches; everything else is in the library.

use std::process::ExitCode;

use anglestop::cli::{self, Arguments};
use clap::Parser as _;
use tracing_subscriber::EnvFilter;

fn main() -> ExitCode {
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("warn,rrule=error"));
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .init();
    cli::run(Arguments::parse())
}
