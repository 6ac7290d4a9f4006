//! The one integration binary. Each module names the rule that it holds; `support` starts what they need.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::too_many_lines,
    dead_code,
    missing_docs
)]

mod access;
mod accessibility;
mod architecture;
mod arrivals;
mod bench_words;
mod catalogue;
mod clearance;
mod correction;
mod demo;
mod demo_pictures;
mod drift;
mod due;
mod due_cases;
mod due_pages;
mod federal_limits;
mod figures;
mod flush;
mod forecast;
mod import;
mod labels;
mod language;
mod life;
mod look;
mod mail;
mod measure;
mod measured;
mod migrations;
mod people;
mod phone;
mod pictures;
mod recurrence;
mod references;
mod register;
mod results;
mod schedule_editor;
mod score;
mod sessions;
mod support;
mod thread;
mod turnovers;
mod urgent;
mod visits;
mod walk;
mod water;
