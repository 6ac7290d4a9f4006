//! The files of messages: readable, the same keys and the same things put in for each language, each key said somewhere.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use anglestop::language::catalogue;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser;

/// The files that English has not: its words of the trade stand in `seeds/catalogue` and in the domain.
const TRADE: &[&str] = &["trade.ftl", "symptoms.ftl"];

/// Keys with the names of what is put into them, of one file.
fn messages(text: &str) -> BTreeMap<String, BTreeSet<String>> {
    let resource = parser::parse(text.to_owned()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let mut found = BTreeMap::new();
    for entry in resource.body {
        if let Entry::Message(message) = entry {
            let mut names = BTreeSet::new();
            if let Some(pattern) = &message.value {
                named(pattern, &mut names);
            }
            let earlier = found.insert(message.id.name.clone(), names);
            assert!(earlier.is_none(), "{} stands there twice", message.id.name);
        }
    }
    found
}

/// The keys of one file.
pub(super) fn keys(text: &str) -> Vec<String> {
    messages(text).into_keys().collect()
}

fn named(pattern: &Pattern<String>, names: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            match expression {
                Expression::Inline(inline) => put_in(inline, names),
                Expression::Select { selector, variants } => {
                    put_in(selector, names);
                    for variant in variants {
                        named(&variant.value, names);
                    }
                }
            }
        }
    }
}

fn put_in(inline: &InlineExpression<String>, names: &mut BTreeSet<String>) {
    match inline {
        InlineExpression::VariableReference { id } => {
            names.insert(id.name.clone());
        }
        InlineExpression::Placeable { expression } => {
            if let Expression::Inline(inner) = &**expression {
                put_in(inner, names);
            }
        }
        _ => {}
    }
}

/// By language, then by file.
fn all() -> BTreeMap<String, BTreeMap<String, BTreeMap<String, BTreeSet<String>>>> {
    let mut all: BTreeMap<String, BTreeMap<String, _>> = BTreeMap::new();
    for (tag, name, text) in catalogue::files() {
        all.entry(tag).or_default().insert(name, messages(&text));
    }
    all
}

#[test]
fn every_language_has_every_message_with_the_same_things_put_in() {
    let all = all();
    let english = &all["en"];
    let mut faults = Vec::new();
    for (tag, files) in all.iter().filter(|(tag, _)| *tag != "en") {
        for (name, messages) in english {
            let there = files.get(name).cloned().unwrap_or_default();
            for (key, names) in messages {
                match there.get(key) {
                    None => faults.push(format!("{tag}/{name} has no {key}")),
                    Some(other) if other != names => {
                        faults.push(format!("{tag}/{name}: {key} takes {other:?}, not {names:?}"));
                    }
                    Some(_) => {}
                }
            }
            let unknown = there.keys().filter(|key| !messages.contains_key(*key));
            faults.extend(unknown.map(|key| format!("{tag}/{name}: English has no {key}")));
        }
        let strange = files
            .keys()
            .filter(|name| !TRADE.contains(&name.as_str()) && !english.contains_key(*name));
        faults.extend(strange.map(|name| format!("{tag}/{name}: English has no such file")));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The first of two would be read and the other never.
#[test]
fn no_message_stands_in_two_files_of_a_language() {
    let mut faults = Vec::new();
    for (tag, files) in all() {
        let mut known: BTreeMap<String, String> = BTreeMap::new();
        for (name, messages) in files.into_iter().filter(|(name, _)| name != catalogue::PHONE) {
            for key in messages.into_keys() {
                if let Some(other) = known.insert(key.clone(), name.clone()) {
                    faults.push(format!("{tag}: {key} stands in {other} and {name}"));
                }
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// A key by its beginning, where the program puts a code or a number behind it.
const FAMILIES: &[&str] = &[
    "figures-weekday-",
    "figures-month-",
    "month-name-",
    "weekday-name-",
    "sentence-",
];

#[test]
fn every_message_is_said_somewhere() {
    let said = sources();
    let mut faults = Vec::new();
    for (name, messages) in all()["en"].iter().filter(|(name, _)| *name != catalogue::PHONE) {
        for key in messages.keys() {
            let by_family = FAMILIES.iter().any(|family| key.starts_with(family));
            if !by_family && !said.contains(&format!("\"{key}\"")) {
                faults.push(format!("en/{name}: nothing says {key}"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn everything_that_is_said_is_a_message() {
    let all = all();
    let pages = all["en"].iter().filter(|(name, _)| *name != catalogue::PHONE);
    let known: BTreeSet<String> = pages.flat_map(|(_, file)| file.keys().cloned()).collect();
    let text = sources();
    let mut faults = Vec::new();
    for call in [".say(\"", ".word(\"", "count(\""] {
        for (at, _) in text.match_indices(call) {
            let key = text[at + call.len()..].split('"').next().unwrap();
            if (call != "count(\"" || key.contains('-')) && !known.contains(key) {
                faults.push(format!("{call}{key}\": no such message"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// Everything that can say a message: the program and its templates.
fn sources() -> String {
    fn gather(folder: &Path, text: &mut String) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let ending = path
                .extension()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            if path.is_dir() {
                // Files are exchanged in English, and their readers say other things under the same name.
                if !path.ends_with("backend/exchange") {
                    gather(&path, text);
                }
            } else if ["rs", "html", "txt"].contains(&ending.as_str()) {
                text.push_str(&std::fs::read_to_string(&path).unwrap());
            }
        }
    }
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut text = String::new();
    for folder in ["backend", "templates"] {
        gather(&root.join(folder), &mut text);
    }
    text
}
