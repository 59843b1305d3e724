//! What to move so that every check comes in together, and what the builder's own proposal would do.

use super::scene::{CONE, FRAME, MatingScene};
use super::{FittedCheck, observed};
use crate::alignment::{
    Aim, Answer, Axis, CheckValue, Contact, Cost, Dial, Displacement, Effect, Gain, Gains, Hinge, Lever, Move, Outlook,
    Placement, PoseAdjuster, PoseCheck, Position, Stop, Task,
};
use crate::language::tr;
use crate::metrology::{Estimate, rough};
use crate::procedure::advice::{gap_now, joint_shares, proposed, upper_limit};
use crate::procedure::learning::{Lesson, lesson};
use crate::procedure::levers::lever_of;
use crate::procedure::{Adjuster, LeverKind, Procedure, ProposedMove, Run, StepKind, Words, fold};
use crate::quantity::{Length, Unit, print};
use crate::record::{Airframe, Side};

/// Every check after moves, one sentence each: "Pitch −2.60° (give or take 0.10°): in, 0.08° to spare".
pub type Forecast = Vec<String>;

/// What to move, all checks together.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// In the order in which to make them; none where everything is in, or where nothing reaches.
    pub moves: Vec<ProposedMove>,
    /// The checks that are planned for.
    pub checks: Vec<String>,
    /// What they should read afterwards, in their order; none where nothing reaches.
    pub predicted: Vec<Estimate>,
    /// The same in words.
    pub after: Forecast,
    /// Whether the limits of what may be moved leave the checks less than half of the margin that they should have.
    pub tight: bool,
    /// Why nothing reaches, a sentence each.
    pub blocked: Vec<String>,
    /// For the builder's own proposal.
    pub what_if: WhatIf,
}

/// The state from which a proposal is worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    mating: MatingScene,
    at: Placement,
    adjusters: Vec<PoseAdjuster>,
    checks: Vec<PoseCheck>,
    now: Vec<Estimate>,
    gains: Gains,
}

impl WhatIf {
    /// What may be moved: its key and what it is called.
    #[must_use]
    pub fn adjusters(&self) -> Vec<(String, String)> {
        self.adjusters.iter().map(|adjuster| (adjuster.id.clone(), adjuster.name.clone())).collect()
    }

    /// A number of its steps as an order, at a place among the adjusters: "Raise the saddle 1/16 in"; nothing for none.
    #[must_use]
    pub fn order(&self, adjuster: usize, steps: i32) -> String {
        let found = self.adjusters.get(adjuster).filter(|_| steps != 0);
        found.map_or_else(|| tr!("not moved"), |adjuster| adjuster.order(steps))
    }

    /// All checks after so many steps of each adjuster.
    ///
    /// # Errors
    /// In words, when a stop would be passed or the parts do not reach.
    pub fn forecast(&self, steps: &[i32]) -> Result<Forecast, String> {
        let task = self.task();
        let moves = steps.iter().enumerate().filter(|(_, steps)| **steps != 0);
        let moves: Vec<Move> = moves.map(|(adjuster, steps)| Move { adjuster, steps: *steps }).collect();
        let outlook = task.what_if(&moves).map_err(|refused| refused.words(&task))?;
        Ok(self.said(&outlook))
    }

    fn task(&self) -> Task<'_> {
        Task {
            scene: &self.mating.scene,
            at: &self.at,
            adjusters: &self.adjusters,
            checks: &self.checks,
            now: &self.now,
            gains: &self.gains,
            cost: Cost { aim: Aim::Likeliest, ..Cost::default() },
        }
    }

    fn said(&self, outlook: &[Outlook]) -> Forecast {
        let one = |(check, outlook): (&PoseCheck, &Outlook)| {
            let after = outlook.after;
            let fine = if after.unit == Unit::Degree { 0.01 } else { 0.001 };
            tr!(
                "{check} {value} (give or take {amount}): {verdict}, {spare}",
                check = check.title,
                value = print(after.value, after.unit, fine),
                amount = rough(after.expanded(), after.unit),
                verdict = Words::verdict(outlook.verdict),
                spare = spare(outlook)
            )
        };
        self.checks.iter().zip(outlook).map(one).collect()
    }
}

/// How much more or less than its margin a check then keeps to its nearer limit: "0.08° to spare".
fn spare(outlook: &Outlook) -> String {
    let by = outlook.inside_by - outlook.margin;
    let amount = rough(by.abs(), outlook.after.unit);
    if by < 0.0 { tr!("{amount} short of its margin", amount) } else { tr!("{amount} to spare", amount) }
}

