//! The instruments that are usually at hand, by kind and by the manual's units.

use crate::language::tr;
use crate::quantity::{Unit, print};
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
        let shown = |value| print(value, self.unit, 0.0);
        tr!("reads to {step}, good to {limit}", step = shown(self.step), limit = shown(self.accuracy))
    }
}

/// Presets in the order in which they are offered.
///
/// Limits of error: a metal tape of 7 to 30 ft may be 1/16 in off (NIST Handbook 44, 5.52), a class II tape 1.3 mm over 5 m
/// (Directive 2014/32/EU, annex X: 0.3 + 0.2·L mm); a digital protractor 0.1° until its own card says better, a rule half a
/// graduation, a water level and a laser line about 1/16 in over a hangar's lengths, a tensiometer, scales and a click wrench as
/// their usual cards say (all common practice, no source): the card of the one at hand goes before them.
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
    const INCH_LEVELS: [Preset; 2] =
        [preset(Unit::Inch, 1.0 / 32.0, 1.0 / 16.0), preset(Unit::Inch, 1.0 / 16.0, 1.0 / 16.0)];
    const MM_LEVELS: [Preset; 2] = [preset(Unit::Millimetre, 1.0, 1.5), preset(Unit::Millimetre, 0.5, 1.5)];
    const TENSIOMETERS: [Preset; 3] =
        [preset(Unit::PoundForce, 1.0, 3.0), preset(Unit::Newton, 5.0, 15.0), preset(Unit::Decanewton, 1.0, 1.5)];
    const SCALES: [Preset; 4] = [
        preset(Unit::Pound, 1.0, 2.0),
        preset(Unit::Pound, 0.5, 1.0),
        preset(Unit::Kilogram, 0.5, 1.0),
        preset(Unit::Kilogram, 0.1, 0.3),
    ];
    const INCH_WRENCHES: [Preset; 2] = [preset(Unit::InchPoundForce, 5.0, 8.0), preset(Unit::FootPoundForce, 1.0, 2.0)];
    const FAHRENHEITS: [Preset; 1] = [preset(Unit::Fahrenheit, 1.0, 2.0)];
    const CELSIUSES: [Preset; 1] = [preset(Unit::Celsius, 0.5, 1.0)];
    const MM_WRENCHES: [Preset; 1] = [preset(Unit::NewtonMetre, 0.5, 1.0)];
    match (kind, units) {
        (InstrumentKind::Protractor, _) => &PROTRACTORS,
        (InstrumentKind::Tape, Units::Inches) => &INCH_TAPES,
        (InstrumentKind::Tape, Units::Millimetres) => &MM_TAPES,
        (InstrumentKind::Rule, Units::Inches) => &INCH_RULES,
        (InstrumentKind::Rule, Units::Millimetres) => &MM_RULES,
        (InstrumentKind::WaterLevel | InstrumentKind::Laser, Units::Inches) => &INCH_LEVELS,
        (InstrumentKind::WaterLevel | InstrumentKind::Laser, Units::Millimetres) => &MM_LEVELS,
        (InstrumentKind::Tensiometer, _) => &TENSIOMETERS,
        (InstrumentKind::Scales, _) => &SCALES,
        (InstrumentKind::TorqueWrench, Units::Inches) => &INCH_WRENCHES,
        (InstrumentKind::TorqueWrench, Units::Millimetres) => &MM_WRENCHES,
        (InstrumentKind::Thermometer, Units::Inches) => &FAHRENHEITS,
        (InstrumentKind::Thermometer, Units::Millimetres) => &CELSIUSES,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_offered_in_either_units() {
        for kind in InstrumentKind::ALL {
            for units in [Units::Inches, Units::Millimetres] {
                let offered = presets(kind, units);
                assert!(!offered.is_empty(), "{kind:?}");
                let dimension = offered[0].unit.dimension();
                assert!(
                    offered.iter().all(|preset| preset.unit.dimension() == dimension && preset.step > 0.0),
                    "{kind:?}"
                );
            }
        }
        assert_eq!(presets(InstrumentKind::Tape, Units::Inches)[1].label(), "reads to 1/32 in, good to 1/16 in");
    }
}
