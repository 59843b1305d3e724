//! Sharing a change of the joint between its two sides.

use crate::quantity::Length;
use crate::record::Side;

/// The gaps of one side of the joint now.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SideGap {
    /// The smallest: as far as the side can still close.
    pub least: Length,
    /// The largest: what is held against the manual's limit.
    pub most: Length,
}

/// The gaps of both sides, and the most that the manual lets any gap be.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct JointGaps {
    /// Left side.
    pub left: SideGap,
    /// Right side.
    pub right: SideGap,
    /// The manual's limit for any gap, where it gives one.
    pub limit: Option<Length>,
}

/// One side's share of a change. Positive amounts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointShare {
    /// Close this side by so much first.
    pub close: Option<(Side, Length)>,
    /// Then open that side by so much.
    pub open: Option<(Side, Length)>,
    /// The opened side would exceed the manual's limit: do not; ask the kit's support.
    pub beyond_limit: bool,
}

/// Shares `amount` (right side opened is positive): the side that already has a gap is closed first, the other opened for the
/// rest. It is the *difference* left to right that swings the tail. `step` is the smallest amount that can be set.
#[must_use]
pub fn share_between_sides(amount: Length, gaps: JointGaps, step: Length) -> JointShare {
    let opened = if amount >= Length::ZERO { Side::Right } else { Side::Left };
    let (to_close, to_open) = match opened {
        Side::Right => (gaps.left, gaps.right),
        Side::Left => (gaps.right, gaps.left),
    };
    let total = amount.abs();
    let whole_steps = (to_close.least / step + 1e-6).floor().max(0.0);
    let closing = if step * whole_steps <= total { step * whole_steps } else { total };
    let opening = total - closing;
    let half = step / 2.0;
    JointShare {
        close: (closing > half).then_some((opened.other(), closing)),
        open: (opening > half).then_some((opened, opening)),
        beyond_limit: opening > half && gaps.limit.is_some_and(|limit| to_open.most + opening > limit + step * 1e-6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(value: f64) -> Length {
        Length::from_inches(value)
    }

    /// The walk-through of the trade's example: 3/32 in in all, the left has 1/32 to give, the right is shut.
    #[test]
    fn the_side_with_a_gap_is_closed_first() {
        let left = SideGap { least: inches(1.0 / 32.0), most: inches(1.0 / 16.0) };
        let gaps = JointGaps { left, right: SideGap::default(), limit: Some(inches(0.125)) };
        let share = share_between_sides(inches(3.0 / 32.0), gaps, inches(1.0 / 64.0));
        let (closed, by) = share.close.expect("a gap to close");
        assert_eq!(closed, Side::Left);
        assert!((by - inches(1.0 / 32.0)).abs() < inches(1e-9));
        let (open, by) = share.open.expect("the rest");
        assert_eq!(open, Side::Right);
        assert!((by - inches(1.0 / 16.0)).abs() < inches(1e-9));
        assert!(!share.beyond_limit);
    }

    #[test]
    fn the_manuals_limit_is_hard() {
        let right = SideGap { least: inches(0.0625), most: inches(0.0625) };
        let gaps = JointGaps { left: SideGap::default(), right, limit: Some(inches(0.125)) };
        assert!(share_between_sides(inches(0.09375), gaps, inches(1.0 / 64.0)).beyond_limit);
        assert!(!share_between_sides(inches(0.0625), gaps, inches(1.0 / 64.0)).beyond_limit);
        let other_way = share_between_sides(inches(-0.0625), gaps, inches(1.0 / 64.0));
        assert_eq!(other_way.close, Some((Side::Right, inches(0.0625))));
        assert_eq!(other_way.open, None);
        // Not by half a step either: 2.69 mm and 0.4 mm are more than 3.0 mm.
        let mm = Length::from_millimetres;
        let right = SideGap { least: mm(2.69), most: mm(2.69) };
        let gaps = JointGaps { left: SideGap::default(), right, limit: Some(mm(3.0)) };
        assert!(share_between_sides(mm(0.4), gaps, mm(0.2)).beyond_limit);
    }
}
