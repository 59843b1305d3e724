//! Our side of the comparison: what the other is given, what it gives back, our time.

use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use trammel::alignment::{Adjusted, Displacement, Observed, PointRef, adjust};

use crate::mating_network::Case;

/// A network.
#[derive(Serialize)]
pub(crate) struct Given {
    pub(crate) readings: Vec<Reading>,
    /// Rows of the rotation matrix that we found: unknown turns are relative to it.
    pub(crate) turn: [[f64; 3]; 3],
    pub(crate) level_known: bool,
}

/// A reading.
#[derive(Serialize)]
pub(crate) struct Reading {
    pub(crate) kind: &'static str,
    /// Assembly, then the three coordinates in it.
    pub(crate) points: Vec<[f64; 4]>,
    pub(crate) along: Option<[f64; 3]>,
    pub(crate) value: f64,
    pub(crate) sigma: f64,
}

/// What the other found. Redundancy only where it was asked for.
#[derive(Deserialize)]
pub(crate) struct Found {
    pub(crate) unknowns: Vec<f64>,
    pub(crate) covariance: Vec<Vec<f64>>,
    #[serde(default)]
    pub(crate) redundancy: Vec<f64>,
    pub(crate) seconds: f64,
}

/// A network as the other reads it.
pub(crate) fn given(adjusted: &Adjusted) -> Given {
    let network = adjusted.network();
    let point = |at: PointRef| {
        let place = network.scene().point(at).at;
        [at.assembly as f64, place.x, place.y, place.z]
    };
    let readings = network.observations().iter().map(|observation| {
        let (kind, along) = match &observation.what {
            Observed::Distance { .. } => ("distance", None),
            Observed::Slope(_) => ("slope", None),
            Observed::RelativeAngle { .. } => ("relative", None),
            Observed::Roll { .. } => ("roll", None),
            Observed::Height { .. } => ("height", None),
            Observed::HeightDifference { .. } => ("rise", None),
            Observed::StringOffset { .. } => ("string", None),
            Observed::Gap { along, .. } => ("gap", Some(*along)),
            Observed::DistanceDifference { .. } => ("difference", None),
            Observed::PlumbOffset { along, .. } => ("plumb", Some(*along)),
        };
        let points = observation.what.points().into_iter().map(point).collect();
        let along = along.map(Displacement::to_array);
        Reading { kind, points, along, value: observation.value, sigma: observation.sigma }
    });
    let pose = adjusted.placement().poses[1];
    let columns = [Displacement::x(), Displacement::y(), Displacement::z()].map(|axis| pose.direction(&axis));
    let turn = [0, 1, 2].map(|row| columns.map(|column| column[row]));
    let unknowns = network.layout().len();
    let planes = adjusted.placement().planes.len();
    Given { readings: readings.collect(), turn, level_known: unknowns == 6 + planes }
}

/// Our unknowns in the order of the layout, turns relative to the pose that we found.
fn unknowns(adjusted: &Adjusted) -> Vec<f64> {
    let placement = adjusted.placement();
    let mut all = vec![0.0; 3];
    all.extend(placement.poses[1].origin().coords().to_array());
    if adjusted.network().layout().len() > 6 + placement.planes.len() {
        all.extend([placement.level.slope.radians(), placement.level.roll.radians()]);
    }
    all.extend(&placement.planes);
    all
}

/// The time of one solve, start to covariance: the best of a few, as the other side's is without a cold start.
pub(crate) fn time(case: &Case) -> Duration {
    let once = || {
        let begin = Instant::now();
        let adjusted = adjust(&case.network, &case.start).expect("solved");
        std::hint::black_box(adjusted.covariance());
        begin.elapsed()
    };
    (0..3).map(|_| once()).min().expect("three")
}

/// How far apart the two ever were: unknowns by their standard uncertainty, covariances by the product of two.
#[derive(Default)]
pub(crate) struct Off {
    pub(crate) unknowns: f64,
    pub(crate) covariance: f64,
}

impl Off {
    /// Looks at one network.
    pub(crate) fn see(&mut self, adjusted: &Adjusted, found: &Found) {
        let covariance = adjusted.covariance();
        let sigma = covariance.diagonal().map(f64::sqrt);
        let ours = unknowns(adjusted);
        assert_eq!(ours.len(), found.unknowns.len(), "the same unknowns");
        for (place, (ours, theirs)) in ours.into_iter().zip(&found.unknowns).enumerate() {
            self.unknowns = self.unknowns.max((ours - theirs).abs() / sigma[place]);
            for (other, theirs) in found.covariance[place].iter().enumerate() {
                let off = (covariance[(place, other)] - theirs).abs() / (sigma[place] * sigma[other]);
                self.covariance = self.covariance.max(off);
            }
        }
    }
}
