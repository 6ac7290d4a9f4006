//! A language that has a folder of messages. Decides what is read where nothing is said: English.

use std::fmt;

use super::catalogue;
use super::said::Said;

/// A language of the catalogue by its BCP 47 tag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Language(&'static str);

impl Language {
    /// In which every message exists and the trade's own words are written.
    pub const ENGLISH: Self = Self("en");

    /// Every language, in the order of their tags.
    pub fn all() -> impl Iterator<Item = Self> {
        catalogue::tags().map(Self)
    }

    /// The language of this tag, or of its first part: `es` for `es-MX`. None when there is no folder for either.
    #[must_use]
    pub fn known(tag: &str) -> Option<Self> {
        let first = tag.split(['-', '_']).next().unwrap_or_default().to_lowercase();
        catalogue::tag_of(tag)
            .or_else(|| catalogue::tag_of(&first))
            .map(Self)
    }

    /// The language of this tag; English when there is none.
    #[must_use]
    pub fn of(tag: &str) -> Self {
        Self::known(tag).unwrap_or(Self::ENGLISH)
    }

    /// The language that a browser would rather read, from its `Accept-Language`: the known one of the greatest weight, the first of equals.
    ///
    /// ```
    /// use anglestop::language::Language;
    /// assert_eq!(Language::wished_for("fr-CA, es-MX;q=0.8, en;q=0.5"), Some(Language::of("es")));
    /// assert_eq!(Language::wished_for("fr"), None);
    /// ```
    #[must_use]
    pub fn wished_for(header: &str) -> Option<Self> {
        let weight_of = |part: &str| -> f32 {
            let weight = part.split(';').find_map(|field| field.trim().strip_prefix("q="));
            weight.map_or(1.0, |weight| weight.parse().unwrap_or(0.0))
        };
        let mut best: Option<(f32, Self)> = None;
        for part in header.split(',') {
            let tag = part.split(';').next().unwrap_or_default().trim();
            let weight = weight_of(part);
            if let Some(language) = Self::known(tag)
                && weight > best.map_or(0.0, |(best, _)| best)
            {
                best = Some((weight, language));
            }
        }
        best.map(|(_, language)| language)
    }

    /// The tag, as `<html lang>` has it.
    #[must_use]
    pub const fn tag(self) -> &'static str {
        self.0
    }

    /// Its name in itself: "Español".
    #[must_use]
    pub fn name(self) -> String {
        self.say("language-name").to_string()
    }

    /// A message of this language; English where this one has none.
    #[must_use]
    pub fn say(self, key: &'static str) -> Said {
        Said::new(self, key)
    }
}

impl Default for Language {
    fn default() -> Self {
        Self::ENGLISH
    }
}

impl fmt::Display for Language {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}
