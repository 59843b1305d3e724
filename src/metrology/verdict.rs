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

/// The rule of decision.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rule {
    /// A guard band as wide as the expanded uncertainty U on both sides of each limit: guarded acceptance *and* guarded rejection
    /// (JCGM 106:2012, 8.3.2 and 8.3.3 with w = U; ISO 14253-1; ILAC-G8:09/2019, 4.2.2). The risk of accepting wrongly is under
    /// 2.5 in 100.
    #[default]
    Guarded,
    /// The value alone decides (simple acceptance; JCGM 106:2012, 8.2; ILAC-G8:09/2019, 4.2.1). At a limit it is wrong every
    /// second time. The record says that this rule was chosen.
    Plain,
}

/// Judges an estimate by [`Rule::Guarded`].
///
/// `limits` of `None` gives [`Verdict::NotJudged`]: no tolerance, no verdict.
#[must_use]
pub fn judge(estimate: Estimate, limits: Option<Limits>) -> Verdict {
    judge_by(Rule::Guarded, estimate, limits)
}

/// Judges an estimate by a rule. A value that is not a number cannot be told.
#[must_use]
pub fn judge_by(rule: Rule, estimate: Estimate, limits: Option<Limits>) -> Verdict {
    let Some(limits) = limits.filter(|limits| limits.lower.is_some() || limits.upper.is_some()) else {
        return Verdict::NotJudged;
    };
    debug_assert_eq!(estimate.unit, limits.unit, "judged in one unit");
    // A value that sits exactly U inside a limit is in: this much slack keeps 0.1 + 0.2 from deciding.
    let slack = 1e-9;
    let value = estimate.value;
    let guard = match rule {
        Rule::Guarded => estimate.expanded(),
        Rule::Plain => 0.0,
    };
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

/// How far two independent readings of one thing are apart, as a share of what they may be: |y₁ − y₂| / U with U the expanded
/// uncertainty of the difference (the normalised error of proficiency tests; ISO 13528, from memory). At most 1: they agree.
/// Not less than `step`, a graduation, is allowed: two people may round to different lines.
#[must_use]
pub fn normalised_difference(one: Estimate, other: Estimate, step: f64) -> f64 {
    let apart = one.minus(other);
    let allowed = apart.expanded().max(step);
    if apart.value == 0.0 { 0.0 } else { apart.value.abs() / allowed }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    fn verdict(value: f64, u: f64) -> Verdict {
        let limits = Limits { lower: Some(-0.2), upper: Some(0.2), unit: Unit::Degree };
        judge(Estimate::new(value, u, Unit::Degree), Some(limits))
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
    fn plain_acceptance_always_decides() {
        let limits = Limits { lower: Some(-0.2), upper: Some(0.2), unit: Unit::Degree };
        let plain = |value| judge_by(Rule::Plain, Estimate::new(value, 0.15, Unit::Degree), Some(limits));
        assert_eq!([-0.21, -0.2, 0.0, 0.2, 0.21].map(plain), {
            use Verdict::{In, Out};
            [Out(Beyond::Low), In, In, In, Out(Beyond::High)]
        });
        assert_eq!(judge_by(Rule::Plain, Estimate::new(0.0, 0.0, Unit::Degree), None), Verdict::NotJudged);
        let open = Limits { lower: None, upper: None, unit: Unit::Degree };
        assert_eq!(judge(Estimate::new(0.0, 0.0, Unit::Degree), Some(open)), Verdict::NotJudged, "no limit at all");
    }

    #[test]
    fn left_and_right_within_an_amount_whichever_is_larger() {
        let limits = Limits::equal_within(0.25, Unit::Degree);
        let sides = |left, right| {
            let side = |value| Estimate::new(value, 0.03, Unit::Degree);
            judge(side(left).minus(side(right)), Some(limits))
        };
        assert_eq!((sides(1.5, 1.4), sides(1.4, 1.5)), (Verdict::In, Verdict::In));
        assert_eq!((sides(1.9, 1.4), sides(1.4, 1.9)), (Verdict::Out(Beyond::High), Verdict::Out(Beyond::Low)));
    }

    #[test]
    fn two_readers_agree_within_their_combined_uncertainty_or_a_graduation() {
        let read = |value, u| Estimate::new(value, u, Unit::Inch);
        assert!((normalised_difference(read(10.0, 0.03), read(10.1, 0.04), 0.0) - 1.0).abs() < 1e-12, "U = 2·0.05");
        assert_eq!(normalised_difference(read(10.0, 0.0), read(10.0625, 0.0), 0.0625), 1.0);
        assert_eq!(normalised_difference(read(10.0, 0.0), read(10.0, 0.0), 0.0), 0.0);
    }

    #[test]
    fn one_sided_limits_and_no_limits() {
        let at_least = Limits { lower: Some(0.3125), upper: None, unit: Unit::Inch };
        let estimate = |value| Estimate::new(value, 0.0075, Unit::Inch);
        assert_eq!(judge(estimate(0.3), Some(at_least)), Verdict::CantTell);
        assert_eq!(judge(estimate(0.347), Some(at_least)), Verdict::In);
        assert_eq!(judge(estimate(0.2), Some(at_least)), Verdict::Out(Beyond::Low));
        assert_eq!(judge(estimate(0.3), None), Verdict::NotJudged);
    }
}
