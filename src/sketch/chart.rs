//! Convergence: the reading of each attempt inside its tolerance band.

use crate::language::{tr, words};
use crate::metrology::Verdict;
use crate::procedure::{CheckResult, StepState, Words};
use crate::quantity::print;

use super::sheet::{Sheet, Sketch};
use super::{Anchor, Ink, Lettering};

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 190.0;
/// Left, top, right and bottom of the plot.
const PLOT: [f64; 4] = [92.0, 16.0, 316.0, 156.0];
/// Two labels closer than this would touch.
const LINE: f64 = 18.0;

/// One complete attempt on the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct ChartPoint {
    /// Which attempt: 1 is the first.
    pub number: usize,
    /// Where it stands.
    pub x: f64,
    /// The reading's y.
    pub y: f64,
    /// The y of the upper end of its uncertainty.
    pub top: f64,
    /// The y of the lower end.
    pub bottom: f64,
    /// Something was moved after it.
    pub moved_after: bool,
    /// Its value in words.
    pub label: String,
    /// Its verdict.
    pub verdict: Verdict,
}

/// A check's complete attempts, oldest first, and the limits that the last was held against; in units of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// What it shows, in sentences.
    pub title: String,
    /// At least one.
    pub points: Vec<ChartPoint>,
    /// The upper limit's y and its number.
    pub upper: Option<(f64, String)>,
    /// The lower limit's y and its number.
    pub lower: Option<(f64, String)>,
}

/// The chart of a step's complete attempts; `None` while there is none.
#[must_use]
pub fn attempts_chart(step: &StepState) -> Option<Chart> {
    let complete: Vec<(usize, bool, &CheckResult)> = step
        .attempts
        .iter()
        .zip(&step.results)
        .filter_map(|(attempt, result)| Some((attempt.stale.is_some(), result.as_ref()?)))
        .filter(|(_, result)| result.estimate.value.is_finite() && result.estimate.u.is_finite())
        .enumerate()
        .map(|(place, (stale, result))| (place + 1, stale, result))
        .collect();
    let (_, _, last) = complete.last()?;
    let limits = last.limits;
    let finite = |limit: Option<f64>| limit.filter(|limit| limit.is_finite());
    let (lower, upper) =
        (finite(limits.and_then(|limits| limits.lower)), finite(limits.and_then(|limits| limits.upper)));
    let ends = complete
        .iter()
        .flat_map(|(_, _, result)| {
            let (value, by) = (result.estimate.value, result.estimate.expanded());
            [value - by, value + by]
        })
        .chain(lower)
        .chain(upper);
    let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), end| (low.min(end), high.max(end)));
    let [left, top, right, bottom] = PLOT;
    let span = high - low;
    let y = |value: f64| if span > 0.0 { bottom - (value - low) / span * (bottom - top) } else { (top + bottom) / 2.0 };
    let pitch = (right - left) / complete.len() as f64;
    let points: Vec<ChartPoint> = complete
        .iter()
        .map(|(number, stale, result)| {
            let (value, by) = (result.estimate.value, result.estimate.expanded());
            ChartPoint {
                number: *number,
                x: left + pitch * (*number as f64 - 0.5),
                y: y(value),
                top: y(value + by),
                bottom: y(value - by),
                moved_after: *stale,
                label: Words::value(result),
                verdict: result.verdict,
            }
        })
        .collect();
    let limit = |limit: Option<f64>| limit.map(|limit| (y(limit), limit_words(limit, last)));
    let (upper, lower) = (limit(upper), limit(lower));
    Some(Chart { title: title(step, &points, upper.as_ref(), lower.as_ref()), points, upper, lower })
}

fn limit_words(limit: f64, result: &CheckResult) -> String {
    if result.agreement { format!("{:.0} %", limit * 100.0) } else { print(limit, result.estimate.unit, result.step) }
}

