//! A fleet of two owners that has one of everything on either side, and a session for everybody who may ask.
//!
//! What belongs to the other owner is full of words that begin with [`MARKER`]; whoever is of the first owner's side must never
//! read one. [`TwoOwners::value`] gives each parameter of an address its value on the first owner's side: a new parameter name
//! needs a line there.

use anglestop::actions::calendars;
use anglestop::actions::deficiencies::report::{Report, report};
use anglestop::actions::labels;
use anglestop::actions::people::{link, sign_in};
use anglestop::actions::register::{add_building, add_fixture, add_household, add_portfolio, add_unit};
use anglestop::actions::results::{Answer, RecordResults, record};
use anglestop::actions::stage_import;
use anglestop::actions::turnovers::{Open, Stay, open};
use anglestop::clock::Now;
use anglestop::domain::due::ClosingText;
use anglestop::domain::register::person::{Actor, Role, Scope, Standing};
use anglestop::domain::register::unit::UnitText;
use anglestop::domain::register::{
    BuildingId, BuildingText, FixtureId, FixtureText, HouseholdText, LanguageTag, PersonFacts, PersonId,
    PortfolioText, UnitId,
};
use anglestop::domain::result::Outcome;
use anglestop::domain::trade::{PartKind, Severity};
use anglestop::domain::turnover::TurnoverText;
use anglestop::exchange::csv::fleet::source::Given;
use anglestop::store::documents::{self, DocumentKind, NewDocument};
use anglestop::store::outbox::{self, MailKind, NewMail};
use anglestop::store::tokens::LinkKind;
use anglestop::store::{AnyConnection, Db, assignments, parts, people, photos, sessions};
use diesel::RunQueryDsl as _;
use diesel::sql_types::{BigInt, Text};
use uuid::Uuid;

/// How every word of the other owner's begins.
pub const MARKER: &str = "MARKER-OTHER-";
/// The instant at which everything was planted (UTC).
pub const THEN: &str = "2026-11-25T15:00:00";

/// Everybody who may ask, in the order of the columns of `access.csv`.
pub const PERSONAS: [&str; 7] = [
    "anonymous",
    "technician_assigned",
    "technician_elsewhere",
    "manager",
    "owner",
    "owner_of_another",
    "disabled",
];

/// Who looks after one side, and what stands there.
pub struct Side {
    pub building: &'static str,
    pub portfolio: &'static str,
    pub technician: PersonId,
    pub owner: PersonId,
    pub unit: UnitId,
    pub fixture: FixtureId,
    household: i64,
    part: i64,
    deficiency: i64,
    turnover: i64,
    closing: i64,
    visit: i64,
    document: i64,
    message: i64,
    label: String,
    photo: (i64, Uuid),
    arrival: i64,
}

/// The keys of a fleet of two owners. They hold for every copy of its database.
pub struct TwoOwners {
    pub own: Side,
    pub other: Side,
    sessions: Vec<(&'static str, Option<Held>)>,
    second_session: i64,
    spare: PersonId,
    invite: String,
    reset: String,
    upload: String,
    schedule: String,
    check: String,
}

/// A session: its token, and the token of its forms.
#[derive(Debug, Clone)]
pub struct Held {
    pub token: String,
    pub csrf: String,
}

impl TwoOwners {
    /// Plants both sides in a database that has the built-in checks.
    pub fn plant(db: &Db) -> Self {
        let manager = person(db, "Ola Brandt", Role::Manager, None);
        let own = side(db, "", "LIND", "ALDER", "Tess Vale");
        let other = side(db, MARKER, "MARKER-OTHER-P", "MARKER-OTHER-B", "Rosa Quill");
        let disabled = person(db, "Nora Kest", Role::Manager, None);
        let spare = person(db, "Spare Hand", Role::Technician, Some("ALDER"));
        let invited = person(db, "Ines Lund", Role::Technician, Some("ALDER"));
        db.write(|tx| people::set_standing(tx, invited, Standing::Invited))
            .unwrap();
        let held = |person, role| Some(session(db, person, role));
        let sessions = vec![
            ("anonymous", None),
            (PERSONAS[1], held(own.technician, Role::Technician)),
            (PERSONAS[2], held(other.technician, Role::Technician)),
            ("manager", held(manager, Role::Manager)),
            ("owner", held(own.owner, Role::Owner)),
            (PERSONAS[5], held(other.owner, Role::Owner)),
            ("disabled", held(disabled, Role::Manager)),
        ];
        db.write(|tx| people::set_standing(tx, disabled, Standing::Disabled))
            .unwrap();
        let second = session(db, own.technician, Role::Technician);
        let id_of = |held: &Held| {
            let hash = sign_in::hash_of(&held.token);
            db.read(|conn| sessions::find(conn, &hash)).unwrap().unwrap().id
        };
        let manager_session = sessions[3].1.as_ref().map(id_of).unwrap();
        let files = [Given {
            name: "fleet.csv".to_owned(),
            bytes: include_bytes!("../../seeds/fleet-example.csv").to_vec(),
        }];
        let upload = stage_import::stage(db, &Actor::operator(), then(), manager_session, &files).unwrap();
        Self {
            second_session: id_of(&second),
            invite: token(db, LinkKind::Invite, invited),
            reset: token(db, LinkKind::Reset, spare),
            schedule: first(db, "SELECT code FROM schedules ORDER BY id LIMIT 1"),
            check: "wc_base_dry".to_owned(),
            own,
            other,
            sessions,
            spare,
            upload,
        }
    }

