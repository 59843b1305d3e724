//! The models, as each set's file writes them.

use std::f64::consts::PI;

use num_dual::{Dual64 as D, DualNum as _};

/// The response of a set's model for parameters b1, b2, … and predictors.
pub(crate) fn model(set: &str, b: &[D], predictors: &[f64]) -> D {
    let x = predictors[0];
    let bell = |height: D, middle: D, width: D| height * (-((-middle + x) / width).powi(2)).exp();
    let wave = |along: D, across: D, period: D| {
        let phase = period.recip() * (2.0 * PI * x);
        along * phase.cos() + across * phase.sin()
    };
    let polynomial = |b: &[D]| b.iter().rev().fold(D::from(0.0), |sum, b| sum * x + *b);
    let rational = |over: &[D], under: &[D]| polynomial(over) / (polynomial(under) * x + 1.0);
    match set {
        "Bennett5" => b[0] * (b[1] + x).powd(-b[2].recip()),
        "BoxBOD" | "Misra1a" => b[0] * (-(-b[1] * x).exp() + 1.0),
        "Chwirut1" | "Chwirut2" => (-b[0] * x).exp() / (b[1] + b[2] * x),
        "DanWood" => b[0] * (b[1] * x.ln()).exp(),
        "ENSO" => {
            let year = wave(b[1], b[2], D::from(12.0));
            b[0] + year + wave(b[4], b[5], b[3]) + wave(b[7], b[8], b[6])
        }
        "Eckerle4" => b[0] / b[1] * (((-b[2] + x) / b[1]).powi(2) * -0.5).exp(),
        "Gauss1" | "Gauss2" | "Gauss3" => b[0] * (-b[1] * x).exp() + bell(b[2], b[3], b[4]) + bell(b[5], b[6], b[7]),
        "Hahn1" | "Thurber" => rational(&b[..4], &b[4..]),
        "Kirby2" => rational(&b[..3], &b[3..]),
        "Lanczos1" | "Lanczos2" | "Lanczos3" => {
            b[0] * (-b[1] * x).exp() + b[2] * (-b[3] * x).exp() + b[4] * (-b[5] * x).exp()
        }
        "MGH09" => b[0] * (b[1] * x + x * x) / (b[2] * x + b[3] + x * x),
        "MGH10" => b[0] * (b[1] / (b[2] + x)).exp(),
        "MGH17" => b[0] + b[1] * (-b[3] * x).exp() + b[2] * (-b[4] * x).exp(),
        "Misra1b" => b[0] * (-(b[1] * (x / 2.0) + 1.0).powi(-2) + 1.0),
        "Misra1c" => b[0] * (-(b[1] * (2.0 * x) + 1.0).powf(-0.5) + 1.0),
        "Misra1d" => b[0] * b[1] * x / (b[1] * x + 1.0),
        "Nelson" => b[0] - b[1] * x * (-b[2] * predictors[1]).exp(),
        "Rat42" => b[0] / ((b[1] - b[2] * x).exp() + 1.0),
        "Rat43" => b[0] / ((b[1] - b[2] * x).exp() + 1.0).powd(b[3].recip()),
        "Roszman1" => b[0] - b[1] * x - (b[2] / (-b[3] + x)).atan() / PI,
        other => panic!("no model of {other}"),
    }
}
