//! Between which values a reading usually lies, so that a slip of the finger is asked about once before it is kept. Decides no verdict:
//! whatever is typed counts.

use super::{Answer, Catalogue, Check};
use crate::domain::code::Coded as _;
use crate::domain::measure::{Amount, Unit};

/// The range of a check's readings: its own, else that of what is measured; none for a verdict, or where nobody wrote one.
///
/// # Errors
/// A sentence when a figure of the catalogue can't be read, or the range is empty.
pub fn likely(catalogue: &Catalogue, check: &Check) -> Result<Option<(Amount, Amount)>, String> {
    let Answer::Reading { unit, .. } = &check.answer else {
        return Ok(None);
    };
    let own = range(catalogue, check.code.as_str(), *unit)?;
    match own {
        Some(range) => Ok(Some(range)),
        None => range(catalogue, unit.quantity().code(), *unit),
    }
}

fn range(catalogue: &Catalogue, of: &str, unit: Unit) -> Result<Option<(Amount, Amount)>, String> {
    let figure = |end: &str| -> Result<Option<Amount>, String> {
        let Some(figure) = catalogue.figure(&format!("likely_{of}_{end}")) else {
            return Ok(None);
        };
        let amount = Amount::parse(&figure.value, unit);
        amount
            .map(Some)
            .map_err(|error| format!("{}: {error}", figure.code))
    };
    match (figure("least")?, figure("most")?) {
        (Some(least), Some(most)) => match least.compare(&most) {
            Ok(order) if order.is_lt() => Ok(Some((least, most))),
            _ => Err(format!("likely_{of}_least is not below likely_{of}_most")),
        },
        (None, None) => Ok(None),
        _ => Err(format!("likely_{of} has one end; write both")),
    }
}
