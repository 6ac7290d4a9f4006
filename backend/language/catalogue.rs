//! The messages of every language, compiled into the program from `seeds/language/<tag>/*.ftl` and read once. A language is a folder
//! there, and nothing else: no list names it.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use rust_embed::RustEmbed;
use unic_langid::LanguageIdentifier;

#[derive(RustEmbed)]
#[folder = "seeds/language/"]
#[include = "*.ftl"]
struct Files;

/// The file that the page on the phone reads by itself; its keys are its own, and no page of the server says them.
pub const PHONE: &str = "phone.ftl";

/// The messages of one language.
type Messages = FluentBundle<FluentResource>;

/// Messages by the tag of their language.
static CATALOGUES: LazyLock<BTreeMap<String, Messages>> = LazyLock::new(read);

fn read() -> BTreeMap<String, Messages> {
    let mut catalogues = BTreeMap::new();
    for (tag, name, text) in files() {
        if name == PHONE {
            continue;
        }
        let Ok(identifier) = tag.parse::<LanguageIdentifier>() else {
            tracing::error!(tag, "a folder of seeds/language is no language tag");
            continue;
        };
        let messages: &mut Messages = catalogues.entry(tag.clone()).or_insert_with(|| {
            let mut messages = FluentBundle::new_concurrent(vec![identifier]);
            // Marks around what is put in would be seen in mails and compared in tests; names are short and of one direction.
            messages.set_use_isolating(false);
            messages
        });
        let resource = FluentResource::try_new(text).unwrap_or_else(|(read, faults)| {
            tracing::error!(tag, ?faults, "messages that can't be read are left out");
            read
        });
        if let Err(faults) = messages.add_resource(resource) {
            tracing::error!(tag, ?faults, "a message stands there twice");
        }
    }
    catalogues
}

/// Every file of messages: the tag of its language, its name, its text.
pub fn files() -> impl Iterator<Item = (String, String, String)> {
    Files::iter().filter_map(|path| {
        let (tag, name) = path.split_once('/')?;
        let file = Files::get(&path)?;
        let text = String::from_utf8(file.data.into_owned()).ok()?;
        Some((tag.to_owned(), name.to_owned(), text))
    })
}

/// The tags of the languages that have a folder, in their order.
pub fn tags() -> impl Iterator<Item = &'static str> {
    CATALOGUES.keys().map(String::as_str)
}

/// The tag as the catalogues keep it, when there is such a language.
#[must_use]
pub fn tag_of(tag: &str) -> Option<&'static str> {
    CATALOGUES.get_key_value(tag).map(|(tag, _)| tag.as_str())
}

/// Whether a language has a message of its own.
#[must_use]
pub fn has(tag: &str, key: &str) -> bool {
    CATALOGUES
        .get(tag)
        .is_some_and(|messages| messages.has_message(key))
}

/// The message of a language, when it has one of its own.
#[must_use]
pub fn find(tag: &str, key: &str, args: &FluentArgs<'_>) -> Option<String> {
    let messages = CATALOGUES.get(tag)?;
    let pattern = messages.get_message(key)?.value()?;
    let mut faults = Vec::new();
    let text = messages.format_pattern(pattern, Some(args), &mut faults);
    if !faults.is_empty() {
        tracing::error!(tag, key, ?faults, "a message lacks something that it names");
    }
    Some(text.into_owned())
}

/// What stands beside a message under a name of its own: the method of a check beside its title.
#[must_use]
pub fn beside(tag: &str, key: &str, name: &str) -> Option<String> {
    let messages = CATALOGUES.get(tag)?;
    let attribute = messages.get_message(key)?.get_attribute(name)?;
    let text = messages.format_pattern(attribute.value(), None, &mut Vec::new());
    Some(text.into_owned())
}

/// The keys of a language that begin so, for what is found by its text instead of by its key.
#[must_use]
pub fn keys_with(tag: &str, beginning: &str) -> Vec<String> {
    let own = files().filter(|(known, _, _)| known == tag);
    own.flat_map(|(_, _, text)| {
        let keys: Vec<String> = text
            .lines()
            .filter(|line| line.starts_with(beginning))
            .filter_map(|line| line.split_once(" ="))
            .map(|(key, _)| key.to_owned())
            .collect();
        keys
    })
    .collect()
}
