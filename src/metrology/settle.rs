//! What would settle a "can't tell": better ways to measure, each with the uncertainty that it would bring.

use super::{
    Budget, Component, Estimate, Limits, Rule, Source, Verdict, angle_over_base, half_step_uncertainty, judge_by,
    median_widening, rough,
};
use crate::language::tr;
use crate::quantity::{Unit, print};

/// More repeats than this of one reading are asked of nobody.
const MOST_REPEATS: usize = 9;
/// How many times as long a base may be asked for; longer ones bend (a judgement).
const LONGER: [f64; 3] = [1.5, 2.0, 3.0];

/// A check that cannot be told, and what could be done about it there.
#[derive(Clone, Debug, PartialEq)]
pub struct Situation {
    /// Its value and the unit that it is judged in.
    pub value: f64,
    /// Unit of the value, of the limits and of the budget's contributions.
    pub unit: Unit,
    /// What it is judged against.
    pub limits: Limits,
    /// What its uncertainty is made of.
    pub budget: Budget,
    /// Unit of the lengths below.
    pub length_unit: Unit,
    /// The instrument was read one way round only and can be turned end for end.
    pub reversible: bool,
    /// How often each of its readings was repeated.
    pub repeats: Option<RepeatsNow>,
    /// What its readings stand over, where that can be longer: a straightedge, a level.
    pub base: Option<f64>,
    /// Two heights over a base, where an angle was read off an instrument.
    pub heights: Option<Heights>,
}

/// How a reading was repeated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RepeatsNow {
    /// How many repeats there are of each reading.
    pub count: usize,
    /// Graduation that they were read to, in the value's unit.
    pub step: f64,
}

/// Two heights above one level line, read with a rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heights {
    /// How far they are apart.
    pub base: f64,
    /// Graduation of the rule.
    pub step: f64,
}

/// A better way to measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Remedy {
    /// Turn the instrument end for end on the same spot and average. It takes out the zero error, not an error of scale.
    Reverse,
    /// So many more repeats of each reading.
    MoreRepeats(usize),
    /// Two heights over a base instead of an angle.
    Heights(Heights),
    /// The same readings over a longer base than this one.
    LongerBase {
        /// The base now.
        now: f64,
        /// The longer one.
        longer: f64,
    },
}

/// A remedy and what it would bring.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// What to do.
    pub remedy: Remedy,
    /// The expanded uncertainty that it would bring, in the value's unit.
    pub expanded: f64,
    /// The verdict that the present value would then get.
    pub verdict: Verdict,
    /// What to do and what it brings, in a sentence.
    pub sentence: String,
}

/// The distance from a value to its nearest limit: with an expanded uncertainty up to this the present value can be told.
#[must_use]
pub fn margin(value: f64, limits: Limits) -> f64 {
    [limits.lower, limits.upper].into_iter().flatten().map(|limit| (value - limit).abs()).fold(f64::INFINITY, f64::min)
}

/// The remedies that the situation allows and that bring the uncertainty down, least effort first. None of them may settle a
/// value that sits on its limit: then it has to be moved nearer to the middle.
#[must_use]
pub fn settle(situation: &Situation) -> Vec<Settled> {
    let now = situation.budget.expanded();
    let by_effort = [
        situation.reversible.then(|| (Remedy::Reverse, reversed(&situation.budget))),
        more_repeats(situation),
        situation.heights.map(|heights| (Remedy::Heights(heights), heights.budget())),
        longer_base(situation),
    ];
    let better = by_effort.into_iter().flatten().filter(|(_, budget)| budget.expanded() < now);
    better
        .map(|(remedy, budget)| {
            let expanded = budget.expanded();
            let verdict = situation.verdict(&budget);
            Settled { remedy, expanded, verdict, sentence: situation.sentence(remedy, expanded, verdict) }
        })
        .collect()
}

impl Situation {
    fn verdict(&self, budget: &Budget) -> Verdict {
        judge_by(Rule::Guarded, budget.estimate(self.value, self.unit), Some(self.limits))
    }

    fn sentence(&self, remedy: Remedy, expanded: f64, verdict: Verdict) -> String {
        let length = |length: f64, step: f64| print(length, self.length_unit, step);
        let whole = if self.length_unit == Unit::Inch { 1.0 } else { 10.0 };
        let what = match remedy {
            Remedy::Reverse => tr!("Turn the instrument end for end on the same spot, read again, and average the two"),
            Remedy::MoreRepeats(count) => {
                tr!("Repeat each reading once more" | "Repeat each reading {n} more times" % count as u64)
            }
            Remedy::Heights(Heights { base, step }) => tr!(
                "Take two heights above one level line, {length} apart, read to {step}, instead of the angle",
                length = length(base, whole),
                step = length(step, step)
            ),
            Remedy::LongerBase { now, longer } => tr!(
                "Read over {longer} instead of {length}, and enter that length",
                longer = length(longer, whole),
                length = length(now, whole)
            ),
        };
        let amount = rough(expanded, self.unit);
        match verdict {
            Verdict::CantTell | Verdict::NotJudged => {
                tr!("{what}: give or take {amount}, that alone does not decide this value.", what, amount)
            }
            Verdict::In | Verdict::Out(_) => {
                tr!("{what}: give or take {amount}, enough to decide this value.", what, amount)
            }
        }
    }
}

