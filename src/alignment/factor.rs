//! One QR factorisation that serves the step, the covariance, the redundancy and the rank.

use nalgebra::{DMatrix, DVector};

/// Below this share of the largest pivot a column says nothing that the others do not: the columns are scaled to length
/// one, so a pivot is the sine of the angle between a column and the span of those before it. A thousand random
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
        let mut q = design.clone();
        let mut scale = DVector::zeros(unknowns);
        for (column, scale) in columns(&mut q, readings).zip(scale.as_mut_slice()) {
            let length = dot(column, column).sqrt();
            *scale = if length > 0.0 { length } else { 1.0 };
            column.iter_mut().for_each(|cell| *cell /= *scale);
        }
        let (r, order) = orthogonalise(&mut q);
        let largest = (0..unknowns).fold(0.0, |most, at| f64::max(most, r[(at, at)]));
        let rank = (0..unknowns).take_while(|&at| r[(at, at)] > RANK_THRESHOLD * largest).count();
        Self { q, r, order, scale, rank }
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

    /// A column of Q.
    fn column(&self, k: usize) -> &[f64] {
        let readings = self.q.nrows();
        &self.q.as_slice()[k * readings..(k + 1) * readings]
    }

    /// Qᵀ·b over the columns that count: the part of `b` that a step can explain.
    pub(super) fn explained(&self, b: &DVector<f64>) -> DVector<f64> {
        DVector::from_fn(self.rank, |k, _| dot(self.column(k), b.as_slice()))
    }

    /// `b` without what the unknowns can explain: (I − QQᵀ)·b.
    #[must_use]
    pub fn unexplained(&self, b: &DVector<f64>) -> DVector<f64> {
        let explained = self.explained(b);
        let mut left = b.clone();
        for (k, part) in explained.as_slice().iter().enumerate() {
            take_off(left.as_mut_slice(), *part, self.column(k));
        }
        left
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
        back_substitute(&self.r, y.as_mut_slice());
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
        let mut system = DMatrix::zeros(2 * n, n);
        for (place, &unknown) in self.order.iter().enumerate() {
            for row in 0..=place {
                system[(row, place)] = self.r[(row, place)];
            }
            system[(n + place, place)] = lambda.sqrt() * weight[unknown] / self.scale[unknown];
        }
        let (r, order) = orthogonalise(&mut system);
        let known = explained.as_slice();
        let mut solved: Vec<f64> = columns(&mut system, 2 * n).map(|column| dot(column, known)).collect();
        back_substitute(&r, &mut solved);
        let mut y = vec![0.0; n];
        for (place, value) in order.into_iter().zip(solved) {
            y[place] = value;
        }
        let left = (0..n).map(|row| {
            let made: f64 = (row..n).map(|column| self.r[(row, column)] * y[column]).sum();
            (known.get(row).copied().unwrap_or(0.0) - made).powi(2)
        });
        (self.unknown_order(&y), dot(known, known) - left.sum::<f64>())
    }

    /// Covariance of the unknowns for readings of unit weight: S⁻¹·P·R⁻¹·R⁻ᵀ·Pᵀ·S⁻¹; none when the rank falls short.
    #[must_use]
    pub fn covariance(&self) -> Option<DMatrix<f64>> {
        let n = self.unknowns();
        if self.rank < n {
            return None;
        }
        let mut covariance = DMatrix::zeros(n, n);
        for column in 0..n {
            // A column of R⁻¹.
            let mut inverse = vec![0.0; column + 1];
            inverse[column] = 1.0;
            back_substitute(&self.r, &mut inverse);
            let inverse = self.unknown_order(&inverse);
            for (a, of_a) in inverse.as_slice().iter().enumerate() {
                for (b, of_b) in inverse.as_slice().iter().enumerate() {
                    covariance[(a, b)] += of_a * of_b;
                }
            }
        }
        Some(covariance)
    }

    /// Redundancy number of the reading in a row: 1 − the row's part of Q·Qᵀ. 0: nothing checks it; 1: fully checked.
    #[must_use]
    pub fn redundancy(&self, row: usize) -> f64 {
        (1.0 - self.shared(row, row)).max(0.0)
    }

    /// What two rows share: an element of Q·Qᵀ.
    pub(super) fn shared(&self, one: usize, other: usize) -> f64 {
        (0..self.rank).map(|k| self.column(k)).map(|column| column[one] * column[other]).sum()
    }

    /// Directions in which the unknowns can change without any reading noticing, one for each missing rank:
    /// P·[−R₁₁⁻¹·R₁₂; I], unscaled.
    #[must_use]
    pub fn free_directions(&self) -> Vec<DVector<f64>> {
        let (n, rank) = (self.unknowns(), self.rank);
        let direction = |column: usize| {
            let mut ordered: Vec<f64> = (0..rank).map(|row| -self.r[(row, column)]).collect();
            back_substitute(&self.r, &mut ordered);
            ordered.resize(n, 0.0);
            ordered[column] = 1.0;
            self.unknown_order(&ordered)
        };
        (rank..n).map(direction).collect()
    }
}

