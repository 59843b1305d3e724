//! How far off an instrument of a maker's class may be.

use crate::quantity::Length;
use crate::record::AccuracyClass;

/// A maker's accuracy class of a tape or rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TapeClass {
    /// Class I, marked with a I in an oval (Directive 2014/32/EU, annex X, chapter I; OIML R 35-1).
    One,
    /// Class II.
    Two,
    /// Class III.
    Three,
    /// A metal tape sold in the United States (NIST Handbook 44, 5.52).
    UnitedStates,
    /// No class: plus or minus this much over any length, as the maker states it.
    Stated(Length),
}

impl From<AccuracyClass> for TapeClass {
    fn from(class: AccuracyClass) -> Self {
        match class {
            AccuracyClass::I => Self::One,
            AccuracyClass::II => Self::Two,
            AccuracyClass::III => Self::Three,
            AccuracyClass::Handbook44 => Self::UnitedStates,
        }
    }
}

impl TapeClass {
    /// The limit of error, plus or minus, of the distance `length` between two marks; where it starts at the end of the tape
    /// (the hook), `from_end`. `None` for a length that the class does not cover, or a negative one.
    ///
    /// Classes I to III: a + b·L mm with L rounded up to the next whole metre, and c more from the end. Handbook 44: by steps of
    /// the interval from zero rounded up to the next whole foot, to 100 ft.
    #[must_use]
    pub fn limit_of_error(self, length: Length, from_end: bool) -> Option<Length> {
        if length < Length::ZERO || !length.metres().is_finite() {
            return None;
        }
        let formula = |a: f64, b: f64, c: f64| {
            // 3.000 m that arrives as 3.0000000000000004 is 3 m.
            let metres = (length.metres() - 1e-9).ceil().max(0.0);
            Length::from_millimetres(a + b * metres + if from_end { c } else { 0.0 })
        };
        Some(match self {
            Self::One => formula(0.1, 0.1, 0.1),
            Self::Two => formula(0.3, 0.2, 0.2),
            Self::Three => formula(0.6, 0.4, 0.3),
            Self::UnitedStates => {
                const STEPS: [(f64, f64); 5] =
                    [(6.0, 1.0 / 32.0), (30.0, 1.0 / 16.0), (55.0, 1.0 / 8.0), (80.0, 3.0 / 16.0), (100.0, 0.25)];
                let feet = (length.inches() / 12.0 - 1e-9).ceil();
                Length::from_inches(STEPS.iter().find(|(up_to, _)| feet <= *up_to)?.1)
            }
            Self::Stated(limit) => limit.abs(),
        })
    }
}
