//! Which reading is wrong, and which ordinary slip explains it.

use std::f64::consts::TAU;

use nalgebra::{DMatrix, DVector};

use super::adjust::per_si;
use super::{
    Adjusted, Factor, LeastSquares as _, Levels, Network, Observation, Placement, Slip, Suspect, Taken, solve,
};
use crate::quantity::Unit;

/// The range over which an error that is no ordinary slip is looked for: half a metre or half a radian.
const ANY_SIZE: f64 = 0.5;
/// Score within which another explanation is worth a look: a twentieth as likely, 2·ln 20.
const WORTH_A_LOOK: f64 = 6.0;
/// How much less a suspected reading counts while the others say where everything sits.
const HARDLY: f64 = 1e4;
/// Share of an error that has to show in the residuals.
const SHOWS: f64 = 1e-3;

/// A way in which readings are wrong, and what it costs to believe in it.
struct Hypothesis {
    reading: usize,
    slip: Option<Slip>,
    /// −2·ln of its likelihood and of the belief in it beforehand, less what is common to all.
    score: f64,
}

impl Hypothesis {
    fn twin(&self) -> Option<usize> {
        self.slip.as_ref().and_then(Slip::twin)
    }
}

/// The readings around one placement: what of their residuals the unknowns cannot explain.
struct View<'a> {
    network: &'a Network,
    left: DVector<f64>,
    factor: Factor,
}

impl Adjusted<'_> {
    fn view(&self) -> View<'_> {
        View { network: self.network(), left: self.solved.residuals.clone(), factor: self.solved.factor.clone() }
    }

    /// The reading that the others contradict most, where one does at these levels, with the slip that explains it best.
    ///
    /// The alarm is Baarda's test of each reading, and of each pair of twins against each other (a swap moves both); at
    /// most [`Levels::set_false_alarm`] of both counts together raise it wrongly. Then every ordinary slip of every
    /// reading is tried, and an error of any size of each; each costs the sum of squares that it leaves and, an error
    /// of any size, the range that it was free to choose from (H. Jeffreys: 2·ln(range / (σ√2π))). Every kind of slip
    /// is as likely as any other beforehand. Since a wrong reading of a whole inch drags everything along, the trial is
    /// repeated where everything sits without the reading first named.
    ///
    /// # Panics
    /// Where `taken` does not describe each reading.
    #[must_use]
    pub fn suspect(&self, taken: &[Taken], levels: Levels) -> Option<Suspect> {
        assert_eq!(taken.len(), self.network().observations().len(), "one for each reading");
        let view = self.view();
        let single = self.largest_w().map_or(0.0, |(_, w)| w);
        let pair = twins(taken).filter_map(|(one, other)| view.w_of_swap(one, other)).fold(0.0, larger);
        let w = larger(single, pair);
        if w.abs() <= levels.critical() {
            return None;
        }
        let first = view.hypotheses(taken).into_iter().min_by(|a, b| a.score.total_cmp(&b.score))?;
        let view = self.without(&first).unwrap_or(view);
        let all = view.hypotheses(taken);
        let best = all.iter().min_by(|a, b| a.score.total_cmp(&b.score))?;
        let likely = |other: &usize| {
            *other != best.reading
                && Some(*other) != best.twin()
                && all.iter().any(|way| way.reading == *other && way.score < best.score + WORTH_A_LOOK)
        };
        let or = (0..taken.len()).filter(likely).collect();
        Some(Suspect { reading: best.reading, w, error: view.error(best), or, slip: best.slip.clone() })
    }

    /// The readings around where everything sits when a suspected one hardly counts.
    fn without(&self, suspected: &Hypothesis) -> Option<View<'_>> {
        let hardly = |place: usize| place == suspected.reading || Some(place) == suspected.twin();
        let without = self.network().weighing(|place| if hardly(place) { HARDLY } else { 1.0 });
        let there = solve(&without, self.placement()).ok()?.at;
        Some(View::at(self.network(), &there))
    }

    /// Smallest difference of two swapped readings that the test of the pair finds with the wanted power; metres or
    /// radians.
    #[must_use]
    pub fn detectable_swap(&self, one: usize, other: usize, levels: Levels) -> Option<f64> {
        let view = self.view();
        view.swap(one, other).map(|left| levels.non_centrality() / left.norm())
    }
}

impl<'a> View<'a> {
    fn at(network: &'a Network, placement: &Placement) -> Self {
        let mut residuals = DVector::zeros(network.readings());
        let mut design = DMatrix::zeros(network.readings(), network.unknowns());
        network.evaluate(placement, &mut residuals, &mut design);
        let factor = Factor::new(&design);
        Self { network, left: factor.unexplained(&residuals), factor }
    }

