//! The condition of every fixture as a CSV, today and on another day, against the `sqlite3` shell writing the same joined rows.

use std::process::{Command, Stdio};
use std::time::Duration;

use super::made::{Made, now};
use super::timing::timed;

/// What the file is made of, joined as an office would by hand; words and ages left out.
const JOINED: &str = "SELECT b.code, u.label, r.name, t.label, f.kind, f.maker, f.model, f.installed_on, f.installed_estimated, \
    d.last_done, d.failed, n.next_due, n.last_day, o.life_threatening, o.severe, o.moderate, o.low \
    FROM fixtures f JOIN tags t ON t.id = f.tag_id JOIN units u ON u.id = t.unit_id JOIN buildings b ON b.id = u.building_id \
    LEFT JOIN rooms r ON r.id = t.room_id \
    LEFT JOIN (SELECT fixture_id, max(done_on) AS last_done, max(CASE WHEN outcome = 'fail' THEN done_on END) AS failed \
        FROM results WHERE outcome IN ('pass', 'fail') GROUP BY fixture_id) d ON d.fixture_id = f.id \
    LEFT JOIN (SELECT fixture_id, min(due) AS next_due, min(last_day) AS last_day FROM due_items GROUP BY fixture_id) n \
        ON n.fixture_id = f.id \
    LEFT JOIN (SELECT tag_id, sum(severity = 'life_threatening') AS life_threatening, sum(severity = 'severe') AS severe, \
        sum(severity = 'moderate') AS moderate, sum(severity = 'low') AS low FROM deficiencies WHERE closed_at IS NULL \
        GROUP BY tag_id) o ON o.tag_id = t.id \
    WHERE f.stood_until IS NULL ORDER BY b.code, u.label_order, u.id, t.label_order, f.id";

pub fn measure(fleet: &Made) {
    let (lines, today) = ours(fleet, &[]);
    // The header comes on top.
    assert_eq!(lines, fleet.fixtures + 1);
    let (_, another) = ours(fleet, &["--as-of", &another_day()]);
    println!(
        "condition CSV: {:.1} s as of today, {:.1} s of another day",
        today.as_secs_f64(),
        another.as_secs_f64()
    );
    if !fleet.is_sqlite {
        return;
    }
    let shell = Command::new("sqlite3")
        .args(["-csv", "-header"])
        .arg(fleet.file())
        .arg(JOINED)
        .stdin(Stdio::null())
        .output_timed();
    match shell {
        None => println!("  the sqlite3 shell: not measured, it is not installed"),
        Some((lines, took)) => {
            assert_eq!(lines, fleet.fixtures + 1);
            println!(
                "  the sqlite3 shell writes the same joined rows in {:.1} s: {:.2} and {:.2} times that",
                took.as_secs_f64(),
                today.as_secs_f64() / took.as_secs_f64(),
                another.as_secs_f64() / took.as_secs_f64()
            );
        }
    }
}

/// A day ahead on which the rows of today say nothing any more.
fn another_day() -> String {
    (now().0.date() + chrono::Days::new(180)).to_string()
}

fn ours(fleet: &Made, options: &[&str]) -> (usize, Duration) {
    Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url, "export", "condition"])
        .args(options)
        .output_timed()
        .unwrap()
}

trait OutputTimed {
    /// The lines that it wrote into a file, and how long it took; none when there is no such command.
    fn output_timed(&mut self) -> Option<(usize, Duration)>;
}

impl OutputTimed for Command {
    fn output_timed(&mut self) -> Option<(usize, Duration)> {
        let file = tempfile::NamedTempFile::new().unwrap();
        self.stdout(file.reopen().unwrap());
        let (status, took) = timed(|| self.status().ok());
        assert!(status?.success());
        let written = std::fs::read(file.path()).unwrap();
        Some((written.iter().filter(|byte| **byte == b'\n').count(), took))
    }
}
