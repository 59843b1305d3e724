//! A written decimal as the nearest binary number.

/// Powers of five up to this one fit what is divided here.
const MOST_PLACES: u32 = 54;
/// A quotient with this bit or a higher one has at least two bits more than a double holds.
const ENOUGH: u128 = 1 << 54;

/// The double nearest to a decimal, ties to even: "227.6875", "-0.30000000000000004", "5e-1". An optional minus, digits with
/// at most one point among or beside them, an optional exponent.
///
/// As many decimals are heeded as fit 38 digits and 54 places, which is more than any program writes; a number of 10³⁸ or
/// more is infinite. None when the text is no decimal, or when its exponent makes it smaller than any reading.
///
/// Exact, because the whole number made of the digits is divided by the power of ten bit by bit, two bits further than the
/// result is long, and whether anything remained is kept in the last of them. (The core library's own reading of decimals
/// is as exact and reaches further; its tables alone are ten thousand bytes that no compression makes smaller.)
pub(crate) fn decimal(written: &str) -> Option<f64> {
    let (negative, unsigned) = written.strip_prefix('-').map_or((false, written), |rest| (true, rest));
    let (digits, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((digits, exponent)) => (digits, exponent.parse::<i32>().ok()?),
        None => (unsigned, 0),
    };
    let (before, after) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = before.bytes().chain(after.bytes()).all(|digit| digit.is_ascii_digit());
    if (before.is_empty() && after.is_empty()) || !all_digits {
        return None;
    }
    let infinite = if negative { f64::NEG_INFINITY } else { f64::INFINITY };
    let add = |whole: u128, digit: u8| whole.checked_mul(10)?.checked_add(u128::from(digit - b'0'));
    let Some(mut whole) = before.bytes().try_fold(0, add) else { return Some(infinite) };
    let mut places = 0_i32;
    let heeded = after.trim_end_matches('0').bytes().take(MOST_PLACES as usize);
    for digit in heeded {
        let Some(longer) = add(whole, digit) else { break };
        (whole, places) = (longer, places + 1);
    }
    let places = places.saturating_sub(exponent);
    let magnitude = if whole == 0 {
        0.0
    } else if places <= 0 {
        let scaled = 10_u128.checked_pow(places.unsigned_abs()).and_then(|power| whole.checked_mul(power));
        scaled.map_or(f64::INFINITY, |number| number as f64)
    } else {
        divided(whole, places.unsigned_abs())?
    };
    Some(if negative { -magnitude } else { magnitude })
}

/// `whole` over ten to the power of `places`, rounded once.
fn divided(whole: u128, places: u32) -> Option<f64> {
    if places > MOST_PLACES {
        return None;
    }
    // Ten is five times two: the division is by the fives, and the twos only shift.
    let fives = 5_u128.pow(places);
    let (mut quotient, mut rest) = (whole / fives, whole % fives);
    let mut shift = places;
    while quotient < ENOUGH {
        rest *= 2;
        quotient = quotient * 2 + u128::from(rest >= fives);
        rest %= fives;
        shift += 1;
    }
    let two_to_shift = f64::from_bits(u64::from(1023 + shift) << 52);
    Some((quotient | u128::from(rest > 0)) as f64 / two_to_shift)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::decimal;

    #[test]
    fn what_is_no_decimal_is_none() {
        for text in ["", ".", "-", "--1", "+1", "1.2.3", "1,5", "1e", "e5", "x", "NaN", "inf", "1e-99", "0x1", " 1"] {
            assert_eq!(decimal(text), None, "{text:?}");
        }
    }

    #[test]
    fn what_is_beyond_every_reading_is_infinite_or_loses_decimals_that_no_double_holds() {
        assert_eq!(decimal(&"9".repeat(60)), Some(f64::INFINITY));
        assert_eq!(decimal("-1e99"), Some(f64::NEG_INFINITY));
        assert_eq!(decimal(&format!("0.1{}", "0".repeat(90))), Some(0.1));
        assert_eq!(decimal(&format!("0.5{}", "4".repeat(90))), Some(0.544_444_444_444_444_4));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        /// Held against the core library's reading of the same text.
        #[test]
        fn decimals_read_as_the_core_library_reads_them(text in "-?[0-9]{1,12}(\\.[0-9]{0,24})?(e-?[0-9])?") {
            prop_assert_eq!(decimal(&text).map(f64::to_bits), text.parse().ok().map(f64::to_bits));
        }

        #[test]
        fn every_double_reads_back_from_its_shortest_text(mantissa in 1.0..10.0_f64, power in -36..37_i32) {
            let value = mantissa * 10_f64.powi(power);
            prop_assert_eq!(decimal(&format!("{value}")).map(f64::to_bits), Some(value.to_bits()));
        }

        /// The hardest texts: as near as can be written to half way between two doubles.
        #[test]
        fn halves_between_doubles_round_as_in_the_core_library(value in 1.0..1000.0_f64, nudge in "[0-2]") {
            let (low, high) = (value, value.next_up());
            let half = format!("{:.60}", low + (high - low) / 2.0);
            let exact = format!("{low:.60}");
            for text in [&half[..36], &exact[..36], &format!("{}{nudge}", &exact[..35])] {
                prop_assert_eq!(decimal(text).map(f64::to_bits), text.parse().ok().map(f64::to_bits));
            }
        }
    }
}
