//! Why a due date was moved, and the months and weekdays that calendars name, in the words of a language. Why is for `domain::due` to
//! decide; a test holds the English of the catalogue to that of the domain.

use chrono::NaiveDate;

use super::Language;
use crate::domain::code::Coded as _;
use crate::domain::due::{Closed, ClosingKind, DayOfWeek, Season, WhyMoved, WorkCalendar};

impl Language {
    /// "moved from Sat 4 Jul: public holiday Independence Day".
    #[must_use]
    pub fn moved(self, from: NaiveDate, why: WhyMoved<'_>, today: NaiveDate) -> String {
        let why: String = match why {
            WhyMoved::NobodyLived => self.say("moved-nobody-lived").into(),
            WhyMoved::OutOfSeason(season) => self
                .say("moved-out-of-season")
                .with("season", self.season(season))
                .into(),
            WhyMoved::Unknown => self.say("moved-closed").into(),
            WhyMoved::Closed(first, None) => self.closed(first),
            WhyMoved::Closed(first, Some(then)) => self
                .say("moved-then")
                .with("first", self.closed(first))
                .with("then", self.closed(then))
                .into(),
        };
        let said = self.say("moved-from").with("day", self.day(from, today));
        said.with("why", why).into()
    }

    fn closed(self, why: Closed<'_>) -> String {
        let Closed::Closing(closing) = why else {
            return self.say("moved-no-working-day").into();
        };
        let said = match closing.kind {
            ClosingKind::PublicHoliday => self.say("moved-public-holiday"),
            ClosingKind::ShutDown => self.say("moved-shut-down"),
        };
        said.with("name", &closing.name).into()
    }

    /// "April to October", "March and June".
    #[must_use]
    pub fn season(self, season: Season) -> String {
        let name = |month: u32| self.numbered("month-name", month);
        let run = |(first, last): (u32, u32)| {
            let said = match last {
                _ if last == first => return name(first),
                _ if last == first % 12 + 1 => self.say("months-and"),
                _ => self.say("months-to"),
            };
            said.with("first", name(first)).with("last", name(last)).into()
        };
        let runs: Vec<String> = season.runs().into_iter().map(run).collect();
        runs.join(", ")
    }

    /// "Monday to Friday, 10 public holidays, 1 shut-down period".
    #[must_use]
    pub fn work_calendar(self, calendar: &WorkCalendar) -> String {
        let of = |kind: ClosingKind| {
            let closings = calendar.closings.iter();
            closings.filter(|closing| closing.kind == kind).count()
        };
        let (holidays, periods) = (of(ClosingKind::PublicHoliday), of(ClosingKind::ShutDown));
        let mut said = vec![self.weekdays(&calendar.working_days.days().collect::<Vec<_>>())];
        if holidays > 0 {
            said.push(self.count("calendar-public-holidays", holidays));
        }
        if periods > 0 {
            said.push(self.count("calendar-shut-downs", periods));
        }
        said.join(", ")
    }

    /// Weekdays in the order of the week: "Every day", "Monday to Friday", "Monday, Wednesday and Saturday".
    fn weekdays(self, days: &[DayOfWeek]) -> String {
        let numbers = (1_u32..).zip(DayOfWeek::ALL);
        let named: Vec<(u32, String)> = numbers
            .filter(|(_, day)| days.contains(day))
            .map(|(number, _)| (number, self.numbered("weekday-name", number)))
            .collect();
        let names: Vec<String> = named.iter().map(|(_, name)| name.clone()).collect();
        match named.as_slice() {
            [] | [_, _, _, _, _, _, _] => self.say("weekday-every").into(),
            [(first, from), _, .., (last, to)]
                if last - first == u32::try_from(named.len() - 1).unwrap_or(0) =>
            {
                let said = self.say("weekdays-to").with("first", from);
                said.with("last", to).into()
            }
            _ => self.listed(&names),
        }
    }
}
