//! Budgets and computed quantities held against two general-purpose uncertainty libraries, on random cases with a fixed
//! seed: `uncertainties` and `gtc` of the Python package index, in the versions pinned here. They share no code with
//! us: derivatives by automatic differentiation, degrees of freedom by `gtc`, t by `scipy`, which `gtc` brings along.
//!
//! How they are had: `tests/support/libraries.rs`.

#[path = "support/libraries.rs"]
mod libraries;

use std::io::Write as _;

use serde::{Deserialize, Serialize};
use trammel::alignment::Diagonals;
use trammel::metrology::{Budget, Component, Estimate, Reversal, Source, angle_over_base, coverage_factor, propagate};
use trammel::quantity::Unit;

/// What is installed, exactly.
const LIBRARIES: [(&str, &str); 2] = [("uncertainties", "3.2.3"), ("gtc", "1.5.1")];
const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/uncertainty_cross_check/evaluate.py");
const CASES: usize = 500;
/// How far apart two computations in double precision may be, relative.
const WITHIN: f64 = 1e-9;

#[derive(Serialize)]
struct Input {
    value: f64,
    u: f64,
    /// Missing: infinitely many.
    dof: Option<f64>,
}

#[derive(Serialize)]
struct Case {
    kind: &'static str,
    inputs: Vec<Input>,
    constants: Vec<f64>,
    /// What we find.
    #[serde(skip)]
    ours: Estimate,
}

/// What the libraries find: `uncertainties`, then `gtc`.
#[derive(Deserialize)]
struct Found {
    value: [f64; 2],
    u: [f64; 2],
    dof: Option<f64>,
    k95: f64,
}

struct Draw(fastrand::Rng);

impl Draw {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.0.f64() * (high - low)
    }

    /// A standard uncertainty over three decades, with infinite, whole or broken degrees of freedom.
    fn estimate(&mut self, value: f64) -> Estimate {
        let u = 10_f64.powf(self.between(-4.0, -1.0));
        let dof = match self.0.u8(0..3) {
            0 => f64::INFINITY,
            1 => f64::from(self.0.u8(1..60)),
            _ => self.between(1.0, 60.0),
        };
        Estimate { value, u, dof, unit: Unit::Inch }
    }

    fn case(&mut self, place: usize) -> Case {
        match place % 6 {
            0 => self.budget(),
            1 => self.difference_of_means(),
            2 => self.reversal(),
            3 => self.lateral_offset(),
            4 => self.angle_over_base(),
            _ => self.level_distance(),
        }
    }

    fn budget(&mut self) -> Case {
        let lines: Vec<(Estimate, f64)> = (0..self.0.usize(2..8))
            .map(|_| {
                let value = self.between(-10.0, 10.0);
                (self.estimate(value), self.between(-5.0, 5.0))
            })
            .collect();
        let component = |(line, sensitivity): &(Estimate, f64)| Component {
            source: Source::Other("a line".into()),
            u: line.u,
            dof: line.dof,
            sensitivity: *sensitivity,
        };
        let budget = Budget { components: lines.iter().map(component).collect() };
        let value = lines.iter().map(|(line, sensitivity)| line.value * sensitivity).sum();
        let (inputs, constants): (Vec<Estimate>, Vec<f64>) = lines.into_iter().unzip();
        case("budget", &inputs, constants, budget.estimate(value, Unit::Inch))
    }

    fn difference_of_means(&mut self) -> Case {
        let near = self.between(1.0, 300.0);
        let [a, b, c, d] = [0.0; 4].map(|_: f64| {
            let value = near + self.between(-1.0, 1.0);
            self.estimate(value)
        });
        case("difference_of_means", &[a, b, c, d], vec![], a.mean(b).minus(c.mean(d)))
    }

    fn reversal(&mut self) -> Case {
        let (slope, zero) = (self.between(-30.0, 30.0), self.between(-0.5, 0.5));
        let (direct, turned) = (self.estimate(slope + zero), self.estimate(zero - slope));
        case("reversal", &[direct, turned], vec![], Reversal::as_shown(direct, turned).slope)
    }

    fn lateral_offset(&mut self) -> Case {
        let (half_width, distance) = (self.between(10.0, 60.0), self.between(100.0, 300.0));
        let apart = self.between(-1.0, 1.0);
        let (left, right) = (self.estimate(distance + apart), self.estimate(distance - apart));
        let offset = Diagonals { left, right, half_width }.lateral_offset();
        case("lateral_offset", &[left, right], vec![half_width], offset)
    }

    fn angle_over_base(&mut self) -> Case {
        let (height, base) = (self.between(-60.0, 60.0), self.between(20.0, 130.0));
        let (height, base) = (self.estimate(height), self.estimate(base));
        case("angle_over_base", &[height, base], vec![], angle_over_base(height, base).estimate)
    }

    /// A tape along a slope, warmer than its standard temperature: √(L² − h²)·(1 + α·(T − T₀)).
    fn level_distance(&mut self) -> Case {
        let length = self.between(50.0, 300.0);
        let height = length * self.between(-0.5, 0.5);
        let (expansion, standard) = (self.between(5e-6, 25e-6), 20.0);
        let temperature = self.between(-10.0, 45.0);
        let inputs = [self.estimate(length), self.estimate(height), self.estimate(temperature)];
        let of = |[l, h, t]: [f64; 3]| (l * l - h * h).sqrt() * (1.0 + expansion * (t - standard));
        let gradient = |[l, h, t]: [f64; 3]| {
            let (level, warm) = ((l * l - h * h).sqrt(), 1.0 + expansion * (t - standard));
            [l / level * warm, -h / level * warm, level * expansion]
        };
        let ours = propagate(inputs, Unit::Inch, of, gradient).estimate;
        case("level_distance", &inputs, vec![expansion, standard], ours)
    }
}