impl Heights {
    /// A slope near level from two heights, each known to the rule's graduation: the one rounds apart from the other.
    fn budget(self) -> Budget {
        let height = Estimate::new(0.0, 2_f64.sqrt() * half_step_uncertainty(self.step), Unit::Inch);
        let slope = angle_over_base(height, Estimate::new(self.base, 0.0, Unit::Inch)).estimate;
        Budget { components: vec![Component::known(Source::Resolution, slope.u)] }
    }
}

/// Read both ways round: the instrument's own error is gone, the scatter is that of a mean of two; a graduation hides what it hid.
fn reversed(budget: &Budget) -> Budget {
    let kept = |component: &&Component| !matches!(component.source, Source::LimitOfError | Source::ZeroLeft);
    let components = budget.components.iter().filter(kept).cloned().map(|component| match component.source {
        Source::Repeats => Component { u: component.u / 2_f64.sqrt(), dof: component.dof * 2.0, ..component },
        _ => component,
    });
    Budget { components: components.collect() }
}

/// The least of some longer bases that decides the value, or else the longest of them.
fn longer_base(situation: &Situation) -> Option<(Remedy, Budget)> {
    let now = situation.base.filter(|base| *base > 0.0)?;
    let [.., most] = LONGER;
    let over = |times: f64| shrunk(&situation.budget, 1.0 / times);
    let times = LONGER.into_iter().find(|times| situation.verdict(&over(*times)) != Verdict::CantTell).unwrap_or(most);
    Some((Remedy::LongerBase { now, longer: now * times }, over(times)))
}

/// Every line at `factor` of itself: an angle of a few degrees is what was read over its base, so that all that is wrong with the one counts for
/// less over a longer one (plane geometry).
fn shrunk(budget: &Budget, factor: f64) -> Budget {
    let shrunk = |component: &Component| Component { sensitivity: component.sensitivity * factor, ..component.clone() };
    Budget { components: budget.components.iter().map(shrunk).collect() }
}

/// The fewest more repeats that decide the value, or else as many as can be asked. Nothing where the scatter is not among the lines.
fn more_repeats(situation: &Situation) -> Option<(Remedy, Budget)> {
    let now = situation.repeats?;
    if now.count == 0 || !situation.budget.components.iter().any(|component| component.source == Source::Repeats) {
        return None;
    }
    let most = MOST_REPEATS.checked_sub(now.count).filter(|most| *most > 0)?;
    let with = |more: usize| repeated(&situation.budget, now, more);
    let more = (1..=most).find(|more| situation.verdict(&with(*more)) != Verdict::CantTell).unwrap_or(most);
    Some((Remedy::MoreRepeats(more), with(more)))
}