pub(super) fn together(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    mating: &MatingScene,
    fitted: &[FittedCheck],
    at: &Placement,
) -> Together {
    let on_block = airframe.specification.words("set-up") == Some("frame on a block");
    // Whatever lies still gives the axes: on a block it is the cone.
    let still = at.poses[if on_block { CONE } else { FRAME }].inverse();
    let at = Placement { poses: at.poses.iter().map(|pose| pose.then(&still)).collect(), ..at.clone() };
    let set_up = SetUp { procedure, airframe, run, mating, at: &at, moving: if on_block { FRAME } else { CONE } };
    let applying = procedure.adjusters.iter().filter(|adjuster| fold::applies(adjuster.only_if.as_ref(), airframe));
    let found: Vec<Acting> = applying.filter_map(|adjuster| set_up.adjuster(adjuster)).collect();
    let pose_check = |check: &FittedCheck| {
        let value = CheckValue::One(observed(&check.check, mating)?);
        Some(PoseCheck { id: check.check.clone(), title: check.title.clone(), value, limits: check.limits? })
    };
    let checks: Vec<PoseCheck> = fitted.iter().filter_map(pose_check).collect();
    let now = fitted.iter().map(|check| check.estimate).collect();
    let of = |acting: &[Acting]| -> (Vec<PoseAdjuster>, Gains) {
        let gains: Vec<Gain> = acting.iter().map(|one| one.gain).collect();
        (acting.iter().map(|one| one.pose.clone()).collect(), Gains::from_priors(&gains))
    };
    let (adjusters, gains) = of(&found);
    let what_if = WhatIf { mating: mating.clone(), at: at.clone(), adjusters, checks, now, gains };
    // A plan turns the joint as a whole; which side gives how much of it is the trade's to say.
    let acting = set_up.joint_as_one(found);
    let (adjusters, gains) = of(&acting);
    let planner = WhatIf { adjusters, gains, ..what_if.clone() };
    let task = planner.task();
    let mut found = Together {
        moves: Vec::new(),
        checks: what_if.checks.iter().map(|check| check.id.clone()).collect(),
        predicted: Vec::new(),
        after: Vec::new(),
        tight: false,
        blocked: Vec::new(),
        what_if,
    };
    match task.plan() {
        Answer::Plan(plan) => {
            for made in &plan.moves {
                let Acting { of, pose, .. } = &acting[made.adjuster];
                let amount = pose.dial.travel * pose.amount(made.steps);
                found.moves.extend(shared(airframe, run, of, amount, pose.dial.travel * pose.dial.step));
            }
            found.predicted = plan.outlook.iter().map(|outlook| outlook.after).collect();
            found.after = planner.said(&plan.outlook);
            found.tight = plan.share < HALF;
        }
        Answer::Blocked(why) => found.blocked = why.iter().map(|why| why.words(&task)).collect(),
    }
    found
}

/// Less of its margins than this is worth a word.
const HALF: f64 = 0.5;

/// A plan's amount as orders: one, or the two sides' shares of a joint.
fn shared(airframe: &Airframe, run: &Run, of: &[&Adjuster], amount: Length, step: Length) -> Vec<ProposedMove> {
    let order = |(adjuster, amount): (&Adjuster, Length)| proposed(airframe, adjuster, amount);
    match of {
        [one] => vec![order((one, amount))],
        _ => joint_shares(airframe, run, of, amount, step).moves.into_iter().map(order).collect(),
    }
}

/// An adjuster as it acts on where things sit: a joint's two sides may act as one.
struct Acting<'p> {
    of: Vec<&'p Adjuster>,
    pose: PoseAdjuster,
    gain: Gain,
}

/// How far a support is moved at most before somebody asks whether the set-up is the right one (a judgement): a block along its
/// tube 24 in, a saddle or a side of the joint 6 in, one side of a support 1 in.
const SLIDES: Length = Length::from_inches(24.0);
const RISES: Length = Length::from_inches(6.0);
const ROCKS: Length = Length::from_inches(1.0);

struct SetUp<'a> {
    procedure: &'a Procedure,
    airframe: &'a Airframe,
    run: &'a Run,
    mating: &'a MatingScene,
    at: &'a Placement,
    /// Which of the two moves.
    moving: usize,
}

