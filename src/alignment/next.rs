//! Which measurement next: the one that most reduces the uncertainty of what cannot be told yet.

use nalgebra::DVector;

use super::adjust::per_si;
use super::{Adjusted, Observed};
use crate::language::tr;
use crate::metrology::rough;
use crate::quantity::Unit;

/// Something that could be measured, and how well; metres or radians.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// What.
    pub what: Observed,
    /// The standard uncertainty that it would have.
    pub sigma: f64,
}

/// The measurement that helps most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Next {
    /// Its place among the candidates.
    pub candidate: usize,
    /// Standard uncertainty of what is undecided, now; metres or radians.
    pub before: f64,
    /// And with that measurement.
    pub after: f64,
}

impl Next {
    /// Said to the person who will measure; uncertainties as U = 2u in the unit of the check.
    #[must_use]
    pub fn words(&self, adjusted: &Adjusted, undecided: &Observed, candidates: &[Candidate], unit: Unit) -> String {
        let scene = adjusted.network().scene();
        let wide = |u: f64| rough(2.0 * u * per_si(undecided, unit).unwrap_or(1.0), unit);
        let what = candidates[self.candidate].what.words(scene);
        let (check, before, after) = (undecided.words(scene), wide(self.before), wide(self.after));
        tr!(
            "Measure {reading} next: {check} is then known to ±{after} instead of ±{before}.",
            reading = what,
            check,
            after,
            before
        )
    }
}

impl Adjusted<'_> {
    /// The candidate after which the standard uncertainty of `undecided` is smallest; none where none helps, or
    /// `undecided` cannot be computed. One more reading with derivative a and uncertainty σ takes (gᵀCa)² / (σ² + aᵀCa)
    /// off the variance gᵀCg (rank-one update of the covariance, M. S. Bartlett 1951, from memory). It does not need
    /// the value that it will read.
    #[must_use]
    pub fn next(&self, undecided: &Observed, candidates: &[Candidate]) -> Option<Next> {
        let (_, g) = self.gradient(undecided)?;
        let before = self.uncertainty(&g);
        let carried: DVector<f64> = self.covariance() * &g;
        let after = |candidate: &Candidate| {
            let (_, a) = self.gradient(&candidate.what)?;
            let shared = a.dot(&carried);
            let own = self.uncertainty(&a);
            let taken_off = shared * shared / (candidate.sigma * candidate.sigma + own * own);
            Some((before * before - taken_off).max(0.0).sqrt())
        };
        let all = candidates.iter().enumerate().filter_map(|(candidate, what)| Some((candidate, after(what)?)));
        let (candidate, after) = all.min_by(|a, b| a.1.total_cmp(&b.1))?;
        (after < before).then_some(Next { candidate, before, after })
    }
}