/// Replaces the columns of `q` by orthonormal ones that span the same, in an order of falling independence, and gives R
/// and that order. Gram and Schmidt, each column once more against those before it when its turn comes: twice is enough
/// (W. Kahan and B. N. Parlett, in Parlett's *The Symmetric Eigenvalue Problem*, 1980; from memory). A column of which
/// nothing is left becomes zero.
fn orthogonalise(q: &mut DMatrix<f64>) -> (DMatrix<f64>, Vec<usize>) {
    let (rows, n) = q.shape();
    let mut r = DMatrix::zeros(n, n);
    let mut order: Vec<usize> = (0..n).collect();
    for k in 0..n {
        let (mut longest, mut most) = (k, -1.0);
        for (at, column) in columns(q, rows).enumerate().skip(k) {
            let length = dot(column, column);
            if length > most {
                (longest, most) = (at, length);
            }
        }
        q.swap_columns(k, longest);
        r.swap_columns(k, longest);
        order.swap(k, longest);
        let (done, rest) = q.as_mut_slice().split_at_mut(k * rows);
        let (own, rest) = rest.split_at_mut(rows);
        for i in 0..k {
            let before = &done[i * rows..(i + 1) * rows];
            let again = dot(before, own);
            take_off(own, again, before);
            r[(i, k)] += again;
        }
        let length = dot(own, own).sqrt();
        r[(k, k)] = length;
        if length > 0.0 {
            own.iter_mut().for_each(|cell| *cell /= length);
        }
        for j in k + 1..n {
            let column = &mut rest[(j - k - 1) * rows..(j - k) * rows];
            let part = dot(own, column);
            take_off(column, part, own);
            r[(k, j)] = part;
        }
    }
    (r, order)
}

/// The columns of a matrix, each with so many rows.
fn columns(matrix: &mut DMatrix<f64>, rows: usize) -> impl Iterator<Item = &mut [f64]> {
    matrix.as_mut_slice().chunks_exact_mut(rows.max(1))
}

/// Solves R·x = y in place, for as many unknowns as `y` has.
fn back_substitute(r: &DMatrix<f64>, y: &mut [f64]) {
    for k in (0..y.len()).rev() {
        let (above, own) = y.split_at_mut(k);
        own[0] /= r[(k, k)];
        for (row, cell) in above.iter_mut().enumerate() {
            *cell -= r[(row, k)] * own[0];
        }
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// `from` − `part`·`of`.
fn take_off(from: &mut [f64], part: f64, of: &[f64]) {
    for (from, of) in from.iter_mut().zip(of) {
        *from -= part * of;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn largest(matrix: &DMatrix<f64>) -> f64 {
        matrix.iter().fold(0.0, |most, cell| f64::max(most, cell.abs()))
    }

    proptest! {
        /// Columns of which two nearly agree, of lengths a million apart, against the singular vectors of a general library
        /// (nalgebra): the projection on what the unknowns can explain is U·Uᵀ, and also A·C·Aᵀ.
        #[test]
        fn covariance_and_projection_are_the_librarys(cells in prop::collection::vec(-1.0..1.0_f64, 60), apart in 1e-3..1.0_f64) {
            let mut design = DMatrix::from_vec(12, 5, cells);
            let twin = design.column(0) + design.column(3) * apart;
            design.set_column(3, &twin);
            let singular = design.clone().svd(true, false);
            prop_assume!(singular.singular_values.min() > 1e-5);
            design.column_mut(3).scale_mut(1e6);
            let factor = Factor::new(&design);
            prop_assert_eq!(factor.rank(), 5);
            prop_assert!(largest(&(factor.q.tr_mul(&factor.q) - DMatrix::identity(5, 5))) < 1e-14);
            let u = singular.u.expect("asked for");
            let theirs = &u * u.transpose();
            for (row, diagonal) in theirs.diagonal().iter().enumerate() {
                prop_assert!((1.0 - factor.redundancy(row) - diagonal).abs() < 1e-9);
            }
            let covariance = factor.covariance().expect("of full rank");
            prop_assert!(largest(&(&design * covariance * design.transpose() - theirs)) < 1e-9);
        }

        /// Three columns of which one is made of the others: the free direction is the one along which nothing is seen.
        #[test]
        fn what_is_made_of_others_is_free(cells in prop::collection::vec(-1.0..1.0_f64, 20), parts in prop::array::uniform2(-3.0..3.0_f64)) {
            let mut design = DMatrix::zeros(10, 3);
            design.view_mut((0, 0), (10, 2)).copy_from(&DMatrix::from_vec(10, 2, cells));
            let made = design.column(0) * parts[0] + design.column(1) * parts[1];
            design.set_column(2, &made);
            let factor = Factor::new(&design);
            prop_assert_eq!(factor.rank(), 2);
            prop_assert!(factor.covariance().is_none());
            let [free] = factor.free_directions().try_into().expect("one");
            prop_assert!((&design * &free).norm() < 1e-12 * free.norm());
        }
    }
}
