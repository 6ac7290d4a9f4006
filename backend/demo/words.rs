//! The words of the invented fleet, from `seeds/demo/words.toml`.

use serde::Deserialize;

/// Names, streets and sentences; nobody and nowhere of these exists.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    /// Names of portfolios.
    pub portfolios: Vec<String>,
    /// First halves of building names.
    pub houses_first: Vec<String>,
    /// Second halves.
    pub houses_second: Vec<String>,
    /// Streets.
    pub streets: Vec<String>,
    /// Towns.
    pub towns: Vec<String>,
    /// IANA zones.
    pub zones: Vec<String>,
    /// First names.
    pub first_names: Vec<String>,
    /// Family names.
    pub last_names: Vec<String>,
    /// Makers of fixtures.
    pub makers: Vec<String>,
    /// BCP 47 tags of residents' languages.
    pub languages: Vec<String>,
    /// Agreed hours of entry, empty for none.
    pub agreed_hours: Vec<String>,
    /// Days without entry, empty for none.
    pub no_entry_days: Vec<String>,
    /// Licensed vendors.
    pub vendors: Vec<String>,
    /// Why there was no access.
    pub no_access: Vec<String>,
    /// What was done to repair something.
    pub repairs: Vec<String>,
}

/// The words that come with the program.
///
/// # Errors
/// A sentence when the file can't be read; a test holds that it can.
pub fn builtin() -> Result<Words, String> {
    toml::from_str(include_str!("../../seeds/demo/words.toml")).map_err(|cause| cause.to_string())
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_words_that_come_with_the_program_can_be_read() {
        assert_eq!(
            super::builtin().map(|words| words.portfolios.is_empty()),
            Ok(false)
        );
    }
}
