//! Repair, replace, or wait until the next entry: what each costs in money, water, risk and entries, side by side.
//! Decides the sums and what may not be waited for; chooses nothing and knows no price of its own.

use chrono::{NaiveDate, TimeDelta};

use super::code::words;
use super::trade::Severity;
use super::trade::water::{Loss, Tariff};

words! {
    /// A way to go on.
    Way "way" {
        Repair = "repair", "Repair now";
        Replace = "replace", "Replace now";
        Wait = "wait", "Wait until the next entry";
    }
}

/// What is known when the choice is made; none where nobody gave a figure.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Known {
    /// What the repair costs, minor units, the entry left out.
    pub repair_minor: Option<i64>,
    /// What a new one costs in place, minor units, the entry left out.
    pub replace_minor: Option<i64>,
    /// What one entry costs: the way, the notice, the household's day; minor units.
    pub entry_minor: Option<i64>,
    /// What a failure costs when it comes before, minor units.
    pub failure_minor: Option<i64>,
    /// The chance that it fails before the next entry, 0 to 1.
    pub fails_before: Option<f64>,
    /// Whether it loses water, measured or not.
    pub leaks: bool,
    /// What it loses.
    pub loss: Option<Loss>,
    /// What water costs.
    pub tariff: Option<Tariff>,
    /// When somebody next enters anyway.
    pub next_entry: Option<NaiveDate>,
}

/// One column of the choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The way.
    pub way: Way,
    /// Work and parts, minor units.
    pub work_minor: Option<i64>,
    /// Entries that are made for it alone.
    pub extra_entries: u32,
    /// What those entries cost, minor units.
    pub entries_minor: Option<i64>,
    /// Water lost before it is right, litres; none when nobody has measured or nobody knows when.
    pub water_litres: Option<f64>,
    /// What that water costs, minor units.
    pub water_minor: Option<i64>,
    /// Whether it loses water of which nobody knows how much, or at what price.
    pub water_is_unknown: bool,
    /// The chance that it fails before, 0 to 1.
    pub fails_before: Option<f64>,
    /// That chance times what a failure costs, minor units.
    pub risk_minor: Option<i64>,
    /// Everything that is known of it, minor units; none when the work is not.
    pub total_minor: Option<i64>,
    /// Why it can't be chosen; none when it can.
    pub barred: Option<String>,
}

/// The three ways for a deficiency of this severity, its deadline a local date, on `today`. Nothing lost and nothing risked before a repair
/// of today.
#[must_use]
pub fn choices(
    known: &Known,
    severity: Severity,
    correct_by: Option<NaiveDate>,
    today: NaiveDate,
) -> [Choice; 3] {
    [
        at_once(Way::Repair, known.repair_minor, known),
        at_once(Way::Replace, known.replace_minor, known),
        waited(known, severity, correct_by, today),
    ]
}

fn at_once(way: Way, work_minor: Option<i64>, known: &Known) -> Choice {
    Choice {
        way,
        work_minor,
        extra_entries: 1,
        entries_minor: known.entry_minor,
        water_litres: known.loss.as_ref().map(|_| 0.0),
        water_minor: known.loss.as_ref().zip(known.tariff.as_ref()).map(|_| 0),
        water_is_unknown: false,
        fails_before: None,
        risk_minor: None,
        total_minor: work_minor.map(|work| work.saturating_add(known.entry_minor.unwrap_or_default())),
        barred: None,
    }
}

fn waited(known: &Known, severity: Severity, correct_by: Option<NaiveDate>, today: NaiveDate) -> Choice {
    let days = known
        .next_entry
        .map(|on| days((on - today).max(TimeDelta::zero())));
    let water_litres = known
        .loss
        .as_ref()
        .zip(days)
        .map(|(loss, days)| loss.litres_a_day() * days);
    let water_minor = known
        .tariff
        .as_ref()
        .zip(water_litres)
        .map(|(tariff, litres)| tariff.cost_minor(litres));
    let risk_minor = known
        .fails_before
        .zip(known.failure_minor)
        .map(|(chance, cost)| share(chance, cost));
    let total_minor = known.repair_minor.map(|work| {
        work.saturating_add(water_minor.unwrap_or_default())
            .saturating_add(risk_minor.unwrap_or_default())
    });
    Choice {
        way: Way::Wait,
        work_minor: known.repair_minor,
        extra_entries: 0,
        entries_minor: Some(0),
        water_litres,
        water_minor,
        water_is_unknown: (known.leaks || known.loss.is_some()) && water_minor.is_none(),
        fails_before: known.fails_before,
        risk_minor,
        total_minor,
        barred: barred(known, severity, correct_by),
    }
}

