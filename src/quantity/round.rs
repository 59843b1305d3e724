//! Rounding to the step of a tool, for show only.
//!
//! Rounds half away from zero. A decimal is rounded as it is written (1.025 to 0.05 gives 1.05), not as its nearest
//! binary number happens to lie, so that what a person checks by hand is what they see.

use super::Unit;

/// Finest inch fraction on any tape.
const FINEST: u64 = 64;
/// Decimal places kept of a value; a value above 0.1 has none beyond them that mean anything.
const PLACES: usize = 18;
/// Decimal places kept of a step.
const STEP_PLACES: usize = 9;

/// A number rounded for show.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Rounded {
    /// Below zero after rounding; never set for zero.
    pub(super) negative: bool,
    /// The number without its sign.
    pub(super) magnitude: Magnitude,
}

/// A number without its sign.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Magnitude {
    /// `whole` + `top`/`bottom`, reduced; `top` 0 when there is no fraction.
    Fraction { whole: u64, top: u64, bottom: u64 },
    /// Decimal digits before and after the point, `after` empty when there are none.
    Decimal { before: String, after: String },
}

/// `value` rounded to `step`, both in `unit`. A step that is not a positive number leaves the value as it is.
pub(super) fn round(value: f64, unit: Unit, step: f64) -> Rounded {
    let magnitude = match fraction_parts(value, unit, step) {
        Some(parts) => fraction(value.abs(), parts),
        None => decimal(value.abs(), step),
    };
    Rounded { negative: value < 0.0 && !magnitude.is_zero(), magnitude }
}

/// How many parts the inch is divided in, when the step is one of the tape's: 1, 2, 4 … 64. Without a step, 64 when
/// the value is a whole number of them.
pub(super) fn fraction_parts(value: f64, unit: Unit, step: f64) -> Option<u64> {
    let fits_integer = value.abs() < 1e12;
    if unit != Unit::Inch || !fits_integer {
        return None;
    }
    if step > 0.0 {
        (0..=6).map(|k| 1_u64 << k).find(|&parts| step * parts as f64 == 1.0)
    } else {
        ((value * FINEST as f64).fract() == 0.0).then_some(FINEST)
    }
}

/// The step to print a worked-out number by, of which one step of a reading is worth `step`: that itself where a tool could have it, a
/// fraction of the tape's or a decimal of three figures; else the next finer one of 1, 2 and 5 times a power of ten. `step` may carry the
/// last bits of a calculation.
pub(crate) fn step_to_print(step: f64, unit: Unit) -> f64 {
    let near = |other: f64| (step - other).abs() < 1e-6 * step;
    let of_the_tape = (0..=6).map(|k| 1.0 / f64::from(1 << k)).find(|part| unit == Unit::Inch && near(*part));
    let of_three_figures = || format!("{step:.2e}").parse().ok().filter(|short| near(*short));
    of_the_tape.or_else(of_three_figures).unwrap_or_else(|| {
        let power = step.log10().floor();
        let figure = step / 10_f64.powf(power);
        let round = if figure < 2.0 {
            1.0
        } else if figure < 5.0 {
            2.0
        } else {
            5.0
        };
        // By way of its digits, which no power of ten below one has in binary.
        format!("{round}e{power}").parse().unwrap_or(step)
    })
}

fn fraction(value: f64, parts: u64) -> Magnitude {
    // Scaling by a power of two is exact, so this is the only rounding.
    let ticks = (value * parts as f64).round() as u64;
    let (whole, top) = (ticks / parts, ticks % parts);
    let common = if top == 0 { parts } else { 1 << top.trailing_zeros() };
    Magnitude::Fraction { whole, top: top / common, bottom: parts / common }
}

fn decimal(value: f64, step: f64) -> Magnitude {
    let written = format!("{value}");
    // A step such as 0.1 · 0.1 is meant as 0.01; no tool resolves a billionth.
    let step_written = format!("{step:.STEP_PLACES$}");
    if step > 0.0
        && let Some(rounded) = decimal_steps(&written, step_written.trim_end_matches('0').trim_end_matches('.'))
    {
        return rounded;
    }
    let (before, after) = written.split_once('.').unwrap_or((&written, ""));
    Magnitude::Decimal { before: before.into(), after: after.into() }
}

/// Rounds the written decimal `value` to the written decimal `step`; none when either has too many digits to count.
fn decimal_steps(value: &str, step: &str) -> Option<Magnitude> {
    let places = step.split_once('.').map_or(0, |(_, after)| after.len());
    let (value, step) = (scaled(value)?, scaled(step).filter(|&step| step > 0)?);
    let steps = value.checked_mul(2)?.checked_add(step)? / step.checked_mul(2)?;
    let digits = format!("{:0width$}", steps.checked_mul(step)?, width = PLACES + 1);
    let (before, after) = digits.split_at(digits.len() - PLACES);
    Some(Magnitude::Decimal { before: before.into(), after: after[..places].into() })
}

/// A written decimal as a whole number of 10⁻¹⁸.
fn scaled(written: &str) -> Option<u128> {
    let (before, after) = written.split_once('.').unwrap_or((written, ""));
    let after = &after[..after.len().min(PLACES)];
    format!("{before}{after:0<PLACES$}").parse().ok()
}

impl Magnitude {
    fn is_zero(&self) -> bool {
        match self {
            Self::Fraction { whole, top, .. } => *whole == 0 && *top == 0,
            Self::Decimal { before, after } => before.bytes().chain(after.bytes()).all(|digit| digit == b'0'),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::step_to_print;
    use crate::quantity::Unit;

    #[test]
    fn a_worked_out_number_is_printed_by_a_step_that_a_tool_could_have() {
        let cases = [
            (0.000_119_304_792_8, Unit::Degree, 0.0001),
            (0.006_218_9, Unit::One, 0.005),
            (0.037, Unit::Degree, 0.037),
            (0.083_729, Unit::Degree, 0.05),
            (0.249_999_99, Unit::Degree, 0.25),
            (0.199_876, Unit::Degree, 0.1),
            (0.009_999_999_999_990_905, Unit::Pound, 0.01),
            (1.0 / 64.0 + 1e-15, Unit::Inch, 1.0 / 64.0),
            (1.0 / 128.0, Unit::Inch, 0.005),
            (0.051_2, Unit::Inch, 0.051_2),
            (0.051_23, Unit::Inch, 0.05),
            (12.346, Unit::Millimetre, 10.0),
            (0.0, Unit::Degree, 0.0),
        ];
        for (step, unit, printed_by) in cases {
            assert!(step_to_print(step, unit).to_bits() == f64::to_bits(printed_by), "{step} {unit:?}");
        }
    }
}