fn case(kind: &'static str, inputs: &[Estimate], constants: Vec<f64>, ours: Estimate) -> Case {
    let input = |&Estimate { value, u, dof, .. }: &Estimate| Input { value, u, dof: dof.is_finite().then_some(dof) };
    Case { kind, inputs: inputs.iter().map(input).collect(), constants, ours }
}

#[test]
fn general_purpose_libraries_agree() {
    let mut draw = Draw(fastrand::Rng::with_seed(20_251_125));
    let cases: Vec<Case> = (0..CASES).map(|place| draw.case(place)).collect();
    let python = libraries::python("uncertainty-libraries", &LIBRARIES);
    let found: Vec<Found> = libraries::evaluate(&python, SCRIPT, &cases);
    assert_eq!(found.len(), CASES);
    let mut worst = 0.0_f64;
    for (case, found) in cases.iter().zip(&found) {
        let ours = case.ours;
        let dof = found.dof.unwrap_or(f64::INFINITY);
        let mut hold = |what: &str, got: f64, theirs: f64, scale: f64| {
            let off = if got == theirs { 0.0 } else { (got - theirs).abs() / scale };
            assert!(off <= WITHIN, "{}, {what}: ours {got}, theirs {theirs}", case.kind);
            worst = worst.max(off);
        };
        for (value, u) in found.value.into_iter().zip(found.u) {
            // A difference near zero is known relative to its uncertainty.
            hold("value", ours.value, value, value.abs().max(u));
            hold("u", ours.u, u, u);
        }
        hold("degrees of freedom", ours.dof, dof, dof);
        hold("k at 95 %", coverage_factor(0.95, ours.dof), found.k95, found.k95);
    }
    // Past the test runner's capture, so that a passing run shows it.
    let mut out = std::io::stdout();
    writeln!(out, "{CASES} random cases agree with {LIBRARIES:?}").expect("standard output");
    writeln!(out, "figure: uncertainty_cross_check_max_rel = {worst:e}").expect("standard output");
}
