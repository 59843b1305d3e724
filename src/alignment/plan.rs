//! What to move: the fewest adjusters and the smallest moves that bring every check inside its tolerance with a margin.
//!
//! A plan is a whole number of steps for each adjuster, inside its stops. Its cost is [`Cost::touch`] for every adjuster that is
//! touched plus the weight of each for every step. Among the plans that keep every check inside by its margin the cheapest is
//! chosen, of equally cheap ones that with the most room beyond the margins. The effects are the exact geometry, all moves together,
//! with the gains learned so far. Exact for up to four adjusters touched at once, unless a search would look at thousands of
//! candidates; more adjusters are never asked for.

use super::likeliest::likeliest;
use super::model::Model;
use super::search::Search;
use super::{Gains, Placement, PoseAdjuster, PoseCheck, Response, Scene, Stop};
use crate::language::tr;
use crate::metrology::{Estimate, Verdict, judge};

/// Everything that a plan depends on.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// The assemblies.
    pub scene: &'a Scene,
    /// Where they sit now.
    pub at: &'a Placement,
    /// What may be moved, from where it stands now. Several moves are made in this order.
    pub adjusters: &'a [PoseAdjuster],
    /// What must come in.
    pub checks: &'a [PoseCheck],
    /// The checks as measured now, in the order of the checks, each in its limits' unit.
    pub now: &'a [Estimate],
    /// What is known of the adjusters' gains, in their order.
    pub gains: &'a Gains,
    /// What moving costs.
    pub cost: Cost,
}

/// What moving costs beside the steps, which cost [`PoseAdjuster::weight`] each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// For each adjuster that is touched, in steps.
    pub touch: f64,
    /// How far those are moved that are touched.
    pub aim: Aim,
}

/// How far the adjusters of a plan are moved, once it is known which ones are touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// As little as keeps the margins.
    Least,
    /// So that all checks come in most likely: near the middle of their tolerances, a little short of it where a longer move would
    /// leave more open. A hand that is at an adjuster turns it further for nothing. The margins are kept all the same.
    Likeliest,
}

impl Default for Cost {
    /// Touching one adjuster more costs more than any number of steps: fewest first, then smallest.
    fn default() -> Self {
        Self { touch: 1e4, aim: Aim::Least }
    }
}

/// One adjuster moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Move {
    /// Its place among the adjusters.
    pub adjuster: usize,
    /// Settable steps, along its plus; not zero in a plan.
    pub steps: i32,
}

/// What a check should read after moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlook {
    /// As measured now.
    pub before: Estimate,
    /// Afterwards, with what the readings, the gains and the hand leave open.
    pub after: Estimate,
    /// How far inside the nearer limit that is; minus outside. In the check's unit.
    pub inside_by: f64,
    /// The full margin that a plan keeps there: the expanded uncertainty, in which what the moves add counts one and a half times;
    /// but not more than four fifths of half a two-sided tolerance, and never so much that no whole step of the adjuster that acts
    /// most fits into the rest.
    pub margin: f64,
    /// What it would be judged if it were read so, with that uncertainty.
    pub verdict: Verdict,
    /// Whether the moves disturb it: by a hundredth of its tolerance or more. It is then stale.
    pub disturbed: bool,
}

/// A plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// In the order in which to make them. None: every check is inside with the margin as it is.
    pub moves: Vec<Move>,
    /// What it costs.
    pub cost: f64,
    /// All checks afterwards, in their order.
    pub outlook: Vec<Outlook>,
    /// The share of the full margin that every check keeps: 1, 3/4, 1/2, 1/4, or 0 where the value alone can be brought in.
    pub share: f64,
}

/// Why a check cannot be brought in. Places are those of the task.
#[derive(Clone, Debug, PartialEq)]
pub enum Blocked {
    /// Nothing that may be moved acts on it.
    NoAdjuster(usize),
    /// Everything that acts on it would have to go past these stops.
    AtStops(usize, Vec<(usize, Stop)>),
    /// Within reach, but the steps jump over the tolerance.
    StepsTooCoarse(usize),
    /// Each of the two can be brought in, not both.
    Conflict(usize, usize),
    /// Any two can be brought in, not all.
    Together,
}

/// What can be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// This.
    Plan(Plan),
    /// Nothing reaches all: why. Ask the kit's support.
    Blocked(Vec<Blocked>),
}

/// Why somebody's own proposal has no outlook.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// It would pass a stop of the adjuster.
    Stop(usize, Stop),
    /// The geometry has no answer: a pad would leave its tube.
    OutOfReach,
    /// There is no such adjuster.
    NoSuch(usize),
}

