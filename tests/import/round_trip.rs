//! Export of an import is the same fleet: byte for byte, in both forms, on both databases, whatever people typed.

use anglestop::domain::register::inventory::{HouseholdLine, Inventory, RoomLine};
use anglestop::domain::register::person::Scope;
use anglestop::exchange::csv::fleet::source::Given;
use anglestop::exchange::csv::text::unguard;
use anglestop::exchange::csv::{Audience, Cell, Sheet, Table};
use anglestop::store::{Db, buildings, checks, fleet, portfolios};
use proptest::prelude::*;

use super::{folder, import_soundly, now, one, seed_folder, text};
use crate::support::{on_both, postgres, sqlite};

/// What people type, and what they should not.
pub const HOSTILE: [&str; 32] = [
    "=1+1",
    "+49 30 555",
    "-",
    "-5",
    "@SUM(A1:A9)",
    "'",
    "''",
    "'=1",
    "'tis",
    "\"",
    "\"quoted\"",
    "a,b;c",
    "5/16\" × 3/4″",
    "Ünïcödé ß Ğ ı İ",
    "日本語",
    "🚿🚽",
    "עברית \u{202e}rtl",
    "e\u{301} and é",
    "<script>alert(1)</script>",
    "' OR 1=1 --",
    "{{7*7}}${7*7}",
    "none",
    "NULL",
    "\\N",
    "\\\"\\n",
    "#N/A",
    "1e5",
    "00123",
    "2026-02-03",
    "TRUE",
    "in  ner   spaces",
    "\u{feff}mark",
];

/// The example with a hostile text in every field that takes one.
fn spoil(building: &mut Inventory) {
    let mut next = HOSTILE.iter().cycle().map(|text| (*text).to_owned());
    let mut text = || next.next().unwrap();
    building.facts.name = text();
    building.facts.address = format!("{}\n{}", text(), text());
    for unit in &mut building.units {
        for line in &mut unit.households {
            line.facts.name = text();
            line.facts.contact = text();
            line.facts.agreed_hours = text();
            line.facts.no_entry_days = text();
        }
        for tag in &mut unit.tags {
            for fixture in &mut tag.fixtures {
                fixture.facts.maker = text();
                fixture.facts.model = text();
                fixture.facts.note = format!("{}\n{}", text(), text());
            }
        }
    }
    // Labels and rooms are keys: each text once, so that no two are alike.
    let Some(unit) = building.units.first_mut() else {
        return;
    };
    for (at, name) in HOSTILE.iter().enumerate() {
        unit.rooms.push(RoomLine {
            id: None,
            name: (*name).to_owned(),
            walk_order: 10 + i64::try_from(at).unwrap(),
        });
    }
    unit.tags[0].room = Some("-".to_owned());
    unit.tags[1].room = Some("=1+1".to_owned());
    let empty = building.units[1].clone();
    for label in HOSTILE.iter().filter(|label| label.chars().count() <= 24) {
        let mut unit = empty.clone();
        unit.id = None;
        unit.spread_ppm = None;
        (*label).clone_into(&mut unit.facts.label);
        unit.rooms.clear();
        unit.tags.clear();
        unit.households = vec![HouseholdLine {
            id: None,
            ..empty.households[0].clone()
        }];
        building.units.push(unit);
    }
}

/// Fills a database with the example and hostile texts in it.
fn fill(db: &Db) {
    import_soundly(db, &seed_folder("fleet-example"));
    db.write(|tx| {
        let register = fleet::Register {
            portfolios: portfolios::list(tx, &Scope::All)?
                .into_iter()
                .map(|portfolio| (portfolio.facts.code, portfolio.id))
                .collect(),
            technicians: Default::default(),
            checks: checks::ids_by_code(tx)?,
        };
        let keys = fleet::buildings(tx, &Scope::All)?;
        for known in fleet::load(tx, &keys)? {
            let mut wanted = known.clone();
            if known.facts.code == "ALDER" {
                spoil(&mut wanted);
            }
            fleet::save(tx, &register, Some(&known), wanted, now().0)?;
        }
        Ok(())
    })
    .unwrap();
}

#[test]
fn a_fleet_goes_round_in_both_forms_and_on_both_databases_byte_for_byte() {
    on_both(|fleet| {
        fill(&fleet.db);
        let (csv, files) = (one(&fleet.db), folder(&fleet.db));
        for other in [sqlite(), postgres()] {
            import_soundly(&other.db, &files);
            assert_same(&folder(&other.db), &files);
            assert_eq!(one(&other.db), csv);
        }
        for other in [sqlite(), postgres()] {
            import_soundly(&other.db, &text(&csv));
            assert_eq!(one(&other.db), csv);
        }
    });
}

