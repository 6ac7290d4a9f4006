//! The checklist on a technician's phone, in Spanish: what is asked, what to mind, how grave, when it is due.

use anglestop::domain::trade::Answer;
use anglestop::exchange::catalogue::builtin;
use anglestop::language::Language;
use serde_json::Value;

use super::pages::reads;
use crate::support::server::Server;
use crate::support::{demo, on_both};

#[test]
fn a_fetched_checklist_speaks_the_language_of_its_person() {
    on_both(|fleet| {
        demo::make(fleet, 10);
        reads(fleet, "es");
        let server = Server::start(&fleet.db, demo::AS_OF_INSTANT);
        let technician = server.signed_in("technician");
        let answer: Value = serde_json::from_str(&technician.get("/phone/units").body).unwrap();
        assert_eq!(answer["language"], "es");
        let spanish = Language::of("es");
        let (mut items, mut cautions, mut due) = (0, 0, 0);
        for item in answer["units"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|unit| unit["items"].as_array().unwrap())
        {
            let check = builtin().unwrap().check(item["check"].as_str().unwrap()).unwrap();
            let words = spanish.check(check);
            assert_eq!(item["title"], words.title);
            assert_ne!(words.title, check.title);
            assert_eq!(item["ask"], words.ask);
            assert_eq!(item["severity_name"], spanish.word(severity_of(item)));
            if let Answer::Verdict { .. } = check.answer {
                assert_eq!(
                    (&item["answer"]["pass"], &item["answer"]["fail"]),
                    (&words.pass.into(), &words.fail.into())
                );
            }
            for caution in item["cautions"].as_array().unwrap() {
                assert!(
                    check
                        .cautions
                        .iter()
                        .any(|danger| *caution == spanish.warning(*danger)),
                    "{caution}"
                );
                cautions += 1;
            }
            let said = item["due"].as_str().unwrap();
            let known = ["toca ", "pendiente, ", "de atraso", "se abre "];
            assert!(
                said.is_empty() || known.iter().any(|words| said.contains(words)),
                "{said}"
            );
            due += usize::from(!said.is_empty());
            items += 1;
        }
        assert!(
            items > 20 && cautions > 5 && due > 0,
            "{items} items, {cautions} cautions, {due} due"
        );
    });
}

fn severity_of(item: &Value) -> anglestop::domain::trade::Severity {
    use anglestop::domain::code::Coded as _;
    anglestop::domain::trade::Severity::from_code(item["severity"].as_str().unwrap()).unwrap()
}
