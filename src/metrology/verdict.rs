//! In, out, can't tell, not judged.

use super::{Estimate, Limits};

/// Which limit a value is beyond.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// Below the lower limit.
    Low,
    /// Above the upper limit.
    High,
}

/// What can be said of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Inside every limit by at least the expanded uncertainty.
    In,
    /// Beyond a limit by more than the expanded uncertainty.
    Out(Beyond),
    /// A limit lies inside the uncertainty.
    CantTell,
    /// No tolerance was given.
    NotJudged,
}

/// Judges an estimate with a guard band as wide as its expanded uncertainty U (guarded acceptance *and* guarded rejection;
/// JCGM 106:2012, 8.3.2 and 8.3.3 with w = U, ISO 14253-1).
///
/// `limits` of `None` gives [`Verdict::NotJudged`]: no tolerance, no verdict.
#[must_use]
pub fn judge(estimate: Estimate, limits: Option<Limits>) -> Verdict {
    let Some(limits) = limits else { return Verdict::NotJudged };
    debug_assert_eq!(estimate.unit, limits.unit, "judged in one unit");
    // A value that sits exactly U inside a limit is in: this much slack keeps 0.1 + 0.2 from deciding.
    let slack = 1e-9;
    let (value, guard) = (estimate.value, estimate.expanded());
    if limits.lower.is_some_and(|lower| value < lower - guard - slack) {
        return Verdict::Out(Beyond::Low);
    }
    if limits.upper.is_some_and(|upper| value > upper + guard + slack) {
        return Verdict::Out(Beyond::High);
    }
    let inside = limits.lower.is_none_or(|lower| value >= lower + guard - slack)
        && limits.upper.is_none_or(|upper| value <= upper - guard + slack);
    if inside { Verdict::In } else { Verdict::CantTell }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    fn verdict(value: f64, u: f64) -> Verdict {
        let limits = Limits { lower: Some(-0.2), upper: Some(0.2), unit: Unit::Degree };
        judge(Estimate { value, u, unit: Unit::Degree }, Some(limits))
    }

    /// The trade's example (common practice, no source): ±0.2° with a reading good to ±0.1° is a clear pass only within ±0.1°.
    #[test]
    fn a_tenth_degree_protractor_decides_two_tenths_only_in_the_middle() {
        assert_eq!(verdict(0.1, 0.05), Verdict::In);
        assert_eq!(verdict(0.11, 0.05), Verdict::CantTell);
        assert_eq!(verdict(-0.3, 0.05), Verdict::CantTell);
        assert_eq!(verdict(-0.31, 0.05), Verdict::Out(Beyond::Low));
        assert_eq!(verdict(0.31, 0.05), Verdict::Out(Beyond::High));
    }

    #[test]
    fn an_uncertainty_wider_than_the_band_never_passes() {
        for tenth in -30..=30 {
            let got = verdict(f64::from(tenth) / 100.0, 0.15);
            assert!(got != Verdict::In, "{tenth}: {got:?}");
        }
    }

    #[test]
    fn one_sided_limits_and_no_limits() {
        let at_least = Limits { lower: Some(0.3125), upper: None, unit: Unit::Inch };
        let estimate = |value| Estimate { value, u: 0.0075, unit: Unit::Inch };
        assert_eq!(judge(estimate(0.3), Some(at_least)), Verdict::CantTell);
        assert_eq!(judge(estimate(0.347), Some(at_least)), Verdict::In);
        assert_eq!(judge(estimate(0.2), Some(at_least)), Verdict::Out(Beyond::Low));
        assert_eq!(judge(estimate(0.3), None), Verdict::NotJudged);
    }
}
