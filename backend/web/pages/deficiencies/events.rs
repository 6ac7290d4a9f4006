//! What happened to a deficiency, in the language of whoever reads it. Each event was written in English; what the tool wrote of it is read
//! anew, what people wrote stays. English reads what was written.

use crate::actions::deficiencies::Titles;
use crate::domain::result::{Deficiency, EventKind, Origin};
use crate::language::Language;
use crate::store::deficiencies::Event;
use crate::web::pages::fixtures::causes;

/// The text of an event.
pub(super) fn in_words(titles: &Titles, one: &Deficiency, event: &Event) -> String {
    let (language, kept) = (titles.language(), event.text.as_str());
    if language == Language::ENGLISH {
        return kept.to_owned();
    }
    let said = match event.kind {
        EventKind::Opened => opened(titles, one, kept),
        EventKind::FailedAgain => led(kept, |start| {
            changed(start, language.judged(titles.check_of(one), start))
        }),
        EventKind::RecheckPassed => passed(titles, one, kept),
        EventKind::Repaired => repaired(language, one, kept),
        EventKind::Assigned => assigned(language, kept),
        EventKind::Noted => causes::noted(language, kept).or_else(|| sentence(language, kept)),
        EventKind::Missed => kept.strip_prefix("Could not be re-checked: ").map(|why| {
            let said = language.say("event-missed-because");
            said.with("why", language.reason(why)).into()
        }),
        EventKind::Closed | EventKind::Moved => sentence(language, kept),
    };
    said.unwrap_or_else(|| kept.to_owned())
}

fn changed(written: &str, said: String) -> Option<String> {
    (said != written).then_some(said)
}

/// A sentence of the tool, with its full stop or without.
fn sentence(language: Language, kept: &str) -> Option<String> {
    changed(kept, language.sentence(kept)).or_else(|| {
        let bare = kept.strip_suffix('.')?;
        changed(bare, language.sentence(bare)).map(|said| format!("{said}."))
    })
}

/// The text with its beginning said anew and a person's note behind it left alone: the longest beginning that `say` knows.
fn led(kept: &str, say: impl Fn(&str) -> Option<String>) -> Option<String> {
    say(kept).or_else(|| {
        let ends = kept.match_indices(". ").map(|(at, _)| at).collect::<Vec<_>>();
        ends.into_iter().rev().find_map(|at| {
            let (start, note) = kept.split_at(at + 1);
            let said = say(start).or_else(|| Some(format!("{}.", say(start.strip_suffix('.')?)?)))?;
            Some(format!("{said}{note}"))
        })
    })
}

fn opened(titles: &Titles, one: &Deficiency, kept: &str) -> Option<String> {
    let (language, title) = (titles.language(), titles.of(one));
    if one.origin == Origin::Report {
        let is_report = kept.strip_prefix("Reported: ")? == one.title;
        return is_report.then(|| language.say("event-reported").with("title", title).into());
    }
    let rest = kept.strip_prefix(one.title.as_str())?;
    if rest.is_empty() {
        return Some(title);
    }
    let repeats = rest.strip_prefix(". Repeats number ")?;
    let said = match repeats.split_once(": the second time makes it ") {
        None => language
            .say("event-repeats")
            .with("number", repeats.strip_suffix('.')?),
        Some((number, grades)) => {
            let (grade, first) = grades.strip_suffix('.')?.split_once(" instead of ")?;
            language
                .say("event-repeats-graver")
                .with("number", number)
                .with("grade", language.sentence(grade))
                .with("first", language.sentence(first))
        }
    };
    Some(said.with("title", title).into())
}

fn passed(titles: &Titles, one: &Deficiency, kept: &str) -> Option<String> {
    let language = titles.language();
    let by_check = titles.check_of(one).and_then(|check| {
        let note = kept
            .strip_prefix(check.title.as_str())?
            .strip_prefix(" passed.")?;
        let said = language
            .say("event-passed")
            .with("check", language.check(check).title);
        Some(format!("{said}{note}"))
    });
    by_check.or_else(|| led(kept, |start| changed(start, language.sentence(start))))
}

fn assigned(language: Language, kept: &str) -> Option<String> {
    sentence(language, kept).or_else(|| {
        let name = kept.strip_prefix("To ")?.strip_suffix('.')?;
        Some(language.say("event-to").with("name", name).into())
    })
}

/// Parts, minutes, cost and a note stand one behind the other; what was used is looked for, since it may hold full stops.
fn repaired(language: Language, one: &Deficiency, kept: &str) -> Option<String> {
    let mut said = Vec::new();
    let mut rest = kept;
    if let Some(behind) = kept.strip_prefix("Parts: ") {
        let used = match behind.strip_prefix(one.parts_used.as_str()) {
            Some(after) if after.starts_with('.') && !one.parts_used.is_empty() => one.parts_used.as_str(),
            _ => behind
                .split_once(". ")
                .map_or_else(|| behind.trim_end_matches('.'), |(used, _)| used),
        };
        said.push(language.say("event-parts").with("parts", used).to_string());
        rest = behind.get(used.len() + 1..).unwrap_or_default().trim_start();
    }
    if let Some((minutes, behind)) = rest.split_once(" min.")
        && minutes.parse::<f64>().is_ok()
    {
        said.push(format!("{minutes} min."));
        rest = behind.trim_start();
    }
    if let Some(behind) = rest.strip_prefix("Cost ") {
        let end = behind.find(|c: char| !c.is_ascii_digit() && !",.".contains(c));
        let (cost, after) = behind.split_at(end.unwrap_or(behind.len()));
        let cost = cost.trim_end_matches('.');
        said.push(language.say("event-cost").with("cost", cost).to_string());
        rest = after.trim_start();
    }
    if said.is_empty() {
        return led(kept, |start| changed(start, language.sentence(start)));
    }
    if !rest.is_empty() {
        said.push(rest.to_owned());
    }
    Some(said.join(" "))
}
