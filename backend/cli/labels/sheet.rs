//! `anglestop labels sheet`: sheets of labels as one HTML file that prints in true size, a sheet a page.

use std::path::PathBuf;

use clap::Args;

use super::{Places, list::address};
use crate::domain::code::Coded as _;
use crate::domain::printed_label::LabelGrid;
use crate::error::{Error, Result};
use crate::language;
use crate::picture::label_sheet::{Label, label_sheets};
use crate::store::Db;

/// Options of `labels sheet`.
#[derive(Debug, Args)]
pub struct Options {
    #[command(flatten)]
    places: Places,
    /// letter_30 (2 5/8 × 1 in) or a4_24 (63.5 × 33.9 mm)
    #[arg(long, default_value = "letter_30", value_name = "GRID")]
    grid: String,
    /// Where the first label goes, counted row by row from 1: uses up a sheet that was begun
    #[arg(long, default_value = "1", value_name = "POSITION")]
    start: String,
    /// The file to write
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// The address that people type; else from ANGLESTOP_PUBLIC_URL, else where pages listen
    #[arg(long)]
    public_url: Option<String>,
}

/// Writes the file.
pub fn run(db: &Db, options: &Options) -> Result<()> {
    let grid = LabelGrid::from_code(&options.grid).map_err(|sentence| Error::field("--grid", sentence))?;
    let start = grid
        .start(&options.start)
        .map_err(|sentence| Error::field("--start", sentence))?;
    let public_url = address(options.public_url.as_deref())?;
    let (building, places) = db.read(|conn| options.places.load(conn))?;
    let labels: Vec<Label> = places
        .iter()
        .filter_map(|place| {
            let code = place.code.as_deref()?;
            Some(Label::of(
                &public_url,
                &building,
                code,
                &place.unit_label,
                &place.tag_label,
            ))
        })
        .collect();
    if labels.is_empty() {
        return Err(Error::refused(
            "None of these places has a label. Make them with anglestop labels make.",
        ));
    }
    let sheets = label_sheets(grid, start, &labels).map_err(Error::refused)?;
    std::fs::write(&options.out, page(grid, &sheets))?;
    eprintln!(
        "{} on {} in {}, for {public_url}. Print it in true size.",
        language::count(labels.len(), "label", "labels"),
        language::count(sheets.len(), "sheet", "sheets"),
        options.out.display()
    );
    let without = places.len() - labels.len();
    if without > 0 {
        eprintln!(
            "{} left out: no label yet.",
            language::count(without, "place", "places")
        );
    }
    Ok(())
}

/// A file that needs nothing beside it.
fn page(grid: LabelGrid, sheets: &[String]) -> String {
    let sheet = grid.measures();
    let millimetres = |hundredths: u32| format!("{}.{:02}mm", hundredths / 100, hundredths % 100);
    let (width, height) = (millimetres(sheet.width), millimetres(sheet.height));
    let mut page = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Sheets of labels</title>\n<style>\
        @page{{size:{width} {height};margin:0}}html,body{{margin:0;background:#fff}}svg{{display:block;font-family:system-ui,sans-serif}}\
        .bold{{font-weight:700}}div{{width:{width};height:{height};overflow:hidden;break-after:page}}div:last-child{{break-after:auto}}\
        </style>\n</head>\n<body>\n"
    );
    for one in sheets {
        page.push_str(&format!("<div>{one}</div>\n"));
    }
    page.push_str("</body>\n</html>\n");
    page
}
