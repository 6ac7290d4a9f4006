//! Words that are the same in Rust, SQL, URL, CSV and JSON: an enum and its codes, declared once.

/// An enum whose variants have one stable text code each.
pub trait Coded: Sized + Copy + 'static {
    /// What a sentence calls it, such as "severity".
    const NOUN: &'static str;
    /// All values, in their natural order.
    const ALL: &'static [Self];

    /// The stable code, `snake_case`.
    fn code(self) -> &'static str;

    /// The value with this code.
    ///
    /// # Errors
    /// A sentence that names the codes that exist.
    fn from_code(code: &str) -> Result<Self, String> {
        Self::ALL
            .iter()
            .copied()
            .find(|value| value.code() == code)
            .ok_or_else(|| {
                let known: Vec<_> = Self::ALL.iter().map(|value| value.code()).collect();
                let article = if Self::NOUN.starts_with(['a', 'e', 'i', 'o']) {
                    "an"
                } else {
                    "a"
                };
                format!(
                    "“{code}” is not {article} {}; it is one of {}.",
                    Self::NOUN,
                    known.join(", ")
                )
            })
    }
}

/// Declares an enum with codes: `coded! { /// doc \n Role "role" { Manager = "manager", ... } }`.
#[macro_export]
macro_rules! coded {
    ($(#[$meta:meta])* $name:ident $noun:literal { $($(#[$vmeta:meta])* $variant:ident = $code:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$vmeta])* $variant),+ }

        impl $crate::domain::code::Coded for $name {
            const NOUN: &'static str = $noun;
            const ALL: &'static [Self] = &[$(Self::$variant),+];
            fn code(self) -> &'static str {
                match self { $(Self::$variant => $code),+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str($crate::domain::code::Coded::code(*self))
            }
        }
    };
}

/// A coded value that people read as a word.
pub trait Worded: Coded {
    /// The word, in English.
    fn word(self) -> &'static str;
}

/// Declares an enum with codes that files exchange (serde writes the code) and names that people read:
/// `words! { /// doc \n Group "group" { Look = "look", "Look"; } }`. The name becomes the variant's documentation.
macro_rules! words {
    ($(#[$meta:meta])* $name:ident $noun:literal { $($variant:ident = $code:literal, $label:literal;)+ }) => {
        $crate::coded! {
            $(#[$meta])*
            #[derive(serde::Serialize, serde::Deserialize)]
            $name $noun { $(#[doc = $label] #[serde(rename = $code)] $variant = $code),+ }
        }

        impl $name {
            /// The word as people read it, sentence case where it can begin one.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $label,)+ }
            }
        }

        impl $crate::domain::code::Worded for $name {
            fn word(self) -> &'static str {
                self.name()
            }
        }
    };
}

pub(crate) use words;
