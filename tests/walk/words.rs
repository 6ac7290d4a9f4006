//! The words of the phone's screens: every message that a script asks for is there in every language, and none is there for nobody.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The scripts of the phone, without the libraries, as one text.
fn scripts() -> String {
    let folder = root().join("templates/assets/phone");
    let files = fs::read_dir(folder).unwrap().flatten().map(|entry| entry.path());
    files
        .filter(|path| path.extension().is_some_and(|end| end == "js"))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect()
}

/// The texts between `open` and `close`, wherever they stand.
fn between<'a>(text: &'a str, open: &str, close: char) -> Vec<&'a str> {
    text.match_indices(open)
        .filter_map(|(at, _)| text[at + open.len()..].split(close).next())
        .collect()
}

fn keys(language: &Path) -> BTreeSet<String> {
    let text = fs::read_to_string(language.join("phone.ftl")).unwrap();
    text.lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()))
        .filter_map(|line| line.split_once(" ="))
        .map(|(key, _)| key.to_owned())
        .collect()
}

#[test]
fn every_message_of_the_phone_is_asked_for_and_there_in_every_language() {
    let scripts = scripts();
    // Every literal that could be a key: `t("undo")`, the tables of states and places, the keys that an error carries.
    let literals: BTreeSet<&str> = between(&scripts, "\"", '"').into_iter().collect();
    let asked: BTreeSet<&str> = between(&scripts, " t(\"", '"')
        .into_iter()
        .chain(between(&scripts, "(t(\"", '"'))
        .chain(between(&scripts, "{t(\"", '"'))
        .collect();
    // The beginnings of keys that are put together: `block-${…}`.
    let beginnings: Vec<&str> = between(&scripts, "t(`", '`')
        .into_iter()
        .filter_map(|key| key.split_once("${"))
        .map(|(beginning, _)| beginning)
        .collect();
    assert!(asked.len() > 100 && beginnings.len() > 5, "the scripts are read");
    let mut languages = 0;
    for language in fs::read_dir(root().join("seeds/language")).unwrap().flatten() {
        if !language.path().is_dir() {
            continue;
        }
        languages += 1;
        let known = keys(&language.path());
        let missing: Vec<&&str> = asked.iter().filter(|key| !known.contains(**key)).collect();
        assert!(missing.is_empty(), "{:?} lacks {missing:?}", language.file_name());
        let idle: Vec<&String> = known
            .iter()
            .filter(|key| !literals.contains(key.as_str()))
            .filter(|key| !beginnings.iter().any(|beginning| key.starts_with(beginning)))
            .collect();
        assert!(
            idle.is_empty(),
            "{:?} has messages for nobody: {idle:?}",
            language.file_name()
        );
    }
    assert!(languages >= 2, "English and Spanish at least");
}
