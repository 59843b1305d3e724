//! Corrections of a steel tape: temperature, tension, sag, slope. None is applied unless somebody asks for it.
//!
//! Formulas as in the surveying texts (seen on vermessungsseiten.de, English guide: temp, tension, sag). Each correction is
//! added to the reading. Lengths as [`Length`], temperatures in °C, forces in N.

use crate::quantity::Length;

/// Expansion of carbon steel per °C (6.45·10⁻⁶ per °F in a NIST report of 1991).
pub const STEEL_EXPANSION: f64 = 11.61e-6;
/// Expansion of aluminium alloy per °C (handbooks, from memory).
pub const ALUMINIUM_EXPANSION: f64 = 23e-6;
/// The temperature at which lengths are true, °C (ISO 1; Directive 2014/32/EU, annex X).
pub const REFERENCE_TEMPERATURE: f64 = 20.0;

/// A tape's blade and the conditions under which its marks are true.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blade {
    /// Expansion per °C.
    pub expansion: f64,
    /// Temperature at which the marks are true, °C.
    pub standard_temperature: f64,
    /// Tension at which the marks are true, N, the blade lying flat.
    pub standard_tension: f64,
    /// Cross section times modulus of elasticity, A·E, N.
    pub stiffness: f64,
    /// Weight per metre, N/m.
    pub weight: f64,
}

impl Blade {
    /// A plain steel blade of `width` and `thickness`, true at 20 °C and `standard_tension` N: 200 GPa and 7,850 kg/m³
    /// (handbooks, from memory), g = 9.80665 m/s².
    #[must_use]
    pub fn steel(width: Length, thickness: Length, standard_tension: f64) -> Self {
        let area = width.metres() * thickness.metres();
        Self {
            expansion: STEEL_EXPANSION,
            standard_temperature: REFERENCE_TEMPERATURE,
            standard_tension,
            stiffness: area * 200e9,
            weight: area * 7850.0 * 9.806_65,
        }
    }

    /// Expansion of the blade: α·L·(T − T_s). Warm, the marks are too far apart and the tape reads too little.
    #[must_use]
    pub fn temperature(&self, length: Length, temperature: f64) -> Length {
        length * (self.expansion * (temperature - self.standard_temperature))
    }

    /// Stretch of the blade: L·(P − P_s) / (A·E).
    #[must_use]
    pub fn tension(&self, length: Length, tension: f64) -> Length {
        length * ((tension - self.standard_tension) / self.stiffness)
    }

    /// Sag of the blade hanging free in `spans` equal spans of `length` in all, −w²·l³ / (24·P²) for each; none when it lies flat
    /// (`spans` 0). The parabola's first term: good to 1 % while the sag is under a thirtieth of a span.
    #[must_use]
    pub fn sag(&self, length: Length, tension: f64, spans: u32) -> Length {
        if spans == 0 {
            return Length::ZERO;
        }
        let span = length / f64::from(spans);
        span * (-f64::from(spans) * (self.weight * span.metres() / tension).powi(2) / 24.0)
    }
}

/// What a length along a slope is too long when the level distance is wanted: −(L − √(L² − h²)), h the difference in height of
/// its ends. `None` when h is more than the length.
#[must_use]
pub fn slope(length: Length, height: Length) -> Option<Length> {
    let (l, h) = (length.metres(), height.metres());
    // −h² / (L + √(L² − h²)): the same without taking nearly equal numbers from each other.
    (h.abs() <= l && l > 0.0).then(|| Length::from_metres(-h * h / (l + (l * l - h * h).sqrt())))
}

/// What a part at `temperature` °C, of a material that expands by `expansion` per °C, is too long against itself at 20 °C, with
/// its sign turned.
#[must_use]
pub fn part_temperature(length: Length, expansion: f64, temperature: f64) -> Length {
    length * (-expansion * (temperature - REFERENCE_TEMPERATURE))
}

/// How a tape was held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Temperature of the tape, °C.
    pub tape_temperature: f64,
    /// Temperature of the airframe, °C.
    pub part_temperature: f64,
    /// Expansion of the airframe's material per °C.
    pub part_expansion: f64,
    /// Pull, N.
    pub tension: f64,
    /// Free spans; 0 when it lies flat.
    pub spans: u32,
    /// Difference in height of its ends, where the level distance is wanted.
    pub height: Length,
}

/// What a correction is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Temperature of tape and airframe together: what is left when both expand.
    Temperature,
    /// A pull other than the standard one.
    Tension,
    /// The blade hangs free.
    Sag,
    /// Its ends are not at one height.
    Slope,
}

/// One correction, to be added to the reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What for.
    pub cause: Cause,
    /// How much; signed.
    pub amount: Length,
}

/// All four corrections of a length read as `length`. Where the height is more than the length there is no slope correction: refuse that first.
#[must_use]
pub fn corrections(blade: &Blade, length: Length, held: &Held) -> [Correction; 4] {
    let warm = blade.temperature(length, held.tape_temperature)
        + part_temperature(length, held.part_expansion, held.part_temperature);
    [
        (Cause::Temperature, warm),
        (Cause::Tension, blade.tension(length, held.tension)),
        (Cause::Sag, blade.sag(length, held.tension, held.spans)),
        (Cause::Slope, slope(length, held.height).unwrap_or(Length::ZERO)),
    ]
    .map(|(cause, amount)| Correction { cause, amount })
}

/// The corrections that are more than a quarter of a tolerance of plus or minus `tolerance`: the ones to offer.
#[must_use]
pub fn worth_offering(corrections: &[Correction], tolerance: Length) -> Vec<Correction> {
    corrections.iter().filter(|correction| correction.amount.abs() > tolerance.abs() / 4.0).copied().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A steel tape on an aluminium part, both at 30 °C, over 6 m: (11.61 − 23)·10⁻⁶ · 6 m · 10 = −0.68 mm; on a steel part nothing.
    #[test]
    fn only_the_difference_of_the_two_metals_matters_and_only_against_a_fine_tolerance() {
        let blade = Blade::steel(Length::from_millimetres(25.0), Length::from_millimetres(0.11), 50.0);
        let length = Length::from_metres(6.0);
        let held = Held {
            tape_temperature: 30.0,
            part_temperature: 30.0,
            part_expansion: ALUMINIUM_EXPANSION,
            tension: 50.0,
            spans: 0,
            height: Length::ZERO,
        };
        let all = corrections(&blade, length, &held);
        assert!((all[0].amount.millimetres() + 0.6834).abs() < 1e-9, "{all:?}");
        let offered =
            |by| worth_offering(&all, Length::from_millimetres(by)).iter().map(|c| c.cause).collect::<Vec<_>>();
        assert_eq!(offered(2.7), [Cause::Temperature]);
        assert_eq!(offered(2.8), []);
        let steel = corrections(&blade, length, &Held { part_expansion: STEEL_EXPANSION, ..held });
        assert!(worth_offering(&steel, Length::from_millimetres(0.001)).is_empty(), "{steel:?}");
    }

    #[test]
    fn a_height_longer_than_the_tape_has_no_slope_correction() {
        assert_eq!(slope(Length::from_metres(1.0), Length::from_metres(1.5)), None);
    }
}
