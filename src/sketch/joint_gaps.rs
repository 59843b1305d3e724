//! The gaps of the joint as they were read last, with what was moved since.

use crate::metrology::Limits;
use crate::procedure::{LeverKind, Procedure, Run};
use crate::record::{Airframe, Side};

/// A joint that nobody has read is drawn with this much of a gap; the widest is drawn as the other.
const CLOSED: f64 = 3.0;
const WIDEST: f64 = 22.0;
/// The limit is drawn about this wide.
const CLEAR: f64 = 10.0;
const TIMES: [f64; 10] = [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0];

/// The mean gap of each side, in metres; `None` until it was read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Gaps {
    left: Option<f64>,
    right: Option<f64>,
    /// How many times larger they are drawn, and the units of the sheet to a metre that this makes.
    times: f64,
    scale: f64,
}

impl Gaps {
    /// How wide a side is drawn.
    pub(super) fn drawn(&self, side: Side) -> f64 {
        let gap = if side == Side::Left { self.left } else { self.right };
        gap.map_or(CLOSED, |gap| (gap * self.scale).clamp(0.0, WIDEST))
    }

    /// "×50", when there are gaps to draw and none is cut short.
    pub(super) fn times_note(&self) -> Option<String> {
        let widest = self.left?.max(self.right?) * self.scale;
        (widest > 0.0 && widest <= WIDEST).then(|| format!("×{:.0}", self.times))
    }
}

/// The gaps of both sides now; `natural` is the units of the sheet to a metre along the airframe.
pub(super) fn gaps(procedure: &Procedure, airframe: &Airframe, run: &Run, natural: f64) -> Gaps {
    let limit = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { limit, .. } => {
            let unit = airframe.details.units.length();
            let upper = Limits::of(&airframe.specification.item(limit)?.value, unit)?.upper?;
            crate::quantity::Quantity::new(upper, unit, 0.0).length()
        }
        _ => None,
    });
    let (left, right) = (gap(procedure, run, Side::Left), gap(procedure, run, Side::Right));
    let widest = left.unwrap_or_default().max(right.unwrap_or_default());
    let clear = limit.map_or(widest, |limit| limit.metres());
    let fits = |times: &f64| times * natural * clear <= CLEAR * 1.3 && times * natural * widest <= WIDEST;
    let times = TIMES.into_iter().find(fits).unwrap_or(1.0);
    Gaps { left, right, times, scale: times * natural }
}

/// The mean of a side's corners as read last, plus what that side was opened since.
fn gap(procedure: &Procedure, run: &Run, wanted: Side) -> Option<f64> {
    let (adjuster, slots) = procedure.adjusters.iter().find_map(|adjuster| match &adjuster.lever {
        LeverKind::Joint { side, gaps, .. } if *side == wanted => Some((adjuster, gaps)),
        _ => None,
    })?;
    let attempt = run
        .steps
        .iter()
        .filter_map(|step| step.attempts.iter().rfind(|attempt| attempt.complete))
        .filter(|attempt| slots.iter().all(|slot| attempt.of(slot).next().is_some()))
        .max_by_key(|attempt| attempt.readings.last().map(|reading| reading.entry))?;
    let read: Vec<f64> =
        slots.iter().filter_map(|slot| Some(attempt.of(slot).last()?.value.length()?.metres())).collect();
    let mean = read.iter().sum::<f64>() / read.len() as f64;
    let since = attempt.readings.last().map(|reading| reading.entry);
    let opened: f64 = run
        .moves
        .iter()
        .filter(|moved| moved.adjuster == adjuster.id && Some(moved.entry) > since)
        .map(|moved| moved.length.metres())
        .sum();
    Some((mean + opened).max(0.0)).filter(|gap| gap.is_finite())
}
