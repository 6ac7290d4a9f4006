//! Pictures against drawings kept beside this file. A change of a drawing is a change of its golden file, looked at by a person:
//! run with `ANGLESTOP_REDRAW=1` to write them anew, open them, then commit.

use anglestop::domain::code::Coded;
use anglestop::domain::due::Window;
use anglestop::domain::printed_label::LabelGrid;
use anglestop::domain::trade::leak_point::Drawing;
use anglestop::language::Language;
use anglestop::picture::before_after::{BeforeAfter, Month, before_after};
use anglestop::picture::elevation::{Cell, Elevation, Floor, Ground, Hatch, elevation};
use anglestop::picture::forecast::{Bars, Year, forecast};
use anglestop::picture::label_sheet::{Label, label_sheets};
use anglestop::picture::load::{Load, Week, load};
use anglestop::picture::plan::{Distance, Plan, plan};
use anglestop::picture::points::{Mark, Points, points};
use anglestop::picture::section::Finding;
use anglestop::picture::shares::{Fill, Share, shares};
use anglestop::picture::stage_line::{StageLine, stage_line};
use anglestop::picture::trend::{Line, Point, Trend, trend};
use anglestop::picture::turnover_calendar::{Calendar, TurnoverLine, turnover_calendar, turnover_line};
use anglestop::picture::window_line::{WindowLine, window_line};
use anglestop::picture::year;
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

#[test]
fn a_sheet_of_labels_is_drawn_as_before_and_begins_where_it_is_told() {
    let label = |place: &str| Label::of("https://keel.example", "ALDER", "0z0z9azjn1", "204 <rear>", place);
    let labels = [label("WC-1"), label("A very long place label")];
    let sheets = label_sheets(LabelGrid::A424, 24, &labels).unwrap();
    assert_eq!(sheets.len(), 2);
    agrees("label-sheet", &sheets[0]);
    assert!(sheets[0].contains("204 &lt;rear&gt;") && !sheets[0].contains("<rear>"));
    assert!(!sheets[1].contains("WC-1"));
}

/// A turnover around Wed 25 Nov 2026 by distances in days.
fn turning(calendar: &Calendar, out: i64, back: i64, reached: u32) -> String {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let line = TurnoverLine {
        title: "Unit 204, <Alder> House".to_owned(),
        move_out: today + Duration::days(out),
        move_in: today + Duration::days(back),
        reached,
        today,
    };
    turnover_line(calendar, &line)
}