fn title(
    step: &StepState,
    points: &[ChartPoint],
    upper: Option<&(f64, String)>,
    lower: Option<&(f64, String)>,
) -> String {
    let attempts: Vec<String> = points
        .iter()
        .map(|point| {
            let (number, value, verdict) = (point.number, &point.label, Words::verdict(point.verdict));
            tr!("{number}: {value}, {verdict}", number, value, verdict)
        })
        .collect();
    let band = match (lower, upper) {
        (Some((_, lower)), Some((_, upper))) => tr!("The band runs from {lower} to {upper}.", lower, upper),
        (Some((_, lower)), None) => tr!("The limit is at least {lower}.", lower),
        (None, Some((_, upper))) => tr!("The limit is at most {upper}.", upper),
        (None, None) => String::new(),
    };
    let all =
        tr!("{step}, attempt by attempt. {attempts}.", step = Words::step_title(step), attempts = attempts.join("; "));
    if band.is_empty() { all } else { format!("{all} {band}") }
}

impl Chart {
    /// The chart as shapes.
    #[must_use]
    pub fn sketch(&self) -> Sketch {
        let mut sheet = Sheet::new(WIDTH, HEIGHT);
        let [left, top, right, bottom] = PLOT;
        let (above, below) = (top - 8.0, bottom + 8.0);
        self.band(&mut sheet);
        sheet.line((left, above), (left, below), Ink::Inner);
        sheet.line((left, below), (right, below), Ink::Inner);
        for pair in self.points.windows(2).filter(|pair| pair[0].moved_after) {
            sheet.line((pair[0].x, pair[0].y), (pair[1].x, pair[1].y), Ink::Reference);
        }
        // Numbers under the axis, thinned out so that they never touch; the last is always there.
        let every = (self.points.len() as f64 * 20.0 / (right - left)).ceil().max(1.0) as usize;
        for (from_end, point) in self.points.iter().rev().enumerate() {
            let last = from_end == 0;
            let ink = if last { Ink::Bar } else { Ink::Post };
            let cap = if last { 6.0 } else { 4.0 };
            for end in [point.top, point.bottom] {
                sheet.line((point.x - cap, end), (point.x + cap, end), ink);
            }
            sheet.line((point.x, point.top), (point.x, point.bottom), ink);
            sheet.circle((point.x, point.y), if last { 6.0 } else { 4.0 }, ink);
            if from_end.is_multiple_of(every) {
                sheet.note((point.x, below + 16.0), Anchor::Middle, &point.number.to_string());
            }
        }
        sheet.note((left - 8.0, below + 16.0), Anchor::End, words!("attempt"));
        self.value(&mut sheet);
        sheet.finish(self.title.clone())
    }

    /// The area that is allowed, with its limits' posts and numbers.
    fn band(&self, sheet: &mut Sheet) {
        let [left, top, right, bottom] = PLOT;
        let (above, below) = (top - 8.0, bottom + 8.0);
        if self.upper.is_none() && self.lower.is_none() {
            return;
        }
        let upper = self.upper.as_ref().map_or(above, |(y, _)| *y);
        let lower = self.lower.as_ref().map_or(below, |(y, _)| *y);
        sheet.rectangle((left, upper), (right, lower), Ink::Band);
        let crowd = ((LINE - (lower - upper)) / 2.0).max(0.0);
        for (limit, shift) in [(&self.upper, -crowd), (&self.lower, crowd)] {
            if let Some((y, words)) = limit {
                sheet.line((left, *y), (right, *y), Ink::Post);
                sheet.note((left - 8.0, y + 5.0 + shift), Anchor::End, words);
            }
        }
    }

    /// The last value over its point, or under it where there is no room above.
    fn value(&self, sheet: &mut Sheet) {
        let Some(last) = self.points.last() else { return };
        let [_, top, ..] = PLOT;
        let above = last.top - 7.0;
        let y = if above > top { above } else { last.bottom + 20.0 };
        sheet.text((last.x, y), Anchor::Middle, Lettering::Plain, Ink::Bar, &last.label);
    }
}
