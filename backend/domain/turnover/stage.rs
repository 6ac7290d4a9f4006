//! The stages of a turnover and which follows which. Decides nothing about when a step may be taken; that is `blocks`.

use crate::domain::code::words;
use crate::domain::trade::TurnoverStage;

words! {
    /// The stage a turnover is in.
    Stage "stage" {
        Found = "found", "As found";
        Repaired = "repaired", "Repaired";
        Ready = "ready", "Ready";
        MovedIn = "moved_in", "Moved in";
        Cancelled = "cancelled", "Cancelled";
    }
}

impl Stage {
    /// Whether answers are still taken.
    #[must_use]
    pub const fn is_open(self) -> bool {
        matches!(self, Self::Found | Self::Repaired | Self::Ready)
    }

    /// The stage that follows; none when it is over.
    #[must_use]
    pub const fn next(self) -> Option<Self> {
        match self {
            Self::Found => Some(Self::Repaired),
            Self::Repaired => Some(Self::Ready),
            Self::Ready => Some(Self::MovedIn),
            Self::MovedIn | Self::Cancelled => None,
        }
    }

    /// The part of the checklist that is worked on in this stage.
    #[must_use]
    pub const fn asks(self) -> TurnoverStage {
        match self {
            Self::Found => TurnoverStage::Found,
            Self::Repaired => TurnoverStage::Ready,
            Self::Ready | Self::MovedIn | Self::Cancelled => TurnoverStage::MoveIn,
        }
    }

    /// The parts of the checklist that need an answer before this stage is reached.
    #[must_use]
    pub const fn needs(self) -> &'static [TurnoverStage] {
        match self {
            Self::Found | Self::Cancelled => &[],
            Self::Repaired => &[TurnoverStage::Found],
            Self::Ready => &[TurnoverStage::Found, TurnoverStage::Ready],
            Self::MovedIn => &[TurnoverStage::Found, TurnoverStage::Ready, TurnoverStage::MoveIn],
        }
    }
}
