//! Text that a spreadsheet can't mistake for a formula: guarded on the way out, as it was on the way in.
//!
//! A cell of text that begins with `=`, `+`, `-`, `@`, a tab, a carriage return, a line feed or an apostrophe gets an apostrophe
//! before it. Numbers and dates of ours never come here, so -1 stays -1.
//!
//! # Source
//! OWASP, "CSV Injection", for the characters; the apostrophe itself is added so that taking the guard off is exact.

use std::borrow::Cow;

/// What a guarded text may not begin with.
const RISKY: [char; 8] = ['=', '+', '-', '@', '\t', '\r', '\n', '\''];

/// Puts an apostrophe before a text that a spreadsheet could run.
#[must_use]
pub fn guard(text: &str) -> Cow<'_, str> {
    if text.starts_with(RISKY) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// Takes the apostrophe off again; a text that merely begins with one, such as `'tis`, is left alone.
#[must_use]
pub fn unguard(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if text.starts_with(RISKY) => text,
        _ => cell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_could_run_is_guarded_and_comes_back_exactly() {
        for text in [
            "=1+1", "+49", "-A", "@SUM(A1)", "\tx", "\rx", "\nx", "'", "''", "'=1", "'tis",
        ] {
            let cell = guard(text);
            assert!(cell.starts_with('\''), "{text:?}");
            assert_eq!(unguard(&cell), text);
        }
    }

    #[test]
    fn ordinary_text_is_left_alone_both_ways() {
        for text in ["", "204", "Café 3/16\"", "a=b", " =1", "–5"] {
            assert_eq!(guard(text), text);
            assert_eq!(unguard(text), text);
        }
    }

    #[test]
    fn an_apostrophe_that_guards_nothing_stays() {
        assert_eq!(unguard("'tis"), "'tis");
    }
}
