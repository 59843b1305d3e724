//! A dozen readings adjusted together into where the assemblies sit, with the uncertainty.

use nalgebra::{DMatrix, DVector};

use super::free::{FreeMotion, free_motions, hardly_fixed};
use super::observation::Sight;
use super::{
    Displacement, Factor, Layout, LeastSquares, NotSolved, Observation, Observed, Placement, PointRef, Scene,
    SmallMotion, Solved, Unknown, solve,
};
use crate::metrology::Estimate;
use crate::quantity::{Unit, scale};

/// What is known about which way is up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gravity {
    /// The fixed assembly's level is that of the start; nothing is learned about it.
    AsPlaced,
    /// The fixed assembly's slope and roll to level are unknown, where a reading is read to level at all.
    Unknown,
}

/// Why readings make no network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NetworkError {
    /// No reading.
    NoReadings,
    /// The reading at this place has a value that is no number, or no standard uncertainty above zero.
    NotANumber(usize),
    /// The reading at this place names a point that the scene does not have.
    NoSuchPoint(usize),
}

/// Readings of one scene that are adjusted together; independent of one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    scene: Scene,
    observations: Vec<Observation>,
    layout: Layout,
    planes: usize,
}

impl Network {
    /// Readings of a scene. There are as many level planes as the readings name.
    ///
    /// # Errors
    /// When there is nothing to adjust, or a reading cannot be used.
    pub fn new(scene: Scene, observations: Vec<Observation>, gravity: Gravity) -> Result<Self, NetworkError> {
        if observations.is_empty() {
            return Err(NetworkError::NoReadings);
        }
        let exists = |at: &PointRef| scene.assemblies().get(at.assembly).is_some_and(|of| at.point < of.points.len());
        for (place, observation) in observations.iter().enumerate() {
            if !(observation.value.is_finite() && observation.sigma.is_finite() && observation.sigma > 0.0) {
                return Err(NetworkError::NotANumber(place));
            }
            if !observation.what.points().iter().all(exists) {
                return Err(NetworkError::NoSuchPoint(place));
            }
        }
        let plane = |observation: &Observation| match observation.what {
            Observed::Height { plane, .. } => plane + 1,
            _ => 0,
        };
        let planes = observations.iter().map(plane).max().unwrap_or(0);
        let level_unknown =
            gravity == Gravity::Unknown && observations.iter().any(|reading| reading.what.is_absolute());
        let layout = Layout::new(&scene, level_unknown, planes);
        Ok(Self { scene, observations, layout, planes })
    }

    /// The scene.
    #[must_use]
    pub fn scene(&self) -> &Scene {
        &self.scene
    }

    /// The readings, in the order given.
    #[must_use]
    pub fn observations(&self) -> &[Observation] {
        &self.observations
    }

    /// Which unknown stands where.
    #[must_use]
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Only the readings at these places, level and planes as they are; none where no reading is left.
    pub(super) fn only(&self, places: &[usize]) -> Option<Self> {
        let observations: Vec<_> = places.iter().map(|place| self.observations[*place].clone()).collect();
        (!observations.is_empty()).then(|| Self { observations, ..self.clone() })
    }

    /// The same readings, the standard uncertainty of each times a factor.
    pub(super) fn weighing(&self, factor: impl Fn(usize) -> f64) -> Self {
        let mut other = self.clone();
        for (place, observation) in other.observations.iter_mut().enumerate() {
            observation.sigma *= factor(place);
        }
        other
    }

    /// The start with each moving assembly turned by a third of a radian about its centre, each way about each axis.
    fn other_starts<'a>(&'a self, start: &'a Placement) -> impl Iterator<Item = Placement> + 'a {
        let moving = (0..self.scene.assemblies().len()).filter(|assembly| *assembly != self.scene.fixed());
        moving.flat_map(move |assembly| {
            let centre = start.poses[assembly].place(&self.scene.centre(assembly));
            (0..6).map(move |way| {
                let mut turn = Displacement::zeros();
                turn[way % 3] = if way < 3 { 1.0 } else { -1.0 } / 3.0;
                let mut other = start.clone();
                other.poses[assembly] = start.poses[assembly].turned_about(&centre, &turn);
                other
            })
        })
    }
}

impl LeastSquares for Network {
    type At = Placement;

    fn unknowns(&self) -> usize {
        self.layout.len()
    }