impl Task<'_> {
    /// What to move.
    #[must_use]
    pub fn plan(&self) -> Answer {
        let model = Model::new(*self);
        let all: Vec<usize> = (0..self.checks.len()).collect();
        let far: Vec<Blocked> = all.iter().filter_map(|i| out_of_reach(&model, *i)).collect();
        if !far.is_empty() {
            return Answer::Blocked(far);
        }
        let mut search = Search::new(&model, &all);
        for share in [1.0, 0.75, 0.5, 0.25, 0.0] {
            if let Some(found) = search.cheapest(share) {
                let found = match self.cost.aim {
                    Aim::Least => found,
                    Aim::Likeliest => likeliest(&search, &model, found),
                };
                let moves = moves_of(&found.steps);
                let outlook = outlook(&model, &found.steps, &found.values);
                return Answer::Plan(Plan { moves, cost: found.cost, outlook, share });
            }
        }
        Answer::Blocked(blocked(&model))
    }

    /// All checks after the moves that somebody proposes; several moves of one adjuster add up.
    ///
    /// # Errors
    /// When a stop would be passed, an adjuster does not exist, or the geometry has no answer.
    pub fn what_if(&self, moves: &[Move]) -> Result<Vec<Outlook>, Refused> {
        let mut steps = vec![0; self.adjusters.len()];
        for made in moves {
            *steps.get_mut(made.adjuster).ok_or(Refused::NoSuch(made.adjuster))? += made.steps;
        }
        for (place, (adjuster, steps)) in self.adjusters.iter().zip(&steps).enumerate() {
            if let Some(stop) = adjuster.passes(*steps) {
                return Err(Refused::Stop(place, stop));
            }
        }
        let model = Model::new(*self);
        let exact: Vec<f64> = steps.iter().copied().map(f64::from).collect();
        let values = model.values(&exact).ok_or(Refused::OutOfReach)?;
        Ok(outlook(&model, &steps, &values))
    }

    /// Where everything should sit after these amounts, in the adjusters' own units and order, with the gains known now. `None`
    /// where the geometry has no answer.
    #[must_use]
    pub fn placed(&self, amounts: &[f64]) -> Option<Placement> {
        Model::new(*self).placed(&self.steps(amounts))
    }

    /// How the checks answered: for [`Gains::learn`] and [`Response::strange`]. `amounts` were made from the state of this task, in
    /// the adjusters' own units and order; `after` are the readings since and `steps` the graduation of each check's instrument,
    /// in the order of the checks. Empty where the geometry has no answer.
    #[must_use]
    pub fn responses(&self, amounts: &[f64], after: &[Estimate], steps: &[f64]) -> Vec<Response> {
        let model = Model::new(*self);
        let made = self.steps(amounts);
        let Some(expected) = model.values(&made) else { return Vec::new() };
        let by_gain: Vec<Option<Vec<f64>>> = (0..made.len()).map(|j| model.by_gain(&made, j)).collect();
        let response = |(i, after): (usize, &Estimate)| Response {
            predicted: expected[i] - self.now[i].value,
            by_gain: by_gain.iter().map(|by| by.as_ref().map_or(0.0, |by| by[i])).collect(),
            by_setting: (0..made.len()).map(|j| if made[j] == 0.0 { 0.0 } else { model.slip(i, j) }).collect(),
            seen: after.minus(self.now[i]),
            step: steps[i],
        };
        after.iter().enumerate().map(response).collect()
    }

    fn steps(&self, amounts: &[f64]) -> Vec<f64> {
        self.adjusters.iter().zip(amounts).map(|(adjuster, amount)| amount / adjuster.dial.step).collect()
    }
}

fn moves_of(steps: &[i32]) -> Vec<Move> {
    let touched = steps.iter().enumerate().filter(|(_, steps)| **steps != 0);
    touched.map(|(adjuster, steps)| Move { adjuster, steps: *steps }).collect()
}

fn outlook(model: &Model, steps: &[i32], values: &[f64]) -> Vec<Outlook> {
    let of = |(i, check): (usize, &PoseCheck)| {
        let after = model.after(i, steps, values[i]);
        Outlook {
            before: model.task.now[i],
            after,
            inside_by: check.inside_by(after.value),
            margin: model.margin(i, steps),
            verdict: judge(after, Some(check.limits)),
            disturbed: steps.iter().enumerate().any(|(j, steps)| model.acts(i, j, *steps, 0.01)),
        }
    };
    model.task.checks.iter().enumerate().map(of).collect()
}

