//! The form of a portfolio, for adding and changing alike.

use askama::Template;

use crate::domain::register::PortfolioText;
use crate::error::FieldError;
use crate::web::chrome::Chrome;
use crate::web::form::Fields;

#[derive(Template)]
#[template(path = "pages/portfolios/form.html")]
pub(super) struct Page {
    pub chrome: Chrome,
    pub heading: &'static str,
    pub word: &'static str,
    pub fields: Fields,
    pub errors: Vec<FieldError>,
}

/// What was typed.
pub(super) fn read(fields: &Fields) -> PortfolioText {
    PortfolioText {
        code: fields.text("code").to_owned(),
        name: fields.text("name").to_owned(),
    }
}
