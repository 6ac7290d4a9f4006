//! What an answer to a check means and what follows from it: outcome, deficiency opened, added to or closed, deadline.
//!
//! This room decides from values: the check, what was typed, what is known of the place. It knows no database, no page, and not
//! what time it is.

pub mod answer;
pub mod deficiency;
pub mod diagnosis;
pub mod done_at;
pub mod entry;
pub mod follow_up;
pub mod money;
pub mod phone_clock;
pub mod reason;
pub mod setting;
pub mod times;
pub mod water_loss;
pub mod wrong;

pub use answer::{AnswerRefusal, Given, Judged, Outcome, judge};
pub use deficiency::{ClosedHow, Deficiency, DeficiencyStatus, EventKind, Origin};
pub use diagnosis::Diagnosis;
pub use done_at::{DoneAtRefusal, Place, Settled, settle};
pub use entry::{Entry, Turn, turn};
pub use follow_up::{FollowUp, Known, Seen, follow_up};
pub use phone_clock::PhoneClock;
pub use reason::{MissedReason, missed_reason};
pub use setting::{Neighbour, setting};
pub use water_loss::WaterLoss;
pub use wrong::Wrong;
