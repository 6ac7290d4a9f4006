//! What was kept in English is read in the language: titles of deficiencies, why a check failed, symptoms and causes, why a date counts.

use std::collections::BTreeSet;

use anglestop::exchange::catalogue::builtin;
use anglestop::language::{Language, catalogue};

#[test]
fn a_title_is_read_in_the_language_and_stays_as_it_was_kept() {
    let check = builtin().unwrap().check("wc_tank_firm").unwrap();
    let spanish = Language::of("es");
    let kept = format!("{}: Moves on the bowl", check.title);
    assert_eq!(
        spanish.deficiency(Some(check), &kept),
        "Tanque firme sobre la taza: Se mueve sobre la taza"
    );
    assert_eq!(Language::ENGLISH.deficiency(Some(check), &kept), kept);
    assert_eq!(
        spanish.deficiency(Some(check), "Another title: Moves on the bowl"),
        "Another title: Moves on the bowl",
        "the check was worded anew since"
    );
    assert_eq!(
        spanish.deficiency(None, "Tank loose"),
        "Tank loose",
        "a report is as typed"
    );
    let refill = builtin().unwrap().check("wc_refill").unwrap();
    let said = spanish.judged(Some(refill), "240 s is over 180 s (common practice: refill bands differ: 30 to 90 s usual, slow to 180 s, restricted beyond)");
    assert!(
        said.starts_with("240 s pasa de 180 s (práctica común: hay varias opiniones"),
        "{said}"
    );
    assert_eq!(
        spanish.judged(Some(check), "No access to the room"),
        "Sin acceso al cuarto"
    );
    assert_eq!(
        spanish.judged(Some(check), "what a person wrote"),
        "what a person wrote"
    );
}

/// What puts a cause right keeps every figure that English has, and no symptom, question, reply or cause is left out.
#[test]
fn every_symptom_and_cause_is_translated_with_its_figures() {
    let figures = |text: &str| -> Vec<String> {
        let parts = text.split(|c: char| !c.is_ascii_digit());
        parts.filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let known = &builtin().unwrap().symptoms;
    let mut faults = Vec::new();
    for language in Language::all().filter(|language| *language != Language::ENGLISH) {
        let tag = language.tag();
        let mut wanted = BTreeSet::new();
        let mut look = |key: String, name: &str, english: &str| {
            let said = match name {
                "" => catalogue::find(tag, &key, &Default::default()),
                name => catalogue::beside(tag, &key, name),
            };
            match said {
                None => faults.push(format!("{tag}: {key} .{name} is missing")),
                Some(said) if figures(&said) != figures(english) => {
                    faults.push(format!("{tag}: {key} .{name}: {said}"))
                }
                Some(_) => {}
            }
            wanted.insert(key);
        };
        for symptom in &known.symptoms {
            let key = || format!("symptom-{}", symptom.code);
            look(key(), "", &symptom.name);
            for question in &symptom.questions {
                look(key(), &question.code, &question.ask);
                for (reply, number) in question.replies.iter().zip(1..) {
                    look(key(), &format!("{}-{number}", question.code), &reply.say);
                }
            }
        }
        for cause in &known.causes {
            let key = || format!("cause-{}", cause.code);
            look(key(), "", &cause.name);
            look(key(), "remedy", &cause.remedy);
            if !cause.also.is_empty() {
                look(key(), "also", &cause.also);
            }
        }
        let file = catalogue::files().find(|(other, name, _)| other == tag && name == "symptoms.ftl");
        let keys = super::messages::keys(&file.unwrap().2);
        let strange = keys.into_iter().filter(|key| !wanted.contains(key));
        faults.extend(strange.map(|key| format!("{tag}: English has no {key}")));
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// Why a date counts as it does: the English of the catalogue is that of the domain.
#[test]
fn why_a_date_counts_is_said_as_the_domain_says_it() {
    use anglestop::domain::due::{Basis, Cadence, counted_in_words};
    let (from, today) = ("2024-10-15".parse().unwrap(), "2026-11-27".parse().unwrap());
    for cadence in [Cadence::Calendar, Cadence::LastDone, Cadence::Turnover] {
        for basis in [Basis::Done, Basis::Installed, Basis::Imported, Basis::Joined] {
            let english = counted_in_words(cadence, basis, from, today);
            assert_eq!(Language::ENGLISH.counted(cadence, basis, from, today), english);
            assert_ne!(Language::of("es").counted(cadence, basis, from, today), english);
        }
    }
}
