//! Labels: printed sheets hold the address of each place and nothing else, a renewed one ends the old, nobody is led to another's place.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use anglestop::actions::labels::{Choice, choose, make, renew};
use anglestop::actions::register::{add_building, add_fixture, add_portfolio, add_unit};
use anglestop::clock::Now;
use anglestop::domain::code::Coded as _;
use anglestop::domain::printed_label::{LabelCode, LabelGrid};
use anglestop::domain::register::person::{Actor, Scope};
use anglestop::domain::register::unit::UnitText;
use anglestop::domain::register::{BuildingText, FixtureText, PortfolioText, UnitId};
use anglestop::store::labels::{self, Labelled};
use anglestop::store::{Db, tags};

use crate::support::chrome::Chrome;
use crate::support::demo::{self, AS_OF_INSTANT};
use crate::support::server::Server;
use crate::support::two_owners::TwoOwners;
use crate::support::{Fleet, on_both, sqlite};

fn now() -> Now {
    Now(AS_OF_INSTANT.parse().unwrap())
}

/// A building with a unit that has two places.
fn small(db: &Db) -> UnitId {
    let operator = Actor::operator();
    let portfolio = PortfolioText {
        code: "P".to_owned(),
        name: "Portfolio".to_owned(),
    };
    add_portfolio::add(db, &operator, now(), &portfolio).unwrap();
    let form = add_building::BuildingForm {
        portfolio: "P".to_owned(),
        technician: String::new(),
        text: BuildingText {
            code: "KEEL".to_owned(),
            name: "Keel House".to_owned(),
            time_zone: "America/Chicago".to_owned(),
            joined_on: "2025-01-02".to_owned(),
            ..BuildingText::default()
        },
    };
    let building = add_building::add(db, &operator, now(), &form).unwrap();
    let text = UnitText {
        label: "204".to_owned(),
        ..UnitText::default()
    };
    let unit = add_unit::add(db, &operator, now(), building, &text).unwrap();
    for kind in ["water_closet", "lavatory"] {
        let command = add_fixture::AddFixture {
            text: FixtureText {
                kind: kind.to_owned(),
                ..FixtureText::default()
            },
            ..Default::default()
        };
        add_fixture::add(db, &operator, now(), unit, &command).unwrap();
    }
    unit
}

fn of_keel() -> Choice {
    Choice {
        building: "KEEL".to_owned(),
        ..Choice::default()
    }
}

fn places(fleet: &Fleet, choice: &Choice) -> Vec<Labelled> {
    fleet.db.read(|conn| choose(conn, &Scope::All, choice)).unwrap().1
}

#[test]
fn what_has_a_label_keeps_it_and_a_renewed_one_ends_the_old() {
    on_both(|fleet| {
        let unit = small(&fleet.db);
        let operator = Actor::operator();
        let first = fleet.db.read(|conn| tags::of_unit(conn, unit)).unwrap().remove(0);
        let one = Choice {
            tags: vec![first.id],
            ..of_keel()
        };
        assert_eq!(make(&fleet.db, &operator, now(), &one).unwrap(), 1);
        assert_eq!(
            make(&fleet.db, &operator, now(), &of_keel()).unwrap(),
            1,
            "only the other one"
        );
        assert_eq!(make(&fleet.db, &operator, now(), &of_keel()).unwrap(), 0);
        let old = places(fleet, &one)[0].code.clone().unwrap();
        let (_, fresh) = renew(&fleet.db, &operator, now(), &old.to_uppercase()).unwrap();
        let codes = fleet.db.read(|conn| labels::codes_of_unit(conn, unit)).unwrap();
        assert_eq!(codes.len(), 2);
        assert_eq!(codes[&first.id], [fresh.as_str()], "the old one leads nowhere");
        let find = |code: &str| {
            let code = LabelCode::read(code).unwrap();
            fleet.db.read(|conn| labels::find(conn, &code)).unwrap().unwrap()
        };
        assert_eq!(
            (find(&old).ended_at, find(fresh.as_str()).ended_at),
            (Some(now().0), None)
        );
        assert_eq!(
            find(&old).tag_label,
            first.label,
            "who scans it is told what it was"
        );
        let again = renew(&fleet.db, &operator, now(), &old).unwrap_err().to_string();
        assert!(again.contains("withdrawn before"), "{again}");
    });
}

