//! Every value that is built in, with where it comes from, for whoever wants to argue; and the office's own band of usual refills.

use actix_web::HttpRequest;
use askama::Template;

use crate::actions::measures::{clearance, flush};
use crate::domain::register::person::Role;
use crate::domain::trade::flush::Band;
use crate::error::{Error, FieldError};
use crate::exchange::catalogue::{self, ValueRow};
use crate::language;
use crate::web::chrome::Chrome;
use crate::web::context::Context;
use crate::web::error::{PageError, PageResult};
use crate::web::form::{Fields, Form, to_mend};
use crate::web::respond;

#[derive(Template)]
#[template(path = "pages/checks/values.html")]
struct Page {
    chrome: Chrome,
    may_set: bool,
    counted: String,
    files: Vec<(String, &'static str, Vec<ValueRow>)>,
    fields: Fields,
    errors: Vec<FieldError>,
}

/// Lists the values.
///
/// # Errors
/// When the database does not answer.
pub async fn show(context: Context, request: HttpRequest) -> PageResult {
    let (limits, own) = context
        .read(|conn, _| Ok((flush::limits(conn)?, clearance::own(conn)?)))
        .await?;
    let mut fields = Fields::default();
    fields.set("usual_least", limits.usual_least.said);
    fields.set("usual_most", limits.usual_most.said);
    fields.set("own", own);
    respond::page(&page(&context, &request, fields, Vec::new())?)
}

/// Sets the office's own band.
///
/// # Errors
/// For anybody but a manager.
pub async fn submit(context: Context, request: HttpRequest, form: Form) -> PageResult {
    let band = Band {
        least: form.text("usual_least").to_owned(),
        most: form.text("usual_most").to_owned(),
    };
    let own = form.has("own").then(|| form.text("own").replace("\r\n", "\n"));
    let done = context
        .act(move |db, actor, now| {
            flush::set_band(db, actor, now, &band)?;
            own.map_or(Ok(()), |own| clearance::set_own(db, actor, now, &own))
        })
        .await;
    match done {
        Ok(()) => Ok(respond::redirect_saying(
            "/checks/values",
            "The office's own values are set.",
        )),
        Err(error) => {
            let errors = to_mend(error)?;
            respond::form_again(&page(&context, &request, form.0, errors)?)
        }
    }
}

fn page(
    context: &Context,
    request: &HttpRequest,
    fields: Fields,
    errors: Vec<FieldError>,
) -> Result<Page, PageError> {
    let rows = catalogue::values().map_err(Error::internal)?;
    let counted = language::count(rows.len(), "value", "values");
    let mut files: Vec<(String, &'static str, Vec<ValueRow>)> = Vec::new();
    for row in rows {
        match files.last_mut() {
            Some((_, file, of_file)) if *file == row.file => of_file.push(row),
            _ => files.push((heading(row.file), row.file, vec![row])),
        }
    }
    Ok(Page {
        chrome: Chrome::new(context, request, "Values and their sources"),
        may_set: context.actor().role == Role::Manager,
        counted,
        files,
        fields,
        errors,
    })
}

/// The name of a file as a heading: "Water closet".
fn heading(file: &str) -> String {
    let words = file.replace('_', " ");
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