impl<'p> SetUp<'p> {
    /// The two sides of the joint as one adjuster: how much wider the RIGHT side gets than the LEFT.
    fn joint_as_one(&self, mut found: Vec<Acting<'p>>) -> Vec<Acting<'p>> {
        let side = |wanted: Side| {
            let is = |one: &Acting| matches!(one.of[0].lever, LeverKind::Joint { side, .. } if side == wanted);
            found.iter().position(is)
        };
        let (Some(left), Some(right)) = (side(Side::Left), side(Side::Right)) else { return found };
        let ([closes, opens], [left_to, right_to]) = (
            [found[left].pose.lowest.0, found[right].pose.lowest.0],
            [found[left].pose.highest.0, found[right].pose.highest.0],
        );
        let both = vec![found[left].of[0], found[right].of[0]];
        let joint = &mut found[right];
        joint.of = both;
        joint.pose.name = tr!("Joint");
        joint.pose.lowest.0 = opens - left_to;
        joint.pose.highest.0 = right_to - closes;
        found.remove(left);
        found
    }

    /// What has been learned of a check's adjusters, at its last step.
    fn lesson(&self, check: &str) -> Option<Lesson> {
        let measures = |step: &&crate::procedure::StepState| {
            matches!(&step.step.kind, StepKind::Measure { check: its, blind: false, .. } if its == check)
                && step.attempts.iter().any(|attempt| attempt.complete)
        };
        let step = self.run.steps.iter().rev().find(measures)?;
        Some(lesson(self.procedure, self.airframe, self.run, self.procedure.check(check)?, &step.path))
    }

    /// An adjuster of the procedure as it acts on where things sit, with the gain that it has shown; `None` while the sheet lacks
    /// a number for it.
    fn adjuster(&self, adjuster: &'p Adjuster) -> Option<Acting<'p>> {
        let check = match adjuster.lever {
            LeverKind::Saddle { .. } | LeverKind::SlopingTube { .. } => "pitch",
            LeverKind::Rock { .. } => "twist",
            LeverKind::Joint { .. } => "square",
            LeverKind::Effects(_) => return None,
        };
        let lesson = self.lesson(check);
        let since = lesson.map(|lesson| lesson.since).unwrap_or_default();
        let lever = lever_of(self.procedure.check(check)?, adjuster, &self.airframe.specification, since).ok()?;
        let counted = adjuster.settable.counted(self.airframe.details.units, &self.airframe.specification).ok()?;
        let (step, unit) = (counted.step, counted.unit);
        let dial = if unit == Unit::Inch { Dial::inches(step) } else { Dial::millimetres(step) };
        let travel = match adjuster.lever {
            LeverKind::SlopingTube { .. } => SLIDES,
            LeverKind::Rock { .. } => ROCKS,
            LeverKind::Saddle { .. } | LeverKind::Joint { .. } | LeverKind::Effects(_) => RISES,
        };
        let far = travel.in_unit(unit).unwrap_or_default();
        let (mut lowest, mut highest) = ((-far, Stop::Travel), (far, Stop::Travel));
        if let LeverKind::Joint { limit, .. } = &adjuster.lever {
            let gap = gap_now(self.run, adjuster);
            let of = |length: Length| length.in_unit(unit).unwrap_or_default();
            lowest = (-of(gap.least), Stop::Gap);
            if let Some(limit) = upper_limit(self.airframe, limit) {
                highest = (of(limit - gap.most), Stop::Gap);
            }
        }
        let pose = PoseAdjuster {
            id: adjuster.id.clone(),
            name: adjuster.title.clone(),
            plus: adjuster.plus.clone(),
            minus: adjuster.minus.clone(),
            effect: self.effect(adjuster, lever)?,
            dial,
            setting: 0.0,
            lowest,
            highest,
            // By hand to about half of what can be set (common practice, no source).
            setting_u: step / 2.0,
            weight: 1.0,
        };
        let gain = lesson.map_or(Gain::FROM_GEOMETRY, |lesson| lesson.gain);
        Some(Acting { of: vec![adjuster], pose, gain })
    }

    /// The exact turn that an adjuster gives, from where everything sits now. The axes are those of the assembly that lies still.
    fn effect(&self, adjuster: &Adjuster, lever: Lever) -> Option<Effect> {
        let seat = self.mating.seat[self.moving];
        let flat = self.at.poses[self.moving].inverse();
        let turn = |through, axis, contact| Effect::Turn {
            carried: vec![self.moving],
            hinge: Hinge { through, axis },
            contact,
        };
        let still = 1 - self.moving;
        Some(match lever {
            Lever::Saddle { distance } => {
                let at = Position::new(distance.metres(), 0.0, 0.0);
                let normal = flat.direction(&Displacement::z());
                let contact = Contact::Pad { at, along: Displacement::z(), assembly: self.moving, normal };
                turn(seat, Axis::Along(still, Displacement::y()), contact)
            }
            Lever::SlopingTube { distance, below_joint, slope } => {
                // Forward is minus along the station; the tube rises forward by its slope.
                let at = Position::new(-distance.metres(), 0.0, -below_joint.metres());
                let normal = flat.direction(&Displacement::new(slope.sin(), 0.0, slope.cos()));
                let contact = Contact::Pad { at, along: -Displacement::x(), assembly: self.moving, normal };
                turn(seat, Axis::Along(still, Displacement::y()), contact)
            }
            Lever::Rock { width } => {
                let across = Displacement::new(0.0, width.metres(), 0.0);
                let normal = flat.direction(&Displacement::z());
                let contact = Contact::Rock { across, up: Displacement::z(), assembly: self.moving, normal };
                turn(seat, Axis::Along(still, Displacement::x()), contact)
            }
            Lever::Joint { .. } => {
                let right = matches!(adjuster.lever, LeverKind::Joint { side: Side::Right, .. });
                let (driven, hinge) = if right { (1, 0) } else { (0, 1) };
                // The cone opens aft, the frame forward.
                let along = if self.moving == CONE { Displacement::x() } else { -Displacement::x() };
                let point = self.mating.joint[driven][self.moving];
                let contact = Contact::Drive { point, along };
                turn(self.mating.joint[hinge][self.moving], Axis::Along(still, Displacement::z()), contact)
            }
            Lever::Turn { .. } | Lever::Shift { .. } => return None,
        })
    }
}
