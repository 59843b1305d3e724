//! Random networks of this trade's kind held against a general-purpose least-squares solver,
//! `scipy.optimize.least_squares` of the Python package index, in the version pinned here: unknowns, covariance,
//! redundancy, and the time that both take.
//!
//! The model over there is written again, for whole arrays, with derivatives by complex steps. How the library is had:
//! `tests/support/libraries.rs`.

#[path = "support/libraries.rs"]
mod libraries;
mod mating_network;

use std::io::Write as _;
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use trammel::alignment::{Adjusted, Displacement, Observed, PointRef, adjust};

use self::mating_network::{Case, case};

/// What is installed, exactly.
const LIBRARIES: [(&str, &str); 2] = [("numpy", "2.4.6"), ("scipy", "1.17.1")];
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/network_cross_check/solve.py");
const CASES: usize = 1000;
/// How far apart the two may be: unknowns relative to their standard uncertainty, covariances to the product of two.
const WITHIN: f64 = 1e-8;

#[derive(Serialize)]
struct Given {
    readings: Vec<Reading>,
    /// Rows of the rotation matrix that we found: unknown turns are relative to it.
    turn: [[f64; 3]; 3],
    level_known: bool,
}

#[derive(Serialize)]
struct Reading {
    kind: &'static str,
    /// Assembly, then the three coordinates in it.
    points: Vec<[f64; 4]>,
    along: Option<[f64; 3]>,
    value: f64,
    sigma: f64,
}

#[derive(Deserialize)]
struct Found {
    unknowns: Vec<f64>,
    covariance: Vec<Vec<f64>>,
    redundancy: Vec<f64>,
    seconds: f64,
}

fn given(adjusted: &Adjusted) -> Given {
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
fn time(case: &Case) -> Duration {
    let once = || {
        let begin = Instant::now();
        let adjusted = adjust(&case.network, &case.start).expect("solved");
        std::hint::black_box(adjusted.covariance());
        begin.elapsed()
    };
    (0..3).map(|_| once()).min().expect("three")
}

#[test]
fn a_general_purpose_solver_agrees() {
    let mut rng = fastrand::Rng::with_seed(20_251_125);
    let cases: Vec<Case> = (0..CASES).map(|place| case(&mut rng, 8 + place % 17)).collect();
    let adjusted: Vec<_> = cases.iter().map(|case| adjust(&case.network, &case.start).expect("solved")).collect();
    let python = libraries::python("least-squares-libraries", &LIBRARIES);
    let found: Vec<Found> = libraries::evaluate(&python, SCRIPT, &adjusted.iter().map(given).collect::<Vec<_>>());
    assert_eq!(found.len(), CASES);
    let (mut worst, mut worst_covariance, mut worst_redundancy) = (0.0_f64, 0.0_f64, 0.0_f64);
    for (adjusted, found) in adjusted.iter().zip(&found) {
        let covariance = adjusted.covariance();
        let sigma = covariance.diagonal().map(f64::sqrt);
        for (place, (ours, theirs)) in unknowns(adjusted).into_iter().zip(&found.unknowns).enumerate() {
            worst = worst.max((ours - theirs).abs() / sigma[place]);
            for (other, theirs) in found.covariance[place].iter().enumerate() {
                let off = (covariance[(place, other)] - theirs).abs() / (sigma[place] * sigma[other]);
                worst_covariance = worst_covariance.max(off);
            }
        }
        for (reading, theirs) in found.redundancy.iter().enumerate() {
            let ours = adjusted.checked(reading, trammel::alignment::Levels::USUAL).redundancy;
            worst_redundancy = worst_redundancy.max((ours - theirs).abs());
        }
    }
    let ours: f64 = cases.iter().map(|case| time(case).as_secs_f64()).sum();
    let theirs: f64 = found.iter().map(|found| found.seconds).sum();
    // Past the test runner's capture, so that a passing run shows it.
    let mut out = std::io::stdout();
    let mut line = |words: String| writeln!(out, "{words}").expect("standard output");
    line(format!(
        "{CASES} random networks, largest difference: unknowns {worst:.1e} sigma, covariance {worst_covariance:.1e}, redundancy {worst_redundancy:.1e}"
    ));
    let each = |seconds: f64| seconds / CASES as f64 * 1e6;
    line(format!("one solve: ours {:.1} µs, scipy {:.1} µs", each(ours), each(theirs)));
    line(format!("figure: solve_vs_scipy_ratio = {:.0}", theirs / ours));
    for (what, off) in [("unknowns", worst), ("covariance", worst_covariance), ("redundancy", worst_redundancy)] {
        assert!(off <= WITHIN, "{what}: {off:e}");
    }
}
