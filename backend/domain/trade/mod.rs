//! What the trade knows: fixture kinds, parts, checks, limits, severities.
//! Decides what passes, how grave a failure is and until when it must be right; knows no fixture, no person and no date of ours.

pub mod asked;
pub mod catalogue;
pub mod caution;
pub mod check;
pub mod check_text;
pub mod clearance;
pub mod correction;
pub mod drift;
pub mod evidence;
pub mod figure;
pub mod fixture_kind;
pub mod flush;
pub mod leak_point;
pub mod life;
pub mod likely;
pub mod origin;
pub mod outcome;
pub mod part_kind;
pub mod severity;
pub mod source;
pub mod symptom;
pub mod urgent;
pub mod water;

pub use catalogue::{Catalogue, ScheduleTemplate};
pub use caution::Caution;
pub use check::{
    Answer, BaseJoint, Bound, Check, CheckCode, Conditions, Group, Limit, Performer, ProfileCode,
    TurnoverStage,
};
pub use check_text::CheckText;
pub use figure::Figure;
pub use fixture_kind::FixtureKind;
pub use origin::Origin;
pub use outcome::{Outcome, Verdict, outcome};
pub use part_kind::PartKind;
pub use severity::{Escalation, Setting, Severity};
pub use source::{Source, Standing};
