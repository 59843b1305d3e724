//! What could have been meant by a number, slip by slip. Plain arithmetic on the number as typed; which of them is believable is
//! for [`super::doubt()`] to say.

use crate::language::Language;
use crate::metrology::half_step_uncertainty;
use crate::quantity::{Unit, print_number_in};

/// Millimetres in an inch: what a unit slip multiplies or divides by.
const MM_PER_INCH: f64 = 25.4;

/// Where tapes are held when the hook is not trusted, in the tape's own unit: the 1 and the 10 inch mark; on a metric tape the 10
/// and the 100 millimetre mark (common practice, no source).
pub(super) const fn tape_starts(unit: Unit) -> &'static [f64] {
    match unit {
        Unit::Inch => &[1.0, 10.0],
        Unit::Millimetre => &[10.0, 100.0],
        Unit::Metre => &[0.01, 0.1],
        _ => &[],
    }
}

/// How many parts of an inch an instrument is divided into; `None` unless it is a tape or rule of fractions (2 to 64 parts).
pub(super) fn parts_of_inch(unit: Unit, step: f64) -> Option<u32> {
    (1..=6).map(|power| 1_u32 << power).find(|&parts| unit == Unit::Inch && step * f64::from(parts) == 1.0)
}

/// The numbers for which a fraction was slipped: the fraction mirrored about the half (3/8 for 5/8; down to sixteenths), and the
/// same number of lines counted in another division (1/16 for 1/8), as far as the tape has that division.
pub(super) fn other_fractions(value: f64, parts: u32) -> Vec<f64> {
    let size = value.abs();
    let whole = size.floor();
    let lines = ((size - whole) * f64::from(parts)).round() as u32;
    if lines == 0 || lines >= parts {
        return Vec::new();
    }
    let common = 1 << lines.trailing_zeros();
    let (top, bottom) = (lines / common, parts / common);
    let mut tops_and_bottoms = Vec::new();
    if (4..=16).contains(&bottom) {
        tops_and_bottoms.push((bottom - top, bottom));
    }
    for other in (1..=6).map(|power| 1_u32 << power).filter(|&other| other <= parts && other != bottom && top < other) {
        tops_and_bottoms.push((top, other));
    }
    tops_and_bottoms
        .into_iter()
        .map(|(top, bottom)| (whole + f64::from(top) / f64::from(bottom)).copysign(value))
        .collect()
}

/// The numbers for which two neighbouring digits changed places: the digits of the whole inches on a tape of fractions, all shown
/// digits otherwise, the decimal point staying where it is. No leading zero is moved in.
pub(super) fn transposed(value: f64, unit: Unit, step: f64) -> Vec<f64> {
    let size = value.abs();
    let (digits, rest, scale) = if parts_of_inch(unit, step).is_some() {
        (size.floor(), size.fract(), 1.0)
    } else {
        let scale = 10_f64.powi(i32::from(decimals(size, unit, step)));
        ((size * scale).round(), 0.0, scale)
    };
    // No reading has more; and so no product below overflows.
    if digits > 1e12 {
        return Vec::new();
    }
    let digits = digits as u64;
    let mut found = Vec::new();
    let mut place = 1_u64;
    while digits / place >= 10 {
        let (low, high) = (digits / place % 10, digits / place / 10 % 10);
        let leads = digits / place < 100;
        if low != high && !(leads && low == 0) {
            // Low takes the place of high: low·10 + high instead of high·10 + low.
            let swapped = digits - (high * 10 + low) * place + (low * 10 + high) * place;
            found.push((swapped as f64 / scale + rest).copysign(value));
        }
        place *= 10;
    }
    found
}

/// The numbers for which the decimal point was left out or slipped by one place, on an instrument that shows one.
pub(super) fn point_slips(value: f64, unit: Unit, step: f64) -> Vec<f64> {
    let places = if parts_of_inch(unit, step).is_some() { 0 } else { decimals(value, unit, step) };
    let mut found: Vec<f64> = (1..=places).map(|place| value / 10_f64.powi(i32::from(place))).collect();
    if places > 0 {
        found.push(value * 10.0);
    }
    found
}

/// The number that was read in the other unit of length, with the standard uncertainty that its rounding there leaves (millimetres
/// to the whole, inches to the tenth), both in `unit`; `None` for an angle or a count.
pub(super) fn other_unit(value: f64, unit: Unit) -> Option<(f64, f64)> {
    match unit {
        Unit::Inch => Some((value / MM_PER_INCH, half_step_uncertainty(1.0) / MM_PER_INCH)),
        Unit::Millimetre => Some((value * MM_PER_INCH, half_step_uncertainty(0.1) * MM_PER_INCH)),
        _ => None,
    }
}

/// How many decimals the instrument shows.
fn decimals(value: f64, unit: Unit, step: f64) -> u8 {
    let shown = print_number_in(Language::English, value.abs(), unit, step);
    shown.split_once('.').map_or(0, |(_, after)| u8::try_from(after.len()).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The slips that the trade names (job knowledge, common practice, no source): 3/8 for 5/8, 3/8 for 3/16, 1/16 for 1/8.
    #[test]
    fn fractions_that_are_taken_for_each_other() {
        assert!(other_fractions(227.375, 32).contains(&227.625), "3/8 for 5/8");
        assert!(other_fractions(227.375, 32).contains(&227.1875), "3/8 for 3/16");
        assert!(other_fractions(0.0625, 16).contains(&0.125), "1/16 for 1/8");
        assert!(other_fractions(-0.0625, 16).contains(&-0.125), "the sign stays");
        assert_eq!(other_fractions(5.0, 32), Vec::<f64>::new(), "no fraction");
        assert_eq!(other_fractions(5.5, 2), Vec::<f64>::new(), "a half is its own mirror");
        assert!(!other_fractions(227.625, 8).contains(&(227.0 + 5.0 / 16.0)), "no line that the tape lacks");
    }

    #[test]
    fn neighbouring_digits_change_places() {
        assert_eq!(transposed(272.4375, Unit::Inch, 1.0 / 32.0), [227.4375, 722.4375]);
        assert_eq!(transposed(-2.6, Unit::Degree, 0.1), [-6.2]);
        assert_eq!(transposed(1012.0, Unit::Millimetre, 1.0), [1021.0, 1102.0], "not 0112");
        assert_eq!(transposed(2.65, Unit::Degree, 0.05), [2.56, 6.25]);
        assert_eq!(transposed(0.6, Unit::Degree, 0.1), Vec::<f64>::new());
    }

    #[test]
    fn points_and_units_slip() {
        assert_eq!(point_slips(26.0, Unit::Degree, 0.1), [2.6, 260.0]);
        assert_eq!(point_slips(260.0, Unit::Degree, 0.05), [26.0, 2.6, 2600.0], "two places left out");
        assert_eq!(point_slips(26.0, Unit::Millimetre, 1.0), Vec::<f64>::new(), "there is no point to slip");
        assert_eq!(point_slips(2.5, Unit::Inch, 0.0625), Vec::<f64>::new(), "nor between fractions");
        // One inch is exactly 25.4 mm (NIST SP 811, B.8).
        assert_eq!(other_unit(254.0, Unit::Inch).map(|(meant, _)| meant), Some(10.0));
        assert_eq!(other_unit(10.0, Unit::Millimetre).map(|(meant, _)| meant), Some(254.0));
        assert_eq!(other_unit(10.0, Unit::Degree), None);
    }
}
