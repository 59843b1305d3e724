//! Whether a number is to be asked about, and as what.
//!
//! A doubt needs evidence from both sides. With z the distance of the number from what is expected, in standard uncertainties,
//! and z′ the same for the number that the slip would have been made from:
//!
//! - an ordinary slip is named when z ≥ 3.5, z′ ≤ 3 and z² − z′² ≥ 12: the slip's number is one that could honestly be read, and for
//!   a normal distribution it is at least exp(12/2) ≈ 400 times as likely as the one typed;
//! - a slip that an honest number seldom looks like by chance (a fraction that has a twin; a display at nothing where the sheet
//!   has an angle; the last number to the digit) is named when z ≥ 2.4 and, where it has a z′, z′ ≤ 1;
//! - right after the protractor was used in its other mode, a number with z ≥ 2.4 is put down to that;
//! - a number that no slip explains is asked about when z ≥ 5.
//!
//! Of several slips the best fit is named; all that fit within one standard uncertainty fit equally well, and the first of
//! [`candidates`] is named. 2.4 is as far as one repeat on a tape lets two graduations be seen (1/16 for 1/8 on a tape of
//! thirty-seconds). The thresholds are judgements; what they catch and how often they ask for nothing is measured in
//! `tests/guards.rs` and printed in `docs/guards.md`.

use crate::procedure::guard::slips;
use crate::procedure::guard::{Context, Expected, Source};
use crate::quantity::{Quantity, Unit};
use crate::record::Mode;

/// z from which an ordinary slip is believable.
const BELIEVABLE: f64 = 3.5;
/// z′ of what can still be read honestly.
const HONEST: f64 = 3.0;
/// z² − z′²: twice the logarithm of how much likelier the slip is.
const LIKELIER: f64 = 12.0;
/// z and z′ for a slip that honest numbers seldom look like.
const SELDOM: (f64, f64) = (2.4, 1.0);
/// z from which a number is asked about though nothing explains it.
const FAR: f64 = 5.0;

/// How the protractor's mode is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrongMode {
    /// Still relative from an earlier job: what it was zeroed on is missing from the number.
    LeftRelative,
    /// Absolute where a relative angle is asked for: what it should have been zeroed on is still in the number.
    LeftAbsolute,
    /// Zeroed on the very face that it is read on.
    ZeroedHere,
}

/// What a number is doubted for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slip {
    /// Too far from what is expected, and nothing explains it.
    Far,
    /// The tape started at another mark than its end: that mark, in the tape's unit, plus where the number is too large.
    TapeStart(f64),
    /// One fraction for another.
    Fraction,
    /// Two neighbouring digits changed places.
    Transposed,
    /// Left and right swapped.
    Swapped,
    /// The physical question answered the wrong way round.
    Sign,
    /// Relative for absolute, or the other way round.
    Mode(WrongMode),
    /// The last number typed again, for another reading.
    SameAgain,
    /// The decimal point one place off.
    Point,
    /// Read in the other unit of length.
    OtherUnit,
}

/// A number to be asked about once. Its [`Display`](std::fmt::Display) is the question.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// What it is doubted for.
    pub slip: Slip,
    /// What was probably meant, signed; offered, never put in its place silently. A number read in the other unit is not
    /// converted: it is read again.
    pub meant: Option<Quantity>,
    /// The number as typed.
    pub(super) entered: Quantity,
    /// What it is held against.
    pub(super) expected: Expected,
    /// Where it was typed.
    pub(super) context: Context,
}

/// The most telling doubt about a number, or none. A number in another unit than the context's, and a context that expects
/// nothing, raise none.
#[must_use]
pub fn doubt(entry: &Quantity, context: &Context) -> Option<Doubt> {
    let expected = context.expected.filter(|expected| expected.u > 0.0 && entry.unit == context.unit)?;
    let off = expected.off(entry.value);
    if off < SELDOM.0 {
        return None;
    }
    let found = |slip, meant: Option<f64>| {
        let meant = meant.map(|meant| Quantity::new(meant, entry.unit, entry.step));
        Doubt { slip, meant, entered: entry.clone(), expected, context: context.clone() }
    };
    let last = context.last.as_ref().filter(|last| last.value.unit == entry.unit && last.value.value == entry.value);
    let explains = |rest: f64| off >= BELIEVABLE && rest <= HONEST && off * off - rest * rest >= LIKELIER;
    let swapped = context.swapped.map(|swapped| (Slip::Swapped, None, swapped.off(entry.value)));
    let others = candidates(entry, context).into_iter().map(|(slip, meant)| (slip, Some(meant), expected.off(meant)));
    let unit = slips::other_unit(entry.value, context.unit)
        .map(|(read, rounding)| (Slip::OtherUnit, None, expected.wider(rounding).off(read)));
    let believable = swapped
        .into_iter()
        .chain(others)
        .chain(unit)
        .filter(|(slip, _, rest)| explains(*rest) || (*slip == Slip::Fraction && *rest <= SELDOM.1))
        .min_by(|(_, _, one), (_, _, other)| one.max(1.0).total_cmp(&other.max(1.0)));
    // Right after it was used in the other mode, that is what goes wrong.
    if let Some(mode) = context.switched_to.filter(|_| last.is_none()) {
        let left = if mode == Mode::Absolute { WrongMode::LeftRelative } else { WrongMode::LeftAbsolute };
        return Some(found(Slip::Mode(left), None));
    }
    match believable {
        // The other side's number is often the last one typed: that the sides were swapped says more.
        Some((slip, meant, _)) if slip == Slip::Swapped || last.is_none() => return Some(found(slip, meant)),
        _ if last.is_some() => return Some(found(Slip::SameAgain, None)),
        _ => {}
    }
    let nothing = context.unit == Unit::Degree && entry.value.abs() <= context.step * 1.01;
    if nothing && (off >= BELIEVABLE || expected.source == Source::Sheet) {
        return Some(found(Slip::Mode(WrongMode::ZeroedHere), None));
    }
    (off >= FAR).then(|| found(Slip::Far, None))
}

/// What each slip would have been made from, the first named first.
fn candidates(entry: &Quantity, context: &Context) -> Vec<(Slip, f64)> {
    let (value, unit, step) = (entry.value, context.unit, context.step);
    let mut found = Vec::new();
    for start in slips::tape_starts(unit) {
        for by in [*start, -start] {
            found.push((Slip::TapeStart(by), value - by));
        }
    }
    if let Some(parts) = slips::parts_of_inch(unit, step) {
        found.extend(slips::other_fractions(value, parts).into_iter().map(|meant| (Slip::Fraction, meant)));
    }
    if context.question.is_some() && value != 0.0 {
        found.push((Slip::Sign, -value));
    }
    found.extend(slips::transposed(value, unit, step).into_iter().map(|meant| (Slip::Transposed, meant)));
    found.extend(slips::point_slips(value, unit, step).into_iter().map(|meant| (Slip::Point, meant)));
    found
}