fn barred(known: &Known, severity: Severity, correct_by: Option<NaiveDate>) -> Option<String> {
    if severity == Severity::LifeThreatening {
        return Some("It endangers life: it does not wait.".to_owned());
    }
    match (known.next_entry, correct_by) {
        (None, _) => Some("No entry is planned and no check falls due: nobody would come.".to_owned()),
        (Some(on), Some(by)) if on > by => {
            let over = (on - by).num_days();
            let unit = if over == 1 { "day" } else { "days" };
            Some(format!(
                "The next entry is {over} {unit} past the time to correct."
            ))
        }
        _ => None,
    }
}

/// The least known total among the ways that can be chosen; none unless each of them has one, and waiting its risk.
#[must_use]
pub fn least(choices: &[Choice]) -> Option<Way> {
    let open: Vec<_> = choices.iter().filter(|choice| choice.barred.is_none()).collect();
    let is_open_ended = |choice: &&Choice| {
        let is_unknown = match choice.way {
            Way::Wait => choice.risk_minor.is_none() || choice.water_is_unknown,
            Way::Repair | Way::Replace => choice.entries_minor.is_none(),
        };
        choice.total_minor.is_none() || is_unknown
    };
    if open.iter().any(is_open_ended) {
        return None;
    }
    open.into_iter()
        .min_by_key(|choice| choice.total_minor)
        .map(|choice| choice.way)
}

fn days(span: TimeDelta) -> f64 {
    i32::try_from(span.num_days()).map_or(f64::from(i32::MAX), f64::from)
}

/// A chance times an amount, to the nearest minor unit.
#[expect(
    clippy::as_conversions,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "amounts are below the 15 digits that a floating-point number keeps, and the conversion back saturates"
)]
fn share(chance: f64, minor: i64) -> i64 {
    (chance.clamp(0.0, 1.0) * minor as f64).round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::trade::water::Billed;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    /// 100 L a day for 10 days are 1 m³; at 3.00 + 2.00 a m³ that is 5.00.
    fn known() -> Known {
        Known {
            repair_minor: Some(8_000),
            replace_minor: Some(30_000),
            entry_minor: Some(2_500),
            failure_minor: Some(500_000),
            fails_before: Some(0.02),
            leaks: true,
            loss: Some(Loss::kept(100.0, "")),
            tariff: Some(Tariff {
                water_minor: 300,
                sewer_minor: 200,
                billed: Billed::CubicMetre,
                currency: "USD".to_owned(),
            }),
            next_entry: Some(day("2026-12-05")),
        }
    }

    #[test]
    fn waiting_saves_the_entry_and_pays_water_and_risk() {
        let [repair, replace, wait] = choices(
            &known(),
            Severity::Low,
            Some(day("2027-01-24")),
            day("2026-11-25"),
        );
        assert_eq!((repair.total_minor, repair.extra_entries), (Some(10_500), 1));
        assert_eq!(replace.total_minor, Some(32_500));
        assert_eq!((wait.water_litres, wait.water_minor), (Some(1_000.0), Some(500)));
        assert_eq!(wait.risk_minor, Some(10_000));
        assert_eq!((wait.total_minor, wait.extra_entries), (Some(18_500), 0));
        assert_eq!(least(&[repair, replace, wait]), Some(Way::Repair));
    }

    #[test]
    fn what_endangers_life_or_would_come_too_late_does_not_wait() {
        let today = day("2026-11-25");
        let barred = |severity, by: Option<&str>, known: &Known| {
            let [_, _, wait] = choices(known, severity, by.map(day), today);
            wait.barred
        };
        assert!(barred(Severity::LifeThreatening, None, &known()).is_some());
        assert_eq!(barred(Severity::Moderate, Some("2026-12-05"), &known()), None);
        let late = barred(Severity::Moderate, Some("2026-12-04"), &known());
        assert_eq!(
            late.as_deref(),
            Some("The next entry is 1 day past the time to correct.")
        );
        let nobody = Known {
            next_entry: None,
            ..known()
        };
        assert!(barred(Severity::Low, None, &nobody).is_some());
    }

    #[test]
    fn nothing_is_called_least_while_a_cost_is_not_known() {
        let partly = Known {
            replace_minor: None,
            ..known()
        };
        let columns = choices(&partly, Severity::Low, None, day("2026-11-25"));
        assert_eq!(least(&columns), None);
    }
}
