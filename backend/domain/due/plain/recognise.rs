//! Which saying a rule text is. It decides nothing by itself: a saying is taken only when it makes the same rule again.

use std::collections::BTreeMap;

use super::{Pattern, PlainText, Span, WORKING_DAYS};
use crate::domain::code::Coded as _;
use crate::domain::recurrence::Interval;

impl PlainText {
    /// How a form says a rule; as text when no saying fits it.
    #[must_use]
    pub fn of(anchor: &str, rule: &str, start: &str) -> Self {
        let said = if anchor == "last_done" {
            Self::of_interval(rule)
        } else {
            Self::of_rule(rule)
        };
        // It is that saying only when the saying gives the same rule again.
        said.filter(|said| {
            said.rule(start)
                .is_ok_and(|again| again.is_some_and(|(code, text)| code == anchor && text == rule))
        })
        .unwrap_or_else(|| Self {
            pattern: Pattern::Text.code().to_owned(),
            ..Self::default()
        })
    }

    fn of_interval(rule: &str) -> Option<Self> {
        rule.parse::<Interval>().ok()?;
        let (number, letter) = rule.strip_prefix('P')?.split_at_checked(rule.len() - 2)?;
        let unit = match letter {
            "D" => Span::Days,
            "W" => Span::Weeks,
            "M" => Span::Months,
            "Y" => Span::Years,
            _ => return None,
        };
        Some(Self {
            pattern: Pattern::AfterLast.code().to_owned(),
            every: number.to_owned(),
            unit: unit.code().to_owned(),
            ..Self::default()
        })
    }

    fn of_rule(rule: &str) -> Option<Self> {
        let parts: BTreeMap<&str, &str> = rule.split(';').filter_map(|part| part.split_once('=')).collect();
        let part = |name: &str| parts.get(name).copied();
        let every = part("INTERVAL").unwrap_or("1").to_owned();
        let last_of = |days: &str| days.rsplit(',').next().unwrap_or_default().to_owned();
        let of = |pattern: Pattern| Self {
            pattern: pattern.code().to_owned(),
            ..Self::default()
        };
        let counted = |unit: Span| Self {
            every: every.clone(),
            unit: unit.code().to_owned(),
            ..of(Pattern::Every)
        };
        Some(
            match (part("FREQ")?, part("BYDAY"), part("BYMONTH"), part("BYMONTHDAY")) {
                ("DAILY", None, None, None) => counted(Span::Days),
                ("WEEKLY", None, None, None) => counted(Span::Weeks),
                ("MONTHLY", None, None, _) => counted(Span::Months),
                ("YEARLY", None, None, None) | ("YEARLY", None, Some("2"), Some("28,29")) => {
                    counted(Span::Years)
                }
                ("MONTHLY", Some(WORKING_DAYS), None, None) => Self {
                    month_step: every,
                    ..of(Pattern::LastWorkingDay)
                },
                ("MONTHLY", Some(day), None, None) => {
                    let (nth, weekday) = day.split_at_checked(day.len().checked_sub(2)?)?;
                    Self {
                        nth: nth.to_owned(),
                        weekday: weekday.to_owned(),
                        month_step: every,
                        ..of(Pattern::NthWeekday)
                    }
                }
                ("YEARLY" | "MONTHLY", None, Some(months), Some(days)) => Self {
                    months: months.split(',').map(str::to_owned).collect(),
                    month_day: match last_of(days).as_str() {
                        "-1" => "last".to_owned(),
                        day => day.to_owned(),
                    },
                    ..of(Pattern::InMonths)
                },
                _ => return None,
            },
        )
    }
}
