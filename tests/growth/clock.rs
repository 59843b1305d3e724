//! Least times, and how they grow.

use std::hint::black_box;
use std::time::{Duration, Instant};

use cpu_time::ThreadTime;

/// Most runs of one work.
const RUNS: u32 = 20;
/// Fewest: the first fills the processor's caches, others may be disturbed.
const FEWEST: u32 = 3;
/// No further run begins after so long.
const PATIENCE: Duration = Duration::from_millis(800);

/// The least time of several runs that the processor worked on it, in seconds: what is beside the work only ever adds. What the work gives is dropped outside the time.
pub(crate) fn least<T>(mut work: impl FnMut() -> T) -> f64 {
    let begun = Instant::now();
    let mut least = f64::INFINITY;
    for run in 1..=RUNS {
        let start = ThreadTime::now();
        let given = black_box(work());
        least = least.min(start.elapsed().as_secs_f64());
        drop(given);
        if run >= FEWEST && begun.elapsed() > PATIENCE {
            break;
        }
    }
    least
}

/// The exponent with which costs grow with sizes: the slope of the line of least squares through their logarithms.
pub(crate) fn exponent(points: &[(f64, f64)]) -> f64 {
    let logs: Vec<(f64, f64)> = points.iter().map(|(size, cost)| (size.ln(), cost.ln())).collect();
    let count = logs.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| logs.iter().map(of).sum::<f64>() / count;
    let (x, y) = (mean(|log| log.0), mean(|log| log.1));
    let across: f64 = logs.iter().map(|log| (log.0 - x) * (log.1 - y)).sum();
    across / logs.iter().map(|log| (log.0 - x).powi(2)).sum::<f64>()
}
