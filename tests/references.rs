//! The outside references that the case files come from: at least eight independent ones with ten cases each.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Publications and libraries, each with the words that its cases name it by. `units.csv` names its one source at its head.
const REFERENCES: [(&str, &[&str]); 11] = [
    ("IPC and IRC", &["IPC", "IRC"]),
    ("UPC", &["UPC"]),
    ("ADA standards 2010, 604", &["ADA"]),
    ("10 CFR 430.32", &["10 CFR"]),
    ("88 FR 43371", &["88 FR"]),
    ("NIST SP 811", &["units.csv"]),
    ("NIST/SEMATECH e-Handbook", &["NIST"]),
    ("pint", &["pint"]),
    ("scipy", &["scipy"]),
    ("pymannkendall", &["pymannkendall"]),
    ("lifelines and reliability", &["lifelines", "reliability"]),
];

fn reference(file: &str, source: &str) -> Option<&'static str> {
    let source = if source.is_empty() { file } else { source };
    // The library that computed a value goes before the publication whose formula it computed.
    let computed = ["scipy", "pint", "pymannkendall", "lifelines"];
    let by = |name: &str| {
        let found = REFERENCES.iter().find(|(_, words)| words.contains(&name));
        found.map(|(publication, _)| *publication)
    };
    if let Some(library) = computed.into_iter().find(|library| source.contains(library)) {
        return by(library);
    }
    let found = REFERENCES
        .iter()
        .find(|(_, words)| words.iter().any(|word| source.starts_with(word)));
    found.map(|(publication, _)| *publication)
}

#[test]
fn at_least_eight_independent_references_have_ten_cases_each() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/oracles");
    let mut cases: BTreeMap<&str, usize> = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.extension().is_none_or(|extension| extension != "csv") || file.starts_with("recurrence") {
            continue;
        }
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_path(&path)
            .unwrap();
        let at = reader.headers().unwrap().iter().position(|name| name == "source");
        for row in reader.records() {
            let row = row.unwrap();
            let source = at.and_then(|at| row.get(at)).unwrap_or_default();
            if let Some(reference) = reference(&file, source) {
                *cases.entry(reference).or_default() += 1;
            }
        }
    }
    println!("{cases:#?}");
    let with_ten = cases.values().filter(|count| **count >= 10).count();
    assert!(with_ten >= 8, "{cases:#?}");
}
