//! What a fleet exports, in a folder, and what the independent script `oracles/due.py` (python-dateutil) makes of it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::support::Fleet;

/// The exported files of a fleet.
pub struct Exported {
    folder: tempfile::TempDir,
}

impl Exported {
    /// Exports a fleet as it is now.
    pub fn of(fleet: &Fleet) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let exported = Self { folder };
        for name in ["fleet", "schedules", "results", "calendars", "turnovers"] {
            let csv = anglestop(fleet, &["export", name]);
            std::fs::write(exported.file(&format!("{name}.csv")), csv).unwrap();
        }
        let register = exported.file("register");
        anglestop(fleet, &["export", "folder", register.to_str().unwrap()]);
        exported
    }

    /// A file of it.
    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The due list of a day, which the script will compare with.
    pub fn list(&self, fleet: &Fleet, as_of: &str) -> Vec<serde_json::Value> {
        let asked = ["due", "--as-of", as_of, "--state", "all", "--format", "json"];
        let due = anglestop(fleet, &asked);
        std::fs::write(self.file("due.json"), &due).unwrap();
        serde_json::from_slice(&due).unwrap()
    }

    /// What the script says as of a day.
    pub fn recompute(&self, as_of: &str) -> (Option<i32>, String) {
        let python = std::env::var("ANGLESTOP_TEST_PYTHON").unwrap_or_else(|_| "/usr/bin/python3".to_owned());
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/oracles/due.py");
        let files = [
            "fleet.csv",
            "schedules.csv",
            "results.csv",
            "due.json",
            "calendars.csv",
        ];
        let run = Command::new(&python)
            .arg(script)
            .args(["--as-of", as_of])
            .args(files.map(|name| self.file(name)))
            .arg("--units")
            .arg(self.file("register/units.csv"))
            .arg("--households")
            .arg(self.file("register/households.csv"))
            .arg("--turnovers")
            .arg(self.file("turnovers.csv"))
            .output();
        let Output {
            status,
            stdout,
            stderr,
        } = run.unwrap_or_else(|error| panic!("{python} does not run ({error}); ./ops/check installs it"));
        (
            status.code(),
            String::from_utf8([stdout, stderr].concat()).unwrap(),
        )
    }
}

/// What the command line answers.
pub fn anglestop(fleet: &Fleet, words: &[&str]) -> Vec<u8> {
    let output = Command::new(env!("CARGO_BIN_EXE_anglestop"))
        .args(["--database", &fleet.url])
        .args(words)
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{words:?}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    output.stdout
}
