//! Which language a person reads, as a tag. Decides what a tag looks like; which languages there are is not for the domain to know.

use std::fmt;

/// A BCP 47 tag of two or three letters, with a part behind it where one matters: `en`, `es`, `pt-BR`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct LanguageTag(String);

impl LanguageTag {
    /// In which people read who said nothing.
    #[must_use]
    pub fn usual() -> Self {
        Self("en".to_owned())
    }

    /// Reads what was typed; nothing typed is the usual one.
    ///
    /// # Errors
    /// A sentence when it does not look like a tag.
    ///
    /// ```
    /// use anglestop::domain::register::LanguageTag;
    /// assert_eq!(LanguageTag::read(" es ").as_ref().map(LanguageTag::as_str), Ok("es"));
    /// assert_eq!(LanguageTag::read(""), Ok(LanguageTag::usual()));
    /// assert!(LanguageTag::read("Spanish, please").is_err());
    /// ```
    pub fn read(typed: &str) -> Result<Self, String> {
        let text = typed.trim();
        if text.is_empty() {
            return Ok(Self::usual());
        }
        let mut parts = text.split('-');
        let first = parts.next().unwrap_or_default();
        let is_tag = (2..=3).contains(&first.len())
            && first.chars().all(|c| c.is_ascii_lowercase())
            && parts
                .all(|part| (2..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric()));
        if is_tag && text.len() <= 20 {
            Ok(Self(text.to_owned()))
        } else {
            Err(format!("“{text}” is no language tag. Give one such as en or es."))
        }
    }

    /// The tag.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for LanguageTag {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
