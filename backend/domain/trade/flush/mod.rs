//! The flush test of a tank-type water closet: a run of flushes, each with its refill time, against what is usual and what the code
//! expects of the supply. Decides pass or fail with reasons, and remarks that fail nothing; knows no history and no fixture.
//!
//! ```
//! use anglestop::domain::trade::Verdict;
//! use anglestop::domain::trade::flush::{Limits, Run, judge};
//! use anglestop::exchange::catalogue::builtin;
//! let limits = Limits::of(builtin()?)?;
//! let judged = judge(&Run::timed("1.6 gal", ["32", "33 s", "0:31"]), &limits)?;
//! assert_eq!(judged.verdict, Verdict::Pass);
//! assert!(judged.flow_gpm().is_some_and(|flow| (flow - 3.0).abs() < 1e-9));
//! // One refill of four minutes fails the run.
//! let slow = judge(&Run::timed("1.6 gal", ["32", "240", "31"]), &limits)?;
//! assert_eq!(slow.verdict, Verdict::Fail);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod judge;
mod limits;
mod run;

pub use judge::{Fault, Grade, Judged, Reason, RunError, judge};
pub use limits::{Band, Limits};
pub use run::{Flush, Level, Run, Taken};

use super::TurnoverStage;

/// How often to flush for one answer: at a turnover three times, so that what clogs at the second flush is seen; on a visit once.
///
/// # Source
/// Common practice, no source: three to five at a turnover.
#[must_use]
pub const fn flushes(stage: Option<TurnoverStage>) -> u32 {
    match stage {
        Some(_) => 3,
        None => 1,
    }
}
