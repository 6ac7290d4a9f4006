//! Times of many runs, and how they are printed.

use std::time::{Duration, Instant};

/// Runs `work` so often and answers with each time, sorted.
pub fn times(runs: usize, mut work: impl FnMut(usize)) -> Vec<Duration> {
    let mut all: Vec<Duration> = (0..runs)
        .map(|run| {
            let begun = Instant::now();
            work(run);
            begun.elapsed()
        })
        .collect();
    all.sort_unstable();
    all
}

/// The time that so many of a hundred runs did not exceed.
pub fn percentile(sorted: &[Duration], percent: usize) -> Duration {
    sorted[(sorted.len() * percent / 100).min(sorted.len() - 1)]
}

pub fn milliseconds(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

/// "p50 0.31 ms, p99 0.52 ms, n 400"
pub fn told(sorted: &[Duration]) -> String {
    let at = |percent| milliseconds(percentile(sorted, percent));
    format!("p50 {:.2} ms, p99 {:.2} ms, n {}", at(50), at(99), sorted.len())
}

/// How long it took, and the answer.
pub fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let begun = Instant::now();
    let answer = work();
    (answer, begun.elapsed())
}
