//! Which places of a building have a label: its units, or the places of one unit; from here labels are made and laid out on sheets.

use actix_web::{HttpRequest, web};
use askama::Template;

use super::{chosen, first_position, home, labelled};
use crate::actions::labels::{self, Choice};
use crate::domain::code::Coded as _;
use crate::domain::measure::LengthUnit;
use crate::domain::printed_label::LabelGrid;
use crate::domain::register::Building;
use crate::error::FieldError;
use crate::language;
use crate::store::labels::Labelled;
use crate::web::choice;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::PageResult;
use crate::web::form::{Fields, Form};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/labels/building.html")]
struct Page {
    chrome: Chrome,
    code: String,
    name: String,
    unit: Option<String>,
    summary: String,
    units: Vec<UnitRow>,
    places: Vec<Labelled>,
    grid: String,
    grids: Vec<choice::Choice>,
    start: String,
    errors: Vec<FieldError>,
}

struct UnitRow {
    key: i64,
    label: String,
    places: usize,
    labelled: usize,
}

/// Shows who has a label.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn show(context: Context, request: HttpRequest, code: web::Path<String>) -> PageResult {
    let fields = Fields::from_urlencoded(request.query_string().as_bytes());
    respond::page(&load(&context, &request, chosen(&code, &fields), (&fields, Vec::new())).await?)
}

/// Makes the labels that are missing among the chosen places and leads to their sheets.
///
/// # Errors
/// When there is no such building within what the person may see.
pub async fn submit(
    context: Context,
    request: HttpRequest,
    code: web::Path<String>,
    form: Form,
) -> PageResult {
    let choice = chosen(&code, &form);
    let grid = LabelGrid::from_code(form.text("grid")).unwrap_or(LabelGrid::Letter30);
    if let Err(sentence) = grid.start(form.text("start")) {
        let errors = vec![FieldError::new("start", sentence)];
        let shown = Choice {
            units: form
                .text("of_unit")
                .parse()
                .ok()
                .map(crate::domain::register::UnitId)
                .into_iter()
                .collect(),
            tags: Vec::new(),
            ..choice
        };
        return respond::form_again(&load(&context, &request, shown, (&form, errors)).await?);
    }
    let mut query = url::form_urlencoded::Serializer::new(String::new());
    query.append_pair("building", &code);
    query.append_pair("grid", grid.code());
    query.append_pair("start", form.text("start"));
    let of_unit = if choice.tags.is_empty() {
        form.text("of_unit")
    } else {
        ""
    };
    let units = choice.units.iter().map(ToString::to_string);
    for unit in units.chain((!of_unit.is_empty()).then(|| of_unit.to_owned())) {
        query.append_pair("unit", &unit);
    }
    for tag in &choice.tags {
        query.append_pair("place", &tag.to_string());
    }
    let address = format!("/labels/sheet?{}", query.finish());
    let asked = Fields::from_urlencoded(address.split_once('?').map_or("", |(_, query)| query).as_bytes());
    let choice = chosen(&code, &asked);
    let made = context
        .act(move |db, actor, now| labels::make(db, actor, now, &choice))
        .await?;
    if made == 0 {
        return Ok(respond::redirect(&address));
    }
    let words = format!("{} made.", language::count(made, "label", "labels"));
    Ok(respond::redirect_saying(&address, &words))
}

async fn load(
    context: &Context,
    request: &HttpRequest,
    choice: Choice,
    (fields, errors): (&Fields, Vec<FieldError>),
) -> Result<Page, crate::error::Error> {
    let is_one_unit = choice.units.len() == 1;
    let (building, places) = context
        .read(move |conn, actor| labels::choose(conn, &actor.scope, &choice))
        .await?;
    let one = places
        .first()
        .filter(|_| is_one_unit)
        .map(|place| place.unit_label.clone());
    let title = format!("Labels of {}", building.facts.name);
    Ok(Page {
        chrome: Chrome::new(context, request, &title),
        code: building.facts.code.clone(),
        name: building.facts.name.clone(),
        summary: format!(
            "{} of {} a label.",
            labelled(&places),
            language::count(places.len(), "place has", "places have")
        ),
        units: if one.is_some() { Vec::new() } else { units(&places) },
        places: if one.is_some() { places } else { Vec::new() },
        unit: one,
        grid: grid_of(&building, fields).code().to_owned(),
        grids: choice::Choice::every(LabelGrid::name),
        start: first_position(fields),
        errors,
    })
}

/// What was chosen, else the paper that is usual where lengths are given in inches or not.
pub(super) fn grid_of(building: &Building, fields: &Fields) -> LabelGrid {
    let usual = match building.facts.length_unit {
        LengthUnit::Inch => LabelGrid::Letter30,
        LengthUnit::Millimetre => LabelGrid::A424,
    };
    LabelGrid::from_code(fields.text("grid")).unwrap_or(usual)
}

fn units(places: &[Labelled]) -> Vec<UnitRow> {
    let row = |of_unit: &[Labelled]| {
        let first = of_unit.first()?;
        Some(UnitRow {
            key: first.unit.0,
            label: first.unit_label.clone(),
            places: of_unit.len(),
            labelled: labelled(of_unit),
        })
    };
    places
        .chunk_by(|one, next| one.unit == next.unit)
        .filter_map(row)
        .collect()
}

impl Page {
    fn one_unit(&self) -> i64 {
        self.places.first().map_or(0, |place| place.unit.0)
    }

    fn all(&self) -> String {
        home(&self.code, None)
    }
}
