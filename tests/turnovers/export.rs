//! Turnovers as a file: each with its days, its stage and who did what, open ones and those that are over; nobody's outside of what a
//! person sees.

use std::collections::BTreeSet;
use std::process::Command;

use anglestop::actions::export::{self, Which};
use anglestop::actions::turnovers::{Cancel, cancel};
use anglestop::domain::register::person::Scope;
use anglestop::error::Error;
use anglestop::exchange::csv::Audience;
use anglestop::exchange::csv::turnovers::COLUMNS;
use anglestop::store::Db;
use anglestop::store::document_forms::Form;
use anglestop::store::documents::sha256_of;

use super::stage::{Flat, MOVE_IN, flat};
use crate::results::stage::noon;
use crate::support::on_both;
use crate::support::server::Server;

const HEAD: &str = "turnover,building,unit,move_out_on,move_in_on,stage,opened_at,opened_on,opened_by,ready_at,ready_by,closed_at,\
                    closed_by,signed_name,note,phone_heard_at,unsent_answers,unsent_photos,record,record_sha256,record_pdf_sha256\r\n";

fn written(db: &Db, scope: &Scope, which: &Which) -> Result<String, Error> {
    let mut out = Vec::new();
    db.read(|conn| export::turnovers(conn, scope, which, &mut out, Audience::Program))?;
    Ok(String::from_utf8(out).unwrap())
}

/// One that is cancelled, one that is closed, and one that is found.
fn three(db: &Db) -> Flat {
    let flat = flat(db);
    let cancelled = flat.opened();
    let command = Cancel {
        turnover: cancelled,
        reason: "They stay".to_owned(),
    };
    cancel(db, &flat.small.manager, noon("2026-02-04"), &command).unwrap();
    let closed = flat.ready();
    flat.pass(closed, MOVE_IN, anglestop::domain::trade::TurnoverStage::MoveIn);
    flat.close(closed, MOVE_IN).unwrap();
    flat.open_at(flat.small.unit, "2026-03-01", "2026-03-20").unwrap();
    flat
}

/// Noon of a day there is 18:00 UTC in February.
#[test]
fn each_turnover_is_a_row_with_its_days_its_stage_and_who_did_what() {
    on_both(|fleet| {
        three(&fleet.db);
        let rosa = "rosa@office.example";
        let closed = anglestop::domain::register::TurnoverId(2);
        let page = sha256_of(super::paper::page(&fleet.db, closed).as_bytes());
        let pdf = sha256_of(&super::paper::form(&fleet.db, closed, Form::Pdf));
        let expected = format!(
            "{HEAD}\
             1,ALDER,204,2026-02-03,2026-02-10,cancelled,2026-02-03T18:00:00Z,2026-02-03,{rosa},,,2026-02-04T18:00:00Z,ola@office.example,,Cancelled: They stay,,,,,,\r\n\
             2,ALDER,204,2026-02-03,2026-02-10,moved_in,2026-02-03T18:00:00Z,2026-02-03,{rosa},2026-02-05T18:00:00Z,{rosa},\
             2026-02-10T18:00:00Z,{rosa},Rosa Vance,,,,,1,{page},{pdf}\r\n\
             3,ALDER,204,2026-03-01,2026-03-20,found,2026-03-01T18:00:00Z,2026-03-01,{rosa},,,,,,,,,,,,\r\n"
        );
        assert_eq!(written(&fleet.db, &Scope::All, &Which::All).unwrap(), expected);
        let here = Which::Building("alder".to_owned());
        assert_eq!(written(&fleet.db, &Scope::All, &here).unwrap(), expected);
        let nowhere = Scope::Buildings(BTreeSet::new().into_iter().collect());
        assert_eq!(written(&fleet.db, &nowhere, &Which::All).unwrap(), HEAD);
        let refused = written(&fleet.db, &nowhere, &here);
        assert!(matches!(refused, Err(Error::NotFound(_))), "{refused:?}");
    });
}

#[test]
fn the_page_leads_to_the_file_and_the_command_line_writes_the_same() {
    on_both(|fleet| {
        three(&fleet.db);
        let server = Server::start(&fleet.db, "2026-03-02T18:00:00");
        let manager = server.signed_in("manager");
        let page = manager.get("/turnovers?building=ALDER");
        let address = "/turnovers.csv?building=ALDER";
        assert!(
            page.body.contains(&format!("href=\"{address}\"")),
            "{}",
            page.body
        );
        let file = manager.get(address);
        assert_eq!(file.status, 200);
        let disposition = file.headers.get("content-disposition").unwrap().to_str().unwrap();
        assert!(disposition.contains("turnovers.csv"), "{disposition}");
        let by_command = |words: &[&str]| {
            let output = Command::new(env!("CARGO_BIN_EXE_anglestop"))
                .args(["--database", &fleet.url, "export", "turnovers"])
                .args(words)
                .output()
                .unwrap();
            assert!(output.status.success(), "{output:?}");
            String::from_utf8(output.stdout).unwrap()
        };
        assert_eq!(file.body.trim_start_matches('\u{feff}'), by_command(&[]));
        assert_eq!(by_command(&["--building", "ALDER"]), by_command(&[]));
        let described = by_command(&["--columns"]);
        let names: Vec<&str> = described
            .lines()
            .skip(1)
            .map(|line| line.split(',').next().unwrap())
            .collect();
        assert_eq!(names, COLUMNS.map(|column| column.name));
        assert_eq!(manager.get("/turnovers.csv?building=NOWHERE").status, 404);
    });
}
