//! Unit 204 with a bath, a kitchen and a heater in turnover, and short ways to answer its checklist.

use anglestop::actions::results::{Answer, Recorded};
use anglestop::actions::turnovers::{
    Advance, Close, Open, Record, StagedAnswer, Stay, Waive, advance, close, open, record, waive,
};
use anglestop::domain::register::person::Scope;
use anglestop::domain::register::{DeficiencyId, FixtureId, Occupancy, TurnoverId, UnitId};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::{self, TurnoverStage};
use anglestop::domain::turnover::{Item, Stage, TurnoverText, WaiverText};
use anglestop::error::Error;
use anglestop::store::documents::Document;
use anglestop::store::lists::turnovers::{Survey, Surveyor};
use anglestop::store::{Db, units};
use uuid::Uuid;

use crate::results::stage::{self as small, noon};

/// The unit and what stands in it.
pub struct Flat {
    pub small: small::Stage,
    pub closet: FixtureId,
    pub lavatory: FixtureId,
    pub sink: FixtureId,
    pub heater: FixtureId,
}

/// The day on which the tests open turnovers, and the move-in.
pub const OPENED: &str = "2026-02-03";
pub const MOVE_IN: &str = "2026-02-10";

/// A bath, a kitchen and a closet with a heater; the rooms are walked in this order.
pub fn flat(db: &Db) -> Flat {
    let small = small::stage(db);
    let add = |kind: &str, room: &str| small.add(small.unit, kind, room);
    Flat {
        closet: add("water_closet", "Hall bath"),
        lavatory: add("lavatory", "Hall bath"),
        sink: add("kitchen_sink", "Kitchen"),
        heater: add("water_heater", "Closet"),
        small,
    }
}

/// What a turnover says as typed.
pub fn text(out: &str, back: &str) -> TurnoverText {
    TurnoverText {
        move_out_on: out.to_owned(),
        move_in_on: back.to_owned(),
        note: String::new(),
    }
}

impl Flat {
    pub fn db(&self) -> &Db {
        &self.small.db
    }

    /// Opens a turnover of 204 on 3 Feb with the move-in on 10 Feb.
    pub fn opened(&self) -> TurnoverId {
        self.open_at(self.small.unit, OPENED, MOVE_IN).unwrap()
    }

    pub fn open_at(&self, unit: UnitId, day: &str, back: &str) -> Result<TurnoverId, Error> {
        let command = Open {
            unit,
            text: text(day, back),
            stay: Stay::AsItIs,
        };
        open(self.db(), &self.small.technician, noon(day), &command)
    }

    pub fn survey(&self, id: TurnoverId, day: &str) -> Survey {
        self.db()
            .read(|conn| Surveyor::new(conn, noon(day))?.survey(conn, &Scope::All, id))
            .unwrap()
    }

    /// The sentences that keep it from its next step.
    pub fn kept_back(&self, id: TurnoverId, day: &str) -> Vec<String> {
        let blocks = self.survey(id, day).blocks();
        blocks.iter().map(|block| block.sentence()).collect()
    }

    pub fn step(&self, id: TurnoverId, day: &str) -> Result<Stage, Error> {
        let command = Advance {
            turnover: id,
            to: None,
        };
        advance(self.db(), &self.small.technician, noon(day), command)
    }

    pub fn record(
        &self,
        id: TurnoverId,
        day: &str,
        answers: Vec<(Answer, Option<TurnoverStage>)>,
    ) -> Result<Recorded, Error> {
        let command = Record {
            turnover: id,
            answers: answers
                .into_iter()
                .map(|(answer, stage)| StagedAnswer { answer, stage })
                .collect(),
            done_at: None,
        };
        record(self.db(), &self.small.technician, noon(day), &command)
    }

    /// Answers what is not answered of a stage: each check as `choose` says, readings within their limits.
    pub fn answer_with(
        &self,
        id: TurnoverId,
        day: &str,
        stage: TurnoverStage,
        choose: impl Fn(&Item) -> Outcome,
    ) -> Recorded {
        let survey = self.survey(id, day);
        let open = survey.list.items.iter();
        let open = open.filter(|item| item.key.stage == stage && !item.is_answered);
        let answers = open.map(|item| (answer_to(item, choose(item)), Some(stage)));
        self.record(id, day, answers.collect()).unwrap()
    }

    /// Passes what is not answered of a stage.
    pub fn pass(&self, id: TurnoverId, day: &str, stage: TurnoverStage) -> Recorded {
        self.answer_with(id, day, stage, |_| Outcome::Pass)
    }

    /// A turnover that is ready: everything passed but the move-in day's.
    pub fn ready(&self) -> TurnoverId {
        let id = self.opened();
        self.pass(id, OPENED, TurnoverStage::Found);
        assert_eq!(self.step(id, OPENED).unwrap(), Stage::Repaired);
        self.pass(id, "2026-02-05", TurnoverStage::Ready);
        assert_eq!(self.step(id, "2026-02-05").unwrap(), Stage::Ready);
        id
    }

    pub fn waive(&self, id: TurnoverId, day: &str, number: DeficiencyId, until: &str) -> Result<(), Error> {
        let command = Waive {
            turnover: id,
            deficiency: number,
            text: WaiverText {
                reason: "The mixing valve is ordered; the tub is shut off until then".to_owned(),
                name: "Ola Brandt".to_owned(),
                until: until.to_owned(),
            },
        };
        waive(self.db(), &self.small.manager, noon(day), &command)
    }

    pub fn close(&self, id: TurnoverId, day: &str) -> Result<Document, Error> {
        self.close_as(id, day, "Rosa Vance")
    }

    pub fn close_as(&self, id: TurnoverId, day: &str, name: &str) -> Result<Document, Error> {
        let command = Close {
            turnover: id,
            name: name.to_owned(),
        };
        close(self.db(), &self.small.technician, noon(day), &command)
    }

    pub fn occupancy(&self) -> Occupancy {
        let (_, unit) = self
            .db()
            .read(|conn| units::by_key(conn, &Scope::All, self.small.unit))
            .unwrap();
        unit.facts.occupancy
    }
}

/// An answer to an item.
pub fn answer_to(item: &Item, outcome: Outcome) -> Answer {
    let is_reading = matches!(item.check.answer, trade::Answer::Reading { .. });
    Answer {
        client_id: Uuid::new_v4(),
        fixture: item.key.fixture,
        part: item.key.part,
        check: item.check.code.to_string(),
        outcome: Some(outcome).filter(|_| !is_reading || outcome != Outcome::Pass),
        reading: if is_reading && outcome == Outcome::Pass {
            good_reading(item).to_owned()
        } else {
            String::new()
        },
        reason: if outcome == Outcome::NotChecked {
            "Water is off".to_owned()
        } else {
            String::new()
        },
        note: if outcome == Outcome::Fail {
            "seen".to_owned()
        } else {
            String::new()
        },
        done_at: None,
    }
}

/// A reading within the limits of the check.
fn good_reading(item: &Item) -> &'static str {
    match item.check.code.as_str() {
        "wc_clearance_side" | "wc_clearance_front" => "30 in",
        "heater_discharge_height" => "4 in",
        "bath_hot_temperature" => "115 F",
        _ => "10",
    }
}

/// The refusal's sentence.
pub fn refused<T: std::fmt::Debug>(answer: Result<T, Error>) -> String {
    match answer {
        Err(Error::Refused(sentence)) => sentence,
        other => panic!("not a refusal: {other:?}"),
    }
}
