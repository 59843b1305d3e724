//! The instruments that are usually at hand, by kind and by the manual's units.

use crate::quantity::{Quantity, Unit};
use crate::record::{InstrumentKind, Units};

/// An instrument as it is offered: its step, and the limit of error to assume until its own class is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preset {
    /// Its unit.
    pub unit: Unit,
    /// Display or graduation step, in `unit`.
    pub step: f64,
    /// Limit of error, plus or minus, in `unit`.
    pub accuracy: f64,
}

impl Preset {
    /// "reads to 1/32 in, good to 1/16 in".
    #[must_use]
    pub fn label(self) -> String {
        let print = |value| Quantity::new(value, self.unit, 0.0).text;
        format!("reads to {}, good to {}", print(self.step), print(self.accuracy))
    }
}

/// Presets in the order in which they are offered.
///
/// Limits of error: a metal tape of 7 to 30 ft may be 1/16 in off (NIST Handbook 44, 5.52), a class II tape 1.3 mm over 5 m
/// (Directive 2014/32/EU, annex X: 0.3 + 0.2·L mm); a digital protractor 0.1° until its own card says better (common practice,
/// no source); a rule half a graduation (common practice, no source).
#[must_use]
pub const fn presets(kind: InstrumentKind, units: Units) -> &'static [Preset] {
    const fn preset(unit: Unit, step: f64, accuracy: f64) -> Preset {
        Preset { unit, step, accuracy }
    }
    const PROTRACTORS: [Preset; 3] =
        [preset(Unit::Degree, 0.1, 0.1), preset(Unit::Degree, 0.05, 0.1), preset(Unit::Degree, 0.01, 0.05)];
    const INCH_TAPES: [Preset; 3] = [
        preset(Unit::Inch, 1.0 / 16.0, 1.0 / 16.0),
        preset(Unit::Inch, 1.0 / 32.0, 1.0 / 16.0),
        preset(Unit::Inch, 1.0 / 64.0, 1.0 / 16.0),
    ];
    const MM_TAPES: [Preset; 2] = [preset(Unit::Millimetre, 1.0, 1.3), preset(Unit::Millimetre, 0.5, 1.3)];
    const INCH_RULES: [Preset; 2] =
        [preset(Unit::Inch, 1.0 / 32.0, 1.0 / 64.0), preset(Unit::Inch, 1.0 / 64.0, 1.0 / 128.0)];
    const MM_RULES: [Preset; 2] = [preset(Unit::Millimetre, 0.5, 0.25), preset(Unit::Millimetre, 1.0, 0.5)];
    match (kind, units) {
        (InstrumentKind::Protractor, _) => &PROTRACTORS,
        (InstrumentKind::Tape, Units::Inches) => &INCH_TAPES,
        (InstrumentKind::Tape, Units::Millimetres) => &MM_TAPES,
        (InstrumentKind::Rule, Units::Inches) => &INCH_RULES,
        (InstrumentKind::Rule, Units::Millimetres) => &MM_RULES,
        _ => &[],
    }
}