#[test]
fn codes_are_chance_and_hold_nothing_of_the_place() {
    let codes = |fleet: &Fleet| -> BTreeSet<String> {
        small(&fleet.db);
        make(&fleet.db, &Actor::operator(), now(), &of_keel()).unwrap();
        places(fleet, &of_keel())
            .into_iter()
            .filter_map(|place| place.code)
            .collect()
    };
    let (one, same) = (codes(&sqlite()), codes(&sqlite()));
    assert_eq!((one.len(), same.len()), (2, 2));
    assert!(
        one.is_disjoint(&same),
        "the same places, the same keys, other codes: {one:?} {same:?}"
    );
}

#[test]
fn a_scanned_label_leads_its_own_people_to_the_place_and_others_nowhere() {
    on_both(|fleet| {
        let two = TwoOwners::plant(&fleet.db);
        let server = Server::start(&fleet.db, AS_OF_INSTANT);
        let address = two.fill("/l/{code}");
        let by = |persona| server.holding(&two.held(persona).unwrap().token);
        let led = by("technician_assigned").get(&address);
        assert_eq!(led.status, 303, "{}", led.body);
        assert_eq!(led.location, format!("/today#place={}/WC1", two.own.unit));
        let elsewhere = by("technician_elsewhere").get(&address);
        assert_eq!(elsewhere.status, 404);
        let unknown = by("technician_elsewhere").get("/l/0000000000");
        let heading = "No label that you may see has this code.";
        assert!(unknown.status == 404 && unknown.body.contains(heading) && elsewhere.body.contains(heading));
        assert!(
            unknown.body.contains("href=\"/today\""),
            "a way on: {}",
            unknown.body
        );
        assert_eq!(by("owner").get(&address).status, 403);
        let signed_out = server.visitor().get(&address);
        assert!(
            signed_out.location.starts_with("/sign-in?next=%2Fl%2F"),
            "{}",
            signed_out.location
        );

        let manager = by("manager");
        let renewed = manager.submit(
            &two.fill("/buildings/{building}/labels"),
            &two.fill("/labels/{code}/renew"),
            &[],
        );
        assert_eq!(renewed.status, 303, "{}", renewed.body);
        let ended = by("technician_assigned").get(&address);
        assert_eq!(ended.status, 410);
        assert!(
            ended.body.contains("This label was withdrawn on Wed 25 Nov"),
            "{}",
            ended.body
        );
        assert!(
            ended
                .body
                .contains(&format!("href=\"/today#place={}/WC1\"", two.own.unit))
        );
        assert_eq!(
            by("technician_elsewhere").get(&address).status,
            404,
            "not even that it was one"
        );
    });
}

/// Dots an inch at which a printed paper is looked at; a telephone's camera sees a label in about as many.
const DOTS: u32 = 200;

/// What ZBar, a reader of codes that knows nothing of ours, reads in each cell of a grid on the pages of a printed paper, cell by cell
/// from the position `start`; and how many pages there are.
fn scanned(paper: &[u8], grid: LabelGrid, start: u32, labels: usize, folder: &Path) -> (Vec<String>, usize) {
    std::fs::write(folder.join("sheets.pdf"), paper).unwrap();
    let run = |program: &str, words: &[String]| {
        let output = Command::new(program)
            .args(words)
            .current_dir(folder)
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success(), "{program} {words:?}: {said}");
        String::from_utf8(output.stdout).unwrap()
    };
    let words = |list: &[&str]| list.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    run(
        "pdftoppm",
        &words(&["-r", &DOTS.to_string(), "-gray", "-png", "sheets.pdf", "sheet"]),
    );
    let mut pages: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "png"))
        .collect();
    pages.sort();
    let pages: Vec<_> = pages.iter().map(|page| image::open(page).unwrap()).collect();
    let sheet = grid.measures();
    let dots = |hundredths: u32| (f64::from(hundredths) / 2_540.0 * f64::from(DOTS)).round() as u32;
    let mut asked = words(&["--raw", "--quiet", "--nodbus", "-Sdisable", "-Sqrcode.enable"]);
    for index in 0..u32::try_from(labels).unwrap() {
        let cell = sheet.cell(start, index);
        let (width, height) = (dots(sheet.label_width), dots(sheet.label_height));
        let cut = pages[cell.sheet].crop_imm(dots(cell.x), dots(cell.y), width, height);
        let name = format!("label-{index:04}.png");
        cut.save(folder.join(&name)).unwrap();
        asked.push(name);
    }
    let read = run("zbarimg", &asked);
    (read.lines().map(str::to_owned).collect(), pages.len())
}

