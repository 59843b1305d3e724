//! The search behind a plan: branch and bound over whole steps, on a local straight-line picture with a bound on its error, every
//! candidate verified with the exact geometry.

use std::cell::{Cell, OnceCell};

use super::local::Local;
use super::model::Model;

/// At most so many adjusters are touched at once, of the first sixteen that act on anything.
const MOST_TOUCHED: u32 = 4;
/// A value on its margin counts as inside (same unit as the check).
const SLACK: f64 = 1e-9;

/// So many candidates are looked at for one share of the margins at most: a search that finds nothing must end as well.
const MOST_LOOKED_AT: u32 = 4000;

/// A plan that keeps the margins.
pub(super) struct Found {
    pub(super) steps: Vec<i32>,
    pub(super) cost: f64,
    pub(super) values: Vec<f64>,
    /// The least room beyond a margin, in half tolerances.
    pub(super) room: f64,
}

/// Which checks must be inside, and what has been found out about that.
pub(super) struct Search<'m, 'a> {
    model: &'m Model<'a>,
    which: &'m [usize],
    /// Which adjusters may be touched together, fewest first, with the picture of their whole ranges once it was asked for.
    sets: Vec<(Vec<usize>, OnceCell<Option<Shape>>)>,
    /// By which share of their margins.
    share: f64,
    /// Candidates that may still be looked at.
    left: Cell<u32>,
}

/// What some adjusters do in a box of steps, whatever the margins are.
#[derive(Clone)]
struct Shape {
    centre: Vec<f64>,
    /// The checks' values there.
    at_centre: Vec<f64>,
    slopes: Vec<Vec<f64>>,
    /// How far the straight picture may err, for each of the checks.
    error: Vec<f64>,
}

impl<'m, 'a> Search<'m, 'a> {
    pub(super) fn new(model: &'m Model<'a>, which: &'m [usize]) -> Self {
        let useful: Vec<usize> = (0..model.task.adjusters.len())
            .filter(|j| which.iter().any(|i| model.acts(*i, *j, 1000, 1e-6)))
            .take(16)
            .collect();
        let mut sets: Vec<u32> = (1..1_u32 << useful.len()).filter(|set| set.count_ones() <= MOST_TOUCHED).collect();
        sets.sort_by_key(|set| set.count_ones());
        let subset = |set: u32| useful.iter().enumerate().filter(|(k, _)| set >> k & 1 == 1).map(|(_, j)| *j).collect();
        let sets = sets.into_iter().map(|set| (subset(set), OnceCell::new())).collect();
        Self { model, which, sets, share: 0.0, left: Cell::new(0) }
    }

    /// The cheapest plan that keeps a share of the margins, if there is one.
    pub(super) fn cheapest(&mut self, share: f64) -> Option<Found> {
        self.share = share;
        self.left.set(MOST_LOOKED_AT);
        let adjusters = self.model.task.adjusters;
        let mut best = None;
        self.consider(&vec![0; adjusters.len()], 0.0, &mut best);
        if best.is_some() {
            return best;
        }
        for (subset, shape) in &self.sets {
            let touch = self.model.task.cost.touch * subset.len() as f64;
            let least: f64 = subset.iter().map(|j| adjusters[*j].weight).sum();
            if best.as_ref().is_some_and(|best: &Found| touch + least > best.cost + SLACK) {
                continue;
            }
            let ranges: Vec<(i32, i32)> = subset.iter().map(|j| self.model.ranges[*j]).collect();
            let whole = shape.get_or_init(|| self.shape(subset, &ranges)).clone();
            if let Some((local, ranges)) = whole.and_then(|whole| self.tighten(subset, whole, ranges)) {
                let mut steps = vec![0; adjusters.len()];
                self.descend(&local, &ranges, &vec![0.0; self.which.len()], &mut steps, touch, &mut best);
            }
        }
        best
    }

    /// A candidate, if it keeps every margin.
    pub(super) fn inside(&self, steps: &[i32], cost: f64) -> Option<Found> {
        let exact: Vec<f64> = steps.iter().copied().map(f64::from).collect();
        let values = self.model.values(&exact)?;
        let mut least = f64::INFINITY;
        for i in self.which {
            let margin = self.share * self.model.margin(*i, steps);
            let room = self.model.task.checks[*i].inside_by(values[*i]) - margin;
            if room.is_nan() || room < -SLACK {
                return None;
            }
            least = least.min(room / self.model.scales[*i]);
        }
        Some(Found { steps: steps.to_vec(), cost, values, room: least })
    }

    /// Takes a candidate if it keeps every margin and is cheaper than the best, or as cheap with more room.
    fn consider(&self, steps: &[i32], cost: f64, best: &mut Option<Found>) {
        let Some(found) = self.inside(steps, cost) else { return };
        if best.as_ref().is_none_or(|best| found.cost < best.cost - SLACK || found.room > best.room) {
            *best = Some(found);
        }
    }

