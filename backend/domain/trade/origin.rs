//! Where a check came from. Knows no procedure.

use crate::domain::code::words;

words! {
    /// Whether a check is ours or the users' own. Ours is kept up to date by new versions and never changed by hand; a copy of it is
    /// the users' own, and no update touches it.
    Origin "origin" {
        Builtin = "builtin", "Built in";
        Own = "own", "Own";
    }
}
