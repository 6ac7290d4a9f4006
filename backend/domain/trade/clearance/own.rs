//! The profile that an office writes for itself, a rule a line. Decides how a line is read; knows no building.

use super::{Dimension, Profile, Rule};
use crate::domain::code::Coded as _;
use crate::domain::measure::{Length, LengthUnit};
use crate::domain::trade::{Bound, ProfileCode, Source};

/// The code of the profile that an office writes for itself.
pub const OWN: &str = "own";

impl Profile {
    /// An office's own profile, a rule a line: `left at_least 16 in | city amendment 4`, the source may be left out.
    ///
    /// # Errors
    /// A sentence for the first line that can't be read.
    ///
    /// ```
    /// use anglestop::domain::trade::clearance::Profile;
    /// let own = Profile::own("left at_least 16 in | city amendment 4\nfront at_least 22 in")?;
    /// assert_eq!(own.rules.len(), 2);
    /// assert!(Profile::own("left 16 in").is_err());
    /// # Ok::<(), String>(())
    /// ```
    pub fn own(text: &str) -> Result<Self, String> {
        let rules = text
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty())
            .map(own_rule)
            .collect::<Result<Vec<_>, String>>()?;
        Ok(Self {
            code: OWN.parse::<ProfileCode>().map_err(|error| format!("{error}"))?,
            name: "the office's own profile".to_owned(),
            rules,
        })
    }
}

fn own_rule(line: &str) -> Result<Rule, String> {
    let (said, source) = line.split_once('|').unwrap_or((line, ""));
    let mut words = said.split_whitespace();
    let dimension = Dimension::from_code(words.next().unwrap_or_default())?;
    let bound = Bound::from_code(words.next().unwrap_or_default())?;
    let limit = words.collect::<Vec<_>>().join(" ");
    if !limit.ends_with(|c: char| c.is_alphabetic()) {
        return Err(format!("“{line}” has no unit. Write it as left at_least 16 in."));
    }
    Length::parse(&limit, LengthUnit::Inch).map_err(|error| format!("“{line}”: {error}."))?;
    let source = match source.trim() {
        "" => Source::common_practice(),
        words => Source::published(words),
    };
    Ok(Rule {
        dimension,
        bound,
        limit,
        source,
    })
}