fn assert_same(found: &[Given], expected: &[Given]) {
    for (found, expected) in found.iter().zip(expected) {
        assert_eq!(found.name, expected.name);
        let lines = |file: &Given| String::from_utf8(file.bytes.clone()).unwrap();
        for (a, b) in lines(found).lines().zip(lines(expected).lines()) {
            assert_eq!(a, b, "in {}", found.name);
        }
        assert_eq!(found.bytes, expected.bytes, "{}", found.name);
    }
    assert_eq!(found.len(), expected.len());
}

#[test]
fn the_example_folder_is_written_as_it_lies_in_seeds() {
    on_both(|fleet| {
        let files = seed_folder("fleet-example");
        let counts = import_soundly(&fleet.db, &files).counts;
        let added = [counts.checks, counts.calendars, counts.schedules].map(|count| count.added);
        assert_eq!(added, [1, 2, 1]);
        let mut written = folder(&fleet.db);
        written.sort_by(|a, b| a.name.cmp(&b.name));
        assert_same(&written, &files);
    });
}

#[test]
fn a_technician_goes_along_by_mail_address() {
    on_both(|fleet| {
        use diesel::RunQueryDsl as _;
        fleet
            .db
            .write(|tx| {
                diesel::sql_query(
                    "INSERT INTO people (name, email, role, status, time_zone, digest_hour, created_at) \
                     VALUES ('Ines', 'ines@anglestop.example', 'technician', 'invited', 'UTC', 6, '2026-01-01 00:00:00')",
                )
                .execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        let file = "building,time_zone,joined_on,technician\nA,UTC,2026-01-01,Ines@anglestop.example\n";
        import_soundly(&fleet.db, &text(file));
        assert!(one(&fleet.db).contains(",ines@anglestop.example,"));
        assert_eq!(super::rows_of(&fleet.db, "person_buildings"), 1);
        fleet
            .db
            .write(|tx| {
                diesel::sql_query("UPDATE people SET status = 'disabled'").execute(&mut **tx)?;
                Ok(())
            })
            .unwrap();
        import_soundly(&fleet.db, &text("building,building_name\nA,Another name\n"));
        let building = fleet
            .db
            .read(|conn| buildings::by_code(conn, &Scope::All, "A"))
            .unwrap();
        assert!(
            building.technician.is_some(),
            "a disabled technician stays where nothing else is said"
        );
    });
}

proptest! {
    #[test]
    fn prop_any_text_comes_back_exactly(rows in prop::collection::vec(prop::collection::vec("\\PC*|[=+@'\t\r\n\",;-]{0,4}\\PC{0,5}|[\\s\\S]{0,8}", 3), 1..6)) {
        let rows: Vec<Vec<String>> = rows
            .into_iter()
            .map(|row| row.into_iter().map(|text| text.replace('\0', "")).collect())
            .collect();
        let mut table = Table::begin(Vec::new(), Audience::Program, &["a", "b", "c"]).unwrap();
        for row in &rows {
            table.row(row.iter().map(Cell::text)).unwrap();
        }
        let bytes = table.finish().unwrap();
        let sheet = Sheet::open("f.csv", &bytes).unwrap();
        let mut found = Vec::new();
        let problems = sheet.each(|row| found.push((0..3).map(|at| unguard(row.cell(at)).to_owned()).collect::<Vec<_>>()));
        prop_assert_eq!(problems, []);
        let blank = |row: &Vec<String>| row.iter().all(|text| text.trim().is_empty());
        let expected: Vec<_> = rows.into_iter().filter(|row| !blank(row)).collect();
        let found: Vec<_> = found.into_iter().filter(|row| !blank(row)).collect();
        prop_assert_eq!(found, expected);
    }

    #[test]
    fn prop_no_file_makes_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        if let Ok(sheet) = Sheet::open("f.csv", &bytes) {
            let _ = sheet.each(|row| { let _ = row.cell(0).len(); });
        }
    }

    #[test]
    fn prop_no_cell_begins_as_a_formula(text in "[\"=+@'\t\r\n-]{0,3}\\PC{0,5}") {
        let mut table = Table::begin(Vec::new(), Audience::Program, &["a", "b"]).unwrap();
        table.row([Cell::text(&text), Cell::text("x")]).unwrap();
        let bytes = table.finish().unwrap();
        // As a spreadsheet reads it, by the csv crate.
        let mut reader = csv::Reader::from_reader(bytes.as_slice());
        let row = reader.records().next().unwrap().unwrap();
        let cell = &row[0];
        prop_assert!(text.is_empty() || !cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']));
    }
}
