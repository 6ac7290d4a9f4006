//! Which passwords may be chosen, and the sentence that says why another may not. Knows nothing of hashes or of where they are kept.
//!
//! Length counts, nothing else is composed: at least 15 code points, at most 256, none cut off, every character allowed, after
//! normalisation (NFKC), so that the same password typed on another keyboard is the same. Refused are common ones, those with
//! a word that belongs to the person or the place, and those that are easily guessed.
//!
//! # Source
//! NIST SP 800-63B-4, 3.1.1.2: at least 15 characters when the password is all there is, at least 64 allowed, NFKC or NFKD, no
//! composition rules, a blocklist of common and context-specific ones, the reason told. Shortest score: the `zxcvbn` scale.

use unicode_normalization::UnicodeNormalization as _;
use zxcvbn::Score;
use zxcvbn::feedback::Warning;

use super::person::PersonFacts;

/// Fewest code points of a password.
pub const FEWEST: usize = 15;
/// Most code points of a password.
pub const MOST: usize = 256;
/// Fewest code points of a word that counts as somebody's own; shorter ones stand in too many other words.
const SHORTEST_OWN_WORD: usize = 4;

const COMMON: &str = include_str!("../../../seeds/common_passwords.txt");

/// Words of names and addresses that say nothing about the place.
const EVERYBODYS: &[&str] = &[
    "apartment",
    "apartments",
    "avenue",
    "building",
    "court",
    "east",
    "estate",
    "example",
    "flats",
    "garden",
    "gardens",
    "green",
    "hall",
    "hill",
    "home",
    "homes",
    "house",
    "houses",
    "lane",
    "lodge",
    "mail",
    "north",
    "office",
    "park",
    "place",
    "river",
    "road",
    "south",
    "square",
    "street",
    "terrace",
    "tower",
    "towers",
    "view",
    "west",
];

/// A password, normalised. Its text is shown nowhere, not in a log either.
#[derive(Clone, PartialEq, Eq)]
pub struct Password(String);

impl std::fmt::Debug for Password {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Password(…)")
    }
}

impl Password {
    /// A password as somebody gives it to get in: normalised, not judged.
    #[must_use]
    pub fn given(typed: &str) -> Self {
        Self(typed.nfkc().collect())
    }

    /// A password that somebody chooses.
    ///
    /// # Errors
    /// A sentence that says why not, and what to do.
    ///
    /// ```
    /// use anglestop::domain::register::password::{OwnWords, Password};
    ///
    /// let own = OwnWords::default();
    /// assert!(Password::chosen("brass kettle under snow", &own).is_ok());
    /// assert!(Password::chosen("short", &own).is_err_and(|why| why.contains("at least 15")));
    /// ```
    pub fn chosen(typed: &str, own: &OwnWords) -> Result<Self, String> {
        let password = Self::given(typed);
        let length = password.0.chars().count();
        if length < FEWEST {
            return Err(format!(
                "This password has {length} characters; it needs at least {FEWEST}. Four unrelated words make a good one."
            ));
        }
        if length > MOST {
            return Err(format!(
                "This password has {length} characters, at most {MOST} fit. Shorten it by {}.",
                length - MOST
            ));
        }
        if is_common(&password.0) {
            return Err(
                "Many people use this password, so it is tried first. Choose words of your own.".to_owned(),
            );
        }
        if let Some(word) = own.found_in(&password.0) {
            return Err(format!(
                "This password contains “{}”, a word of {}, which others can guess. Leave it out.",
                word.text,
                word.whose.words()
            ));
        }
        let judged = zxcvbn::zxcvbn(&password.0, &own.texts());
        if judged.score() < Score::Three {
            let warning = judged.feedback().and_then(zxcvbn::feedback::Feedback::warning);
            return Err(format!(
                "This password is easily guessed: {}. Add words that do not belong together.",
                why(warning)
            ));
        }
        Ok(password)
    }

    /// What is hashed.
    #[must_use]
    pub fn as_bytes(&self) -> &[u8] {
        self.0.as_bytes()
    }
}

/// Whose word it is that a password may not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// The person's name or address.
    Person,
    /// A building or portfolio that the person works with.
    Building,
    /// The tool's.
    Site,
}

impl Whose {
    const fn words(self) -> &'static str {
        match self {
            Self::Person => "your name or mail address",
            Self::Building => "a building here",
            Self::Site => "this site",
        }
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct OwnWord {
    text: String,
    whose: Whose,
}

/// The words that a password may not hold: the site's, the person's, the buildings'.
#[derive(Debug, Clone)]
pub struct OwnWords(Vec<OwnWord>);

impl Default for OwnWords {
    fn default() -> Self {
        let mut own = Self(Vec::new());
        own.add(Whose::Site, "anglestop");
        own
    }
}

impl OwnWords {
    /// The words of the site and of a person.
    #[must_use]
    pub fn of(person: &PersonFacts) -> Self {
        let mut own = Self::default();
        own.add(Whose::Person, &person.name);
        own.add(Whose::Person, &person.email);
        own
    }

    /// Adds every word of a text that is long enough to mean something.
    pub fn add(&mut self, whose: Whose, text: &str) {
        let text: String = text.nfkc().collect::<String>().to_lowercase();
        for word in text.split(|c: char| !c.is_alphanumeric()) {
            if word.chars().count() >= SHORTEST_OWN_WORD && !EVERYBODYS.contains(&word) {
                self.0.push(OwnWord {
                    text: word.to_owned(),
                    whose,
                });
            }
        }
    }

    fn found_in(&self, password: &str) -> Option<&OwnWord> {
        let password = password.to_lowercase();
        self.0.iter().find(|word| password.contains(&word.text))
    }

