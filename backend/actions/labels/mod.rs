//! Labels of places: made for those that have none, renewed when one is lost or copied, chosen for a sheet to print.

mod choose;
mod make;
mod renew;

pub use choose::{Choice, choose};
pub use make::make;
pub use renew::renew;

use crate::domain::printed_label::{CODE_LENGTH, LabelCode};
use crate::error::{Error, Result};
use crate::store::{Tx, labels};

/// A code that no label has or had.
fn fresh_code(tx: &mut Tx<'_>) -> Result<LabelCode> {
    loop {
        let mut chance = [0_u8; CODE_LENGTH];
        getrandom::fill(&mut chance).map_err(|cause| Error::internal(cause.to_string()))?;
        let code = LabelCode::of(chance);
        if labels::find(tx, &code)?.is_none() {
            return Ok(code);
        }
    }
}
