//! What a plan works with: the checks' values after any moves by the exact geometry, how fast they change, what the moves leave open
//! and the margin that this asks for.

use super::observation::Sight;
use super::{Layout, Placement, Task};
use crate::metrology::{COVERAGE, Estimate};

/// A margin takes no more than this share of half a two-sided tolerance: while little is known of the gains, aim near the middle.
const WIDEST_MARGIN: f64 = 0.8;
/// How many times what moves leave open counts in a margin: a plan is to hold after one round, and until it is read again nobody
/// knows what the hand and the gain did. A judgement.
const MOVED_COUNTS: f64 = 1.5;

/// A task with the checks' values and slopes where things sit now.
pub(super) struct Model<'a> {
    pub(super) task: Task<'a>,
    layout: Layout,
    /// Value of each check by geometry before any move.
    base: Vec<f64>,
    /// Change of each check by one step of each adjuster, at a gain of 1.
    slopes: Vec<Vec<f64>>,
    /// What a check's changes are measured by: half its tolerance, or how far it is from its one limit.
    pub(super) scales: Vec<f64>,
    /// Steps of each adjuster that its stops allow and the geometry reaches.
    pub(super) ranges: Vec<(i32, i32)>,
}

impl<'a> Model<'a> {
    pub(super) fn new(task: Task<'a>) -> Self {
        debug_assert!(task.checks.len() == task.now.len(), "each check was measured");
        let layout = Layout::nothing_unknown(task.scene);
        let mut model = Self { task, layout, base: vec![], slopes: vec![], scales: vec![], ranges: vec![] };
        model.base = model.read(task.at);
        let n = task.adjusters.len();
        let step = |j: usize, by: f64| Some(model.read(&model.placed_by(|other| if other == j { by } else { 0.0 })?));
        let columns: Vec<Vec<f64>> = (0..n)
            .map(|j| match (step(j, 1.0), step(j, -1.0)) {
                (Some(up), Some(down)) => up.iter().zip(&down).map(|(up, down)| (up - down) / 2.0).collect(),
                (Some(up), None) => up.iter().zip(&model.base).map(|(up, base)| up - base).collect(),
                (None, Some(down)) => down.iter().zip(&model.base).map(|(down, base)| base - down).collect(),
                (None, None) => vec![0.0; task.checks.len()],
            })
            .collect();
        model.slopes = (0..task.checks.len()).map(|i| columns.iter().map(|column| column[i]).collect()).collect();
        let scale = |(i, now): (usize, &Estimate)| {
            let check = &task.checks[i];
            check.limits.half_width().unwrap_or_else(|| check.inside_by(now.value).abs()).max(1e-6)
        };
        model.scales = task.now.iter().enumerate().map(scale).collect();
        model.ranges = (0..n).map(|j| model.reach(j)).collect();
        model
    }

    /// An adjuster's range, cut down by halves to what the geometry reaches with the others where they are.
    fn reach(&self, j: usize) -> (i32, i32) {
        let reached = |steps: i32| {
            let mut all = vec![0.0; self.task.adjusters.len()];
            all[j] = f64::from(steps);
            self.placed(&all).is_some()
        };
        let cut = |end: i32| {
            let (mut inside, mut end) = (0, end);
            while !reached(end) && end != inside {
                let middle = inside + (end - inside) / 2;
                if reached(middle) && middle != inside { inside = middle } else { end = middle }
            }
            end
        };
        let (low, high) = self.task.adjusters[j].range();
        (cut(low), cut(high))
    }

    /// What a plan costs.
    pub(super) fn cost(&self, steps: &[i32]) -> f64 {
        let touched = self.task.adjusters.iter().zip(steps).filter(|(_, steps)| **steps != 0);
        touched.map(|(adjuster, steps)| self.task.cost.touch + adjuster.weight * f64::from(steps.abs())).sum()
    }

    /// Where everything sits after so many steps of each adjuster, with the gains known now.
    pub(super) fn placed(&self, steps: &[f64]) -> Option<Placement> {
        self.placed_by(|j| steps.get(j).map_or(0.0, |steps| steps * self.task.gains.ratio(j)))
    }

    /// Where everything sits when each adjuster has done what so many steps do by geometry.
    fn placed_by(&self, done: impl Fn(usize) -> f64) -> Option<Placement> {
        let mut at = self.task.at.clone();
        for (j, adjuster) in self.task.adjusters.iter().enumerate() {
            let done = done(j);
            if done == 0.0 {
                continue;
            }
            let travel = adjuster.dial.travel;
            let (setting, amount) = (travel * adjuster.setting, travel * (done * adjuster.dial.step));
            adjuster.effect.apply(self.task.scene, &mut at, setting, amount)?;
        }
        Some(at)
    }

    /// How the checks' values after so many steps grow with one adjuster's gain: by central differences, a twentieth more and less.
    pub(super) fn by_gain(&self, steps: &[f64], j: usize) -> Option<Vec<f64>> {
        const NUDGE: f64 = 0.05;
        let of = |nudge: f64| {
            let placed = self.placed_by(|k| {
                let ratio = self.task.gains.ratio(k);
                steps.get(k).map_or(0.0, |steps| steps * if k == j { ratio + nudge } else { ratio })
            });
            Some(self.read(&placed?))
        };
        let (more, less) = (of(NUDGE)?, of(-NUDGE)?);
        Some(more.iter().zip(&less).map(|(more, less)| (more - less) / (2.0 * NUDGE)).collect())
    }

