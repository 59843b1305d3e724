//! Weighted level nets.

use nalgebra::{DMatrix, DVector};
use trammel::alignment::{LeastSquares, Solved, solve};

use crate::Tally;

/// C. D. Ghilani and P. R. Wolf, *Adjustment Computations*, 4th edition, example 12.1 (second hand). The book prints
/// heights to 0.1 mm and vᵀWv = 1.26976 from rounded residuals; the further digits here are recomputed.
const GHILANI: &str = "Adjustment Computations 4e, example 12.1";
/// A full print-out of GNU Gama for a level net (read on vrmapper.com), digits beyond it recomputed.
const GAMA: &str = "GNU Gama, level net print-out";
/// E. M. Mikhail and F. Ackermann, *Observations and Least Squares* (1976), table 7-1 (data read in a public
/// repository); results recomputed.
const MIKHAIL: &str = "Observations and Least Squares, table 7-1, recomputed";

/// Height differences between points of which the first is fixed.
struct LevelNet<'a> {
    fixed: f64,
    unknowns: usize,
    /// From, to, difference, standard uncertainty.
    rows: &'a [(usize, usize, f64, f64)],
}

impl LeastSquares for LevelNet<'_> {
    type At = DVector<f64>;

    fn unknowns(&self) -> usize {
        self.unknowns
    }

    fn readings(&self) -> usize {
        self.rows.len()
    }

    fn evaluate(&self, at: &DVector<f64>, residuals: &mut DVector<f64>, design: &mut DMatrix<f64>) {
        let height = |point: usize| if point == 0 { self.fixed } else { at[point - 1] };
        for (row, &(from, to, difference, sigma)) in self.rows.iter().enumerate() {
            residuals[row] = (difference - (height(to) - height(from))) / sigma;
            for (point, sign) in [(from, -1.0), (to, 1.0)] {
                if point > 0 {
                    design[(row, point - 1)] += sign / sigma;
                }
            }
        }
    }

    fn step(&self, at: &DVector<f64>, by: &DVector<f64>) -> DVector<f64> {
        at + by
    }

    fn magnitude(&self) -> f64 {
        self.rows.iter().map(|row| (self.fixed / row.3).powi(2)).sum::<f64>().sqrt()
    }
}

impl LevelNet<'_> {
    fn solved(&self) -> Solved<DVector<f64>> {
        solve(self, &DVector::from_element(self.unknowns, self.fixed)).expect("a net")
    }

    /// Adjusted minus observed, in the unit of the heights.
    fn residual(&self, solved: &Solved<DVector<f64>>, row: usize) -> f64 {
        -solved.residuals[row] * self.rows[row].3
    }

    fn s0(&self, solved: &Solved<DVector<f64>>) -> f64 {
        (solved.cost / (self.rows.len() - self.unknowns) as f64).sqrt()
    }
}

fn deviations(solved: &Solved<DVector<f64>>) -> DVector<f64> {
    solved.factor.covariance().expect("full rank").diagonal().map(f64::sqrt)
}

pub(crate) fn checks(tally: &mut Tally) {
    ghilani(tally);
    gama(tally);
    mikhail(tally);
}

fn ghilani(tally: &mut Tally) {
    let rows = [
        (0, 1, 10.509, 0.006),
        (1, 2, 5.360, 0.004),
        (2, 3, -8.523, 0.005),
        (3, 0, -7.348, 0.003),
        (1, 3, -3.167, 0.004),
        (0, 2, 15.881, 0.012),
    ];
    let net = LevelNet { fixed: 437.596, unknowns: 3, rows: &rows };
    let solved = net.solved();
    for (place, published, exact) in
        [(0, 448.1087, 448.108_711_729), (1, 453.4685, 453.468_467_783), (2, 444.9436, 444.943_605_331)]
    {
        tally.near(GHILANI, "height", solved.at[place], published, 0.5e-4);
        tally.near(GHILANI, "height, recomputed", solved.at[place], exact, 0.5e-9);
    }
    tally.near(GHILANI, "sum of squares", solved.cost, 1.272_122_829, 0.5e-9);
    tally.near(GHILANI, "sum of squares, as printed from rounded residuals", solved.cost, 1.26976, 3e-3);
    tally.near(GHILANI, "s0, recomputed", net.s0(&solved), 0.651_184, 0.5e-6);
    let sigma = deviations(&solved);
    for (place, a_priori, a_posteriori) in [(0, 3.5249, 2.2953), (1, 4.0484, 2.6363), (2, 2.7038, 1.7607)] {
        tally.near(GHILANI, "sigma, mm", 1000.0 * sigma[place], a_priori, 0.5e-4);
        tally.near(GHILANI, "sigma a posteriori, mm", 1000.0 * sigma[place] * net.s0(&solved), a_posteriori, 0.5e-4);
    }
    let expected = [
        (3.7117, 0.654_869, 0.7644),
        (-0.2439, 0.329_448, -0.1063),
        (-1.8625, 0.509_175, -0.5220),
        (0.3947, 0.187_705, 0.3037),
        (1.8936, 0.432_621, 0.7197),
        (-8.5322, 0.886_182, -0.7553),
    ];
    for (row, (v, redundancy, w)) in expected.into_iter().enumerate() {
        let r = solved.factor.redundancy(row);
        tally.near(GHILANI, "residual, mm", 1000.0 * net.residual(&solved, row), v, 0.5e-4);
        tally.near(GHILANI, "redundancy", r, redundancy, 0.5e-6);
        tally.near(GHILANI, "standardised residual", -solved.residuals[row] / r.sqrt(), w, 0.5e-4);
    }
}

