//! What a run of flushes means. Decides by exact comparison of the longest refill, so that a worse reading never makes a better
//! verdict; the mean serves the flow and the history.

use std::fmt;

use super::limits::Limits;
use super::run::{Level, Run, Taken};
use crate::domain::code::words;
use crate::domain::measure::{Amount, MeasureError, Ratio, Unit};
use crate::domain::trade::Verdict;

words! {
    /// How the longest refill of a run compares with what is usual.
    Grade "refill" {
        Quick = "quick", "Quick";
        Usual = "usual", "Usual";
        Slow = "slow", "Slow";
        Restricted = "restricted", "Restricted";
    }
}

words! {
    /// What fails a run.
    Fault "fault" {
        Restricted = "restricted", "Refills too slowly";
        NotClear = "not_clear", "Does not clear";
        Again = "again", "Flushes or refills again by itself";
        RunsOn = "runs_on", "Runs on";
        Overflows = "overflows", "Runs into the overflow";
    }
}

/// One thing that failed a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// Which fault.
    pub fault: Fault,
    /// What was seen, as a phrase.
    pub words: String,
}

/// Why a run can't be judged, as a phrase that says what to type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RunError {
    /// Too few or too many flushes.
    Flushes {
        /// How many were given.
        given: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A refill that can't be read; the number of its flush, from 1.
    Refill(usize, MeasureError),
    /// A refill of no time at all; the number of its flush.
    NoTime(usize),
    /// The tank's volume can't be read.
    Tank(MeasureError),
    /// A tank that holds nothing.
    EmptyTank(String),
    /// How long it ran on can't be read.
    RunsOn(MeasureError),
}

impl fmt::Display for RunError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Flushes { given, least, most } => write!(
                f,
                "{given} flushes are no run; time {least} to {most}, one after the other"
            ),
            Self::Refill(number, error) => write!(f, "refill {number}: {error}"),
            Self::NoTime(number) => write!(
                f,
                "refill {number} took no time; write the seconds from the end of the flush until the valve shuts"
            ),
            Self::Tank(error) => write!(f, "tank: {error}"),
            Self::EmptyTank(given) => {
                write!(
                    f,
                    "a tank of \"{given}\" holds nothing; write what it takes for a flush, such as 1.6 gal"
                )
            }
            Self::RunsOn(error) => write!(f, "runs on: {error}"),
        }
    }
}

impl std::error::Error for RunError {}

/// A run with what it means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// Pass or fail.
    pub verdict: Verdict,
    /// How the longest refill compares; quick when the longest is under the usual band.
    pub grade: Grade,
    /// Why it failed; empty for a pass.
    pub reasons: Vec<Reason>,
    /// What is worth knowing and fails nothing.
    pub remarks: Vec<String>,
    /// The refills in seconds, in their order.
    pub refills_s: Vec<Ratio>,
    /// Their mean, seconds.
    pub mean_s: Ratio,
    /// Longest less shortest, per cent of the mean.
    pub spread_percent: Ratio,
    /// The tank's volume, US gallons; none when it is not known.
    pub tank_gal: Option<Ratio>,
    /// The refill at the flow that the code expects, seconds; none when the tank's volume is not known.
    pub expected_s: Option<Ratio>,
}

impl Judged {
    /// The mean flow into the tank, US gallons a minute; none when the tank's volume is not known.
    #[must_use]
    pub fn flow_gpm(&self) -> Option<f64> {
        self.flow_of(self.mean_s).map(Ratio::to_f64)
    }

    /// The flow at one refill time.
    #[must_use]
    pub fn flow_of(&self, refill_s: Ratio) -> Option<Ratio> {
        self.tank_gal?.times(Ratio::whole(60))?.over(refill_s)
    }

    /// The shortest and the longest refill, seconds.
    #[must_use]
    pub fn extremes_s(&self) -> (Ratio, Ratio) {
        let shorter = |one: Ratio, other: Ratio| one.order(other).is_some_and(std::cmp::Ordering::is_lt);
        let pick = |found: Ratio, one: &Ratio| if shorter(*one, found) { *one } else { found };
        let worst = |found: Ratio, one: &Ratio| if shorter(found, *one) { *one } else { found };
        let first = self.refills_s.first().copied().unwrap_or(Ratio::ZERO);
        (
            self.refills_s.iter().fold(first, pick),
            self.refills_s.iter().fold(first, worst),
        )
    }

