//! The distances that are read once: where the plan of a water closet or the distance itself was never measured since it stands there.

/// The check under which whole clearances are kept.
pub const PLAN: &str = "wc_clearance_plan";

/// The checks that read one distance each: once, and after a move or remodel (common practice, no source).
pub const READ_ONCE: [&str; 2] = ["wc_clearance_side", "wc_clearance_front"];

/// Every check of which an answer tells how far the walls are.
pub const TELLING: [&str; 3] = [PLAN, READ_ONCE[0], READ_ONCE[1]];

/// Whether a check reads a distance that nobody measured yet, when these checks were answered where the water closet stands.
///
/// ```
/// use anglestop::domain::trade::clearance::is_unmeasured;
///
/// assert!(is_unmeasured("wc_clearance_front", &["wc_clearance_side".to_owned()]));
/// assert!(!is_unmeasured("wc_clearance_front", &["wc_clearance_plan".to_owned()]), "the plan holds it");
/// assert!(!is_unmeasured("wc_bowl_firm", &[]), "no distance is read");
/// ```
#[must_use]
pub fn is_unmeasured(check: &str, answered: &[String]) -> bool {
    READ_ONCE.contains(&check) && !answered.iter().any(|known| known == check || known == PLAN)
}
