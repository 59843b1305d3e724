//! Limits read off a manual's chart or table.

use std::fmt;

use super::{Estimate, Limits};
use crate::language::{tr, words};
use crate::quantity::Unit;

/// One point of a chart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartPoint {
    /// What the chart is entered with, such as a temperature.
    pub at: f64,
    /// Lowest value allowed there.
    pub lower: Option<f64>,
    /// Highest value allowed there.
    pub upper: Option<f64>,
}

/// A chart of limits: straight lines between its points and nothing beyond them.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    points: Vec<ChartPoint>,
    unit: Unit,
}

/// Why points make no chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChartError {
    /// Fewer than two points.
    TooFew,
    /// The points are not in rising order.
    NotRising,
    /// A number that is not finite.
    NotFinite,
    /// A limit that some points have and others lack, or none at all.
    Uneven,
}

impl fmt::Display for ChartError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooFew => words!("A chart needs two points at least."),
            Self::NotRising => words!("The points of a chart go from the smallest to the largest, each once."),
            Self::NotFinite => words!("A number is missing in the chart."),
            Self::Uneven => words!("Every point of a chart needs the same limits."),
        })
    }
}

impl std::error::Error for ChartError {}

/// Outside the chart: not judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutsideChart {
    /// What the chart was entered with.
    pub at: f64,
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl fmt::Display for OutsideChart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { at, from, to } = self;
        f.write_str(&tr!(
            "The manual's chart goes from {from} to {to}; at {at} it says nothing. Recorded, not judged.",
            from,
            to,
            at
        ))
    }
}

impl std::error::Error for OutsideChart {}

/// Limits at one place of a chart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartLimits {
    /// The limits.
    pub limits: Limits,
    /// Standard uncertainty of the limits from that of the place: the steeper of the two lines times u, in the limits' unit. Add it
    /// to the estimate that is judged ([`Estimate::widened`]).
    pub u: f64,
}

impl Chart {
    /// A chart whose limits are in `unit`.
    ///
    /// # Errors
    /// When the points are fewer than two, not rising, not finite, or do not all have the same limits.
    pub fn new(points: Vec<ChartPoint>, unit: Unit) -> Result<Self, ChartError> {
        let [first, _, ..] = points.as_slice() else { return Err(ChartError::TooFew) };
        let finite =
            |point: &ChartPoint| [Some(point.at), point.lower, point.upper].into_iter().flatten().all(f64::is_finite);
        if !points.iter().all(finite) {
            return Err(ChartError::NotFinite);
        }
        if points.windows(2).any(|pair| pair[0].at >= pair[1].at) {
            return Err(ChartError::NotRising);
        }
        let has = |point: &ChartPoint| (point.lower.is_some(), point.upper.is_some());
        if has(first) == (false, false) || points.iter().any(|point| has(point) != has(first)) {
            return Err(ChartError::Uneven);
        }
        Ok(Self { points, unit })
    }

    /// The limits at a place, by straight lines between the points.
    ///
    /// # Errors
    /// When the place lies outside the chart: nothing is extrapolated.
    pub fn at(&self, place: Estimate) -> Result<ChartLimits, OutsideChart> {
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        let at = place.value;
        let outside = OutsideChart { at, from: first.at, to: last.at };
        let segment = self.points.windows(2).find(|pair| pair[0].at <= at && at <= pair[1].at).ok_or(outside)?;
        let (left, right) = (segment[0], segment[1]);
        let share = (at - left.at) / (right.at - left.at);
        let between = |low: Option<f64>, high: Option<f64>| Some(low? * (1.0 - share) + high? * share);
        let slope = |low: Option<f64>, high: Option<f64>| Some(((high? - low?) / (right.at - left.at)).abs());
        let steepest = slope(left.lower, right.lower).unwrap_or(0.0).max(slope(left.upper, right.upper).unwrap_or(0.0));
        let limits = Limits {
            lower: between(left.lower, right.lower),
            upper: between(left.upper, right.upper),
            unit: self.unit,
        };
        Ok(ChartLimits { limits, u: steepest * place.u })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(at: f64, lower: f64, upper: f64) -> ChartPoint {
        ChartPoint { at, lower: Some(lower), upper: Some(upper) }
    }

    /// An invented chart: 20 to 24 at 0, 30 to 36 at 10, 30 to 36 at 20.
    #[test]
    fn straight_between_the_points_and_nothing_beyond() {
        let chart =
            Chart::new(vec![point(0.0, 20.0, 24.0), point(10.0, 30.0, 36.0), point(20.0, 30.0, 36.0)], Unit::One)
                .expect("a chart");
        let at = |value| chart.at(Estimate::new(value, 0.5, Unit::One));
        let middle = at(5.0).expect("inside");
        assert_eq!((middle.limits.lower, middle.limits.upper), (Some(25.0), Some(30.0)));
        assert!((middle.u - 0.6).abs() < 1e-15, "the upper line rises 1.2 per step: {middle:?}");
        assert_eq!(at(10.0).expect("on a point").limits.upper, Some(36.0));
        assert_eq!(at(20.0).expect("the last point").u, 0.0);
        for outside in [-0.01, 20.01, f64::NAN] {
            let said = at(outside).expect_err("outside").to_string();
            assert!(
                said.starts_with("The manual's chart goes from 0 to 20;") && said.ends_with("not judged."),
                "{said}"
            );
        }
    }

    #[test]
    fn points_that_make_no_chart_are_refused() {
        let made = |points: &[ChartPoint]| Chart::new(points.to_vec(), Unit::One).err();
        let open = ChartPoint { at: 2.0, lower: None, upper: Some(1.0) };
        assert_eq!(made(&[point(0.0, 1.0, 2.0)]), Some(ChartError::TooFew));
        assert_eq!(made(&[point(1.0, 1.0, 2.0), point(1.0, 1.0, 2.0)]), Some(ChartError::NotRising));
        assert_eq!(made(&[point(0.0, f64::NAN, 2.0), point(1.0, 1.0, 2.0)]), Some(ChartError::NotFinite));
        assert_eq!(made(&[point(0.0, 1.0, 2.0), open]), Some(ChartError::Uneven));
    }
}
