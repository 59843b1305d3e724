//! Nonlinear least squares: Gauss–Newton steps, damped after Levenberg and Marquardt where a plain step is longer than
//! what the straight-line model can be trusted for.
//!
//! The trusted size and its weights follow J. J. Moré, *The Levenberg–Marquardt algorithm* (1978), from memory.
//! Convergence is judged by the part of the residuals that a further step could still explain, against the part that it
//! cannot (D. M. Bates and D. G. Watts, 1981, from memory): it does not depend on units, and a walk into a plain where
//! the sum of squares no longer changes does not pass for it.

use nalgebra::{DMatrix, DVector};

use super::factor::Factor;

/// A weighted least-squares problem.
pub trait LeastSquares {
    /// Values of the unknowns.
    type At: Clone;

    /// How many unknowns.
    fn unknowns(&self) -> usize;

    /// How many readings.
    fn readings(&self) -> usize;

    /// Writes (observed − computed)/σ of each reading, and into `design` the derivative of computed/σ by each unknown.
    fn evaluate(&self, at: &Self::At, residuals: &mut DVector<f64>, design: &mut DMatrix<f64>);

    /// The unknowns one step further.
    fn step(&self, at: &Self::At, by: &DVector<f64>) -> Self::At;

    /// Root of the sum of (observed/σ)²: what the rounding of residuals is measured by.
    fn magnitude(&self) -> f64;

    /// Steps tried in one attempt before giving up.
    fn most_tries(&self) -> usize {
        3000
    }
}

/// What a solution is, with the factorisation at it.
#[derive(Clone, Debug)]
pub struct Solved<A> {
    /// The unknowns.
    pub at: A,
    /// (observed − computed)/σ.
    pub residuals: DVector<f64>,
    /// The design matrix (derivatives of computed/σ).
    pub design: DMatrix<f64>,
    /// Its factorisation.
    pub factor: Factor,
    /// Sum of the squared residuals.
    pub cost: f64,
    /// How many steps were tried.
    pub tries: usize,
}

/// Why there is no solution.
#[derive(Clone, Debug)]
pub enum NotSolved<A> {
    /// The start gives no finite residuals or derivatives.
    NotANumber,
    /// No minimum was reached within the steps allowed.
    NotConverged,
    /// A minimum, but not one point: some change of the unknowns is seen by no reading.
    Free(Box<Solved<A>>),
}

/// The explained part of the residuals, relative to the rest, at which the work is done: a 10⁻¹⁰th of a standard
/// deviation.
const DONE: f64 = 1e-10;
/// What is still taken for done when rounding lets nothing more be gained.
const NEARLY_DONE: f64 = 1e-7;
/// Size of the first step that is trusted, as a share of the plain Gauss–Newton step; one attempt for each.
const FIRST_TRUST: [f64; 4] = [1.0, 0.1, 0.01, 0.001];

/// Solves from a start. Where an attempt does not end in a definite minimum, it is repeated from the same start with a
/// first step a tenth as long, down to a thousandth; the first that ends in one counts.
///
/// # Errors
/// Never hands out as solved what has not converged. The error is that of the first attempt.
pub fn solve<P: LeastSquares>(problem: &P, start: &P::At) -> Result<Solved<P::At>, NotSolved<P::At>> {
    let mut first = None;
    for trust in FIRST_TRUST {
        match attempt(problem, start, trust) {
            Err(error) => {
                first.get_or_insert(error);
            }
            solved => return solved,
        }
    }
    Err(first.unwrap_or(NotSolved::NotConverged))
}

/// A place with everything that is known there.
struct Stage<A> {
    at: A,
    residuals: DVector<f64>,
    design: DMatrix<f64>,
    cost: f64,
}

impl<A: Clone> Stage<A> {
    fn new<P: LeastSquares<At = A>>(problem: &P, at: A) -> Self {
        let mut residuals = DVector::zeros(problem.readings());
        let mut design = DMatrix::zeros(problem.readings(), problem.unknowns());
        problem.evaluate(&at, &mut residuals, &mut design);
        let cost = residuals.norm_squared();
        Self { at, residuals, design, cost }
    }

    fn is_finite(&self) -> bool {
        self.cost.is_finite() && self.design.iter().all(|cell| cell.is_finite())
    }
}

