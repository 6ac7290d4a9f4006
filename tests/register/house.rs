//! Two invented buildings of two owners, a manager, a technician who sees the first, an owner of the first.

use anglestop::actions::register::add_building::{self, BuildingForm};
use anglestop::actions::register::add_fixture::{self, AddFixture};
use anglestop::actions::register::{add_portfolio, add_unit};
use anglestop::clock::Now;
use anglestop::domain::register::person::{Actor, Role, Scope};
use anglestop::domain::register::{
    BuildingId, BuildingText, Fixture, FixtureId, FixtureText, Part, PartId, PersonId, PortfolioText,
    Service, UnitId, UnitText,
};
use anglestop::domain::trade::PartKind;
use anglestop::error::{Error, Result};
use anglestop::store::{Db, fixtures, parts};
use diesel::RunQueryDsl as _;

pub struct House {
    pub db: Db,
    pub alder: BuildingId,
    pub unit: UnitId,
    pub neighbour: UnitId,
    pub manager: Actor,
    pub technician: Actor,
}

/// Noon in Chicago on a day.
pub fn noon(day: &str) -> Now {
    Now(format!("{day}T18:00:00").parse().unwrap())
}

/// Both buildings joined on 2025-01-01; 204 is the unit of the first, 1 of the second.
pub fn house(db: &Db) -> House {
    let (operator, now) = (Actor::operator(), noon("2025-01-01"));
    let building = |portfolio: &str, code: &str| {
        let text = PortfolioText {
            code: portfolio.to_owned(),
            name: format!("{portfolio} Holdings"),
        };
        add_portfolio::add(db, &operator, now, &text).unwrap();
        let form = BuildingForm {
            portfolio: portfolio.to_owned(),
            technician: String::new(),
            text: BuildingText {
                code: code.to_owned(),
                name: format!("{code} House"),
                time_zone: "America/Chicago".to_owned(),
                ..BuildingText::default()
            },
        };
        add_building::add(db, &operator, now, &form).unwrap()
    };
    let (alder, birch) = (building("NORTH", "ALDER"), building("SOUTH", "BIRCH"));
    let unit = |building, label: &str| {
        let text = UnitText {
            label: label.to_owned(),
            ..UnitText::default()
        };
        add_unit::add(db, &operator, now, building, &text).unwrap()
    };
    let (unit, neighbour) = (unit(alder, "204"), unit(birch, "1"));
    people(db, alder);
    let actor = |id, role, scope| Actor {
        person: Some(PersonId(id)),
        role,
        scope,
        name: "somebody".to_owned(),
    };
    House {
        db: db.clone(),
        alder,
        unit,
        neighbour,
        manager: actor(1, Role::Manager, Scope::All),
        technician: actor(2, Role::Technician, Scope::Buildings([alder].into())),
    }
}

fn people(db: &Db, alder: BuildingId) {
    db.write(|tx| {
        for (name, mail, role) in [
            ("Ola Brandt", "ola", "manager"),
            ("Rosa Vance", "rosa", "technician"),
            ("Imre Sorel", "imre", "owner"),
        ] {
            diesel::sql_query(format!(
                "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
                 VALUES ('{name}', '{mail}@office.example', '{role}', 'active', 'America/Chicago', 6, '2025-01-01 00:00:00')"
            ))
            .execute(&mut **tx)?;
        }
        diesel::sql_query(format!(
            "INSERT INTO person_buildings (person_id, building_id) VALUES (2, {alder})"
        ))
        .execute(&mut **tx)?;
        diesel::sql_query(
            "INSERT INTO person_portfolios (person_id, portfolio_id) \
             SELECT 3, id FROM portfolios WHERE code = 'NORTH'",
        )
        .execute(&mut **tx)?;
        Ok(())
    })
    .unwrap();
}

/// A fixture to be added, of a kind and with a date of installation.
pub fn of_kind(kind: &str, installed_on: &str) -> AddFixture {
    AddFixture {
        text: FixtureText {
            kind: kind.to_owned(),
            installed_on: installed_on.to_owned(),
            ..FixtureText::default()
        },
        room: "Hall bath".to_owned(),
        ..AddFixture::default()
    }
}

impl House {
    /// Adds as the manager on a day.
    pub fn add(&self, day: &str, command: &AddFixture) -> Result<FixtureId> {
        add_fixture::add(&self.db, &self.manager, noon(day), self.unit, command)
    }

    /// A water closet with standard parts, installed long before the building joined.
    pub fn closet(&self) -> FixtureId {
        self.add("2025-02-01", &of_kind("water_closet", "2010-05-06"))
            .unwrap()
    }

    pub fn fixture(&self, id: FixtureId) -> Fixture {
        self.placed(id).fixture
    }

    pub fn placed(&self, id: FixtureId) -> fixtures::Placed {
        self.db
            .read(|conn| fixtures::by_key(conn, &Scope::All, id))
            .unwrap()
    }

    /// The parts in service.
    pub fn parts(&self, id: FixtureId) -> Vec<Part> {
        let all = self.db.read(|conn| parts::of_fixture(conn, id)).unwrap();
        all.into_iter()
            .filter(|part| part.status == Service::InService)
            .collect()
    }

    pub fn part(&self, fixture: FixtureId, kind: PartKind) -> PartId {
        self.parts(fixture)
            .into_iter()
            .find(|part| part.facts.kind == kind)
            .unwrap()
            .id
    }

    pub fn count(&self, sql: &str) -> i64 {
        #[derive(diesel::QueryableByName)]
        struct Count {
            #[diesel(sql_type = diesel::sql_types::BigInt)]
            count: i64,
        }
        self.db
            .read(|conn| Ok(diesel::sql_query(sql.to_owned()).get_result::<Count>(conn)?.count))
            .unwrap()
    }
}

/// The sentence of a refusal about this field.
pub fn refusal<T>(answer: Result<T>, field: &str) -> String {
    match answer {
        Err(Error::Fields(errors)) => errors
            .iter()
            .find(|error| error.field == field)
            .unwrap_or_else(|| panic!("nothing about {field} in {errors:?}"))
            .message
            .clone(),
        Err(other) => panic!("not about a field: {other}"),
        Ok(_) => panic!("it was done"),
    }
}
