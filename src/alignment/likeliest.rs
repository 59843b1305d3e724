//! How far the adjusters of a plan are moved once it is known which ones: so that all checks come in most likely.

use nalgebra::{DMatrix, DVector};

use super::Factor;
use super::model::Model;
use super::search::{Found, Search};
use crate::metrology::{Limits, probability_of_conformity};

/// How often the straight-line picture is drawn again.
const TIMES: usize = 3;

/// The same adjusters as `found`, set so that the least chance is left of a check being out: the best among the whole steps next to the
/// least squares of the checks' distances from the middle (in half tolerances) that keep the margins, and `found` itself.
pub(super) fn likeliest(search: &Search, model: &Model, found: Found) -> Found {
    let touched: Vec<usize> = (0..found.steps.len()).filter(|j| found.steps[*j] != 0).collect();
    let Some(exact) = middle(model, &touched, &found) else { return found };
    let mut least = unlikely(model, &found);
    let mut best = None;
    for corner in 0..1_u32 << touched.len() {
        let mut steps = found.steps.clone();
        for (k, j) in touched.iter().enumerate() {
            steps[*j] = exact[*j].floor() as i32 + (corner >> k & 1) as i32;
        }
        let set = |j: &usize| steps[*j] != 0 && (model.ranges[*j].0..=model.ranges[*j].1).contains(&steps[*j]);
        if !touched.iter().all(set) {
            continue;
        }
        let Some(candidate) = search.inside(&steps, model.cost(&steps)) else { continue };
        let chance = unlikely(model, &candidate);
        if chance < least {
            (best, least) = (Some(candidate), chance);
        }
    }
    best.unwrap_or(found)
}

/// The exact least squares, by Gauss and Newton, inside the ranges; `None` where the geometry does not reach.
fn middle(model: &Model, touched: &[usize], found: &Found) -> Option<Vec<f64>> {
    let mut exact: Vec<f64> = found.steps.iter().copied().map(f64::from).collect();
    for _ in 0..TIMES {
        let values = model.values(&exact)?;
        let pulls: Vec<(usize, f64, f64)> =
            values.iter().enumerate().filter_map(|(i, value)| pull(model, i, *value)).collect();
        let design = DMatrix::from_fn(pulls.len(), touched.len(), |row, k| {
            let (i, _, scale) = pulls[row];
            model.slope(i, touched[k]) * scale
        });
        let off = DVector::from_iterator(pulls.len(), pulls.iter().map(|(_, off, _)| -off));
        let factor = Factor::new(&design);
        let by = factor.step(&factor.explained(&off));
        for (k, j) in touched.iter().enumerate() {
            let (low, high) = model.ranges[*j];
            exact[*j] = (exact[*j] + by[k]).clamp(f64::from(low), f64::from(high));
        }
    }
    Some(exact)
}

/// A check with its distance from the middle, in half tolerances, and how much one unit of its value is of them.
fn pull(model: &Model, i: usize, value: f64) -> Option<(usize, f64, f64)> {
    let limits: Limits = model.task.checks[i].limits;
    let half = limits.half_width().filter(|half| *half > 0.0)?;
    Some((i, (value - limits.middle()?) / half, 1.0 / half))
}

/// The sum of the chances of the checks to be out afterwards, with what the readings, the gains and the hand leave open; where that is
/// less than anybody can know, how far they are from the middle.
pub(super) fn unlikely(model: &Model, found: &Found) -> f64 {
    const NOBODY_KNOWS: f64 = 1e-6;
    let (mut out, mut off) = (0.0, 0.0);
    for (i, value) in found.values.iter().enumerate() {
        let after = model.after(i, &found.steps, *value);
        out += 1.0 - probability_of_conformity(after, model.task.checks[i].limits);
        off += pull(model, i, *value).map_or(0.0, |(_, off, _)| off * off);
    }
    out.max(NOBODY_KNOWS) + NOBODY_KNOWS * 1e-3 * off
}