    /// Cuts a box of steps down to what the checks leave, redrawing the picture in each smaller box; `None` when nothing is left.
    fn tighten(&self, subset: &[usize], whole: Shape, mut ranges: Vec<(i32, i32)>) -> Option<(Local, Vec<(i32, i32)>)> {
        const TIMES: usize = 8;
        let mut local = self.picture(subset, whole, &ranges);
        for _ in 0..TIMES {
            let cut = local.cut(&ranges, &vec![0.0; self.which.len()])?;
            if cut == ranges {
                break;
            }
            ranges = cut;
            local = self.picture(subset, self.shape(subset, &ranges)?, &ranges);
        }
        // Those first that the checks cannot tell from the others: once they are fixed, the others are nearly given.
        let order = local.order(&ranges);
        let ranges = order.iter().map(|k| ranges[*k]).collect();
        Some((local.in_order(&order), ranges))
    }

    /// `None` where the geometry does not reach.
    fn shape(&self, subset: &[usize], ranges: &[(i32, i32)]) -> Option<Shape> {
        let centre: Vec<f64> =
            ranges.iter().map(|(low, high)| f64::midpoint(f64::from(*low), f64::from(*high))).collect();
        let mut steps = vec![0.0; self.model.task.adjusters.len()];
        let mut values = |of: &dyn Fn(usize) -> f64| {
            for (k, j) in subset.iter().enumerate() {
                steps[*j] = centre[k] + of(k);
            }
            self.model.values(&steps)
        };
        let at_centre = values(&|_| 0.0)?;
        let mut slopes = vec![Vec::with_capacity(subset.len()); self.which.len()];
        for k in 0..subset.len() {
            let mut side = |by: f64| values(&|other| if other == k { by } else { 0.0 });
            let (up, down) = (side(1.0)?, side(-1.0)?);
            for (row, i) in slopes.iter_mut().zip(self.which) {
                row.push((up[*i] - down[*i]) / 2.0);
            }
        }
        // How far the straight picture errs: most at a corner of the box, being a square form about its centre; half again for what
        // is beyond squares. A corner out of reach is no candidate.
        let mut error = vec![0.0_f64; self.which.len()];
        for corner in 0..1_u32 << subset.len() {
            let by = |k: usize| {
                let half = f64::from(ranges[k].1 - ranges[k].0) / 2.0;
                if corner >> k & 1 == 1 { half } else { -half }
            };
            let Some(there) = values(&by) else { continue };
            for ((error, row), i) in error.iter_mut().zip(&slopes).zip(self.which) {
                let straight: f64 = row.iter().enumerate().map(|(k, slope)| slope * by(k)).sum();
                *error = error.max((there[*i] - at_centre[*i] - straight).abs());
            }
        }
        Some(Shape { centre, at_centre, slopes, error })
    }

    /// A shape with what the checks leave, by the share of their margins.
    fn picture(&self, subset: &[usize], shape: Shape, ranges: &[(i32, i32)]) -> Local {
        let Shape { centre, at_centre, slopes, error } = shape;
        let window = |(i, error): (&usize, &f64)| {
            let check = &self.model.task.checks[*i];
            let margin = self.share * self.model.least_margin(*i, subset, &centre, ranges) - 1.5 * error - SLACK;
            let low = check.limits.lower.map_or(f64::NEG_INFINITY, |lower| lower + margin - at_centre[*i]);
            let high = check.limits.upper.map_or(f64::INFINITY, |upper| upper - margin - at_centre[*i]);
            (low, high)
        };
        let windows = self.which.iter().zip(&error).map(window).collect();
        Local { subset: subset.to_vec(), centre, windows, slopes }
    }

    /// One adjuster after the other, small moves first, given up where the rest cannot bring a check back or the cost is beaten.
    /// `ranges`: those of the adjusters that are left.
    fn descend(
        &self,
        local: &Local,
        ranges: &[(i32, i32)],
        so_far: &[f64],
        steps: &mut [i32],
        cost: f64,
        best: &mut Option<Found>,
    ) {
        let Some(left) = self.left.get().checked_sub(1) else { return };
        self.left.set(left);
        let k = local.subset.len() - ranges.len();
        let Some(&j) = local.subset.get(k) else {
            self.consider(steps, cost, best);
            return;
        };
        let Some(left) = local.cut(ranges, so_far) else { return };
        let adjusters = self.model.task.adjusters;
        let rest: f64 = local.subset[k + 1..].iter().map(|j| adjusters[*j].weight).sum();
        let mut candidates: Vec<i32> = (left[0].0..=left[0].1).filter(|steps| *steps != 0).collect();
        candidates.sort_by_key(|steps| steps.abs());
        for candidate in candidates {
            let cost = cost + adjusters[j].weight * f64::from(candidate.abs());
            if best.as_ref().is_some_and(|best| cost + rest > best.cost + SLACK) {
                break;
            }
            let by = f64::from(candidate) - local.centre[k];
            let so_far: Vec<f64> = so_far.iter().zip(&local.slopes).map(|(value, row)| value + row[k] * by).collect();
            steps[j] = candidate;
            self.descend(local, &left[1..], &so_far, steps, cost, best);
            steps[j] = 0;
        }
    }
}
