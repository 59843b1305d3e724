//! The picture of a tape around a value, as plain numbers for a drawing.

use super::Unit;

/// One tick of the tape.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    /// Distance from the left edge of the window, in the tape's unit.
    pub offset: f64,
    /// Height class, 0 the tallest. Inches: 0 whole, 1 half, 2 quarter, 3 eighth, 4 sixteenth, 5 thirty-second, 6
    /// sixty-fourth. Millimetres: 0 ten, 1 five, 2 one, 3 half.
    pub class: u8,
    /// The number printed at a tick of class 0.
    pub label: Option<String>,
}

/// A window of a tape: its ticks from left to right, and where the value points.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeTicks {
    /// Width of the window, in the tape's unit.
    pub width: f64,
    /// The ticks inside the window, edges included.
    pub ticks: Vec<Tick>,
    /// Distance of the value from the left edge, in the tape's unit.
    pub pointer: f64,
}

/// More ticks than this is no picture.
const MOST_TICKS: f64 = 2000.0;

impl TapeTicks {
    /// The tape around the magnitude of `value`, `width` wide (all in `unit`), with ticks as fine as `step`: the nearest
    /// division of a tape that is not finer than the step, from 1 to 1/64 in or from 10 to 0.5 mm.
    ///
    /// The value is in the middle, except near the hook, where the window starts at 0. None when `unit` is none that a
    /// tape is marked in, a number is not finite, or the window is empty or too wide to draw.
    pub fn around(value: f64, unit: Unit, step: f64, width: f64) -> Option<Self> {
        // Parts per labelled division, and the length of one labelled division.
        let (divisions, labelled): (&[u32], f64) = match unit {
            Unit::Inch => (&[1, 2, 4, 8, 16, 32, 64], 1.0),
            Unit::Millimetre => (&[1, 2, 10, 20], 10.0),
            _ => return None,
        };
        let parts = divisions.iter().copied().rfind(|&parts| step * f64::from(parts) <= labelled).unwrap_or(1);
        let per_unit = f64::from(parts) / labelled;
        let value = value.abs();
        let drawable = value * per_unit < 1e12 && width > 0.0 && width * per_unit <= MOST_TICKS && step.is_finite();
        if !drawable {
            return None;
        }
        let left = (value - width / 2.0).max(0.0);
        let (first, last) = ((left * per_unit).ceil() as u64, ((left + width) * per_unit).floor() as u64);
        let ticks = (first..=last).map(|n| {
            let class = divisions.iter().position(|&d| (n * u64::from(d)) % u64::from(parts) == 0).unwrap_or(0);
            Tick {
                offset: n as f64 / per_unit - left,
                class: class as u8,
                label: (class == 0).then(|| format!("{}", n as f64 / per_unit)),
            }
        });
        Some(Self { width, ticks: ticks.collect(), pointer: value - left })
    }
}