/// Nothing brings the values of all checks inside even without a margin, though each is within reach by itself: why.
fn blocked(model: &Model) -> Vec<Blocked> {
    let reached = |which: &[usize]| Search::new(model, which).cheapest(0.0).is_some();
    let count = model.task.checks.len();
    let alone: Vec<Blocked> = (0..count).filter(|i| !reached(&[*i])).map(Blocked::StepsTooCoarse).collect();
    if !alone.is_empty() {
        return alone;
    }
    let pairs = (0..count).flat_map(|i| (i + 1..count).map(move |j| (i, j)));
    let conflicts: Vec<Blocked> =
        pairs.filter(|(i, j)| !reached(&[*i, *j])).map(|(i, j)| Blocked::Conflict(i, j)).collect();
    if conflicts.is_empty() { vec![Blocked::Together] } else { conflicts }
}

/// A check that everything which acts on it, each gone as far as it may, does not bring to its limit. What adjusters do to it only
/// in company, by turning something that another one then moves, does not count: no builder means that.
fn out_of_reach(model: &Model, i: usize) -> Option<Blocked> {
    let (now, limits) = (model.task.now[i].value, model.task.checks[i].limits);
    let up = limits.lower.is_some_and(|lower| now < lower);
    if !up && limits.upper.is_none_or(|upper| now <= upper) {
        return None;
    }
    let mut stops = Vec::new();
    let mut steps = vec![0.0; model.task.adjusters.len()];
    for (j, adjuster) in model.task.adjusters.iter().enumerate() {
        if !model.acts(i, j, 1000, 1e-3) {
            continue;
        }
        let (low, high) = model.ranges[j];
        let plus = (model.slope(i, j) > 0.0) == up;
        steps[j] = f64::from(if plus { high } else { low });
        stops.push((j, if plus { adjuster.highest.1 } else { adjuster.lowest.1 }));
    }
    if stops.is_empty() {
        return Some(Blocked::NoAdjuster(i));
    }
    // The straight picture and the exact geometry both have to fall short.
    let straight = now + steps.iter().enumerate().map(|(j, steps)| model.slope(i, j) * steps).sum::<f64>();
    let exact = model.values(&steps).map_or(straight, |values| values[i]);
    let short = |to: f64| {
        if up { limits.lower.is_some_and(|limit| to < limit) } else { limits.upper.is_some_and(|limit| to > limit) }
    };
    (short(straight) && short(exact)).then_some(Blocked::AtStops(i, stops))
}

impl Blocked {
    /// In words, for one of the task that gave it.
    #[must_use]
    pub fn words(&self, task: &Task) -> String {
        let title = |i: &usize| task.checks[*i].title.as_str();
        let why = match self {
            Self::NoAdjuster(i) => tr!("{check}: nothing that may be moved here acts on it.", check = title(i)),
            Self::AtStops(i, stops) => {
                let stop = |(j, stop): &(usize, Stop)| {
                    tr!("{adjuster} ({limit})", adjuster = task.adjusters[*j].name, limit = stop.words())
                };
                let stops: Vec<String> = stops.iter().map(stop).collect();
                tr!("{check}: out of reach within the limits of {limits}.", check = title(i), limits = stops.join(", "))
            }
            Self::StepsTooCoarse(i) => {
                tr!("{check}: the steps that can be set jump over its tolerance.", check = title(i))
            }
            Self::Conflict(i, j) => {
                tr!(
                    "{one} and {other}: each can be brought in, but not both together.",
                    one = title(i),
                    other = title(j)
                )
            }
            Self::Together => tr!("Any two of the checks can be brought in, but not all of them together."),
        };
        tr!("{why} Do not force it; ask the kit's support.", why)
    }
}

impl Refused {
    /// In words, for one of the task that gave it.
    #[must_use]
    pub fn words(self, task: &Task) -> String {
        match self {
            Self::Stop(j, stop) => {
                tr!(
                    "{adjuster}: that would pass {limit}. Do not; ask the kit's support.",
                    adjuster = task.adjusters[j].name,
                    limit = stop.words()
                )
            }
            Self::OutOfReach => tr!("That is further than the parts reach."),
            Self::NoSuch(_) => tr!("There is no such adjuster."),
        }
    }
}

#[cfg(test)]
#[path = "plan_tests.rs"]
mod tests;

#[cfg(test)]
#[path = "plan_coupled_tests.rs"]
mod coupled_tests;
