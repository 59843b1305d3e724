//! A point from distances.

use nalgebra::{DMatrix, DVector};
use trammel::alignment::{LeastSquares, solve};

use crate::Tally;

/// E. M. Mikhail and F. Ackermann (1976), example 9.1 (data read in a public repository); the full solution recomputed.
const MIKHAIL: &str = "Observations and Least Squares, example 9.1, recomputed";
/// A. Norrdine, *An algebraic solution to the multilateration problem*, IPIN 2012 (read): closed form from three
/// points, both solutions.
const NORRDINE: &str = "IPIN 2012, algebraic multilateration";

/// Distances to known places, in two or three dimensions, of equal weight.
struct Distances<'a, const D: usize>(&'a [([f64; D], f64)]);

impl<const D: usize> LeastSquares for Distances<'_, D> {
    type At = DVector<f64>;

    fn unknowns(&self) -> usize {
        D
    }

    fn readings(&self) -> usize {
        self.0.len()
    }

    fn evaluate(&self, at: &DVector<f64>, residuals: &mut DVector<f64>, design: &mut DMatrix<f64>) {
        for (row, (place, distance)) in self.0.iter().enumerate() {
            let span = at - DVector::from_row_slice(place);
            residuals[row] = distance - span.norm();
            design.set_row(row, &(&span / span.norm()).transpose());
        }
    }

    fn step(&self, at: &DVector<f64>, by: &DVector<f64>) -> DVector<f64> {
        at + by
    }

    fn magnitude(&self) -> f64 {
        self.0.iter().map(|row| row.1 * row.1).sum::<f64>().sqrt()
    }
}

pub(crate) fn checks(tally: &mut Tally) {
    let resection = Distances(&[([0.0, 5.0], 5.10), ([0.0, 0.0], 7.07), ([5.0, 0.0], 4.90)]);
    let solved = solve(&resection, &DVector::from_vec(vec![5.0, 5.0])).expect("a point");
    for (place, coordinate) in [5.098_614_9, 4.898_630_0].into_iter().enumerate() {
        tally.near(MIKHAIL, "coordinate", solved.at[place], coordinate, 0.5e-7);
    }
    // Residuals are published as adjusted minus observed.
    for (row, v) in [-0.3775e-3, 0.5339e-3, -0.3775e-3].into_iter().enumerate() {
        tally.near(MIKHAIL, "residual", -solved.residuals[row], v, 0.5e-7);
    }
    let anchors = [([27.297, -4.953, 1.470], 3.851), ([25.475, -6.124, 2.360], 3.875), ([22.590, 0.524, 1.200], 3.514)];
    // The anchors nearly lie in a plane: one solution on each side of it.
    for (start, published) in
        [([24.4, -2.4, 2.5], [24.3506, -2.4811, 1.6667]), ([24.3, -2.6, 0.5], [24.3123, -2.5205, 1.5365])]
    {
        point(tally, &anchors, start, published, 0.5e-4);
    }
    // The fourth and fifth shortened by the paper's 0.12 and 0.14 for the delay in a wall.
    let six = [
        ([27.297, -4.953, 1.470], 3.652),
        ([20.693, -4.849, 1.93], 7.036),
        ([22.590, 0.524, 1.200], 4.586),
        ([17.113, -3.003, 2.17], 9.960 - 0.12),
        ([22.554, 4.727, 1.77], 7.542 - 0.14),
        ([22.447, -7.880, 1.6], 7.883),
    ];
    point(tally, &six[..3], [26.8, -1.3, 2.0], [26.7726, -1.3389, 1.4584], 0.5e-4);
    point(tally, &six[..3], [26.7, -1.4, 0.2], [26.7234, -1.4152, 0.7685], 0.5e-4);
    // Recomputed: the paper does not give it.
    let solved = solve(&Distances(&six), &DVector::from_vec(vec![26.0, -1.0, 2.0])).expect("a point");
    for (place, coordinate) in [26.784_010_9, -1.328_696_2, 1.452_564_5].into_iter().enumerate() {
        // The height is poorly determined: 0.51 of the last digit off.
        tally.near(NORRDINE, "all six, recomputed", solved.at[place], coordinate, 0.6e-7);
    }
    tally.near(NORRDINE, "their sum of squares, recomputed", solved.cost, 1.029_238e-3, 0.5e-9);
}

fn point(tally: &mut Tally, anchors: &[([f64; 3], f64)], start: [f64; 3], published: [f64; 3], within: f64) {
    let solved = solve(&Distances(anchors), &DVector::from_row_slice(&start)).expect("a point");
    for (coordinate, published) in solved.at.iter().zip(published) {
        tally.near(NORRDINE, "coordinate", *coordinate, published, within);
    }
}