#[test]
fn printed_sheets_are_read_by_another_program_address_by_address() {
    let fleet = sqlite();
    demo::make(&fleet, 24);
    let server = Server::start(&fleet.db, AS_OF_INSTANT);
    let of_building = Choice {
        building: "ALDER-HOUSE".to_owned(),
        ..Choice::default()
    };
    let chosen = places(&fleet, &of_building);
    let wanted: Vec<String> = chosen
        .iter()
        .map(|place| format!("{}/l/{}", server.address, place.code.as_ref().unwrap()))
        .collect();
    let chrome = Chrome::start();
    chrome.open(&format!("{}/sign-in", server.address));
    chrome.click("form[action='/demo/sign-in/manager'] button");
    for (grid, capacity, start, size) in [
        ("letter_30", 30, 29, "612 x 792"),
        ("a4_24", 24, 1, "594.96 x 841.92"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        chrome.open(&format!(
            "{}/labels/sheet?building=ALDER-HOUSE&grid={grid}&start={start}",
            server.address
        ));
        assert!(chrome.text().contains(&chosen[0].code.clone().unwrap()));
        let kind = LabelGrid::from_code(grid).unwrap();
        let (read, pages) = scanned(&chrome.paper(), kind, start, wanted.len(), folder.path());
        println!(
            "{grid} from position {start}: {} labels, {} read, {pages} pages",
            wanted.len(),
            read.len()
        );
        assert_eq!(read, wanted, "every code in its cell, and nothing else in it");
        let cells = wanted.len() + usize::try_from(start).unwrap() - 1;
        assert_eq!(
            pages,
            cells.div_ceil(capacity),
            "no label is split between pages and no page is empty"
        );
        let told = Command::new("pdfinfo")
            .arg(folder.path().join("sheets.pdf"))
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&told.stdout).into_owned();
        let line = told.lines().find(|line| line.starts_with("Page size:")).unwrap();
        assert!(line.contains(size), "{line}");
    }
}

#[test]
fn the_command_makes_lists_and_lays_out_labels() {
    on_both(|fleet| {
        small(&fleet.db);
        let folder = tempfile::tempdir().unwrap();
        let run = |words: &[&str]| {
            let output = Command::new(env!("CARGO_BIN_EXE_anglestop"))
                .args(["--database", &fleet.url, "labels"])
                .args(words)
                .env("ANGLESTOP_PUBLIC_URL", "https://keel.example")
                .output()
                .unwrap();
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            (
                output.status.success(),
                String::from_utf8(output.stdout).unwrap(),
                said,
            )
        };
        let file = folder.path().join("labels.html");
        let out = file.to_str().unwrap();
        let early = run(&["sheet", "--building", "KEEL", "--out", out]);
        assert!(!early.0 && early.2.contains("labels make"), "{}", early.2);
        let made = run(&["make", "--building", "KEEL", "--unit", "204", "--place", "WC-1"]);
        assert!(made.0 && made.2.contains("1 label made."), "{}", made.2);
        let listed = run(&["list", "--building", "KEEL"]).1;
        let lines: Vec<&str> = listed.lines().collect();
        assert_eq!(lines[0], "building,unit,room,tag,kind,code,address");
        assert_eq!(lines.len(), 3, "labelled or not: {listed}");
        let row = lines.iter().find(|line| line.contains(",WC-1,")).unwrap();
        let code = row.split(',').nth(5).unwrap();
        assert!(
            row.ends_with(&format!(",{code},https://keel.example/l/{code}")),
            "{row}"
        );
        let laid = run(&["sheet", "--building", "KEEL", "--start", "7", "--out", out]);
        assert!(laid.0 && laid.2.contains("1 place left out"), "{}", laid.2);
        let sheet = std::fs::read_to_string(&file).unwrap();
        assert!(sheet.contains(code) && sheet.contains(">WC-1<") && sheet.matches("<svg").count() == 1);
        let renewed = run(&["renew", "--building", "KEEL", "--unit", "204", "--place", "WC-1"]);
        assert!(
            renewed.0 && renewed.1.trim().len() == 10 && renewed.1.trim() != code,
            "{renewed:?}"
        );
        let beyond = run(&["sheet", "--building", "KEEL", "--start", "31", "--out", out]);
        assert!(!beyond.0 && beyond.2.contains("1 to 30"), "{}", beyond.2);
    });
}