/// The budget with `more` repeats of each reading that scatter as the present ones do. Below what the graduation hides it does not go.
fn repeated(budget: &Budget, now: RepeatsNow, more: usize) -> Budget {
    let count = now.count + more;
    let share = |n: usize| median_widening(n) / (n as f64).sqrt();
    let components = budget.components.iter().cloned().map(|component| match component.source {
        Source::Repeats => {
            let u = component.u * share(count) / share(now.count);
            let hidden = half_step_uncertainty(now.step);
            if u > hidden {
                Component { u, dof: component.dof + more as f64, ..component }
            } else {
                Component { sensitivity: component.sensitivity, ..Component::resolution(now.step) }
            }
        }
        _ => component,
    });
    Budget { components: components.collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angle(value: f64, components: Vec<Component>) -> Situation {
        Situation {
            value,
            unit: Unit::Degree,
            limits: Limits { lower: Some(-2.8), upper: Some(-2.4), unit: Unit::Degree },
            budget: Budget { components },
            length_unit: Unit::Inch,
            reversible: false,
            repeats: None,
            base: None,
            heights: None,
        }
    }

    /// A 0.1° protractor good to 0.1°, read one way round: U = 2·√(0.1²/12 + 0.1²/3) = 0.13°. Reversed 0.058°; two heights to
    /// 1/32 in over 40 in: 2·√2·(1/32)/√12/40 rad = 0.037° (plane geometry).
    #[test]
    fn a_protractor_is_reversed_first_and_heights_come_after() {
        let mut situation = angle(-2.48, vec![Component::resolution(0.1), Component::limit_of_error(0.1)]);
        situation.reversible = true;
        situation.heights = Some(Heights { base: 40.0, step: 1.0 / 32.0 });
        let found = settle(&situation);
        assert_eq!(found[0].remedy, Remedy::Reverse);
        assert!((found[0].expanded - 0.0577).abs() < 1e-4 && found[0].verdict == Verdict::In, "{:?}", found[0]);
        assert!((found[1].expanded - 0.0365).abs() < 1e-4 && found[1].verdict == Verdict::In, "{:?}", found[1]);
        assert_eq!(
            found[1].sentence,
            "Take two heights above one level line, 40 in apart, read to 1/32 in, instead of the angle: give or take 0.04°, \
             enough to decide this value."
        );
        assert!((margin(situation.value, situation.limits) - 0.08).abs() < 1e-12, "to the nearer limit");
    }

    /// Five repeats scatter by 0.06 (four degrees of freedom). The mean of two such sets has 0.06/√2 with eight, for which t of 95.45 % is 2.37
    /// (JCGM 100:2008, table G.2).
    #[test]
    fn the_mean_of_both_ways_has_the_degrees_of_freedom_of_both() {
        let scatter = Component { source: Source::Repeats, u: 0.06, dof: 4.0, sensitivity: 1.0 };
        let mut situation = angle(-2.5, vec![scatter, Component::limit_of_error(0.1)]);
        situation.reversible = true;
        let found = settle(&situation);
        assert!((found[0].expanded - 2.37 * 0.06 / 2_f64.sqrt()).abs() < 3e-4, "{:?}", found[0]);
    }

    #[test]
    fn a_value_on_its_limit_is_settled_by_nothing() {
        let mut situation = angle(-2.4, vec![Component::resolution(0.1), Component::limit_of_error(0.1)]);
        situation.reversible = true;
        let found = settle(&situation);
        assert_eq!((found.len(), found[0].verdict), (1, Verdict::CantTell));
        assert!(found[0].sentence.ends_with("that alone does not decide this value."), "{}", found[0].sentence);
    }

    /// The fewest repeats that decide: one fewer does not.
    #[test]
    fn more_repeats_are_counted() {
        let scatter = Component { source: Source::Repeats, u: 0.06, dof: 4.0, sensitivity: 1.0 };
        let mut situation = angle(-2.5, vec![scatter]);
        situation.repeats = Some(RepeatsNow { count: 3, step: 0.01 });
        let [found] = <[Settled; 1]>::try_from(settle(&situation)).expect("one remedy");
        let Remedy::MoreRepeats(more) = found.remedy else { panic!("{found:?}") };
        assert!(found.expanded <= 0.1 && found.verdict == Verdict::In, "{found:?}");
        let fewer = repeated(&situation.budget, situation.repeats.expect("set"), more - 1);
        assert_eq!(situation.verdict(&fewer), Verdict::CantTell, "{more} is the fewest");
        // Where the graduation is all there is, repeating brings nothing.
        situation.budget = Budget { components: vec![Component::resolution(0.1)] };
        situation.value = -2.41;
        assert_eq!(settle(&situation), []);
    }

    /// Two offsets to 1/32 in over 14 in: U = 2·√2·(1/32)/√12/14 rad = 0.104°; over 21 in two thirds of it, 0.070°; over 42 in a third
    /// (plane geometry).
    #[test]
    fn a_longer_base_is_no_longer_than_it_has_to_be() {
        let per_inch = (1.0 / 14.0_f64).to_degrees();
        let line = Component { sensitivity: per_inch, ..Component::resolution(1.0 / 32.0) };
        let mut situation = angle(-2.48, vec![line.clone(), line]);
        situation.base = Some(14.0);
        let [found] = <[Settled; 1]>::try_from(settle(&situation)).expect("one remedy");
        assert_eq!(found.remedy, Remedy::LongerBase { now: 14.0, longer: 21.0 });
        assert!((found.expanded - 0.0696).abs() < 1e-4 && found.verdict == Verdict::In, "{found:?}");
        assert_eq!(
            found.sentence,
            "Read over 21 in instead of 14 in, and enter that length: give or take 0.07°, enough to decide this value."
        );
        situation.value = -2.401;
        let [found] = <[Settled; 1]>::try_from(settle(&situation)).expect("one remedy");
        assert_eq!(found.remedy, Remedy::LongerBase { now: 14.0, longer: 42.0 }, "the longest, where none decides");
        assert!((found.expanded - 0.0348).abs() < 1e-4 && found.verdict == Verdict::CantTell, "{found:?}");
    }
}
