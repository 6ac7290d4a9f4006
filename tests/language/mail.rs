//! Mails in Spanish: the digest word for word, the invitation and the new password.

use std::path::Path;

use anglestop::actions::digest::preview;
use anglestop::actions::people::account;
use anglestop::clock::Now;
use anglestop::domain::digest::{Digest, DueCheck, OpenDeficiency, OpenTurnover};
use anglestop::domain::register::PersonId;
use anglestop::domain::register::person::Actor;
use anglestop::domain::register::person::Role;
use anglestop::domain::register::{PersonFacts, PersonText};
use anglestop::domain::trade::Severity;
use anglestop::exchange::catalogue::builtin;
use anglestop::language::Language;
use anglestop::mail::compose::{self, Letter};
use anglestop::store::lists::digest as list;

use crate::support::{demo, on_both};

const PUBLIC: &str = "https://fleet.brindle-office.example";

fn due(unit: i64, label: &str, due: &str, last_day: &str) -> DueCheck {
    DueCheck {
        unit,
        building: "ALDER".to_owned(),
        label: label.to_owned(),
        order: format!("{unit:0>10}"),
        due: due.parse().unwrap(),
        last_day: last_day.parse().unwrap(),
        minutes: 2.5,
    }
}

fn digest() -> Digest {
    let mut checks = vec![
        due(1, "101", "2026-10-01", "2026-11-24"),
        due(1, "101", "2026-11-27", "2026-12-27"),
        due(2, "102", "2026-10-01", "2026-11-20"),
        due(3, "103", "2026-11-25", "2026-12-20"),
        due(4, "104", "2026-11-20", "2026-12-20"),
    ];
    checks.extend((5..=17).map(|unit| due(unit, &format!("2{unit:02}"), "2026-11-28", "2026-12-28")));
    let turnovers = vec![
        OpenTurnover {
            building: "ALDER".to_owned(),
            label: "301".to_owned(),
            stage: "found".to_owned(),
            move_in: "2026-11-26".parse().unwrap(),
        },
        OpenTurnover {
            building: "ALDER".to_owned(),
            label: "302".to_owned(),
            stage: "ready".to_owned(),
            move_in: "2027-01-04".parse().unwrap(),
        },
    ];
    let deficiency = |number, correct_by: Option<&str>, severity| OpenDeficiency {
        number,
        building: "ALDER".to_owned(),
        label: "101".to_owned(),
        title: "Goteo bajo el lavabo".to_owned(),
        severity,
        correct_by: correct_by.map(|at| at.parse().unwrap()),
    };
    let deficiencies = vec![
        deficiency(7, Some("2026-11-24T09:30:00"), Severity::LifeThreatening),
        deficiency(8, Some("2026-11-26T17:00:00"), Severity::Moderate),
        deficiency(9, None, Severity::Low),
    ];
    Digest::of("2026-11-25".parse().unwrap(), checks, turnovers, deficiencies).unwrap()
}

fn written(language: Language) -> Letter {
    compose::digest::write(&digest(), "Ola Brindle", language, PUBLIC).unwrap()
}

/// The whole mail as it arrives; `ANGLESTOP_REDRAW=1` writes it anew after a change.
#[test]
fn the_digest_in_spanish_is_this_mail() {
    let letter = written(Language::of("es"));
    let mail = format!("Asunto: {}\n\n{}\n", letter.subject, letter.text);
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/language/digest-es.txt");
    if std::env::var("ANGLESTOP_REDRAW").is_ok() {
        std::fs::write(&file, &mail).unwrap();
    }
    assert_eq!(mail, std::fs::read_to_string(&file).unwrap());
    assert!(letter.html.contains("<html lang=\"es\">"));
}

#[test]
fn no_english_is_left_in_a_spanish_digest() {
    let words = |letter: &Letter| -> std::collections::BTreeSet<String> {
        let text = format!("{} {}", letter.subject, letter.text);
        let words = text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase);
        words.filter(|word| word.len() > 3).collect()
    };
    let names = [
        "alder", "brindle", "https", "fleet", "office", "example", "goteo", "bajo", "lavabo",
    ];
    let (spanish, english) = (
        words(&written(Language::of("es"))),
        words(&written(Language::ENGLISH)),
    );
    let left: Vec<&String> = spanish
        .intersection(&english)
        .filter(|word| !names.contains(&word.as_str()))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn an_invitation_and_a_new_password_are_written_in_the_language_of_their_person() {
    let text = PersonText {
        name: "Ylva".to_owned(),
        email: "ylva@keel.example".to_owned(),
        time_zone: "America/Chicago".to_owned(),
        digest_hour: String::new(),
        language: "es".to_owned(),
    };
    let person = PersonFacts::read(&text).unwrap();
    let until = "2026-12-02T16:00:00".parse().unwrap();
    let invitation = compose::invite::letter(&person, Role::Technician, "Nora", PUBLIC, until).unwrap();
    assert_eq!(invitation.subject, "Su invitación a Anglestop");
    for words in [
        "Como técnico ve lo pendiente",
        "hasta mié 2 dic 2026, 10:00 (America/Chicago)",
        "pida otro a Nora",
    ] {
        assert!(invitation.text.contains(words), "{words}: {}", invitation.text);
        assert!(invitation.html.contains(words), "{words}: {}", invitation.html);
    }
    let reset = compose::reset::letter(&person, PUBLIC, until).unwrap();
    assert_eq!(reset.subject, "Una contraseña nueva para Anglestop");
    assert!(reset.text.contains("Si no fue usted, deje este correo"));
}

#[test]
fn the_mail_of_the_morning_reads_the_titles_of_deficiencies_in_the_persons_language() {
    on_both(|fleet| {
        demo::make(fleet, 24);
        let now = Now("2026-11-25T15:00:00".parse().unwrap());
        let letters = || {
            let written = preview(&fleet.db, now, None, PUBLIC).unwrap();
            let texts = written.into_iter().filter_map(|one| Some(one.letter?.text));
            texts.collect::<Vec<String>>().join("\n")
        };
        let titles = |text: &str| {
            let checks = builtin().unwrap().checks.iter();
            let known = checks.filter(|check| text.contains(&format!("{}: ", check.title)));
            known.map(|check| check.code.to_string()).collect::<Vec<_>>()
        };
        let english = letters();
        let told = titles(&english);
        assert!(!told.is_empty(), "{english}");
        let technicians = fleet.db.read(list::recipients).unwrap();
        for one in technicians {
            let person = PersonId(one.id);
            account::set_language_of(&fleet.db, &Actor::operator(), now, person, "es").unwrap();
        }
        let spanish = letters();
        assert_eq!(titles(&spanish), Vec::<String>::new(), "{spanish}");
        let language = Language::of("es");
        for code in told {
            let check = builtin().unwrap().check(&code).unwrap();
            let title = format!("{}: ", language.check(check).title);
            assert!(spanish.contains(&title), "{title} in {spanish}");
        }
    });
}