#[test]
fn the_calendar_of_turnovers_is_drawn_as_before() {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let day = |days| today + Duration::days(days);
    let calendar = Calendar::around(today, [(day(-20), day(-2)), (day(-3), day(30))]);
    agrees(
        "turnover-calendar",
        &turnover_calendar(&calendar, Language::ENGLISH),
    );
    agrees("turnover-line-ahead", &turning(&calendar, 3, 24, 0));
    agrees("turnover-line-repaired", &turning(&calendar, -3, 30, 2));
    agrees("turnover-line-over", &turning(&calendar, -20, -2, 3));
    // Out and in on one day: the marks can be told apart all the same.
    agrees("turnover-line-one-day", &turning(&calendar, 1, 1, 1));
    // What lies beyond the weeks that are shown ends in an arrow, and no mark leaves the picture.
    let far = turning(&calendar, -300, 300, 2);
    agrees("turnover-line-beyond", &far);
    assert_eq!(far.matches("<rect").count(), 0);
    assert!(far.contains("&lt;Alder&gt;") && !far.contains("<Alder>"));
    let alone = turnover_calendar(&Calendar::around(today, []), Language::ENGLISH);
    assert!(
        alone.contains("<title>2 weeks, from 23 Nov to 6 Dec 2026; today is Wed 25 Nov</title>"),
        "{alone}"
    );
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
fn a_load_far_below_what_a_week_holds_names_its_busiest_week() {
    for (minutes, said) in [(35, "35 min"), (720, "12 h"), (820, "13.7 h"), (7_690, "128 h")] {
        let drawn = load(&Load {
            title: "Load of a week".to_owned(),
            weeks: vec![Week {
                label: "1 Dec".to_owned(),
                minutes,
            }],
            capacity_minutes: 48_000,
        });
        assert!(drawn.contains(&format!(">{said}<")), "{drawn}");
    }
}

#[test]
fn the_forecast_is_drawn_as_before_with_a_bar_and_a_whisker_a_year() {
    let year = |label: &str, expected: f64, low: f64, high: f64| Year {
        label: label.to_owned(),
        expected,
        low,
        high,
    };
    let drawn = forecast(&Bars {
        title: "Alder House: expected cost of replacements, 5 years".to_owned(),
        years: vec![
            year("2027", 39_700.0, 34_200.0, 45_200.0),
            year("2028", 25_800.0, 20_400.0, 31_400.0),
            year("2029", 0.0, 0.0, 0.0),
            year("2030", 18_800.0, 14_200.0, 23_600.0),
            year("2031", 900.0, 0.0, 4_300.0),
        ],
    });
    agrees("forecast", &drawn);
    assert_eq!(drawn.matches("class=\"bar\"").count(), 5);
}

#[test]
fn shares_are_told_apart_without_colour() {
    let share = |word, count, fill| Share { word, count, fill };
    let drawn = shares(
        "Condition of 373 fixtures",
        &[
            share("unsafe", 6, Fill::Full),
            share("repair", 4, Fill::Close),
            share("watch", 32, Fill::Wide),
            share("sound", 330, Fill::Empty),
            share("unknown", 1, Fill::Dotted),
        ],
    );
    agrees("shares", &drawn);
}

fn distance(inches: f64, said: &str, limit: f64, short: Option<[&str; 2]>) -> Distance {
    Distance {
        inches,
        said: said.to_owned(),
        limit: Some((limit, format!("{limit} in"))),
        short: short.map(|short| short.map(str::to_owned)),
    }
}

#[test]
fn the_plan_is_drawn_as_before_to_scale_and_shows_what_is_short() {
    let drawn = plan(&Plan {
        language: Language::ENGLISH,
        title: "Plan <of> WC-1".to_owned(),
        left: Some(distance(
            14.875,
            "14 7/8 in",
            15.0,
            Some(["1/8 in", "short of 15 in"]),
        )),
        right: Some(distance(18.25, "18 1/4 in", 15.0, None)),
        front: Some(distance(22.0, "22 in", 21.0, None)),
        beside: vec![("Floor to the top of the seat: 16 in".to_owned(), false)],
    });
    agrees("plan", &drawn);
    assert!(
        drawn.contains(">1/8 in<")
            && drawn.contains(">short of 15 in<")
            && drawn.contains(">22 in<")
            && !drawn.contains("<of>")
    );
    // 4.4 units an inch: the left wall stands 65.45 units from the centreline at 170.
    assert!(drawn.contains("M104.6 30L104.6"), "{drawn}");
    let bare = plan(&Plan::default());
    assert!(bare.starts_with("<svg"), "nothing measured is still a picture");
}

#[test]
fn the_trend_is_drawn_as_before_with_its_band_and_where_it_leaves_it() {
    let day = |days| NaiveDate::from_ymd_opt(2026, 1, 10).unwrap() + Duration::days(days);
    let points: Vec<Point> = (0..8)
        .map(|step| Point {
            day: day(30 * step),
            value: 46.0 + 4.0 * f64::from(i32::try_from(step).unwrap()),
        })
        .collect();
    let line = Line {
        from: points[0],
        to: Point {
            day: day(330),
            value: 90.0,
        },
        word: "leaves the band 6 Dec".to_owned(),
    };
    let drawn = trend(&Trend {
        language: Language::ENGLISH,
        title: "Refill time".to_owned(),
        unit: "s",
        points,
        band: (30.0, 90.0),
        limit: Some(180.0),
        line: Some(line),
    });
    agrees("trend", &drawn);
    assert_eq!(drawn.matches("<circle").count(), 8);
}

#[test]
fn every_drawing_of_leak_points_is_drawn_as_before_with_a_link_at_each_point() {
    for drawing in Drawing::ALL.iter().copied() {
        let marks = (1..=drawing.points()).map(|number| Mark {
            name: format!("{number}, a point"),
            finding: if number == 2 {
                Finding::Wrong
            } else {
                Finding::Quiet
            },
            href: Some(format!("/fixtures/1/leaks?point={number}#see")),
        });
        let drawn = points(&Points {
            title: drawing.name().to_owned(),
            drawing,
            marks: marks.collect(),
        });
        agrees(&format!("points-{drawing}"), &drawn);
        assert_eq!(drawn.matches("<a href").count(), drawing.points(), "{drawing}");
        assert_eq!(drawn.matches("class=\"point-wrong\"").count(), 1, "{drawing}");
    }
}

#[test]
fn a_year_reaches_from_this_month_to_the_same_one_next_year_and_is_bare_without_a_day_in_it() {
    let day = |text: &str| text.parse::<NaiveDate>().unwrap();
    let of = |days: &[&str]| year::Year {
        title: "The next dates".to_owned(),
        from: day("2026-11-25"),
        days: days.iter().map(|text| day(text)).collect(),
    };
    let drawn = year::year(&of(&["2026-11-01", "2027-02-28", "2027-11-30", "2027-12-01"]));
    agrees("year", &drawn);
    assert_eq!(drawn.matches("class=\"today-mark\"").count(), 3);
    assert_eq!(drawn.matches("<rect").count(), 395, "13 months of days");
    for (days, is_bare) in [
        (&["2026-10-31", "2027-12-01"][..], true),
        (&["2027-11-30"], false),
        (&["2026-11-01"], false),
        (&[], true),
    ] {
        assert_eq!(of(days).is_bare(), is_bare, "{days:?}");
    }
}

#[test]
fn before_and_after_stand_side_by_side_each_month_to_the_same_scale() {
    let month = |label: &str, before: f64, after: f64| Month {
        label: label.to_owned(),
        before,
        after,
    };
    let drawn = before_after(&BeforeAfter {
        title: "Checks a month for 4 months: 57 as it is, 114 as it would be".to_owned(),
        months: vec![
            month("Nov 26", 57.0, 0.0),
            month("", 0.0, 57.0),
            month("", 0.0, 0.0),
            month("", 0.0, 57.0),
        ],
    });
    agrees("before-after", &drawn);
    let tall = drawn.matches("height=\"112\"").count();
    assert_eq!(tall, 3, "57 before is as tall as 57 after: {drawn}");
}