    /// The verdict on some faults alone, with what was seen of them; a run answers several checks.
    #[must_use]
    pub fn on(&self, faults: &[Fault]) -> (Verdict, String) {
        let seen: Vec<&str> = self
            .reasons
            .iter()
            .filter(|reason| faults.contains(&reason.fault))
            .map(|reason| reason.words.as_str())
            .collect();
        let verdict = if seen.is_empty() {
            Verdict::Pass
        } else {
            Verdict::Fail
        };
        (verdict, seen.join("; "))
    }

    /// Which flush refilled longest, from 0: by it the run is judged.
    #[must_use]
    pub fn longest_at(&self) -> usize {
        let (_, longest) = self.extremes_s();
        self.refills_s
            .iter()
            .position(|refill| *refill == longest)
            .unwrap_or_default()
    }

    fn fails(&mut self, fault: Fault, words: String) {
        self.reasons.push(Reason { fault, words });
    }

    /// The run with what it meant, as it is kept.
    #[must_use]
    pub fn taken(&self, run: Run) -> Taken {
        Taken {
            run,
            verdict: self.verdict,
            reasons: self.reasons.iter().map(|reason| reason.words.clone()).collect(),
            remarks: self.remarks.clone(),
            mean: format!("{} s", short(self.mean_s.to_f64())),
            flow: self
                .flow_gpm()
                .map_or_else(String::new, |flow| format!("{} gal/min", short(flow))),
        }
    }
}

/// A figure to two digits after the point, without zeros at the end.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn sum(values: &[Ratio]) -> Option<Ratio> {
    values.iter().try_fold(Ratio::ZERO, |sum, value| sum.plus(*value))
}

/// Judges a run.
///
/// # Errors
/// A phrase when there are too few or too many flushes, or a value can't be read; nothing is guessed.
pub fn judge(run: &Run, limits: &Limits) -> Result<Judged, RunError> {
    let given = run.flushes.len();
    if !(limits.run_least..=limits.run_most).contains(&given) {
        return Err(RunError::Flushes {
            given,
            least: limits.run_least,
            most: limits.run_most,
        });
    }
    let mut refills_s = Vec::with_capacity(given);
    for (index, flush) in run.flushes.iter().enumerate() {
        let number = index + 1;
        let refill =
            Amount::parse(&flush.refill, Unit::Second).map_err(|error| RunError::Refill(number, error))?;
        if refill.base() == Ratio::ZERO {
            return Err(RunError::NoTime(number));
        }
        refills_s.push(refill.base());
    }
    let too_large = || RunError::Refill(1, MeasureError::OutOfRange(run.refills()));
    let count = i64::try_from(given).map_err(|_too_many| too_large())?;
    let mean_s = sum(&refills_s)
        .and_then(|sum| sum.over(Ratio::whole(count)))
        .ok_or_else(too_large)?;
    let tank_gal = tank(run)?;
    let supply = limits.supply.amount.in_unit(Unit::GallonPerMinute);
    let mut judged = Judged {
        verdict: Verdict::Pass,
        grade: Grade::Usual,
        reasons: Vec::new(),
        remarks: Vec::new(),
        spread_percent: Ratio::ZERO,
        expected_s: tank_gal.and_then(|gal| gal.times(Ratio::whole(60))?.over(supply?)),
        refills_s,
        mean_s,
        tank_gal,
    };
    let (shortest, longest) = judged.extremes_s();
    judged.spread_percent = longest
        .minus(shortest)
        .and_then(|spread| spread.over(mean_s)?.times(Ratio::whole(100)))
        .ok_or_else(too_large)?;
    grade(&mut judged, limits);
    seen(&mut judged, run)?;
    compared(&mut judged, limits);
    if !judged.reasons.is_empty() {
        judged.verdict = Verdict::Fail;
    }
    Ok(judged)
}

fn tank(run: &Run) -> Result<Option<Ratio>, RunError> {
    if run.tank.trim().is_empty() {
        return Ok(None);
    }
    let volume = Amount::parse(&run.tank, Unit::Gallon).map_err(RunError::Tank)?;
    let gallons = volume
        .in_unit(Unit::Gallon)
        .ok_or_else(|| RunError::Tank(MeasureError::OutOfRange(run.tank.trim().to_owned())))?;
    if gallons == Ratio::ZERO {
        return Err(RunError::EmptyTank(run.tank.trim().to_owned()));
    }
    Ok(Some(gallons))
}

