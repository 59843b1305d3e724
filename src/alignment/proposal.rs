//! A correction: how far to move one adjuster, rounded to what hands can set, and what the check should read then.

use super::{Change, Gain, Lever};
use crate::metrology::Estimate;
use crate::quantity::{Angle, Length, Unit};

/// A proposed move and what it should do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposal {
    /// How far, along the adjuster's positive direction; a whole number of settable steps, not zero.
    pub amount: Length,
    /// The change that geometry alone predicts, in the check's unit: what the response is held against.
    pub geometric_change: f64,
    /// What the check should read afterwards, with what is not known of the gain and the setting.
    pub predicted: Estimate,
}

/// The move of `lever` that brings `now` to `aim` (in the check's unit), with the gain learned so far, in whole steps of
/// `step`. `None` when the adjuster cannot give it, when the nearest whole step is no move at all, or when the gain is not above zero.
#[must_use]
pub fn propose(lever: Lever, gain: Gain, now: Estimate, aim: f64, step: Length) -> Option<Proposal> {
    if gain.ratio.is_nan() || gain.ratio <= 0.0 {
        return None;
    }
    let wanted = change_of((aim - now.value) / gain.ratio, now.unit)?;
    let exact = lever.amount(wanted)?;
    let amount = step * (exact / step).round();
    if amount.abs() < step / 2.0 {
        return None;
    }
    let geometric_change = geometric_change(lever, amount, now.unit)?;
    let set_by_hand = (geometric_change / (amount / step)).abs() / 12_f64.sqrt();
    let widened = now.widened((gain.u * geometric_change).hypot(set_by_hand), f64::INFINITY);
    let predicted = Estimate { value: now.value + gain.ratio * geometric_change, ..widened };
    Some(Proposal { amount, geometric_change, predicted })
}

/// The same, shared evenly by `parts` adjusters of one geometry: the amount of each. Falls back on one of them alone where an equal
/// part is too small to set.
#[must_use]
pub fn propose_shared(
    lever: Lever,
    gain: Gain,
    now: Estimate,
    aim: f64,
    step: Length,
    parts: usize,
) -> Option<(Proposal, usize)> {
    let shared = |parts: usize| {
        let times = parts as f64;
        let one = propose(lever, gain, now, now.value + (aim - now.value) / times, step)?;
        let added = one.predicted.u.mul_add(one.predicted.u, -(now.u * now.u)).max(0.0).sqrt();
        let all = now.widened(times * added, f64::INFINITY);
        let value = times.mul_add(one.predicted.value - now.value, now.value);
        Some((Proposal { predicted: Estimate { value, ..all }, ..one }, parts))
    };
    shared(parts.max(1)).or_else(|| shared(1))
}

/// What geometry says that a move of `amount` does to a check judged in `unit`.
#[must_use]
pub(crate) fn geometric_change(lever: Lever, amount: Length, unit: Unit) -> Option<f64> {
    match lever.change(amount)? {
        Change::Turn(angle) if unit == Unit::Degree => Some(angle.degrees()),
        Change::Shift(length) => length.in_unit(unit),
        Change::Turn(_) => None,
    }
}

fn change_of(value: f64, unit: Unit) -> Option<Change> {
    match unit {
        Unit::Degree => Some(Change::Turn(Angle::from_degrees(value))),
        Unit::Inch => Some(Change::Shift(Length::from_inches(value))),
        Unit::Millimetre => Some(Change::Shift(Length::from_millimetres(value))),
        Unit::Metre => Some(Change::Shift(Length::from_metres(value))),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The trade's example: pitch −2.90° wants −2.60° with the saddle 122 in behind the joint: raise 0.639 in, set as 5/8 in.
    #[test]
    fn raise_the_saddle_five_eighths() {
        let now = Estimate::new(-2.9, 0.04, Unit::Degree);
        let saddle = Lever::Saddle { distance: Length::from_inches(122.0) };
        let proposal =
            propose(saddle, Gain::FROM_GEOMETRY, now, -2.6, Length::from_inches(1.0 / 16.0)).expect("a move");
        assert!((proposal.amount.inches() - 0.625).abs() < 1e-12, "{}", proposal.amount.inches());
        assert!((proposal.predicted.value + 2.6065).abs() < 1e-3, "{:?}", proposal.predicted);
    }

    #[test]
    fn nothing_to_set_is_no_move() {
        let now = Estimate::new(-2.601, 0.04, Unit::Degree);
        let saddle = Lever::Saddle { distance: Length::from_inches(122.0) };
        assert_eq!(propose(saddle, Gain::FROM_GEOMETRY, now, -2.6, Length::from_inches(1.0 / 16.0)), None);
    }

    #[test]
    fn a_gain_that_turns_the_move_round_gives_none() {
        let now = Estimate::new(-2.9, 0.04, Unit::Degree);
        let saddle = Lever::Saddle { distance: Length::from_inches(122.0) };
        for ratio in [-0.5, 0.0, f64::NAN] {
            let gain = Gain { ratio, ..Gain::FROM_GEOMETRY };
            assert_eq!(propose(saddle, gain, now, -2.6, Length::from_inches(1.0 / 16.0)), None, "{ratio}");
        }
    }
}
