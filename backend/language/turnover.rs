//! What keeps a turnover back and what was answered in it, in the words of a language. Which that is, is for `domain::turnover` to decide;
//! a test holds the English of the catalogue to that of the domain.

use super::{Language, Said};
use crate::domain::result::{DeficiencyStatus, Entry, Outcome};
use crate::domain::trade::outcome::{Context, bare_unit, outcome};
use crate::domain::trade::{Answer, Check, PartKind, Severity, TurnoverStage};
use crate::domain::turnover::blocks::{Unanswered, first_unanswered};
use crate::domain::turnover::{Block, Checklist, Item, Stage};

impl Language {
    /// The title of a check, with its part: `Moves and shuts · stop, hot`.
    #[must_use]
    pub fn check_at(self, check: &Check, part: Option<PartKind>) -> String {
        let title = self.check(check).title;
        match part {
            None => title,
            Some(part) => format!("{title} · {}", self.word(part).to_lowercase()),
        }
    }

    /// An item of a checklist in a few words: `WC-1, Refill time (fill valve)`.
    #[must_use]
    pub fn item(self, list: &Checklist, item: &Item) -> String {
        let place = list.places.get(item.place);
        let place = place.map_or("", |place| place.label.as_str());
        let said = match item.key.part {
            None => self.say("turnover-item"),
            Some(part) => self
                .say("turnover-item-part")
                .with("part", self.word(part).to_lowercase()),
        };
        said.with("place", place)
            .with("check", self.check(&item.check).title)
            .to_string()
    }

    /// What keeps a turnover back: what is missing and what to do. `list` is the checklist that it comes from.
    #[must_use]
    pub fn block(self, block: &Block, list: &Checklist) -> String {
        match block {
            Block::Unanswered {
                stage, left, asked, ..
            } => self
                .say(match stage {
                    TurnoverStage::Found => "turnover-unanswered-found",
                    TurnoverStage::Ready => "turnover-unanswered-ready",
                    TurnoverStage::MoveIn => "turnover-unanswered-move-in",
                })
                .with("left", *left)
                .with("asked", *asked)
                .with("named", self.unanswered(list, *stage, *left)),
            Block::Unrepaired {
                place,
                title,
                severity,
                ..
            } => {
                let remedy = match severity {
                    Severity::LifeThreatening => "turnover-never-waived",
                    _ => "turnover-note-repair",
                };
                self.grave(block, "turnover-unrepaired", place)
                    .with("title", title)
                    .with("remedy", self.say(remedy))
            }
            Block::Standing {
                place,
                title,
                severity,
                status,
                waiver_ended,
                ..
            } => {
                let key = match status {
                    DeficiencyStatus::Repaired => "turnover-standing-repaired",
                    _ => "turnover-standing-open",
                };
                let remedy = match (severity, waiver_ended) {
                    (Severity::LifeThreatening, _) => self.say("turnover-never-waived"),
                    (_, None) => self.say("turnover-let-pass"),
                    (_, Some(day)) => self
                        .say("turnover-waiver-ended")
                        .with("day", self.day_in_full(*day)),
                };
                self.grave(block, key, place)
                    .with("title", title)
                    .with("remedy", remedy)
            }
        }
        .to_string()
    }

    /// The first without an answer, and how many more there are.
    fn unanswered(self, list: &Checklist, stage: TurnoverStage, left: usize) -> String {
        let first = first_unanswered(list, stage).into_iter();
        let named: Vec<String> = first
            .map(|open| match open {
                Unanswered::Item(item) => self.item(list, item),
                Unanswered::Matter(number) => self.say("turnover-number").with("number", number.0).into(),
            })
            .collect();
        let (more, named) = (left.saturating_sub(named.len()), named.join("; "));
        if more == 0 {
            return named;
        }
        let said = self.say("turnover-named-more").with("named", named);
        said.with("more", more).to_string()
    }

    /// A message about a grave deficiency, with its number, its place when it has one, and how grave it is.
    fn grave(self, block: &Block, key: &'static str, place: &str) -> Said {
        let severity = block
            .severity()
            .map(|severity| self.word(severity).to_lowercase());
        self.say(key)
            .with("where", if place.is_empty() { "unit" } else { "place" })
            .with("place", place)
            .with("number", block.deficiency().map_or(0, |number| number.0))
            .with("severity", severity.unwrap_or_default())
    }

    /// What keeps a turnover back in a few words, for a line of a list.
    #[must_use]
    pub fn block_short(self, block: &Block) -> String {
        match block {
            Block::Unanswered {
                stage, left, asked, ..
            } => self
                .say(match stage {
                    TurnoverStage::Found => "turnover-to-answer-found",
                    TurnoverStage::Ready => "turnover-to-answer-ready",
                    TurnoverStage::MoveIn => "turnover-to-answer-move-in",
                })
                .with("left", *left)
                .with("asked", *asked),
            Block::Unrepaired { .. } => self.grave(block, "turnover-short-unrepaired", ""),
            Block::Standing { status, .. } => {
                let key = match status {
                    DeficiencyStatus::Repaired => "turnover-short-recheck",
                    _ => "turnover-short-open",
                };
                self.grave(block, key, "")
            }
        }
        .to_string()
    }

    /// That a step can't be taken, with all that keeps it back.
    #[must_use]
    pub fn not_yet(self, to: Stage, blocks: &[Block], list: &Checklist) -> String {
        use crate::domain::code::Coded as _;
        let sentences: Vec<String> = blocks.iter().map(|block| self.block(block, list)).collect();
        self.say("turnover-not-yet")
            .with("to", to.code())
            .with("sentences", sentences.join(" "))
            .to_string()
    }

    /// An answer as people read it: `Firm`, `45 s, at most 180 s`, `Could not check: Not safe to do`. `check` is the procedure as it was asked.
    #[must_use]
    pub fn answer(self, check: &Check, entry: &Entry, context: &Context) -> String {
        match (entry.outcome, &check.answer) {
            (Outcome::NotChecked, _) => self
                .say("turnover-could-not")
                .with("reason", self.reason(&entry.reason))
                .into(),
            (Outcome::Fail, _) => self.judged(Some(check), &entry.reason),
            (Outcome::Pass, Answer::Verdict { .. }) => self.check(check).pass,
            (Outcome::Pass, Answer::Reading { .. }) => self.read_off(check, &entry.reading, context),
        }
    }

    /// A reading that passes, with the limits it is held to.
    fn read_off(self, check: &Check, reading: &str, context: &Context) -> String {
        let Answer::Reading { unit, limits, .. } = &check.answer else {
            return reading.to_owned();
        };
        if outcome(check, reading, context).is_err() {
            return reading.to_owned();
        }
        let read = bare_unit(*unit, context.length_unit).behind(reading.trim());
        let held = limits.iter().filter(|limit| limit.holds_under(&context.profile));
        let held: Vec<String> = held.map(|limit| self.limit(limit)).collect();
        if held.is_empty() {
            return self.say("turnover-no-limit").with("reading", read).into();
        }
        format!("{read}, {}", held.join(", "))
    }
}