fn attempt<P: LeastSquares>(problem: &P, start: &P::At, trust: f64) -> Result<Solved<P::At>, NotSolved<P::At>> {
    let floor = 16.0 * f64::EPSILON * problem.magnitude();
    let mut now = Stage::new(problem, start.clone());
    if !now.is_finite() {
        return Err(NotSolved::NotANumber);
    }
    let mut factor = Factor::new(&now.design);
    let mut weight = DVector::zeros(problem.unknowns());
    let (mut radius, mut tries) = (None, 0);
    while tries < problem.most_tries() {
        let explained = factor.explained(&now.residuals);
        let (gain, rest) = (explained.norm(), factor.unexplained(&now.residuals).norm());
        if gain <= f64::max(DONE * rest, floor) {
            return settle(now, factor, tries);
        }
        // Near the end the sum of squares no longer shows a gain, but its gradient does.
        if gain < f64::max(1e-5 * rest, 100.0 * floor) {
            let next = Stage::new(problem, problem.step(&now.at, &factor.step(&explained)));
            tries += 1;
            let better = next.is_finite().then(|| Factor::new(&next.design));
            match better.filter(|new| new.explained(&next.residuals).norm() < 0.9 * gain) {
                Some(new) => (now, factor) = (next, new),
                None if gain < f64::max(NEARLY_DONE * rest, 100.0 * floor) => return settle(now, factor, tries),
                None => return Err(NotSolved::NotConverged),
            }
            continue;
        }
        weight.zip_apply(factor.scale(), |old: &mut f64, new| *old = old.max(new));
        let size = |step: &DVector<f64>| step.component_mul(&weight).norm();
        let trusted = radius.get_or_insert_with(|| trust * size(&factor.step(&explained)));
        loop {
            let (by, promised) = step_within(&factor, &explained, &weight, *trusted);
            let next = Stage::new(problem, problem.step(&now.at, &by));
            tries += 1;
            let kept = if next.is_finite() { (now.cost - next.cost) / promised } else { f64::NEG_INFINITY };
            if kept < 0.25 {
                *trusted = size(&by) * if kept > -10.0 { 0.5 } else { 0.1 };
            } else if kept > 0.75 {
                *trusted = trusted.max(2.0 * size(&by));
            }
            if kept > 1e-4 {
                factor = Factor::new(&next.design);
                now = next;
                break;
            }
            if *trusted < f64::MIN_POSITIVE || tries >= problem.most_tries() {
                return Err(NotSolved::NotConverged);
            }
        }
    }
    Err(NotSolved::NotConverged)
}

/// The Gauss–Newton step where its weighted size is within the radius, and else the damped step of that size to a
/// tenth; with the reduction of the sum of squares that the straight-line model promises.
fn step_within(factor: &Factor, explained: &DVector<f64>, weight: &DVector<f64>, radius: f64) -> (DVector<f64>, f64) {
    let plain = factor.step(explained);
    if plain.component_mul(weight).norm() <= 1.1 * radius {
        return (plain, explained.norm_squared());
    }
    // Powers of ten of the damping: with the weights at least as large as the columns, these hold every step that
    // differs.
    let (mut low, mut high) = (-40.0_f64, 40.0_f64);
    loop {
        let middle = low.midpoint(high);
        let (by, promised) = factor.damped_step(explained, 10_f64.powf(middle), weight);
        let size = by.component_mul(weight).norm();
        if (size - radius).abs() < 0.1 * radius || high - low < 1e-3 {
            return (by, promised);
        }
        if size > radius {
            low = middle;
        } else {
            high = middle;
        }
    }
}

fn settle<A>(now: Stage<A>, factor: Factor, tries: usize) -> Result<Solved<A>, NotSolved<A>> {
    let free = factor.rank() < now.design.ncols();
    let Stage { at, residuals, design, cost } = now;
    let solved = Solved { at, residuals, design, factor, cost, tries };
    if free { Err(NotSolved::Free(Box::new(solved))) } else { Ok(solved) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The valley that H. H. Rosenbrock bent for methods like this one (The Computer Journal 3, 1960, 175–184; from memory): 10·(y − x²) and 1 − x, from
    /// (−1.2, 1). The sum of squares is nought at (1, 1) alone, and on the way there full steps make it larger and are taken back.
    struct Valley;

    impl LeastSquares for Valley {
        type At = [f64; 2];

        fn unknowns(&self) -> usize {
            2
        }

        fn readings(&self) -> usize {
            2
        }

        fn evaluate(&self, [x, y]: &[f64; 2], residuals: &mut DVector<f64>, design: &mut DMatrix<f64>) {
            residuals.copy_from_slice(&[10.0 * (y - x * x), 1.0 - x]);
            design.copy_from(&DMatrix::from_row_slice(2, 2, &[20.0 * x, -10.0, 1.0, 0.0]));
        }

        fn step(&self, [x, y]: &[f64; 2], by: &DVector<f64>) -> [f64; 2] {
            [x + by[0], y + by[1]]
        }

        fn magnitude(&self) -> f64 {
            1.0
        }
    }

    #[test]
    fn a_step_that_makes_it_worse_is_taken_back_and_a_shorter_one_tried() {
        for trust in FIRST_TRUST {
            let solved = attempt(&Valley, &[-1.2, 1.0], trust).expect("solved");
            assert!(solved.cost < 1e-20 && (solved.at[0] - 1.0).abs() < 1e-9, "{trust}: {:?}", solved.at);
        }
    }
}
