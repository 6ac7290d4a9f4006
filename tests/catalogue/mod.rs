//! The built-in catalogue: what it must hold, where each number comes from, and what its answers mean.

use std::collections::{BTreeMap, BTreeSet};

use anglestop::domain::code::Coded;
use anglestop::domain::due::Anchor;
use anglestop::domain::measure::LengthUnit;
use anglestop::domain::trade::catalogue::Pack;
use anglestop::domain::trade::check::BuildingFacts;
use anglestop::domain::trade::outcome::Context;
use anglestop::domain::trade::{
    Answer, BaseJoint, Catalogue, Caution, Check, FixtureKind, PartKind, Performer, Setting, Severity,
    TurnoverStage, Verdict, caution, outcome,
};
use anglestop::exchange::catalogue::{FILES, builtin, check_from_json, check_to_json, read};

mod answers;
mod contents;
mod packs;
mod sources;

fn catalogue() -> &'static Catalogue {
    builtin().unwrap_or_else(|error| panic!("{error}"))
}

fn check(code: &str) -> &'static Check {
    catalogue()
        .check(code)
        .unwrap_or_else(|| panic!("no check {code}"))
}

fn answer(code: &str, given: &str) -> anglestop::domain::trade::Outcome {
    let context = Context {
        profile: "ipc".parse().unwrap(),
        length_unit: LengthUnit::Inch,
    };
    outcome(check(code), given, &context).unwrap_or_else(|error| panic!("{code}: {error}"))
}
