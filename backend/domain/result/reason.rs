//! Why a check could not be done: the reasons that are offered, and any other in words. Decides the list; a reason satisfies nothing.

use crate::domain::code::words;

words! {
    /// A reason that is offered beside free text.
    MissedReason "reason" {
        NoAccess = "no_access", "No access to the room";
        Blocked = "blocked", "Something stands in the way";
        SuppliesOff = "supplies_off", "Water, power or gas is off";
        Unsafe = "unsafe", "Not safe to do";
        NeedsLicence = "needs_licence", "Needs a licensed person";
        NoTool = "no_tool", "Tool or part not at hand";
        Objected = "objected", "The resident objected";
        NotThere = "not_there", "There is none here";
    }
}

/// The reason as it is kept: the offered one in words, the free text, or both. `offered` is a code of [`MissedReason`] or empty; text
/// that is no code stands for itself.
///
/// ```
/// use anglestop::domain::result::missed_reason;
/// assert_eq!(missed_reason("supplies_off", "riser shut until noon"), "Water, power or gas is off: riser shut until noon");
/// assert_eq!(missed_reason("", "dog in the bathroom"), "dog in the bathroom");
/// assert_eq!(missed_reason("no_access", ""), "No access to the room");
/// assert_eq!(missed_reason("", " "), "");
/// ```
#[must_use]
pub fn missed_reason(offered: &str, text: &str) -> String {
    use crate::domain::code::Coded as _;
    let (offered, text) = (offered.trim(), text.trim());
    let offered = MissedReason::from_code(offered).map_or(offered, |known| known.name());
    match (offered.is_empty(), text.is_empty()) {
        (true, _) => text.to_owned(),
        (false, true) => offered.to_owned(),
        (false, false) => format!("{offered}: {text}"),
    }
}