    fn observation(&self, place: usize) -> &'a Observation {
        &self.network.observations()[place]
    }

    fn hypotheses(&self, taken: &[Taken]) -> Vec<Hypothesis> {
        let cost = self.left.norm_squared();
        let mut all = Vec::new();
        for (reading, how) in taken.iter().enumerate() {
            let r = self.factor.redundancy(reading);
            if r < SHOWS * SHOWS {
                continue;
            }
            let (w, u) = (self.left[reading] / r.sqrt(), self.observation(reading).sigma / r.sqrt());
            let freedom = 2.0 * (ANY_SIZE / (u * TAU.sqrt())).ln();
            all.push(Hypothesis { reading, slip: None, score: cost - w * w + freedom });
            for (slip, errors) in self.slips(reading, how) {
                let score = (&self.left - self.factor.unexplained(&errors)).norm_squared();
                all.push(Hypothesis { reading, slip: Some(slip), score });
            }
        }
        share_belief(&mut all);
        all
    }

    /// By how much the named reading reads too much, and the standard uncertainty of that; metres or radians.
    fn error(&self, best: &Hypothesis) -> (f64, f64) {
        let (r, own) = (self.factor.redundancy(best.reading), self.observation(best.reading));
        let alone = self.left[best.reading] * own.sigma / r;
        let value = best.twin().map_or(alone, |twin| own.value - self.observation(twin).value);
        (value, own.sigma / r.sqrt())
    }

    /// What a swap of two readings that differ by one metre or radian leaves in the residuals: (I − QQᵀ)e with e =
    /// (1/σ, −1/σ).
    fn swap(&self, one: usize, other: usize) -> Option<DVector<f64>> {
        let e = self.swap_errors(one, other, 1.0);
        Some(self.factor.unexplained(&e)).filter(|left| left.norm() > SHOWS * e.norm())
    }

    /// Standardised size of a swap in the residuals.
    fn w_of_swap(&self, one: usize, other: usize) -> Option<f64> {
        self.swap(one, other).map(|left| self.left.dot(&left) / left.norm())
    }

    fn swap_errors(&self, one: usize, other: usize, by: f64) -> DVector<f64> {
        let mut errors = DVector::zeros(self.left.len());
        errors[one] = by / self.observation(one).sigma;
        errors[other] = -by / self.observation(other).sigma;
        errors
    }

    /// Every ordinary slip of a reading, with the errors (in σ) that it makes.
    fn slips(&self, reading: usize, how: &Taken) -> Vec<(Slip, DVector<f64>)> {
        let Observation { what, value, sigma } = self.observation(reading);
        let Some(per_si) = per_si(what, how.unit) else { return Vec::new() };
        let alone = |error: f64| {
            let mut errors = DVector::zeros(self.left.len());
            errors[reading] = error / sigma;
            errors
        };
        let (starts, fractions): (&[f64], &[f64]) = match how.unit {
            Unit::Inch => (&[1.0, 10.0], &[0.0625, 0.125, 0.25, 0.5]),
            Unit::Millimetre => (&[100.0], &[1.0, 5.0, 10.0]),
            Unit::Degree => (&[], &[0.5, 1.0]),
            _ => (&[], &[]),
        };
        let both_ways = |sizes: &'static [f64]| sizes.iter().flat_map(|size| [*size, -*size]);
        let mut slips = Vec::new();
        if how.tape {
            slips.extend(both_ways(starts).map(|by| (Slip::TapeStart(by), alone(by / per_si))));
        }
        // A slip of one graduation is noise, no slip.
        let fractions = both_ways(fractions).filter(|by| by.abs() > how.step);
        slips.extend(fractions.map(|by| (Slip::Fraction(by), alone(by / per_si))));
        slips
            .extend(how.surfaces.iter().map(|(by, surface)| (Slip::WrongSurface(surface.clone()), alone(by / per_si))));
        if *value < 0.0 || what.is_angle() {
            slips.push((Slip::Sign, alone(2.0 * value)));
        }
        if let Some(twin) = how.twin {
            slips.push((Slip::Swapped(twin), self.swap_errors(reading, twin, value - self.observation(twin).value)));
        }
        slips
    }
}

/// Every kind of slip is as likely as any other beforehand, and shares that among the ways in which it could have
/// happened here.
fn share_belief(all: &mut [Hypothesis]) {
    let kind = |slip: &Option<Slip>| slip.as_ref().map(std::mem::discriminant);
    let kinds: Vec<_> = all.iter().map(|hypothesis| kind(&hypothesis.slip)).collect();
    for (hypothesis, own) in all.iter_mut().zip(&kinds) {
        let ways = kinds.iter().filter(|other| *other == own).count();
        hypothesis.score += 2.0 * (ways as f64).ln();
    }
}

fn larger(a: f64, b: f64) -> f64 {
    if b.abs() > a.abs() { b } else { a }
}

/// Each pair once.
fn twins(taken: &[Taken]) -> impl Iterator<Item = (usize, usize)> {
    taken.iter().enumerate().filter_map(|(place, how)| Some((place, how.twin?))).filter(|(one, other)| one < other)
}
