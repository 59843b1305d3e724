//! The verdict's mark: a tolerance band as two posts, the reading as a bar as wide as its uncertainty.

use super::{Estimate, Limits};

/// The mark as fractions of its drawing width, 0 at the left edge, 1 at the right. Pure numbers: the screen and the printed
/// page draw the same ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// The post of the lower limit, where there is one.
    pub lower_post: Option<f64>,
    /// The post of the upper limit, where there is one.
    pub upper_post: Option<f64>,
    /// Left end of the reading's bar.
    pub bar_start: f64,
    /// Right end of the reading's bar.
    pub bar_end: f64,
    /// The bar goes on beyond one edge of the drawing: an arrow there.
    pub off_scale: bool,
}

/// Where the posts of a two-sided band stand.
const POSTS: (f64, f64) = (0.25, 0.75);
/// The narrowest bar that can still be seen.
const THINNEST: f64 = 0.02;

impl Mark {
    /// The mark of an estimate between limits. With no limits there are no posts and the bar stands in the middle.
    #[must_use]
    pub fn of(estimate: Estimate, limits: Option<Limits>) -> Self {
        let guard = estimate.expanded();
        let (lower, upper) = limits.map_or((None, None), |limits| (limits.lower, limits.upper));
        let (scale, origin) = match (lower, upper) {
            (Some(lower), Some(upper)) if upper > lower => {
                let scale = (POSTS.1 - POSTS.0) / (upper - lower);
                (scale, POSTS.0 - lower * scale)
            }
            (Some(end), _) | (None, Some(end)) => {
                // One post in the middle; the drawing reaches as far as the reading needs, twice over.
                let reach = (estimate.value - end).abs().max(guard).max(f64::MIN_POSITIVE) * 2.0;
                (0.5 / reach, 0.5 - end * 0.5 / reach)
            }
            (None, None) => {
                let reach = guard.max(f64::MIN_POSITIVE) * 4.0;
                (0.5 / reach, 0.5 - estimate.value * 0.5 / reach)
            }
        };
        let at = |value: f64| value * scale + origin;
        let half = (guard * scale).max(THINNEST / 2.0);
        let centre = at(estimate.value);
        let (start, end) = (centre - half, centre + half);
        Self {
            lower_post: lower.map(at),
            upper_post: upper.map(at),
            bar_start: start.clamp(0.0, 1.0 - THINNEST),
            bar_end: end.clamp(THINNEST, 1.0),
            // Where both ends stick out there is no edge that it left by.
            off_scale: (start < -1e-9) != (end > 1.0 + 1e-9),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::{Verdict, judge};
    use crate::quantity::Unit;

    /// What the eye sees must be what the verdict says: bar between the posts is in, beyond one is out, straddling is can't tell.
    #[test]
    fn the_bar_and_the_verdict_agree() {
        let limits = Limits { lower: Some(-2.8), upper: Some(-2.4), unit: Unit::Degree };
        let values = (-330..=-190).flat_map(|hundredth| [0.041, 0.065, 0.1].map(|u| (hundredth, u)));
        for (hundredth, u) in values {
            let estimate = Estimate::new(f64::from(hundredth) / 100.0, u, Unit::Degree);
            let mark = Mark::of(estimate, Some(limits));
            let (lower, upper) = (mark.lower_post.expect("post"), mark.upper_post.expect("post"));
            let seen = if mark.bar_start >= lower - 1e-9 && mark.bar_end <= upper + 1e-9 {
                "in"
            } else if mark.bar_end < lower - 1e-9 || mark.bar_start > upper + 1e-9 {
                "out"
            } else {
                "can't tell"
            };
            let said = match judge(estimate, Some(limits)) {
                Verdict::In => "in",
                Verdict::Out(_) => "out",
                Verdict::CantTell | Verdict::NotJudged => "can't tell",
            };
            assert_eq!(seen, said, "at {hundredth}, {u}");
        }
    }

    /// One limit: its post in the middle, the drawing twice as wide as the reading is off on either side.
    #[test]
    fn one_post_stands_in_the_middle() {
        let limits = Limits { lower: None, upper: Some(0.1), unit: Unit::Inch };
        let mark = Mark::of(Estimate::new(0.3, 0.05, Unit::Inch), Some(limits));
        let drawn = [mark.upper_post.expect("a post"), mark.bar_start, mark.bar_end];
        assert!(drawn.iter().zip([0.5, 0.625, 0.875]).all(|(one, other)| (one - other).abs() < 1e-9), "{mark:?}");
        assert!(mark.lower_post.is_none() && !mark.off_scale);
    }

    #[test]
    fn a_far_reading_stays_on_the_drawing() {
        let limits = Limits { lower: Some(-0.0625), upper: Some(0.0625), unit: Unit::Inch };
        let mark = Mark::of(Estimate::new(2.0, 0.01, Unit::Inch), Some(limits));
        assert!(mark.off_scale && mark.bar_end <= 1.0 && mark.bar_start >= 0.0, "{mark:?}");
        let low = Mark::of(Estimate::new(-2.0, 0.01, Unit::Inch), Some(limits));
        assert!(low.off_scale && low.bar_start == 0.0 && low.bar_end < 0.1, "{low:?}");
        // An uncertainty that is wider than the whole drawing leaves it on both sides: no arrow to either.
        let wide = Mark::of(Estimate::new(-0.02, 1.0, Unit::Inch), Some(limits));
        assert!(!wide.off_scale && wide.bar_start == 0.0 && wide.bar_end == 1.0, "{wide:?}");
    }
}