    fn readings(&self) -> usize {
        self.observations.len()
    }

    fn evaluate(&self, at: &Placement, residuals: &mut DVector<f64>, design: &mut DMatrix<f64>) {
        let mut row = vec![0.0; self.layout.len()];
        let sight = Sight::new(&self.scene, &self.layout, at);
        for (place, Observation { what, value, sigma }) in self.observations.iter().enumerate() {
            let computed = what.seen(&sight, &mut row);
            residuals[place] = (value - computed) / sigma;
            for (cell, slope) in design.row_mut(place).iter_mut().zip(&row) {
                *cell = slope / sigma;
            }
        }
    }

    fn step(&self, at: &Placement, by: &DVector<f64>) -> Placement {
        self.layout.step(at, by)
    }

    fn magnitude(&self) -> f64 {
        self.observations.iter().map(|reading| (reading.value / reading.sigma).powi(2)).sum::<f64>().sqrt()
    }

    /// Networks that converge do so in a dozen steps; there are other starts to try.
    fn most_tries(&self) -> usize {
        60
    }
}

/// Why there is no adjustment.
#[derive(Clone, Debug, PartialEq)]
pub enum AdjustError {
    /// The start has no answer: two points in one place, as many poses as assemblies missing.
    BadStart,
    /// No minimum was found from any start: the readings contradict each other, or the start is far off.
    NotConverged,
    /// Some motions are seen by no reading, or so badly that the noise of the readings moves them out of all reason.
    Free(Vec<FreeMotion>),
}

/// Root mean square of the weighted residuals above which no ordinary slip explains them and another start is tried.
const HOPELESS: f64 = 1000.0;

/// Standard uncertainty of a turn, radians, beyond which readings that do not converge hardly fix it.
const HARDLY: f64 = 0.02;

/// Adjusts the readings from a start: as drawn, or where the last adjustment left everything.
///
/// Robust start: where the attempt does not converge, or converges to a fit that no ordinary slip explains (a mirror
/// image), it is repeated with each moving assembly turned by a third of a radian each way about each axis, and the
/// best fit counts.
///
/// # Errors
/// When nothing converges, or something is free: never a guess.
pub fn adjust<'a>(network: &'a Network, start: &Placement) -> Result<Adjusted<'a>, AdjustError> {
    if start.poses.len() != network.scene.assemblies().len() {
        return Err(AdjustError::BadStart);
    }
    let mut start = start.clone();
    start.planes.resize(network.planes, 0.0);
    let mut best = solve(network, &start);
    let hopeless = |solved: &Solved<Placement>| solved.cost > HOPELESS * HOPELESS * network.readings() as f64;
    if best.as_ref().map_or_else(|error| !matches!(error, NotSolved::Free(_)), hopeless) {
        for other in network.other_starts(&start) {
            if let Ok(found) = solve(network, &other)
                && best.as_ref().map_or(true, |best| found.cost < best.cost)
            {
                best = Ok(found);
            }
        }
    }
    match best {
        Ok(solved) => {
            let covariance = solved.factor.covariance().ok_or(AdjustError::NotConverged)?;
            Ok(Adjusted { network, solved, covariance })
        }
        Err(NotSolved::NotANumber) => Err(AdjustError::BadStart),
        Err(NotSolved::NotConverged) => Err(unfixed(network, &start).unwrap_or(AdjustError::NotConverged)),
        Err(NotSolved::Free(solved)) => {
            Err(AdjustError::Free(free_motions(network, &solved.at, &solved.factor.free_directions())))
        }
    }
}

/// Why nothing converged, where the start already tells: what is free there, or the worst known turn, when it is so
/// badly known that a straight line is no picture of it any more.
fn unfixed(network: &Network, start: &Placement) -> Option<AdjustError> {
    let mut residuals = DVector::zeros(network.readings());
    let mut design = DMatrix::zeros(network.readings(), network.unknowns());
    network.evaluate(start, &mut residuals, &mut design);
    let factor = Factor::new(&design);
    let Some(covariance) = factor.covariance() else {
        return Some(AdjustError::Free(free_motions(network, start, &factor.free_directions())));
    };
    let moving = 0..network.scene.assemblies().len();
    let turns = moving.flat_map(|assembly| (0..3).map(move |axis| Unknown::Turn(assembly, axis)));
    let all = turns.chain([Unknown::LevelSlope, Unknown::LevelRoll]);
    let variance = |unknown: Unknown| network.layout.place(unknown).map(|place| covariance[(place, place)]);
    let (worst, variance) =
        all.filter_map(|unknown| Some((unknown, variance(unknown)?))).max_by(|a, b| a.1.total_cmp(&b.1))?;
    (variance > HARDLY * HARDLY).then(|| AdjustError::Free(vec![hardly_fixed(network, worst)]))
}

