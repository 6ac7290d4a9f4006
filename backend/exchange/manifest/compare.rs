//! A manifest against the rows of today: what is no longer as it was when the record was signed, each in a sentence.
//!
//! Some things may go on after the signing and are no difference: a deficiency that was left open is repaired and closed, a photo that
//! was still to come arrives, and what came late stands beside the record.

use serde_json::Value;

/// A part of the manifest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum List {
    /// The turnover itself.
    Turnover,
    /// Its results.
    Results,
    /// Deficiencies that were open.
    Left,
    /// Deficiencies that were put right.
    PutRight,
    /// Waivers.
    Waivers,
    /// Photos.
    Photos,
}

/// What stays as it is of a deficiency that was left open.
const OF_LEFT: [&str; 6] = ["id", "check_id", "result_id", "origin", "title", "opened_at"];
/// What a photo that was still to come gets when it arrives.
const OF_ARRIVAL: [&str; 2] = ["received_at", "sha256"];

impl List {
    /// In the order in which differences are told.
    pub const ALL: [Self; 6] = [
        Self::Turnover,
        Self::Results,
        Self::Left,
        Self::PutRight,
        Self::Waivers,
        Self::Photos,
    ];

    /// Its name in the manifest.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Turnover => "turnover",
            Self::Results => "results",
            Self::Left => "left",
            Self::PutRight => "put_right",
            Self::Waivers => "waivers",
            Self::Photos => "photos",
        }
    }

    fn key(self, row: &Value) -> String {
        match self {
            Self::Waivers => format!("{}, {}", row["deficiency_id"], plain(&row["created_at"])),
            Self::Photos => plain(&row["client_id"]),
            _ => plain(&row["id"]),
        }
    }

    /// When the row came to be, as it says itself; a row may only be missing in a manifest that is older.
    fn came_at(self, row: &Value) -> String {
        plain(match self {
            Self::Turnover | Self::Left | Self::PutRight => &Value::Null,
            Self::Results => &row["received_at"],
            Self::Waivers => &row["created_at"],
            Self::Photos => &row["announced_at"],
        })
    }

    /// How people name a row.
    fn name(self, manifest: &Value, row: &Value) -> String {
        let names = &manifest["names"];
        let named = |kind: &str, key: &Value| plain(&names[kind][key.to_string()]);
        match self {
            Self::Turnover => format!("Turnover {}", row["id"]),
            Self::Results => {
                let mut words = vec![named("places", &row["tag_id"]), named("checks", &row["check_id"])];
                words.extend([plain(&row["part"]), plain(&row["stage"])]);
                words.retain(|word| !word.is_empty());
                format!("Result {} ({})", row["id"], words.join(", "))
            }
            Self::Left | Self::PutRight => format!("Deficiency {}", row["id"]),
            Self::Waivers => format!("The waiver of deficiency {}", row["deficiency_id"]),
            Self::Photos => format!("Photo {}", plain(&row["client_id"])),
        }
    }

    fn compares(self, kept: &Value, field: &str) -> bool {
        match self {
            Self::Left => OF_LEFT.contains(&field),
            Self::Photos => !(kept["received_at"].is_null() && OF_ARRIVAL.contains(&field)),
            _ => true,
        }
    }
}

/// One thing that is no longer as it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Where.
    pub list: List,
    /// Of which row.
    pub key: String,
    /// Which field; empty when the whole row is gone or was added.
    pub field: String,
    /// The same in words.
    pub sentence: String,
}

/// What of a manifest is not so in the rows of today (as [`super::rows`] makes them), and what came after it.
#[must_use]
pub fn differences(manifest: &Value, today: &Value) -> (Vec<Difference>, Vec<String>) {
    let (mut found, mut later) = (Vec::new(), Vec::new());
    let closed_at = plain(&manifest["turnover"]["closed_at"]);
    for list in List::ALL {
        let (kept, now) = (listed(&manifest[list.code()]), listed(&today[list.code()]));
        for row in &kept {
            let key = list.key(row);
            match now.iter().find(|other| list.key(other) == key) {
                Some(other) => found.extend(fields(list, manifest, row, other)),
                None => found.push(Difference {
                    sentence: format!("{} stood in the record and is gone.", list.name(manifest, row)),
                    field: String::new(),
                    list,
                    key,
                }),
            }
        }
        for row in &now {
            let key = list.key(row);
            if kept.iter().any(|other| list.key(other) == key) {
                continue;
            }
            let name = list.name(manifest, row);
            let came_at = list.came_at(row);
            if came_at >= closed_at {
                later.push(format!("{name} came after the closing, at {came_at}."));
            } else {
                found.push(Difference {
                    sentence: format!("{name} says that it came at {came_at}, before the closing, and does not stand in the record."),
                    field: String::new(),
                    list,
                    key,
                });
            }
        }
    }
    (found, later)
}

fn fields(list: List, manifest: &Value, kept: &Value, now: &Value) -> Vec<Difference> {
    let Some(fields) = kept.as_object() else {
        return Vec::new();
    };
    let differ = fields
        .iter()
        .filter(|(field, value)| list.compares(kept, field) && now[field.as_str()] != **value);
    differ
        .map(|(field, value)| Difference {
            list,
            key: list.key(kept),
            sentence: format!(
                "{}: {} was {} when the record was signed and is {} now.",
                list.name(manifest, kept),
                field,
                said(value),
                said(&now[field.as_str()])
            ),
            field: field.clone(),
        })
        .collect()
}

/// The rows of a list; the turnover is a list of one.
fn listed(value: &Value) -> Vec<&Value> {
    match value {
        Value::Array(rows) => rows.iter().collect(),
        Value::Null => Vec::new(),
        one => vec![one],
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

fn said(value: &Value) -> String {
    match plain(value).as_str() {
        "" => "empty".to_owned(),
        text => format!("“{text}”"),
    }
}