    fn texts(&self) -> Vec<&str> {
        self.0.iter().take(100).map(|word| word.text.as_str()).collect()
    }
}

fn is_common(password: &str) -> bool {
    let bare = bared(password);
    COMMON
        .lines()
        .filter(|line| !line.starts_with('#'))
        .any(|line| bared(line) == bare)
}

fn bared(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '.' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}

const fn why(warning: Option<Warning>) -> &'static str {
    match warning {
        Some(Warning::StraightRowsOfKeysAreEasyToGuess | Warning::ShortKeyboardPatternsAreEasyToGuess) => {
            "it follows the keys of a keyboard"
        }
        Some(
            Warning::RepeatsLikeAaaAreEasyToGuess | Warning::RepeatsLikeAbcAbcAreOnlySlightlyHarderToGuess,
        ) => "it repeats itself",
        Some(
            Warning::ThisIsATop10Password
            | Warning::ThisIsATop100Password
            | Warning::ThisIsACommonPassword
            | Warning::ThisIsSimilarToACommonlyUsedPassword,
        ) => "it is made of a common password",
        Some(Warning::SequencesLikeAbcAreEasyToGuess) => "it counts or spells the alphabet",
        Some(Warning::RecentYearsAreEasyToGuess | Warning::DatesAreOftenEasyToGuess) => {
            "it is made of dates or years"
        }
        Some(
            Warning::NamesAndSurnamesByThemselvesAreEasyToGuess
            | Warning::CommonNamesAndSurnamesAreEasyToGuess,
        ) => "it is made of common names",
        Some(Warning::AWordByItselfIsEasyToGuess) | None => "it is made of too few, too common words",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own() -> OwnWords {
        let mut own = OwnWords::default();
        own.add(Whose::Person, "Ylva Sandberg");
        own.add(Whose::Person, "y.sandberg@keel.example");
        own.add(Whose::Building, "Larkspur House");
        own
    }

    #[test]
    fn a_password_has_from_15_to_256_code_points() {
        let fourteen = "vexed quokka j";
        let refusal = Password::chosen(fourteen, &own());
        assert!(refusal.is_err_and(|why| why.contains("14 characters") && why.contains("at least 15")));
        assert!(Password::chosen("vexed quokka ja", &own()).is_ok());
        let words = "quiet ember vault nimbus ";
        let most: String = words.chars().cycle().take(256).collect();
        assert!(Password::chosen(&most, &own()).is_ok());
        let refusal = Password::chosen(&format!("{most}x"), &own());
        assert!(refusal.is_err_and(|why| why.contains("at most 256") && why.contains("by 1")));
    }

    #[test]
    fn code_points_are_counted_and_not_bytes() {
        // 15 code points of three bytes each.
        assert!(Password::chosen("蒸気機関車窓外雪景色鉛筆削銀河", &own()).is_ok());
        assert!(Password::chosen("蒸気機関車窓外", &own()).is_err());
    }

    #[test]
    fn the_same_password_typed_on_another_keyboard_is_the_same() {
        // A ligature, full-width letters, a combining accent (Unicode Standard Annex 15).
        assert_eq!(
            Password::given("ﬁr cone cafe\u{301}"),
            Password::given("fir cone café")
        );
        assert_eq!(Password::given("ｂｒａｓｓ"), Password::given("brass"));
    }

    #[test]
    fn nothing_is_cut_or_trimmed() {
        assert_ne!(
            Password::given(" brass kettle snow "),
            Password::given("brass kettle snow")
        );
        let long = "a".repeat(80);
        assert_ne!(
            Password::given(&format!("{long}1")),
            Password::given(&format!("{long}2"))
        );
    }

    #[test]
    fn a_common_password_is_refused_however_it_is_spaced() {
        for common in [
            "correct horse battery staple",
            "Correct-Horse-Battery-Staple",
            "CorrectHorseBatteryStaple",
            "PasswordPassword",
        ] {
            let refusal = Password::chosen(common, &own());
            assert!(
                refusal.is_err_and(|why| why.contains("Many people use")),
                "{common}"
            );
        }
    }

    #[test]
    fn words_of_the_person_the_buildings_and_the_site_are_refused_by_name() {
        for (password, word, whose) in [
            ("fourteen SANDBERG kettles", "sandberg", "your name"),
            ("quartz larkspur noodle vane", "larkspur", "a building here"),
            ("anglestop quartz noodle vane", "anglestop", "this site"),
        ] {
            let refusal = Password::chosen(password, &own());
            assert!(
                refusal.is_err_and(|why| why.contains(word) && why.contains(whose)),
                "{password}"
            );
        }
        assert!(Password::chosen("quartz house noodle vane", &own()).is_ok());
    }

    #[test]
    fn what_is_long_and_still_easily_guessed_is_refused_with_its_reason() {
        for (password, reason) in [
            ("aaaaaaaaaaaaaaaaaaaa", "repeats itself"),
            ("abcabcabcabcabcabc", "repeats itself"),
            ("12345678901234567890", "easily guessed"),
            ("19841984198419841984", "easily guessed"),
        ] {
            let refusal = Password::chosen(password, &own());
            assert!(
                refusal.clone().is_err_and(|why| why.contains(reason)),
                "{password}: {refusal:?}"
            );
        }
    }

    #[test]
    fn any_character_and_any_mix_may_be_used() {
        for password in [
            "tin roof rain gutter",
            "🪣🚰🔧🛁🚿🧼🪠🧽🪥🧴🪒🧻🛏️🪟",
            "ALL CAPS KETTLE BRINE",
        ] {
            assert!(Password::chosen(password, &own()).is_ok(), "{password}");
        }
    }

    #[test]
    fn a_password_never_shows_in_a_log() {
        assert_eq!(format!("{:?}", Password::given("brass kettle")), "Password(…)");
    }
}