/// Where everything sits after an adjustment, and how well that is known.
#[derive(Clone, Debug)]
pub struct Adjusted<'a> {
    network: &'a Network,
    pub(super) solved: Solved<Placement>,
    covariance: DMatrix<f64>,
}

impl<'a> Adjusted<'a> {
    /// What was adjusted.
    #[must_use]
    pub fn network(&self) -> &'a Network {
        self.network
    }

    /// Where everything sits.
    #[must_use]
    pub fn placement(&self) -> &Placement {
        &self.solved.at
    }

    /// Covariance of the unknowns in the order of [`Network::layout`], from the readings' stated uncertainties (a
    /// priori); radians and metres.
    #[must_use]
    pub fn covariance(&self) -> &DMatrix<f64> {
        &self.covariance
    }

    /// Readings beyond what is needed.
    #[must_use]
    pub fn dof(&self) -> usize {
        self.network.readings() - self.network.unknowns()
    }

    /// Sum of the squared weighted residuals, vᵀPv.
    #[must_use]
    pub fn cost(&self) -> f64 {
        self.solved.cost
    }

    /// Steps that the solver tried.
    #[must_use]
    pub fn tries(&self) -> usize {
        self.solved.tries
    }

    /// Residual of a reading, observed minus adjusted; metres or radians.
    #[must_use]
    pub fn residual(&self, reading: usize) -> f64 {
        self.solved.residuals[reading] * self.network.observations[reading].sigma
    }

    /// What something would read where everything sits, with its standard uncertainty (a priori); metres or radians.
    /// None for a height over a plane that no reading names.
    #[must_use]
    pub fn predict(&self, what: &Observed) -> Option<(f64, f64)> {
        let (value, gradient) = self.gradient(what)?;
        Some((value, self.uncertainty(&gradient)))
    }

    /// The same in a unit; none where the unit is not one of it.
    #[must_use]
    pub fn estimate(&self, what: &Observed, unit: Unit) -> Option<Estimate> {
        let factor = per_si(what, unit)?;
        let (value, u) = self.predict(what)?;
        Some(Estimate::new(value * factor, u * factor, unit))
    }

    /// Value and derivative by the unknowns.
    pub(super) fn gradient(&self, what: &Observed) -> Option<(f64, DVector<f64>)> {
        if matches!(what, Observed::Height { plane, .. } if *plane >= self.network.planes) {
            return None;
        }
        let mut gradient = DVector::zeros(self.network.layout.len());
        let value = what.evaluate(&self.network.scene, &self.network.layout, &self.solved.at, gradient.as_mut_slice());
        value.is_finite().then_some((value, gradient))
    }

    /// Standard uncertainty of a function with this derivative.
    pub(super) fn uncertainty(&self, gradient: &DVector<f64>) -> f64 {
        gradient.dot(&(&self.covariance * gradient)).max(0.0).sqrt()
    }

    /// Standard uncertainties of a small motion of an assembly about where it sits: turn (radians) about its own
    /// origin, and shift (metres); along the fixed assembly's axes. Zero for the fixed one.
    #[must_use]
    pub fn motion_uncertainty(&self, assembly: usize) -> SmallMotion {
        let first = self.network.layout.assemblies.get(assembly).copied().flatten();
        let three =
            |offset: usize| {
                Displacement::from([0, 1, 2].map(|axis| {
                    first.map_or(0.0, |at| self.covariance[(at + offset + axis, at + offset + axis)].sqrt())
                }))
            };
        SmallMotion { turn: three(0), shift: three(3) }
    }
}

/// How many of `unit` one metre or one radian is; none where the unit is not one of what is observed.
pub(super) fn per_si(what: &Observed, unit: Unit) -> Option<f64> {
    if what.is_angle() { (unit == Unit::Degree).then(|| 1_f64.to_degrees()) } else { scale(Unit::Metre, unit) }
}