    /// The session of one of [`PERSONAS`]; none for whoever is not signed in.
    pub fn held(&self, persona: &str) -> Option<&Held> {
        let found = self.sessions.iter().find(|(name, _)| *name == persona);
        found.unwrap().1.as_ref()
    }

    /// An address of the table with a value for each of its parameters, on the first owner's side.
    pub fn fill(&self, pattern: &str) -> String {
        self.fill_from(pattern, &self.own)
    }

    /// An address of the table with a value for each of its parameters, on a side.
    pub fn fill_from(&self, pattern: &str, side: &Side) -> String {
        let mut address = String::new();
        let mut rest = pattern;
        while let Some((before, after)) = rest.split_once('{') {
            let (name, tail) = after.split_once('}').unwrap();
            address.push_str(before);
            address.push_str(&self.value(pattern, name.split(':').next().unwrap(), side));
            rest = tail;
        }
        address + rest
    }

    /// The value of a parameter of an address.
    fn value(&self, pattern: &str, name: &str, side: &Side) -> String {
        match name {
            "arrival" => side.arrival.to_string(),
            "building" => side.building.to_owned(),
            "check" => self.check.clone(),
            "code" => side.label.clone(),
            "closing" => side.closing.to_string(),
            "deficiency" => side.deficiency.to_string(),
            "document" => side.document.to_string(),
            "file" => "anglestop.css".to_owned(),
            "fixture" => side.fixture.to_string(),
            "household" => side.household.to_string(),
            "language" => "es".to_owned(),
            "message" => side.message.to_string(),
            "pack" => "half_yearly".to_owned(),
            "part" => side.part.to_string(),
            "person" => self.spare.to_string(),
            "photo" if pattern.starts_with("/phone") => side.photo.1.to_string(),
            "photo" => side.photo.0.to_string(),
            "portfolio" => side.portfolio.to_owned(),
            "role" => "owner".to_owned(),
            "schedule" => self.schedule.clone(),
            "session" => self.second_session.to_string(),
            "token" if pattern.starts_with("/invite") => self.invite.clone(),
            "token" if pattern.starts_with("/reset") => self.reset.clone(),
            "token" => "no-such-token".to_owned(),
            "turnover" => side.turnover.to_string(),
            "unit" => side.unit.to_string(),
            "upload" => self.upload.clone(),
            "visit" => side.visit.to_string(),
            _ => panic!(
                "{pattern}: the fleet of two owners has no value for {{{name}}}; give it one in `value` of tests/support/two_owners.rs"
            ),
        }
    }
}

fn then() -> Now {
    Now(THEN.parse().unwrap())
}

/// One side: every word of it begins with `mark`, but for the technician's name, whom colleagues may know.
fn side(db: &Db, mark: &str, portfolio: &'static str, building: &'static str, technician: &str) -> Side {
    let (operator, now) = (Actor::operator(), then());
    let joined = Now("2025-01-02T15:00:00".parse().unwrap());
    let said = |words: &str| format!("{mark}{words}");
    let text = PortfolioText {
        code: portfolio.to_owned(),
        name: said("portfolio-name"),
    };
    add_portfolio::add(db, &operator, joined, &text).unwrap();
    let person_id = person(db, technician, Role::Technician, None);
    let form = add_building::BuildingForm {
        portfolio: portfolio.to_owned(),
        technician: email_of(technician),
        text: BuildingText {
            code: building.to_owned(),
            name: said("building-name"),
            address: said("building-address"),
            time_zone: "America/Chicago".to_owned(),
            joined_on: "2025-01-02".to_owned(),
            ..BuildingText::default()
        },
    };
    let building_id = add_building::add(db, &operator, joined, &form).unwrap();
    let add_unit = |label: String| {
        let text = UnitText {
            label,
            ..UnitText::default()
        };
        add_unit::add(db, &operator, joined, building_id, &text).unwrap()
    };
    let (unit, turning) = (add_unit(said("204")), add_unit(said("205")));
    let household = HouseholdText {
        name: said("household"),
        language: "en".to_owned(),
        contact: said("contact"),
        agreed_hours: said("agreed-hours"),
        no_entry_days: said("no-entry-days"),
        moved_in_on: "2025-03-01".to_owned(),
    };
    let household = add_household::add(db, &operator, now, unit, &household).unwrap();
    let add_fixture = |unit| {
        let command = add_fixture::AddFixture {
            tag: said("WC1"),
            room: said("bath"),
            text: FixtureText {
                kind: "water_closet".to_owned(),
                maker: said("maker"),
                model: said("model"),
                note: said("fixture-note"),
                ..FixtureText::default()
            },
            ..Default::default()
        };
        add_fixture::add(db, &operator, joined, unit, &command).unwrap()
    };
    let fixture = add_fixture(unit);
    add_fixture(turning);
    let part = db.read(|conn| parts::of_fixture(conn, fixture)).unwrap()[0].id;
    let technician = person_id;
    let owner = person(db, &said("owner-name"), Role::Owner, Some(portfolio));
    let by = Actor {
        person: Some(technician),
        role: Role::Technician,
        scope: Scope::Buildings([building_id].into()),
        name: "Tess".to_owned(),
    };
    answer(db, &by, fixture, &said("result-note"));
    let report_command = Report {
        unit,
        tag: None,
        title: said("report-title"),
        detail: said("report-detail"),
        severity: Some(Severity::Moderate),
    };
    let deficiency = report(db, &by, now, &report_command).unwrap();
    let turnover = Open {
        unit: turning,
        text: TurnoverText {
            move_out_on: "2026-11-24".to_owned(),
            move_in_on: "2026-12-01".to_owned(),
            note: said("turnover-note"),
        },
        stay: Stay::AsItIs,
    };
    let turnover = open(db, &by, now, &turnover).unwrap();
    let holiday = ClosingText {
        name: said("holiday"),
        start: "2026-07-04".to_owned(),
        ..ClosingText::default()
    };
    calendars::close(db, &operator, now, building_id, &holiday).unwrap();
    let (closing, _) = db
        .read(|conn| anglestop::store::calendars::closings_of(conn, building_id))
        .unwrap()
        .remove(0);
    let (visit, document, message) = db
        .write(|tx| {
            let visit = visit(tx, building_id.0, unit.0, technician.0, &said("visit-note"));
            let bytes = said("document");
            let paper = NewDocument {
                kind: DocumentKind::Condition,
                building: building_id,
                turnover: None,
                number: 1,
                as_of: "2026-11-20".parse().unwrap(),
                media_type: "text/csv",
                file_name: &format!("{building}-condition-1.csv"),
                bytes: bytes.as_bytes(),
                issued_at: now.0,
                issued_by: None,
            };
            let document = documents::insert(tx, &paper)?;
            let note = note(&said("mail-subject"), &said("mail-text"), technician);
            let message = outbox::enqueue(tx, &note, now.0)?.unwrap();
            Ok((visit, document.id.0, message))
        })
        .unwrap();
    let arrival = db
        .write(|tx| Ok(late(tx, (building_id.0, unit.0, technician.0), turnover.0, mark)))
        .unwrap();
    let places = labels::Choice {
        building: building.to_owned(),
        ..labels::Choice::default()
    };
    labels::make(db, &operator, now, &places).unwrap();
    let placed = db
        .read(|conn| labels::choose(conn, &Scope::All, &places))
        .unwrap()
        .1;
    let label = placed[0].code.clone().unwrap();
    Side {
        building,
        portfolio,
        technician,
        owner,
        unit,
        fixture,
        household: household.0,
        part: part.0,
        deficiency: deficiency.0,
        turnover: turnover.0,
        closing: closing.0,
        visit,
        document,
        message,
        label,
        photo: photo(db, building_id, unit, technician),
        arrival,
    }
}

/// A photo that is kept; its bytes are no picture, since nobody looks at it.
fn photo(db: &Db, building: BuildingId, unit: UnitId, person: PersonId) -> (i64, Uuid) {
    let id = Uuid::new_v4();
    let photo = photos::Photo {
        id: 0,
        client_id: id,
        of: Uuid::new_v4(),
        building,
        unit,
        turnover: None,
        person,
        taken_at: then().0,
        announced_at: then().0,
        sent_sha256: "0".repeat(64),
        sent_bytes: 7,
        received_at: None,
        sha256: String::new(),
        width: None,
        height: None,
        refused: String::new(),
    };
    let kept = photos::Kept {
        bytes: b"picture",
        sha256: "a sum",
        width: 1,
        height: 1,
    };
    db.write(|tx| {
        photos::announce(tx, &photo)?;
        let key = photos::by_client_id(tx, id)?.unwrap().id;
        photos::keep(tx, key, &kept, then().0)?;
        Ok((key, id))
    })
    .unwrap()
}

/// A failing answer, so that there is a result and what it opens.
fn answer(db: &Db, by: &Actor, fixture: FixtureId, note: &str) {
    let answer = Answer {
        client_id: Uuid::new_v4(),
        fixture,
        part: Some(PartKind::WaxSeal),
        check: "wc_base_dry".to_owned(),
        outcome: Some(Outcome::Fail),
        reading: String::new(),
        reason: String::new(),
        note: note.to_owned(),
        done_at: None,
    };
    let batch = RecordResults {
        answers: vec![answer],
        ..RecordResults::default()
    };
    record(db, by, then(), &batch).unwrap();
}

fn note(subject: &str, text: &str, person: PersonId) -> NewMail {
    NewMail {
        unique_key: subject.to_owned(),
        kind: MailKind::Note,
        person: Some(person),
        local_date: None,
        to_address: "somebody@keel.example".to_owned(),
        subject: subject.to_owned(),
        text: text.to_owned(),
        html: format!("<p>{text}</p>"),
        message_id: format!("<{}@keel.example>", Uuid::new_v4()),
        sealed_link: None,
    }
}

fn visit(conn: &mut AnyConnection, building: i64, unit: i64, technician: i64, note: &str) -> i64 {
    number(
        conn,
        &format!(
            "INSERT INTO visits (building_id, unit_id, on_date, technician_id, status, reason, note, created_at) \
             VALUES ({building}, {unit}, '2026-11-26', {technician}, 'planned', '', '{note}', '2026-11-25 15:00:00') RETURNING id"
        ),
    )
}

/// What came late from a phone: a closing of the side's turnover.
fn late(
    conn: &mut AnyConnection,
    (building, unit, person): (i64, i64, i64),
    turnover: i64,
    mark: &str,
) -> i64 {
    let id = Uuid::new_v4();
    number(
        conn,
        &format!(
            "INSERT INTO arrivals (client_id, phone_id, person_id, building_id, unit_id, turnover_id, cause, sentence, sent, done_at, received_at) \
             VALUES ('{id}', '{id}', {person}, {building}, {unit}, {turnover}, 'turnover_over', '{mark}arrival', \
             '{{\"kind\":\"close\",\"turnover\":{turnover},\"name\":\"{mark}signed\"}}', '2026-11-24 15:00:00', '2026-11-25 15:00:00') RETURNING id"
        ),
    )
}

/// The mail address of a person by their name.
fn email_of(name: &str) -> String {
    format!("{}@keel.example", name.to_lowercase().replace(' ', "."))
}

fn person(db: &Db, name: &str, role: Role, place: Option<&str>) -> PersonId {
    let facts = PersonFacts {
        name: name.to_owned(),
        email: email_of(name),
        time_zone: chrono_tz::America::Chicago,
        digest_hour: 6,
        language: LanguageTag::usual(),
    };
    db.write(|tx| {
        let id = people::insert(tx, then(), &facts, role, Standing::Active)?;
        let codes: Vec<String> = place.into_iter().map(str::to_owned).collect();
        let places = assignments::with_codes(tx, role, &codes)?;
        assignments::replace(tx, id, role, &places)?;
        Ok(id)
    })
    .unwrap()
}

/// Opens a session for a person, as signing in does.
pub fn session(db: &Db, person: PersonId, role: Role) -> Held {
    let opened = db
        .write(|tx| sign_in::open(tx, then(), person, role, "a test"))
        .unwrap();
    let hash = sign_in::hash_of(&opened.token);
    let found = db.read(|conn| sessions::find(conn, &hash)).unwrap();
    Held {
        csrf: found.unwrap().csrf,
        token: opened.token,
    }
}

fn token(db: &Db, kind: LinkKind, person: PersonId) -> String {
    let link = db
        .write(|tx| link::make(tx, then(), "", kind, Some(person), then().0))
        .unwrap();
    link.rsplit('/').next().unwrap().to_owned()
}

#[derive(diesel::QueryableByName)]
struct Number {
    #[diesel(sql_type = BigInt)]
    id: i64,
}

#[derive(diesel::QueryableByName)]
struct Code {
    #[diesel(sql_type = Text)]
    code: String,
}

fn number(conn: &mut AnyConnection, query: &str) -> i64 {
    diesel::sql_query(query).get_result::<Number>(conn).unwrap().id
}

fn first(db: &Db, query: &str) -> String {
    db.read(|conn| Ok(diesel::sql_query(query).get_result::<Code>(conn)?.code))
        .unwrap()
}