fn gama(tally: &mut Tally) {
    // 1a, 4, 3, 2.
    let pairs = [
        (0, 1, -1.225),
        (1, 2, -0.848),
        (2, 3, 1.342),
        (3, 0, 0.720),
        (0, 3, -0.724),
        (3, 2, -1.335),
        (2, 1, 0.842),
        (1, 0, 1.231),
    ];
    let rows = pairs.map(|(from, to, difference)| (from, to, difference, 0.005));
    let net = LevelNet { fixed: 1000.0, unknowns: 3, rows: &rows };
    let solved = net.solved();
    let sigma = deviations(&solved);
    for (place, height, deviation) in [(0, 998.77513, 3.0619), (1, 997.93325, 3.5355), (2, 999.27487, 3.0619)] {
        // 998.775125 and 999.274875 are printed to five decimals.
        tally.near(GAMA, "height", solved.at[place], height, 0.5e-5);
        tally.near(GAMA, "sigma, mm", 1000.0 * sigma[place], deviation, 0.5e-4);
    }
    tally.near(GAMA, "[pvv], mm²", solved.cost * 25.0, 146.625, 0.5e-3);
    tally.near(GAMA, "m0', mm", 5.0 * net.s0(&solved), 5.42, 0.5e-2);
    for row in 0..8 {
        tally.near(GAMA, "redundancy", solved.factor.redundancy(row), 0.625, 1e-12);
    }
    let w = |row: usize| -solved.residuals[row] / solved.factor.redundancy(row).sqrt();
    tally.near(GAMA, "largest normalised residual", w(5).abs(), 1.68, 0.5e-2);
    tally.near(GAMA, "the same, recomputed", w(5), -1.676_007, 0.5e-6);
    tally.same(GAMA, "which is that of the sixth", (0..8).max_by(|a, b| w(*a).abs().total_cmp(&w(*b).abs())), Some(5));
}

fn mikhail(tally: &mut Tally) {
    // A to E with their distances in km; variance 0.1 per km.
    let lines = [
        (0, 1, 25.42, 18.1),
        (1, 2, 10.34, 9.4),
        (2, 0, -35.20, 14.2),
        (1, 3, -15.54, 17.6),
        (3, 4, 21.32, 13.5),
        (4, 2, 4.82, 9.9),
        (4, 0, -31.02, 13.8),
        (2, 3, -26.11, 14.0),
    ];
    let rows = lines.map(|(from, to, difference, km)| (from, to, difference, f64::sqrt(0.1 * km)));
    let net = LevelNet { fixed: 800.0, unknowns: 4, rows: &rows };
    let solved = net.solved();
    let s0 = net.s0(&solved);
    tally.near(MIKHAIL, "variance factor", s0 * s0, 0.040_428_423, 0.5e-9);
    let expected = [(825.220_624, 0.1805), (835.535_430, 0.1615), (809.533_928, 0.2010), (830.846_029, 0.1711)];
    for (place, (height, sigma)) in expected.into_iter().enumerate() {
        tally.near(MIKHAIL, "height", solved.at[place], height, 0.5e-6);
        tally.near(MIKHAIL, "sigma a posteriori", s0 * deviations(&solved)[place], sigma, 0.5e-4);
    }
}