/// Grades the longest refill; beyond the slow band it fails.
fn grade(judged: &mut Judged, limits: &Limits) {
    let (_, longest) = judged.extremes_s();
    let over = |bar: &super::limits::Bar| {
        longest
            .order(bar.amount.base())
            .is_some_and(std::cmp::Ordering::is_gt)
    };
    let said = short(longest.to_f64());
    judged.grade = if over(&limits.slow_most) {
        judged.fails(
            Fault::Restricted,
            format!(
                "restricted: the longest refill, {said} s, is over {} ({})",
                limits.slow_most.said, limits.slow_most.source
            ),
        );
        Grade::Restricted
    } else if over(&limits.usual_most) {
        judged.remarks.push(format!(
            "slow: the longest refill, {said} s, is over {}; look at the stop, the line, the screen and the pressure",
            limits.usual_most.said
        ));
        Grade::Slow
    } else if over(&limits.usual_least) || longest == limits.usual_least.amount.base() {
        Grade::Usual
    } else {
        judged.remarks.push(format!(
            "quick: every refill is under {}; the tank takes little water, or the pressure is high",
            limits.usual_least.said
        ));
        Grade::Quick
    };
}

/// What was seen beside the watch.
fn seen(judged: &mut Judged, run: &Run) -> Result<(), RunError> {
    let numbers = |wanted: &dyn Fn(&super::run::Flush) -> bool| {
        let found: Vec<String> = run
            .flushes
            .iter()
            .enumerate()
            .filter(|(_, flush)| wanted(flush))
            .map(|(index, _)| (index + 1).to_string())
            .collect();
        found.join(", ")
    };
    let left = numbers(&|flush| !flush.cleared);
    if !left.is_empty() {
        judged.fails(
            Fault::NotClear,
            format!("the bowl was not clear after flush {left}"),
        );
    }
    let again = numbers(&|flush| flush.again);
    if !again.is_empty() {
        judged.fails(
            Fault::Again,
            format!("it flushed or refilled again by itself after flush {again}"),
        );
    }
    let runs_on = run.runs_on.trim();
    if !runs_on.is_empty() {
        let time = Amount::parse(runs_on, Unit::Second).map_err(RunError::RunsOn)?;
        if time.base() != Ratio::ZERO {
            let words = short(time.base().to_f64());
            judged.fails(
                Fault::RunsOn,
                format!("water ran on for {words} s once the tank was full"),
            );
        }
    }
    match run.level {
        Level::Overflowing => judged.fails(Fault::Overflows, "water runs into the overflow".to_owned()),
        Level::High => judged
            .remarks
            .push("the water stands above the mark; set the float".to_owned()),
        Level::Low => judged
            .remarks
            .push("the water stands below the mark; a short flush follows, set the float".to_owned()),
        Level::AtMark | Level::NotLooked => {}
    }
    Ok(())
}

/// Steadiness, the supply and the tank's volume; none of them fails a run.
fn compared(judged: &mut Judged, limits: &Limits) {
    let more = |one: Ratio, other: Ratio| one.order(other).is_some_and(std::cmp::Ordering::is_gt);
    if more(judged.spread_percent, limits.steady_most.amount.base()) {
        judged.remarks.push(format!(
            "unsteady: the refills differ by {} % of their mean, over {}; time another run",
            short(judged.spread_percent.to_f64()),
            limits.steady_most.said
        ));
    }
    let Some(gallons) = judged.tank_gal else { return };
    if let (Some(flow), Some(supply)) = (
        judged.flow_of(judged.mean_s),
        limits.supply.amount.in_unit(Unit::GallonPerMinute),
    ) && more(supply, flow)
    {
        judged.remarks.push(format!(
            "slower than the supply is sized for: {} at {} ({})",
            limits.supply.said, limits.pressure.said, limits.supply.source
        ));
    }
    if limits
        .volume
        .amount
        .in_unit(Unit::Gallon)
        .is_some_and(|most| more(gallons, most))
    {
        judged.remarks.push(format!(
            "takes {} gal a flush; at most {} since 1994 ({})",
            short(gallons.to_f64()),
            limits.volume.said,
            limits.volume.source
        ));
    }
}
