//! The solver on the nonlinear regression sets of the NIST Statistical Reference Datasets: certified parameters and
//! standard deviations from both certified starts. Source: the sets themselves (`tests/strd/NOTICE`).
//!
//! Derivatives are those of the model by dual numbers (the crate `num-dual`): exact to rounding, no differences. The
//! residuals of Lanczos1 are 4·10⁻¹⁴ of its responses, which leaves three digits of them in double precision; there the
//! model and the published decimals are evaluated with thirty digits (the crate `dashu-float`), the solver itself stays
//! in double precision.

#[path = "strd/models.rs"]
mod models;
#[path = "strd/sets.rs"]
mod sets;

use std::io::Write as _;

use dashu_float::{DBig, FBig};
use nalgebra::{DMatrix, DVector};
use num_dual::Dual64;
use trammel::alignment::{LeastSquares, NotSolved, Solved, solve};

use self::models::model;
use self::sets::{Set, sets};

/// As many digits as the certificates have.
const CERTIFIED_DIGITS: f64 = 11.0;

/// Unit weights: the residuals are plain ones.
struct Regression<'a>(&'a Set);

impl LeastSquares for Regression<'_> {
    type At = DVector<f64>;

    fn unknowns(&self) -> usize {
        self.0.certified.len()
    }

    fn readings(&self) -> usize {
        self.0.rows.len()
    }

    fn evaluate(&self, at: &DVector<f64>, residuals: &mut DVector<f64>, design: &mut DMatrix<f64>) {
        for (row, (y, x)) in self.0.rows.iter().enumerate() {
            for unknown in 0..at.len() {
                let b: Vec<Dual64> = at
                    .iter()
                    .enumerate()
                    .map(|(place, b)| Dual64::new(*b, f64::from(u8::from(place == unknown))))
                    .collect();
                let computed = model(&self.0.name, &b, x);
                residuals[row] = y - computed.re;
                design[(row, unknown)] = computed.eps;
            }
            if self.0.name == "Lanczos1" && residuals[row].abs() < 1e-6 {
                residuals[row] = exact_residual(self.0.text[row], at);
            }
        }
    }

    fn step(&self, at: &DVector<f64>, by: &DVector<f64>) -> DVector<f64> {
        at + by
    }

    fn magnitude(&self) -> f64 {
        self.0.rows.iter().map(|(y, _)| y * y).sum::<f64>().sqrt()
    }
}

/// The residual of a sum of three exponentials with thirty digits; `text` is the published row, response and predictor.
fn exact_residual(text: &str, b: &DVector<f64>) -> f64 {
    const DIGITS: usize = 30;
    let mut published =
        text.split_whitespace().map(|word| word.parse::<DBig>().expect("a decimal").with_precision(DIGITS).value());
    let (y, x) = (published.next().expect("y"), published.next().expect("x"));
    let exact = |b: f64| {
        let binary: FBig = FBig::try_from(b).expect("finite");
        binary.with_rounding().with_base_and_precision::<10>(DIGITS).value()
    };
    let term = |pair: usize| -> DBig { exact(b[2 * pair]) * (-exact(b[2 * pair + 1]) * &x).exp() };
    (y - term(0) - term(1) - term(2)).to_f64().value()
}

/// Digits in which all agree.
fn digits(got: impl Iterator<Item = f64>, certified: impl Iterator<Item = f64>) -> f64 {
    let agree = |(got, certified): (f64, f64)| -((got - certified).abs() / certified.abs()).log10();
    got.zip(certified).map(agree).fold(CERTIFIED_DIGITS, f64::min)
}

/// Digits of the parameters and of their standard deviations.
fn compare(set: &Set, solved: &Solved<DVector<f64>>) -> (f64, f64) {
    let covariance = solved.factor.covariance().expect("full rank");
    let variance = solved.cost / (set.rows.len() - set.certified.len()) as f64;
    let deviations = covariance.diagonal().map(|cofactor| (variance * cofactor).sqrt());
    let parameters = digits(solved.at.iter().copied(), set.certified.iter().map(|(b, _)| *b));
    (parameters, digits(deviations.iter().copied(), set.certified.iter().map(|(_, s)| *s)))
}

#[test]
fn certified_values_from_both_certified_starts() {
    // Past the test runner's capture, so that a passing run shows it.
    let mut out = std::io::stdout();
    let mut line = |words: String| writeln!(out, "{words}").expect("standard output");
    line(
        "digits of parameters, digits of their standard deviations, steps tried; from start 1 and from start 2"
            .to_owned(),
    );
    let (mut least, mut count) = (CERTIFIED_DIGITS, 0);
    for set in sets() {
        let [one, two] = set.starts.each_ref().map(|start| match solve(&Regression(&set), start) {
            Ok(solved) => {
                let (parameters, deviations) = compare(&set, &solved);
                least = least.min(parameters).min(deviations);
                format!("{parameters:6.2} {deviations:6.2} {:4}", solved.tries)
            }
            Err(NotSolved::Free(_)) => panic!("{}: a free direction", set.name),
            Err(NotSolved::NotConverged) => panic!("{}: not converged", set.name),
            Err(NotSolved::NotANumber) => panic!("{}: not a number", set.name),
        });
        line(format!("{:9} | {one} | {two}", set.name));
        count += 1;
    }
    assert!(least >= 6.0, "{least}");
    line(format!("figure: strd_datasets = {count}"));
    line(format!("figure: strd_min_digits = {:.1}", (10.0 * least).floor() / 10.0));
}

/// From many starts of BoxBOD the response is flat in the rate already, or becomes so: nothing but the certified
/// minimum may pass for converged.
#[test]
fn a_walk_into_a_plain_does_not_pass_for_converged() {
    let set = sets().find(|set| set.name == "BoxBOD").expect("shipped");
    let (mut solved, mut refused) = (0, 0);
    for b1 in [-100.0, 1.0, 10.0, 100.0, 1000.0] {
        for b2 in [-2.0, -0.5, 0.1, 1.0, 3.0, 20.0, 400.0] {
            match solve(&Regression(&set), &DVector::from_vec(vec![b1, b2])) {
                Ok(found) => {
                    assert!(compare(&set, &found).0 > 6.0, "from {b1}, {b2}: {}", found.at);
                    solved += 1;
                }
                Err(_) => refused += 1,
            }
        }
    }
    assert!(solved > 0 && refused > 0, "{solved} found, {refused} refused");
}
