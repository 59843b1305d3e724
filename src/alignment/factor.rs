//! One QR factorisation that serves the step, the covariance, the redundancy and the rank.

use nalgebra::linalg::ColPivQR;
use nalgebra::{DMatrix, DVector, RowDVector};

/// Below this share of the largest pivot a column says nothing that the others do not: the columns are scaled to length
/// one, so a pivot is about the sine of the angle between a column and the span of those before it. A thousand random
/// networks of this trade leave no singular value below 0.05; rounding leaves less than 10⁻¹⁴.
const RANK_THRESHOLD: f64 = 1e-9;

/// The factorisation A·S⁻¹·P = Q·R of a weighted design matrix with its columns scaled to length one and pivoted.
#[derive(Clone, Debug)]
pub struct Factor {
    /// Orthonormal columns, one row for each reading.
    q: DMatrix<f64>,
    /// Upper triangle.
    r: DMatrix<f64>,
    /// Which unknown stands in which column.
    order: Vec<usize>,
    /// Length of each unknown's column; one where it is zero.
    scale: DVector<f64>,
    rank: usize,
}

impl Factor {
    /// Factors a design matrix: one row for each reading, one column for each unknown.
    #[must_use]
    pub fn new(design: &DMatrix<f64>) -> Self {
        let (readings, unknowns) = design.shape();
        let length = |column: usize| Some(design.column(column).norm()).filter(|norm| *norm > 0.0).unwrap_or(1.0);
        let scale = DVector::from_fn(unknowns, |column, _| length(column));
        // Rows of zeros where there are fewer readings than unknowns: the rank says so.
        let mut scaled = design.clone().resize_vertically(readings.max(unknowns), 0.0);
        for (mut column, length) in scaled.column_iter_mut().zip(&scale) {
            column /= *length;
        }
        let factored = ColPivQR::new(scaled);
        let mut order = RowDVector::from_fn(unknowns, |_, column| column);
        factored.p().permute_columns(&mut order);
        let (q, r) = (factored.q(), factored.r());
        let largest = (0..unknowns).fold(0.0, |most, at| f64::max(most, r[(at, at)]));
        let rank = (0..unknowns).take_while(|&at| r[(at, at)] > RANK_THRESHOLD * largest).count();
        Self { q, r, order: order.iter().copied().collect(), scale, rank }
    }

    /// How many unknowns.
    fn unknowns(&self) -> usize {
        self.order.len()
    }

    /// How many independent things the readings fix.
    #[must_use]
    pub fn rank(&self) -> usize {
        self.rank
    }

    /// Length of each unknown's column.
    pub(super) fn scale(&self) -> &DVector<f64> {
        &self.scale
    }

    /// Qᵀ·b over the columns that count: the part of `b` that a step can explain.
    pub(super) fn explained(&self, b: &DVector<f64>) -> DVector<f64> {
        self.q.view((0, 0), (b.len(), self.rank)).tr_mul(b)
    }

    /// `b` without what the unknowns can explain: (I − QQᵀ)·b.
    #[must_use]
    pub fn unexplained(&self, b: &DVector<f64>) -> DVector<f64> {
        b - self.q.view((0, 0), (b.len(), self.rank)) * self.explained(b)
    }

    /// Unscaled and put back in order.
    fn unknown_order(&self, ordered: &[f64]) -> DVector<f64> {
        let mut x = DVector::zeros(self.unknowns());
        for (&unknown, value) in self.order.iter().zip(ordered) {
            x[unknown] = value / self.scale[unknown];
        }
        x
    }

    /// The Gauss–Newton step for `explained` = Qᵀ·b; what nothing fixes stays where it is.
    pub(super) fn step(&self, explained: &DVector<f64>) -> DVector<f64> {
        let mut y = explained.clone();
        self.r.view((0, 0), (self.rank, self.rank)).solve_upper_triangular_mut(&mut y);
        self.unknown_order(y.as_slice())
    }

    /// The step that is damped by √`lambda`·`weight` on each unknown (Levenberg, Marquardt), and the reduction of the
    /// sum of squares that the straight-line model promises of it. Solved by a second, small QR of R over the damping.
    pub(super) fn damped_step(
        &self,
        explained: &DVector<f64>,
        lambda: f64,
        weight: &DVector<f64>,
    ) -> (DVector<f64>, f64) {
        let n = self.unknowns();
        let mut system = self.r.clone().resize_vertically(2 * n, 0.0);
        for (place, &unknown) in self.order.iter().enumerate() {
            system[(n + place, place)] = lambda.sqrt() * weight[unknown] / self.scale[unknown];
        }
        let mut right = explained.clone().resize_vertically(2 * n, 0.0);
        let qr = system.qr();
        qr.q_tr_mul(&mut right);
        let mut y = right.rows(0, n).into_owned();
        qr.r().solve_upper_triangular_mut(&mut y);
        let left = explained.clone().resize_vertically(n, 0.0) - &self.r * &y;
        (self.unknown_order(y.as_slice()), explained.norm_squared() - left.norm_squared())
    }

    /// Covariance of the unknowns for readings of unit weight: S⁻¹·P·R⁻¹·R⁻ᵀ·Pᵀ·S⁻¹; none when the rank falls short.
    #[must_use]
    pub fn covariance(&self) -> Option<DMatrix<f64>> {
        let n = self.unknowns();
        let mut inverse = DMatrix::identity(n, n);
        if self.rank < n || !self.r.solve_upper_triangular_mut(&mut inverse) {
            return None;
        }
        let ordered = &inverse * inverse.transpose();
        let mut covariance = DMatrix::zeros(n, n);
        for (i, &a) in self.order.iter().enumerate() {
            for (j, &b) in self.order.iter().enumerate() {
                covariance[(a, b)] = ordered[(i, j)] / (self.scale[a] * self.scale[b]);
            }
        }
        Some(covariance)
    }

    /// Redundancy number of the reading in a row: 1 − the row's part of Q·Qᵀ. 0: nothing checks it; 1: fully checked.
    #[must_use]
    pub fn redundancy(&self, row: usize) -> f64 {
        (1.0 - self.q.view((row, 0), (1, self.rank)).norm_squared()).max(0.0)
    }

    /// Directions in which the unknowns can change without any reading noticing, one for each missing rank:
    /// P·[−R₁₁⁻¹·R₁₂; I], unscaled.
    #[must_use]
    pub fn free_directions(&self) -> Vec<DVector<f64>> {
        let (n, rank) = (self.unknowns(), self.rank);
        let direction = |column: usize| {
            let mut ordered = DVector::zeros(n);
            let mut head = -self.r.view((0, column), (rank, 1)).into_owned();
            self.r.view((0, 0), (rank, rank)).solve_upper_triangular_mut(&mut head);
            ordered.rows_mut(0, rank).copy_from(&head);
            ordered[column] = 1.0;
            self.unknown_order(ordered.as_slice())
        };
        (rank..n).map(direction).collect()
    }
}
