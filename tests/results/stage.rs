//! A small invented building to record in: one unit with two rooms, one common area, a manager and a technician.

use anglestop::actions::deficiencies;
use anglestop::actions::register::{add_building, add_fixture, add_portfolio, add_unit};
use anglestop::actions::results::{Answer, RecordResults, Recorded, record};
use anglestop::clock::Now;
use anglestop::domain::register::person::{Actor, Role, Scope};
use anglestop::domain::register::portfolio::PortfolioText;
use anglestop::domain::register::unit::UnitText;
use anglestop::domain::register::{
    BuildingId, BuildingText, DeficiencyId, FixtureId, FixtureText, PersonId, UnitId,
};
use anglestop::domain::result::{Deficiency, Outcome};
use anglestop::domain::trade::PartKind;
use anglestop::error::Error;
use anglestop::store::Db;
use anglestop::store::deficiencies as kept;
use diesel::RunQueryDsl as _;
use uuid::Uuid;

/// The building and who works in it.
pub struct Stage {
    pub db: Db,
    pub building: BuildingId,
    pub unit: UnitId,
    pub hall: UnitId,
    pub manager: Actor,
    pub technician: Actor,
}

/// Noon in Chicago on a day.
pub fn noon(day: &str) -> Now {
    Now(format!("{day}T18:00:00").parse().unwrap())
}

/// A building in Chicago that joined on 2025-01-01, empty but for unit 204 and the common area Hall.
pub fn stage(db: &Db) -> Stage {
    let now = noon("2025-01-01");
    let operator = Actor::operator();
    add_portfolio::add(
        db,
        &operator,
        now,
        &PortfolioText {
            code: "LIND".to_owned(),
            name: "Lind Holdings".to_owned(),
        },
    )
    .unwrap();
    let text = BuildingText {
        code: "ALDER".to_owned(),
        name: "Alder House".to_owned(),
        time_zone: "America/Chicago".to_owned(),
        joined_on: "2025-01-01".to_owned(),
        base_joint: "sealed".to_owned(),
        ..BuildingText::default()
    };
    let form = add_building::BuildingForm {
        portfolio: "LIND".to_owned(),
        text,
        ..Default::default()
    };
    let building = add_building::add(db, &operator, now, &form).unwrap();
    let unit = |label: &str, kind: &str| {
        let text = UnitText {
            label: label.to_owned(),
            kind: kind.to_owned(),
            ..UnitText::default()
        };
        add_unit::add(db, &operator, now, building, &text).unwrap()
    };
    let (unit, hall) = (unit("204", "unit"), unit("Hall", "common_area"));
    let manager = person(db, 1, "Ola Brandt", "manager", None);
    let technician = person(db, 2, "Rosa Vance", "technician", Some(building));
    Stage {
        db: db.clone(),
        building,
        unit,
        hall,
        manager,
        technician,
    }
}

fn person(db: &Db, id: i64, name: &str, role: &str, building: Option<BuildingId>) -> Actor {
    let mail = name.split(' ').next().unwrap().to_lowercase();
    db.write(|tx| {
        diesel::sql_query(format!(
            "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
             VALUES ('{name}', '{mail}@office.example', '{role}', 'active', 'America/Chicago', 6, '2025-01-01 00:00:00')"
        ))
        .execute(&mut **tx)?;
        if let Some(building) = building {
            diesel::sql_query(format!(
                "INSERT INTO person_buildings (person_id, building_id) VALUES ({id}, {building})"
            ))
            .execute(&mut **tx)?;
        }
        Ok(())
    })
    .unwrap();
    Actor {
        person: Some(PersonId(id)),
        role: if role == "manager" {
            Role::Manager
        } else {
            Role::Technician
        },
        scope: building.map_or(Scope::All, |building| Scope::Buildings([building].into())),
        name: name.to_owned(),
    }
}

impl Stage {
    /// Adds a fixture with its standard parts to a unit.
    pub fn add(&self, unit: UnitId, kind: &str, room: &str) -> FixtureId {
        let command = add_fixture::AddFixture {
            room: room.to_owned(),
            text: FixtureText {
                kind: kind.to_owned(),
                ..FixtureText::default()
            },
            ..Default::default()
        };
        add_fixture::add(&self.db, &self.manager, noon("2025-01-01"), unit, &command).unwrap()
    }

