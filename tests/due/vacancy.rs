//! What a vacant unit and a turnover do to what is due, from the register to the stored row, on both databases.

use anglestop::actions::register::{add_household, move_out};
use anglestop::actions::turnovers::{Cancel, Open, Stay, cancel, open};
use anglestop::domain::due::{Moving, Vacancy};
use anglestop::domain::register::HouseholdText;
use anglestop::domain::register::person::Actor;
use anglestop::domain::register::person::Scope;
use anglestop::domain::trade::FixtureKind;
use anglestop::domain::turnover::TurnoverText;
use anglestop::store::lists::due::{self as lists, Desk, Filter, Order};
use anglestop::store::turnovers;

use super::office::{Office, Stand, now};
use crate::support::{Fleet, on_both};

/// A water closet whose bowl was looked at on 1 September 2025, with one yearly schedule that treats a vacant unit so.
fn bowl(fleet: &Fleet, vacancy: Vacancy) -> (Office<'_>, Stand) {
    let office = Office::new(fleet, "2024-01-15");
    office.switch_all_off();
    office.add_schedule("bowls", "last_done", "P1Y", None, &["wc_bowl_firm"], |terms| {
        let moving = Moving {
            vacancy,
            ..Moving::default()
        };
        terms.timing = terms.timing.clone().moved_by(moving).unwrap();
    });
    let stand = office.stand("WC-1", FixtureKind::WaterCloset, None, &[]);
    office.result(stand, "", "wc_bowl_firm", "pass", "2025-09-01");
    (office, stand)
}

/// Opens, due date and last day; none when nothing is due.
fn window(office: &Office<'_>, stand: Stand) -> Option<[String; 3]> {
    office.assert_verified();
    let shown = office.stored(stand, "", "wc_bowl_firm")?;
    Some([shown.opens, shown.due, shown.last_day])
}

fn days(opens: &str, due: &str, last_day: &str) -> Option<[String; 3]> {
    Some([opens, due, last_day].map(str::to_owned))
}

fn moves_in(office: &Office<'_>, name: &str, on: &str) -> anglestop::domain::register::HouseholdId {
    let text = HouseholdText {
        name: name.to_owned(),
        moved_in_on: on.to_owned(),
        ..HouseholdText::default()
    };
    add_household::add(&office.fleet.db, &Actor::operator(), now(), office.unit, &text).unwrap()
}

fn turnover(office: &Office<'_>) {
    let command = Open {
        unit: office.unit,
        text: TurnoverText {
            move_out_on: "2026-08-31".to_owned(),
            move_in_on: "2026-09-20".to_owned(),
            note: String::new(),
        },
        stay: Stay::AsItIs,
    };
    open(&office.fleet.db, &Actor::operator(), now(), &command).unwrap();
}

fn give_up(office: &Office<'_>) {
    let unit = office.unit;
    let found = office.fleet.db.read(|conn| turnovers::open_of_unit(conn, unit));
    let command = Cancel {
        turnover: found.unwrap().unwrap().id,
        reason: "They stay.".to_owned(),
    };
    cancel(&office.fleet.db, &Actor::operator(), now(), &command).unwrap();
}

#[test]
fn nothing_is_due_while_nobody_lives_there_and_then_not_before_the_move_in() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet, Vacancy::NotWhileVacant);
        let (db, actor) = (&fleet.db, Actor::operator());
        let first = moves_in(&office, "Okafor", "2023-05-01");
        assert_eq!(
            window(&office, wc),
            days("2026-08-27", "2026-09-01", "2026-09-11")
        );
        move_out::leave(db, &actor, now(), first, "2026-08-15").unwrap();
        assert_eq!(window(&office, wc), None);
        moves_in(&office, "Duarte", "2026-08-20");
        // It fell due on 1 September, when Duarte lives there.
        assert_eq!(
            window(&office, wc),
            days("2026-08-27", "2026-09-01", "2026-09-11")
        );
        turnover(&office);
        assert_eq!(window(&office, wc), None);
        give_up(&office);
        assert_eq!(
            window(&office, wc),
            days("2026-08-27", "2026-09-01", "2026-09-11")
        );
    });
}

#[test]
fn what_fell_due_between_two_households_is_due_on_the_day_of_the_move_in() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet, Vacancy::NotWhileVacant);
        office.result(wc, "", "wc_bowl_firm", "pass", "2025-09-02");
        let first = moves_in(&office, "Okafor", "2023-05-01");
        move_out::leave(&fleet.db, &Actor::operator(), now(), first, "2026-08-15").unwrap();
        // Nobody lives there on 2 September.
        let unit = office.unit;
        moves_in(&office, "Duarte", "2026-09-10");
        assert_eq!(window(&office, wc), None);
        office.write(|tx| {
            let occupied = anglestop::domain::register::Occupancy::Occupied;
            anglestop::store::units::set_occupancy(tx, unit, occupied).unwrap();
            anglestop::store::due::refresh_tenancy(tx, unit).unwrap();
        });
        assert_eq!(
            window(&office, wc),
            days("2026-09-05", "2026-09-10", "2026-09-20")
        );
    });
}

#[test]
fn a_turnover_asks_once_by_its_move_in_and_nothing_else_does() {
    on_both(|fleet| {
        let (office, wc) = bowl(fleet, Vacancy::AtTurnover);
        assert_eq!(window(&office, wc), None);
        turnover(&office);
        let opened = now().date_in(chrono_tz::America::Chicago).to_string();
        assert_eq!(window(&office, wc), days(&opened, "2026-09-20", "2026-09-20"));
        // Its window is wider than that of any schedule, and open.
        let listed = fleet.db.read(|conn| {
            let desk = Desk::load(conn, &Scope::All, now())?;
            lists::page(conn, &desk, &Filter::default(), Order::LastDay, None, 9)
        });
        assert_eq!(listed.unwrap().len(), 1);
        // The checklist of the turnover asks for it.
        let unit = office.unit;
        let known = fleet.db.read(|conn| {
            let open = turnovers::open_of_unit(conn, unit)?.unwrap();
            turnovers::known_items(conn, open.id)
        });
        assert!(!known.unwrap().is_empty());
        office.result(wc, "", "wc_bowl_firm", "pass", &opened);
        assert_eq!(window(&office, wc), None);
        give_up(&office);
        assert_eq!(window(&office, wc), None);
    });
}
