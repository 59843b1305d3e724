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
        let factor = self.solved.factor.clone();
        View { network: self.network(), left: factor.unexplained(&self.solved.residuals), factor }
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
        view.swap(one, other).map(|(_, size)| levels.non_centrality() / size.sqrt())
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
            for (slip, error) in self.slips(reading, how) {
                let (along, size) = self.shows(reading, slip.twin(), error);
                all.push(Hypothesis { reading, slip: Some(slip), score: cost - 2.0 * along + size });
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

    /// How an error of a reading (metres or radians; of its twin the same, the other way) shows in what is left of the
    /// residuals, v. With e the errors in σ it leaves (I − QQᵀ)e there: the scalar product of that with v, and its square.
    fn shows(&self, reading: usize, twin: Option<usize>, error: f64) -> (f64, f64) {
        let own = error / self.observation(reading).sigma;
        let (mut along, mut size) = (own * self.left[reading], own * own * self.factor.redundancy(reading));
        if let Some(twin) = twin {
            let its = -error / self.observation(twin).sigma;
            along += its * self.left[twin];
            size += its * its * self.factor.redundancy(twin) - 2.0 * own * its * self.factor.shared(reading, twin);
        }
        (along, size.max(0.0))
    }

    /// How a swap of two readings that differ by one metre or radian shows; none where it does not.
    fn swap(&self, one: usize, other: usize) -> Option<(f64, f64)> {
        let whole: f64 = [one, other].map(|place| self.observation(place).sigma.powi(-2)).iter().sum();
        Some(self.shows(one, Some(other), 1.0)).filter(|(_, size)| *size > SHOWS * SHOWS * whole)
    }

    /// Standardised size of a swap in the residuals.
    fn w_of_swap(&self, one: usize, other: usize) -> Option<f64> {
        self.swap(one, other).map(|(along, size)| along / size.sqrt())
    }

    /// Every ordinary slip of a reading, with the error that it makes, metres or radians.
    fn slips(&self, reading: usize, how: &Taken) -> Vec<(Slip, f64)> {
        let Observation { what, value, .. } = self.observation(reading);
        let Some(per_si) = per_si(what, how.unit) else { return Vec::new() };
        let (starts, fractions): (&[f64], &[f64]) = match how.unit {
            Unit::Inch => (&[1.0, 10.0], &[0.0625, 0.125, 0.25, 0.5]),
            Unit::Millimetre => (&[100.0], &[1.0, 5.0, 10.0]),
            Unit::Degree => (&[], &[0.5, 1.0]),
            _ => (&[], &[]),
        };
        let both_ways = |sizes: &'static [f64]| sizes.iter().flat_map(|size| [*size, -*size]);
        let mut slips = Vec::new();
        if how.tape {
            slips.extend(both_ways(starts).map(|by| (Slip::TapeStart(by), by / per_si)));
        }
        // A slip of one graduation is noise, no slip.
        let fractions = both_ways(fractions).filter(|by| by.abs() > how.step);
        slips.extend(fractions.map(|by| (Slip::Fraction(by), by / per_si)));
        slips.extend(how.surfaces.iter().map(|(by, surface)| (Slip::WrongSurface(surface.clone()), by / per_si)));
        if *value < 0.0 || what.is_angle() {
            slips.push((Slip::Sign, 2.0 * value));
        }
        if let Some(twin) = how.twin {
            slips.push((Slip::Swapped(twin), value - self.observation(twin).value));
        }
        slips
    }
}

/// Every kind of slip is as likely as any other beforehand, and shares that among the ways in which it could have
/// happened here.
fn share_belief(all: &mut [Hypothesis]) {
    let kind = |slip: &Option<Slip>| match slip {
        None => 0,
        Some(Slip::TapeStart(_)) => 1,
        Some(Slip::Fraction(_)) => 2,
        Some(Slip::Swapped(_)) => 3,
        Some(Slip::Sign) => 4,
        Some(Slip::WrongSurface(_)) => 5,
    };
    let mut ways = [0.0_f64; 6];
    for hypothesis in all.iter() {
        ways[kind(&hypothesis.slip)] += 1.0;
    }
    let shares = ways.map(|ways| 2.0 * ways.ln());
    for hypothesis in all {
        hypothesis.score += shares[kind(&hypothesis.slip)];
    }
}

fn larger(a: f64, b: f64) -> f64 {
    if b.abs() > a.abs() { b } else { a }
}

/// Each pair once.
fn twins(taken: &[Taken]) -> impl Iterator<Item = (usize, usize)> {
    taken.iter().enumerate().filter_map(|(place, how)| Some((place, how.twin?))).filter(|(one, other)| one < other)
}
