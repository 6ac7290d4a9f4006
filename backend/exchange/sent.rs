//! What a phone sent, from the JSON in which it was kept to a line in words. It reads what it knows and shows the rest as it came, so that
//! nothing that somebody did is hidden because a newer phone said it.

use serde_json::Value;

use crate::domain::code::Coded as _;
use crate::domain::result::missed_reason;
use crate::domain::trade::Severity;
use crate::domain::trade::urgent::Urgency;
use crate::domain::turnover::Stage;

/// The names of what a step says by code or key.
pub trait Names {
    /// The title of a check by its code.
    fn check(&self, code: &str) -> Option<String>;
    /// The label of a fixture's place by the fixture's key.
    fn place(&self, fixture: i64) -> Option<String>;
}

/// The fixture that an answer is about.
#[must_use]
pub fn fixture_of(json: &str) -> Option<i64> {
    let value: Value = serde_json::from_str(json).ok()?;
    value.get("fixture")?.as_i64()
}

/// One line in words.
#[must_use]
pub fn in_words(json: &str, names: &impl Names) -> String {
    let Ok(value) = serde_json::from_str::<Value>(json) else {
        return json.to_owned();
    };
    let step = Step(&value);
    let said = match step.text("kind") {
        "answer" => Some(step.answer(names)),
        "photo" => Some(format!(
            "A photo of {} bytes",
            step.number("bytes").unwrap_or_default()
        )),
        "repaired" => Some(step.repaired()),
        "word" => Some(format!(
            "No. {}: {}",
            step.number("deficiency").unwrap_or_default(),
            step.outcome()
        )),
        "advance" => Stage::from_code(step.text("to"))
            .ok()
            .map(|stage| format!("To the stage {}", stage.name().to_lowercase())),
        "close" => Some(format!("Closed and signed by {}", step.text("name"))),
        "report" => Some(step.report()),
        "visit_done" => Some("The visit is done".to_owned()),
        "no_access" => Some(step.with("Nobody got in", &["reason", "text"])),
        "urgent" => Urgency::from_code(step.text("emergency"))
            .ok()
            .map(|kind| format!("Emergency: {}", kind.name().to_lowercase())),
        _ => None,
    };
    match said {
        Some(said) => step.noted(said),
        None => json.to_owned(),
    }
}

struct Step<'a>(&'a Value);

impl Step<'_> {
    fn text(&self, name: &str) -> &str {
        self.0
            .get(name)
            .and_then(Value::as_str)
            .unwrap_or_default()
            .trim()
    }

    fn number(&self, name: &str) -> Option<i64> {
        self.0.get(name).and_then(Value::as_i64)
    }

    fn answer(&self, names: &impl Names) -> String {
        let fixture = self.number("fixture");
        let place = fixture.and_then(|key| names.place(key));
        let place = place.unwrap_or_else(|| format!("fixture {}", fixture.unwrap_or_default()));
        let code = self.text("check");
        let check = names.check(code).unwrap_or_else(|| code.to_owned());
        format!("{place}, {check}: {}", self.outcome())
    }

    /// The outcome with its reading or its reason.
    fn outcome(&self) -> String {
        let word = match self.text("outcome") {
            "pass" => "pass",
            "fail" => "fail",
            "not_checked" => "could not check",
            _ => "",
        };
        let reason = missed_reason(self.text("reason"), self.text("why"));
        let because = if reason.is_empty() {
            String::new()
        } else {
            format!("because {reason}")
        };
        let parts = [word, self.text("reading"), &because];
        parts
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(", ")
    }

    fn repaired(&self) -> String {
        let what = self
            .number("deficiency")
            .map_or_else(|| "What failed".to_owned(), |number| format!("No. {number}"));
        let minutes = self.0.get("minutes").filter(|value| !value.is_null());
        let took = minutes.map_or_else(String::new, |minutes| format!(", {minutes} min"));
        let said = self.with(&format!("{what} repaired"), &["parts"]);
        format!("{said}{took}")
    }

    fn report(&self) -> String {
        let severity = Severity::from_code(self.text("severity")).ok();
        let grave = severity.map_or_else(String::new, |one| format!(" ({})", one.name().to_lowercase()));
        format!("Also wrong: {}{grave}", self.text("title"))
    }

    fn with(&self, said: &str, fields: &[&str]) -> String {
        let parts = fields
            .iter()
            .map(|field| self.text(field))
            .filter(|part| !part.is_empty());
        std::iter::once(said).chain(parts).collect::<Vec<_>>().join(": ")
    }

    fn noted(&self, said: String) -> String {
        match self.text("note") {
            "" => said,
            note => format!("{said}. “{note}”"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Known;
    impl Names for Known {
        fn check(&self, code: &str) -> Option<String> {
            (code == "wc_seat").then(|| "Seat and its bolts".to_owned())
        }
        fn place(&self, fixture: i64) -> Option<String> {
            (fixture == 33).then(|| "WC-1".to_owned())
        }
    }

    #[test]
    fn each_step_is_said_in_a_line_and_what_is_not_known_as_it_came() {
        for (json, said) in [
            (
                r#"{"kind":"answer","fixture":33,"check":"wc_seat","outcome":"fail","reading":"","note":"loose left"}"#,
                "WC-1, Seat and its bolts: fail. “loose left”",
            ),
            (
                r#"{"kind":"answer","fixture":4,"check":"new_one","outcome":"not_checked","reason":"locked"}"#,
                "fixture 4, new_one: could not check, because locked",
            ),
            (
                r#"{"kind":"answer","fixture":33,"check":"wc_seat","reading":"45 s"}"#,
                "WC-1, Seat and its bolts: 45 s",
            ),
            (
                r#"{"kind":"repaired","deficiency":9,"parts":"flapper","minutes":12.5}"#,
                "No. 9 repaired: flapper, 12.5 min",
            ),
            (
                r#"{"kind":"word","deficiency":17,"outcome":"fail"}"#,
                "No. 17: fail",
            ),
            (
                r#"{"kind":"close","turnover":5,"name":"R. Vance"}"#,
                "Closed and signed by R. Vance",
            ),
            (
                r#"{"kind":"advance","turnover":5,"to":"ready"}"#,
                "To the stage ready",
            ),
            (
                r#"{"kind":"report","title":"Blind torn","severity":"low"}"#,
                "Also wrong: Blind torn (low)",
            ),
            (
                r#"{"kind":"no_access","visit":7,"reason":"code","text":"dog"}"#,
                "Nobody got in: code: dog",
            ),
            (
                r#"{"kind":"urgent","emergency":"gas"}"#,
                "Emergency: smell of gas",
            ),
            (
                r#"{"kind":"from_tomorrow","x":1}"#,
                r#"{"kind":"from_tomorrow","x":1}"#,
            ),
            ("no json", "no json"),
        ] {
            assert_eq!(in_words(json, &Known), said, "{json}");
        }
    }
}