    fn read(&self, at: &Placement) -> Vec<f64> {
        let sight = Sight::new(self.task.scene, &self.layout, at);
        self.task.checks.iter().map(|check| check.seen(&sight, &mut [])).collect()
    }

    /// The checks' values after so many steps: as measured now, and the exact geometry's change.
    pub(super) fn values(&self, steps: &[f64]) -> Option<Vec<f64>> {
        let mut values = self.read(&self.placed(steps)?);
        for ((value, base), now) in values.iter_mut().zip(&self.base).zip(self.task.now) {
            *value = now.value + (*value - base);
        }
        Some(values)
    }

    /// The change of a check by one step of an adjuster with its gain.
    pub(super) fn slope(&self, i: usize, j: usize) -> f64 {
        self.slopes[i][j] * self.task.gains.ratio(j)
    }

    /// What setting an adjuster by hand leaves open of a check; signed as its step acts.
    pub(super) fn slip(&self, i: usize, j: usize) -> f64 {
        let adjuster = &self.task.adjusters[j];
        self.slope(i, j) * adjuster.setting_u / adjuster.dial.step
    }

    /// Whether so many steps of an adjuster (as many as it has, at most) change a check by this share of its tolerance.
    pub(super) fn acts(&self, i: usize, j: usize, steps: i32, share: f64) -> bool {
        let (low, high) = self.ranges[j];
        let steps = f64::from(steps.abs().min(high.max(-low)));
        self.slope(i, j).abs() * steps >= share * self.scales[i] && steps > 0.0
    }

    /// What setting the touched adjusters by hand leaves open of a check, as a variance.
    fn slips(&self, i: usize, touched: impl Iterator<Item = usize>) -> f64 {
        touched.map(|j| self.slip(i, j).powi(2)).sum()
    }

    /// What the gains and the hand leave open of a check after moves, as a variance (first order).
    fn moved(&self, i: usize, steps: &[i32]) -> f64 {
        let parts: Vec<f64> =
            self.slopes[i].iter().zip(steps).map(|(slope, steps)| slope * f64::from(*steps)).collect();
        self.task.gains.variance(&parts) + self.slips(i, (0..steps.len()).filter(|j| steps[*j] != 0))
    }

    /// The check after the moves, at `value`, with what the reading, the gains and the hand leave open.
    pub(super) fn after(&self, i: usize, steps: &[i32], value: f64) -> Estimate {
        Estimate { value, ..self.widened(i, self.moved(i, steps)) }
    }

    fn widened(&self, i: usize, variance: f64) -> Estimate {
        let now = self.task.now[i];
        if variance > 0.0 { now.widened(variance.sqrt(), f64::INFINITY) } else { now }
    }

    /// The full margin of a check: its expanded uncertainty after the moves, in which what they add counts [`MOVED_COUNTS`] times;
    /// but not more than leaves the middle of a two-sided tolerance, and there room for one step of the adjuster that acts most.
    pub(super) fn margin(&self, i: usize, steps: &[i32]) -> f64 {
        self.at_most_widest(i, self.widened(i, MOVED_COUNTS.powi(2) * self.moved(i, steps)).expanded())
    }

    fn at_most_widest(&self, i: usize, margin: f64) -> f64 {
        let step = (0..self.task.adjusters.len()).map(|j| self.slope(i, j).abs()).fold(0.0, f64::max);
        let widest = |half: f64| (WIDEST_MARGIN * half).min(half - step / 2.0).max(0.0);
        margin.min(self.task.checks[i].limits.half_width().map_or(f64::INFINITY, widest))
    }

    /// Not more than the margin anywhere in a box of steps: the variance of the gains is a square form, which lies nowhere below
    /// its tangent at the centre; and no coverage factor is below [`COVERAGE`].
    pub(super) fn least_margin(&self, i: usize, subset: &[usize], centre: &[f64], ranges: &[(i32, i32)]) -> f64 {
        let mut parts = vec![0.0; self.task.adjusters.len()];
        for (j, centre) in subset.iter().zip(centre) {
            parts[*j] = self.slopes[i][*j] * centre;
        }
        let tangent = self.task.gains.covariance_with(&parts);
        let at_centre: f64 = tangent.iter().zip(&parts).map(|(tangent, part)| tangent * part).sum();
        let fall =
            |(j, (low, high)): (&usize, &(i32, i32))| (tangent[*j] * self.slopes[i][*j]).abs() * f64::from(high - low);
        let least = (at_centre - subset.iter().zip(ranges).map(fall).sum::<f64>()).max(0.0);
        let moved = MOVED_COUNTS.powi(2) * (least + self.slips(i, subset.iter().copied()));
        self.at_most_widest(i, COVERAGE * self.task.now[i].u.hypot(moved.sqrt()))
    }
}