    /// Adds a water closet to unit 204.
    pub fn water_closet(&self) -> FixtureId {
        self.add(self.unit, "water_closet", "Hall bath")
    }

    /// Records one answer at noon of a day.
    pub fn answer(&self, day: &str, answer: Answer) -> Result<Recorded, Error> {
        self.answers(day, vec![answer])
    }

    /// Records answers at noon of a day, as the technician.
    pub fn answers(&self, day: &str, answers: Vec<Answer>) -> Result<Recorded, Error> {
        let batch = RecordResults {
            answers,
            ..RecordResults::default()
        };
        record(&self.db, &self.technician, noon(day), &batch)
    }

    /// A failing answer opens exactly one deficiency; its number.
    pub fn opened(&self, day: &str, answer: Answer) -> DeficiencyId {
        let recorded = self.answer(day, answer).unwrap();
        assert_eq!(recorded.opened.len(), 1, "{recorded:?}");
        recorded.opened[0]
    }

    /// A deficiency as it stands.
    pub fn deficiency(&self, id: DeficiencyId) -> Deficiency {
        self.db.read(|conn| kept::find(conn, &Scope::All, id)).unwrap()
    }

    /// What happened to a deficiency, as codes.
    pub fn events(&self, id: DeficiencyId) -> Vec<String> {
        let events = self.db.read(|conn| kept::events_of(conn, &[id])).unwrap();
        events.iter().map(|event| event.kind.to_string()).collect()
    }

    /// The technician works in this building no longer.
    pub fn send_the_technician_elsewhere(&self) {
        self.db
            .write(|tx| {
                diesel::sql_query("DELETE FROM person_buildings").execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
    }

    /// How many rows a table has.
    pub fn count(&self, table: &str) -> i64 {
        #[derive(diesel::QueryableByName)]
        struct Count {
            #[diesel(sql_type = diesel::sql_types::BigInt)]
            n: i64,
        }
        self.db
            .read(|conn| {
                let rows: Vec<Count> =
                    diesel::sql_query(format!("SELECT count(*) AS n FROM {table}")).load(conn)?;
                Ok(rows[0].n)
            })
            .unwrap()
    }

    /// Re-checks a deficiency at noon of a day.
    pub fn recheck(
        &self,
        day: &str,
        deficiency: DeficiencyId,
        outcome: Outcome,
    ) -> Result<deficiencies::Rechecked, Error> {
        let command = deficiencies::Recheck {
            deficiency,
            client_id: Uuid::new_v4(),
            outcome: Some(outcome),
            reading: String::new(),
            reason: if outcome == Outcome::NotChecked {
                "locked".to_owned()
            } else {
                String::new()
            },
            note: String::new(),
        };
        deficiencies::recheck(&self.db, &self.technician, noon(day), &command)
    }
}

/// An answer to a check of the fixture itself.
pub fn of(fixture: FixtureId, check: &str, outcome: Outcome) -> Answer {
    Answer {
        client_id: Uuid::new_v4(),
        fixture,
        part: None,
        check: check.to_owned(),
        outcome: Some(outcome),
        reading: String::new(),
        reason: if outcome == Outcome::NotChecked {
            "Something stands in the way".to_owned()
        } else {
            String::new()
        },
        note: String::new(),
        done_at: None,
    }
}

/// An answer to a check of a part.
pub fn of_part(fixture: FixtureId, part: PartKind, check: &str, outcome: Outcome) -> Answer {
    Answer {
        part: Some(part),
        ..of(fixture, check, outcome)
    }
}

/// A reading, judged by its limits.
pub fn read(fixture: FixtureId, part: Option<PartKind>, check: &str, reading: &str) -> Answer {
    Answer {
        part,
        outcome: None,
        reading: reading.to_owned(),
        ..of(fixture, check, Outcome::Pass)
    }
}

/// The sentences of a refusal of fields.
pub fn sentences(refused: Result<Recorded, Error>) -> Vec<String> {
    match refused {
        Err(Error::Fields(errors)) => errors.into_iter().map(|error| error.message).collect(),
        other => panic!("not a refusal of fields: {other:?}"),
    }
}
