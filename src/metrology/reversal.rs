//! The reversal check: an instrument read, turned end for end on the same spot, read again.

use super::Estimate;

/// What two readings of one spot, the second with the instrument turned end for end, tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reversal {
    /// The slope of the spot without the zero error, positive as the direct reading is.
    pub slope: Estimate,
    /// The zero error: what the instrument shows on a level spot.
    pub zero: Estimate,
}

impl Reversal {
    /// Both readings signed as the instrument shows them: direct = θ + z, turned = −θ + z, so θ = (direct − turned)/2 and
    /// z = (direct + turned)/2. Each is half of two independent readings, u/√2; a scale error does not cancel.
    #[must_use]
    pub fn as_shown(direct: Estimate, turned: Estimate) -> Self {
        Self { slope: direct.minus(turned).times(0.5), zero: direct.mean(turned) }
    }

    /// Both readings signed by the part ("aft end high is plus"), however the instrument stood: direct = θ + z,
    /// turned = θ − z, so θ is their mean and z half their difference.
    #[must_use]
    pub fn by_the_part(direct: Estimate, turned: Estimate) -> Self {
        Self { slope: direct.mean(turned), zero: direct.minus(turned).times(0.5) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn the_two_sign_conventions_tell_the_same() {
        let at = |value| Estimate::new(value, 0.03, Unit::Degree);
        let shown = Reversal::as_shown(at(0.3), at(-0.1));
        let signed = Reversal::by_the_part(at(0.3), at(0.1));
        assert!((shown.slope.value - 0.2).abs() < 1e-15 && (shown.zero.value - 0.1).abs() < 1e-15, "{shown:?}");
        assert_eq!((shown.slope.value, shown.zero.value), (signed.slope.value, signed.zero.value));
        assert!((shown.slope.u - 0.03 / 2_f64.sqrt()).abs() < 1e-15, "{shown:?}");
    }
}
