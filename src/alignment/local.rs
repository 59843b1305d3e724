//! A straight-line picture of what some adjusters do in a box of steps, and what the checks leave of the box.

/// The straight-line picture of some adjusters' effects in a box of steps.
pub(super) struct Local {
    /// The adjusters that are touched.
    pub(super) subset: Vec<usize>,
    pub(super) centre: Vec<f64>,
    /// For each of the checks looked at: how far its value may lie from that at the centre, errors of the picture included.
    pub(super) windows: Vec<(f64, f64)>,
    /// For each of the checks, by one step of each of the subset.
    pub(super) slopes: Vec<Vec<f64>>,
}

impl Local {
    pub(super) fn in_order(self, order: &[usize]) -> Self {
        let slopes = self.slopes.iter().map(|row| order.iter().map(|k| row[*k]).collect()).collect();
        let subset = order.iter().map(|k| self.subset[*k]).collect();
        Self { subset, centre: order.iter().map(|k| self.centre[*k]).collect(), slopes, windows: self.windows }
    }

    /// The box that is left of the last adjusters' `ranges` when the first ones have brought the checks to `so_far`; `None` when
    /// nothing is. By each check alone, the others anywhere in their ranges; and by as many checks together as there are adjusters,
    /// through the inverse of their slopes.
    pub(super) fn cut(&self, ranges: &[(i32, i32)], so_far: &[f64]) -> Option<Vec<(i32, i32)>> {
        let first = self.subset.len() - ranges.len();
        let windows: Vec<(f64, f64)> =
            self.windows.iter().zip(so_far).map(|((from, to), value)| (from - value, to - value)).collect();
        let mut bounds = vec![(f64::NEG_INFINITY, f64::INFINITY); ranges.len()];
        for ((from, to), slopes) in windows.iter().zip(&self.slopes) {
            let span = |k: usize| {
                let (low, high) = ranges[k];
                let ends = [low, high].map(|end| slopes[first + k] * (f64::from(end) - self.centre[first + k]));
                (ends[0].min(ends[1]), ends[0].max(ends[1]))
            };
            let (low, high) =
                (0..ranges.len()).map(span).fold((0.0, 0.0), |sum, span| (sum.0 + span.0, sum.1 + span.1));
            if high < *from || low > *to {
                return None;
            }
            for (k, bound) in bounds.iter_mut().enumerate().filter(|(k, _)| slopes[first + k] != 0.0) {
                let (own_low, own_high) = span(k);
                let ends = [from - (high - own_high), to - (low - own_low)].map(|end| end / slopes[first + k]);
                *bound = (bound.0.max(ends[0].min(ends[1])), bound.1.min(ends[0].max(ends[1])));
            }
        }
        let solved = self.eliminate(&windows, first, ranges);
        if solved.pivots.len() == ranges.len() {
            for (k, row) in &solved.pivots {
                let (mut low, mut high) = (0.0, 0.0);
                for (part, (from, to)) in solved.made_of[*row].iter().zip(&windows).filter(|(part, _)| **part != 0.0) {
                    low += (part * from).min(part * to);
                    high += (part * from).max(part * to);
                }
                bounds[*k] = (bounds[*k].0.max(low), bounds[*k].1.min(high));
            }
        }
        let mut left = Vec::with_capacity(ranges.len());
        for (k, ((least, most), (low, high))) in ranges.iter().zip(bounds).enumerate() {
            let low = (self.centre[first + k] + low - 1e-6).ceil().max(f64::from(*least));
            let high = (self.centre[first + k] + high + 1e-6).floor().min(f64::from(*most));
            if low > high {
                return None;
            }
            left.push((low as i32, high as i32));
        }
        Some(left)
    }

    /// The adjusters in the order in which to try them.
    pub(super) fn order(&self, ranges: &[(i32, i32)]) -> Vec<usize> {
        let told = self.eliminate(&self.windows, 0, ranges).pivots;
        let told: Vec<usize> = told.into_iter().map(|(k, _)| k).collect();
        (0..ranges.len()).filter(|k| !told.contains(k)).chain(told.iter().copied()).collect()
    }

    /// Gauss and Jordan on the slopes of the adjusters from `first` on, by the largest pivot as their ranges and the checks' windows
    /// count; an adjuster whose whole range the windows hide has no pivot.
    fn eliminate(&self, windows: &[(f64, f64)], first: usize, ranges: &[(i32, i32)]) -> Eliminated {
        let checks = windows.len();
        let mut slopes: Vec<Vec<f64>> = self.slopes.iter().map(|row| row[first..].to_vec()).collect();
        let mut made_of: Vec<Vec<f64>> =
            (0..checks).map(|row| (0..checks).map(|check| f64::from(u8::from(row == check))).collect()).collect();
        let mut pivots: Vec<(usize, usize)> = Vec::new();
        for k in 0..ranges.len() {
            let range = f64::from(ranges[k].1 - ranges[k].0);
            let tells = |row: usize| {
                let parts = made_of[row].iter().zip(windows).filter(|(part, _)| **part != 0.0);
                let width: f64 = parts.map(|(part, (from, to))| part.abs() * (to - from)).sum();
                if width.is_finite() { slopes[row][k].abs() * range / width } else { 0.0 }
            };
            let free = (0..checks).filter(|row| pivots.iter().all(|(_, used)| used != row));
            let Some((pivot, tells)) = free.map(|row| (row, tells(row))).max_by(|a, b| a.1.total_cmp(&b.1)) else {
                break;
            };
            // Not more than its range is left open: it tells. So does one that has no range.
            if tells.is_nan() || tells < 1.0 {
                continue;
            }
            let scale = slopes[pivot][k];
            for cell in slopes[pivot].iter_mut().chain(&mut made_of[pivot]) {
                *cell /= scale;
            }
            let (own_slopes, own_made_of) = (slopes[pivot].clone(), made_of[pivot].clone());
            for row in (0..checks).filter(|row| *row != pivot) {
                let factor = slopes[row][k];
                for (cell, own) in slopes[row].iter_mut().zip(&own_slopes) {
                    *cell -= factor * own;
                }
                for (cell, own) in made_of[row].iter_mut().zip(&own_made_of) {
                    *cell -= factor * own;
                }
            }
            pivots.push((k, pivot));
        }
        Eliminated { made_of, pivots }
    }
}

/// What an elimination leaves.
struct Eliminated {
    /// For each row, how it is made up of the checks' own rows.
    made_of: Vec<Vec<f64>>,
    /// Adjusters that the checks tell from the ones before, each with its row: the adjuster's steps from the centre are that row of
    /// the checks' changes, the adjusters without a pivot left aside.
    pivots: Vec<(usize, usize)>,
}
