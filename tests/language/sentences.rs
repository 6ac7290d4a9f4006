//! Sentences of the program in another language: found by their English, with what was put in.

use std::path::Path;

use anglestop::error::FieldError;
use anglestop::language::{Language, catalogue, sentence};

fn spanish() -> Language {
    Language::of("es")
}

#[test]
fn a_sentence_is_said_with_what_was_put_in() {
    let said = |english: &str| spanish().sentence(english);
    assert_eq!(said("There is no such unit here."), "Aquí no hay tal unidad.");
    assert_eq!(
        said("Password: fill this in."),
        "Contraseña: complete este campo.",
        "what is put in is a sentence too"
    );
    assert_eq!(
        said("Too many tries in a row. Wait 12 minutes, then try again."),
        "Demasiados intentos seguidos. Espere 12 minutos y luego intente de nuevo."
    );
    assert_eq!(
        said("“a “b” c” is no language tag. Give one such as en or es."),
        "«a “b” c» no es una etiqueta de idioma. Dé una como en o es."
    );
    assert_eq!(said("Nobody wrote this down."), "Nobody wrote this down.");
    assert_eq!(
        Language::ENGLISH.sentence("There is no such unit here."),
        "There is no such unit here."
    );
    let errors = spanish().errors(vec![FieldError::new(
        "email",
        "Mail address is empty. Fill it in.",
    )]);
    assert_eq!(errors[0].message, "Correo electrónico: está vacío. Complételo.");
}

/// The English that is repeated is the English of the program: every piece of it stands in the source as a text.
#[test]
fn every_sentence_stands_in_the_program() {
    fn gather(folder: &Path, text: &mut String) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                gather(&path, text);
            } else if !path.ends_with("sentence.rs") {
                text.push_str(&std::fs::read_to_string(&path).unwrap());
            }
        }
    }
    let mut program = String::new();
    // What the catalogue of the trade says in sentences is repeated too.
    for folder in ["backend", "seeds/catalogue"] {
        gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut program);
    }
    // In the source a mark of quotation within a text has a stroke before it.
    let program = program.replace("\\\"", "\"");
    let text: String = catalogue::files()
        .filter(|(tag, name, _)| tag == "en" && name != catalogue::PHONE)
        .map(|(_, _, text)| text)
        .collect();
    let mut faults = Vec::new();
    for line in text.lines().filter(|line| line.starts_with(sentence::FAMILY)) {
        let (_, english) = line.split_once(" = ").unwrap();
        let pieces = english
            .split('{')
            .map(|piece| piece.split_once('}').map_or(piece, |(_, behind)| behind));
        for piece in pieces.map(str::trim).filter(|piece| piece.len() > 1) {
            // A phrase becomes a sentence by a capital and a full stop.
            let (first, rest) = piece.split_at(piece.chars().next().map_or(0, char::len_utf8));
            let phrase = format!("{}{}", first.to_lowercase(), rest.trim_end_matches('.'));
            if !program.contains(piece) && !program.contains(&phrase) {
                faults.push(format!("nothing says: {piece}"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}
