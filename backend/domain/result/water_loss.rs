//! Water lost at a leak, as somebody measured it. Append-only; the latest counts. Decides nothing.

use chrono::NaiveDateTime;

use crate::domain::register::{DeficiencyId, PersonId};
use crate::domain::trade::water::{Loss, Method};

/// A measurement of a leak.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterLoss {
    /// Of which deficiency.
    pub deficiency: DeficiencyId,
    /// How it was measured.
    pub method: Method,
    /// The figures as typed, by name.
    pub typed: Vec<(String, String)>,
    /// What they come to.
    pub loss: Loss,
    /// UTC.
    pub measured_at: NaiveDateTime,
    /// Who measured; none for the command line.
    pub person: Option<PersonId>,
}

impl WaterLoss {
    /// The figures in the order in which they are asked: their labels, and each as typed with its unit.
    pub fn figures(&self) -> impl Iterator<Item = (&'static str, String)> {
        self.method.asks().iter().filter_map(|asked| {
            let (_, typed) = self.typed.iter().find(|(name, _)| name == asked.name)?;
            let bare = typed.chars().all(|c| c.is_ascii_digit() || " ./,".contains(c));
            let unit = if bare { asked.unit.symbol() } else { "" };
            Some((asked.label, format!("{typed} {unit}").trim().to_owned()))
        })
    }

    /// The figures in one line: "Caught: 8 oz, In: 45 s".
    #[must_use]
    pub fn typed_in_words(&self) -> String {
        let said = self.figures().map(|(label, typed)| format!("{label}: {typed}"));
        said.collect::<Vec<_>>().join(", ")
    }
}
