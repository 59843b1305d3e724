//! The reversal check: an instrument read, turned end for end in the same outline, and read again.

use crate::language::words;
use crate::metrology::{Estimate, Reversal as TwoFace, half_step_uncertainty};
use crate::procedure::{Ask, Slot};
use crate::record::{Instrument, Reversal, ZeroError};

/// The two readings, in order, for an instrument of a role. The sign is the instrument's own: its right end high is plus, so
/// that the slope of the bar changes sign with the turn and the zero error does not.
#[must_use]
pub fn reversal_slots(role: &str) -> [Slot; 2] {
    let slot = |id: &str, title: &str, place: &str| Slot {
        id: id.to_owned(),
        title: title.to_owned(),
        place: place.to_owned(),
        role: role.to_owned(),
        repeats: 1,
        ask: Some(Ask {
            question: words!("Which end of the instrument is high?").to_owned(),
            plus: words!("Its right end").to_owned(),
            minus: words!("Its left end").to_owned(),
        }),
        near: None,
        partner: None,
    };
    [
        slot(
            "first",
            words!("As it lies"),
            words!(
                "On a clean, stiff, nearly level bar, in absolute mode. Draw around it with a pencil. Let it settle, read it."
            ),
        ),
        slot(
            "turned",
            words!("Turned end for end"),
            words!("The other way round in the same outline. Let it settle, read it."),
        ),
    ]
}

/// Zero error z = (first + turned)/2 and slope of the bar (first − turned)/2, each with its standard uncertainty, in the
/// instrument's unit. The two readings are independent, and each hides half a display step. `None` when a reading is in
/// another unit.
///
/// The method is the usual reversal of a level (two-face method): an error that stays with the instrument keeps its sign when
/// the part's slope changes its own.
#[must_use]
pub fn reversed(reversal: &Reversal, instrument: &Instrument) -> Option<(Estimate, Estimate)> {
    let unit = instrument.unit;
    let read = |quantity: &crate::quantity::Quantity| {
        let u = half_step_uncertainty(instrument.step);
        (quantity.unit == unit).then_some(Estimate::new(quantity.value, u, unit))
    };
    let (first, turned) = (read(&reversal.first)?, read(&reversal.turned)?);
    let found = TwoFace::as_shown(first, turned);
    Some((found.zero, found.slope))
}

/// The zero error that a reversal found, as it stands in the instrument's state; to nine decimals, as files keep numbers.
#[must_use]
pub fn zero_of(reversal: &Reversal, instrument: &Instrument) -> Option<ZeroError> {
    let kept = |value: f64| (value * 1e9).round() / 1e9;
    let (zero, _) = reversed(reversal, instrument)?;
    Some(ZeroError { value: kept(zero.value), u: kept(zero.u) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, Unit};
    use crate::record::InstrumentKind;

    /// Source: worked from the two-face method (readings θ + z and −θ + z): +1.25° and −0.95° are a slope of 1.10° and a zero
    /// error of 0.15°.
    #[test]
    fn two_readings_give_the_zero_error_and_the_slope() {
        let level = Instrument::new(InstrumentKind::Protractor, "level".to_owned(), Unit::Degree, 0.05, 0.1);
        let read = |value| Quantity::new(value, Unit::Degree, 0.05);
        let reversal = Reversal { first: read(1.25), turned: read(-0.95) };
        let (zero, slope) = reversed(&reversal, &level).expect("both");
        assert!((zero.value - 0.15).abs() < 1e-12 && (slope.value - 1.10).abs() < 1e-12, "{zero:?} {slope:?}");
        let each = 0.05 / 12_f64.sqrt();
        assert!((zero.u - each / 2_f64.sqrt()).abs() < 1e-12 && (slope.u - zero.u).abs() < 1e-12);
        let other = Reversal { turned: Quantity::new(1.0, Unit::Inch, 0.1), ..reversal };
        assert_eq!(reversed(&other, &level), None);
    }
}
