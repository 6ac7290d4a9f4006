//! What a check asks, in one line that is kept with the answer: the question, what passes under the building's profile, and where that
//! comes from. Decides the wording; a later version of the check changes nothing of what was kept.

use super::check::{Answer, Check, ProfileCode};

/// The line, as the check stands now.
///
/// ```
/// use anglestop::domain::trade::asked;
/// use anglestop::exchange::catalogue::builtin;
/// let check = builtin()?.check("wc_refill").ok_or("no such check")?;
/// let line = asked::line(check, &"ipc".parse()?);
/// assert!(line.contains("Refill time at most 180 s (common practice"), "{line}");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn line(check: &Check, profile: &ProfileCode) -> String {
    let passes = match &check.answer {
        Answer::Verdict { pass, .. } => format!("Passes: {pass} ({})", check.source.phrase()),
        Answer::Reading { of, limits, .. } => {
            let held: Vec<String> = limits
                .iter()
                .filter(|limit| limit.holds_under(profile))
                .map(|limit| {
                    let source = limit.source.phrase();
                    format!("{} {} ({source})", limit.bound.name(), limit.value)
                })
                .collect();
            if held.is_empty() {
                format!("{of}, any value is an answer ({})", check.source.phrase())
            } else {
                format!("{of} {}", held.join(" and "))
            }
        }
    };
    format!("{} {passes}.", check.ask)
}
