//! Pictures against drawings kept beside this file. A change of a drawing is a change of its golden file, looked at by a person:
//! run with `ANGLESTOP_REDRAW=1` to write them anew, open them, then commit.

use anglestop::domain::due::Window;
use anglestop::picture::elevation::{Cell, Elevation, Floor, Ground, Hatch, elevation};
use anglestop::picture::load::{Load, Week, load};
use anglestop::picture::section::{Finding, Section, section};
use anglestop::picture::stage_line::{StageLine, stage_line};
use anglestop::picture::window_line::{WindowLine, window_line};
use chrono::{Duration, NaiveDate};
use std::fs;
use std::path::Path;

fn agrees(name: &str, drawn: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/pictures/{name}.svg"));
    if std::env::var_os("ANGLESTOP_REDRAW").is_some() {
        fs::write(&path, format!("{drawn}\n")).unwrap();
    }
    let golden = fs::read_to_string(&path).unwrap();
    assert_eq!(
        drawn,
        golden.trim_end(),
        "{name} is drawn differently from {}",
        path.display()
    );
}

/// A window around Wed 25 Nov 2026 by distances in days.
fn window(opens: i64, due: i64, last: i64) -> String {
    let as_of = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let day = |days| as_of + Duration::days(days);
    window_line(&WindowLine::new(
        Window::from_days(day(opens), day(due), day(last)).unwrap(),
        as_of,
    ))
}

#[test]
fn the_window_line_is_drawn_as_before_in_every_state() {
    agrees("window-later", &window(20, 41, 55));
    agrees("window-open", &window(-9, 12, 26));
    agrees("window-due-last-day", &window(-35, -14, 0));
    agrees("window-one-day-over", &window(-36, -15, -1));
    agrees("window-long-over", &window(-700, -680, -660));
    agrees("window-far-ahead", &window(200, 214, 228));
}

fn cell(riser: usize, label: &str, count: u32, word: &str, hatch: Hatch) -> Cell {
    Cell {
        riser,
        span: 1,
        label: label.to_owned(),
        count,
        word: word.to_owned(),
        hatch,
        href: None,
    }
}

fn house() -> Elevation {
    let floor = |label: &str, ground, cells| Floor {
        label: label.to_owned(),
        ground,
        cells,
    };
    let lobby = Cell {
        span: 2,
        href: Some("/units/1".to_owned()),
        ..cell(0, "lobby <A>", 0, "", Hatch::None)
    };
    Elevation {
        title: "Alder House from the street: 3 floors, 2 risers".to_owned(),
        risers: vec!["riser 1".to_owned(), "riser 2".to_owned()],
        floors: vec![
            floor(
                "2",
                Ground::Above,
                vec![
                    cell(0, "201", 0, "", Hatch::Unknown),
                    cell(1, "202", 3, "leak", Hatch::Heavy),
                ],
            ),
            floor("1", Ground::Above, vec![lobby]),
            floor(
                "B",
                Ground::Below,
                vec![
                    cell(0, "boiler room", 1, "relief pipe short", Hatch::Dense),
                    cell(1, "store", 1, "damp", Hatch::Sparse),
                ],
            ),
        ],
        note: Some("riser 2: two of three floors".to_owned()),
    }
}

#[test]
fn the_elevation_is_drawn_as_before_and_escapes_its_labels() {
    let drawn = elevation(&house());
    agrees("elevation", &drawn);
    assert!(drawn.contains("lobby &lt;A&gt;") && !drawn.contains("<A>"));
    // A picture with links is a group, because the parts of an image are hidden from a screen reader (WAI-ARIA 1.2, role img).
    assert!(drawn.contains("role=\"group\" aria-label=\"Alder House from the street: 3 floors, 2 risers\""));
}

#[test]
fn an_elevation_of_nothing_is_still_a_picture() {
    let nothing = Elevation {
        title: "No units yet".to_owned(),
        risers: Vec::new(),
        floors: Vec::new(),
        note: None,
    };
    assert!(elevation(&nothing).contains("<title>No units yet</title>"));
}

#[test]
fn the_stage_line_is_drawn_as_before() {
    let line = |reached, days_over| {
        stage_line(&StageLine {
            title: "found; 2 of 5 repaired".to_owned(),
            reached,
            days_over,
        })
    };
    agrees("stage-found", &line(1, 0));
    agrees("stage-late", &line(2, 3));
    agrees("stage-moved-in", &line(4, 0));
}

#[test]
fn the_load_is_drawn_as_before_and_hatches_what_is_beyond_capacity() {
    let minutes = [300, 1_920, 2_600, 0];
    let weeks = minutes
        .iter()
        .enumerate()
        .map(|(index, &minutes)| Week {
            label: format!("{} Dec", 7 * index + 1),
            minutes,
        })
        .collect();
    let drawn = load(&Load {
        title: "Load of four weeks".to_owned(),
        weeks,
        capacity_minutes: 1_920,
    });
    agrees("load", &drawn);
    assert_eq!(drawn.matches("class=\"hatch\"").count(), 1);
}

#[test]
fn the_section_is_drawn_as_before_and_fills_the_wet_point() {
    let drawn = section(&Section {
        title: "Water closet from the side; 4, base: damp".to_owned(),
        supply: Finding::Quiet,
        shutoff: Finding::Quiet,
        tank: Finding::Quiet,
        base: Finding::Wrong,
    });
    agrees("section", &drawn);
    assert_eq!(drawn.matches("class=\"point-wrong\"").count(), 1);
    assert_eq!(drawn.matches("class=\"point\"").count(), 3);
}
