//! Parses the command line and dispatches; everything else is in the library.

use std::process::ExitCode;

use anglestop::cli::{self, Arguments};
use clap::Parser as _;
use tikv_jemallocator::Jemalloc;
use tracing_subscriber::EnvFilter;

/// A page is made of thousands of short strings: with the system's own allocator it takes a third more processor time.
#[global_allocator]
static ALLOCATOR: Jemalloc = Jemalloc;

fn main() -> ExitCode {
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("warn,rrule=error"));
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .init();
    cli::run(Arguments::parse())
}
