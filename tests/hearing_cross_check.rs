//! The recogniser's front end held against `python_speech_features`, its warping against `dtw-python`, both of the Python package index in
//! the versions pinned here; they share no code with us.
//!
//! How they are had: `tests/support/libraries.rs`.

#![allow(clippy::cast_precision_loss, reason = "counts of frames and samples, far below what a float holds exactly")]

#[path = "support/libraries.rs"]
mod libraries;

use serde::{Deserialize, Serialize};
use trammel::hearing::{Cosines, FRAME, Feature, HOP, bands_of, warp};

const LIBRARIES: [(&str, &str); 4] =
    [("python_speech_features", "0.6"), ("dtw-python", "1.9.0"), ("numpy", "2.4.6"), ("scipy", "1.17.1")];
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/hearing_cross_check/evaluate.py");

#[derive(Serialize)]
struct Given {
    samples: Vec<f32>,
    a: Vec<Vec<f32>>,
    b: Vec<Vec<f32>>,
}

#[derive(Deserialize)]
struct Found {
    bands: Vec<Vec<f64>>,
    features: Vec<Vec<f64>>,
    warped: f64,
}

/// A sweep with noise on it, in whole frames: what is left over is padded there and dropped here.
fn samples() -> Vec<f32> {
    let mut random = fastrand::Rng::with_seed(4);
    let sweep = |at: usize| (at as f32 * at as f32 * 1e-4).sin() * 0.3;
    (0..FRAME + 60 * HOP).map(|at| sweep(at) + (random.f32() - 0.5) * 0.05).collect()
}

#[test]
fn bands_cepstra_slopes_and_warping_are_what_others_find() {
    let python = libraries::python("hearing-cross-check", &LIBRARIES);
    let samples = samples();
    let bands = bands_of(&samples);
    let features = Cosines::new().features(&bands);
    let (a, b) = (&features[..20], &features[25..]);
    let listed = |part: &[Feature]| part.iter().map(|feature| feature.to_vec()).collect();
    let found: Found = libraries::evaluate(&python, SCRIPT, &Given { samples, a: listed(a), b: listed(b) });
    assert_eq!((found.bands.len(), found.features.len()), (bands.len(), features.len()));
    // Single precision here, double there.
    for (ours, theirs) in bands.iter().flatten().zip(found.bands.iter().flatten()) {
        assert!((f64::from(*ours) - theirs).abs() < 0.02, "{ours} dB is not {theirs}");
    }
    for (ours, theirs) in features.iter().flatten().zip(found.features.iter().flatten()) {
        assert!((f64::from(*ours) - theirs).abs() < 0.05, "{ours} is not {theirs}");
    }
    // Sakoe and Chiba count the first pair twice, that library once.
    let first: f32 = a[0].iter().zip(&b[0]).map(|(x, y)| (x - y) * (x - y)).sum();
    let theirs = found.warped + f64::from(first.sqrt()) / (a.len() + b.len()) as f64;
    let warped = f64::from(warp(a, b));
    assert!((warped / theirs - 1.0).abs() < 1e-4, "{warped} is not {theirs}");
}
