//! A builder who does what the engine says, knowing the drawing and the readings, nothing else.

use trammel::alignment::{
    Adjusted, Aim, Answer, Assembly, Axis, CheckValue, Contact, Cost, Dial, Displacement, Effect, Gains, Gravity,
    Hinge, Line, Network, Observation, Observed, Placement, PointRef, Pose, PoseAdjuster, PoseCheck, Position, Scene,
    StationPoint, Stop, Task, adjust,
};
use trammel::metrology::{Estimate, Limits};
use trammel::quantity::{Angle, Length, Unit};

use crate::rounds::{Builder, OFFSET_TOLERANCE, Orders, Pass};
use crate::twin::body::{
    JOINT, NOMINAL_PITCH_DEG, Side, TAIL_POST, aft_bulkhead, firewall_corner, lower_joint, upper_joint,
};
use crate::twin::config::{Config, SetUp};
use crate::twin::contact::{
    BLOCK_BELOW_JOINT, BLOCK_FORWARD_OF_JOINT, PAD_HALF_WIDTH, SADDLE_AFT_OF_JOINT, SADDLE_BELOW_JOINT, TUBE_SLOPE_DEG,
};
use crate::twin::space::{Vec3, vec3};
use crate::twin::trial::{DIAGONAL_TOLERANCE, PITCH_TOLERANCE_DEG, TWIST_TOLERANCE_DEG};
use crate::twin::world::Twin;

const FRAME: usize = 0;
const CONE: usize = 1;

/// The state before the last round, and what was moved from it.
struct Before {
    at: Placement,
    adjusters: Vec<PoseAdjuster>,
    now: Vec<Estimate>,
    amounts: Vec<f64>,
}

pub(crate) struct WithTheEngine {
    scene: Scene,
    checks: Vec<PoseCheck>,
    adjusters: Vec<PoseAdjuster>,
    gains: Gains,
    uncertainties: [f64; 4],
    graduations: [f64; 4],
    before: Option<Before>,
    alarms: usize,
}

impl WithTheEngine {
    pub(crate) fn new(twin: &mut Twin) -> Self {
        let scene = scene(twin.config().set_up);
        let config = *twin.config();
        let adjusters = adjusters(&scene, &config);
        Self {
            checks: checks(&scene),
            gains: Gains::from_geometry(adjusters.len()),
            adjusters,
            scene,
            uncertainties: uncertainties(&config),
            graduations: [config.protractor_step, config.protractor_step, config.tape_step, config.string_step],
            before: None,
            alarms: 0,
        }
    }

    /// The readings of a pass, and that the joint's middle is where the drawing has it, as well as a socket holds it.
    fn readings(&self, pass: &Pass) -> Vec<Observation> {
        let [pitch, twist, square, offset] = &self.checks[..] else { unreachable!("four checks") };
        let one = |check: &PoseCheck, value: f64, per: f64, sigma: f64| match &check.value {
            CheckValue::One(what) => Observation { what: what.clone(), value: value * per, sigma: sigma * per },
            CheckValue::Minus(..) => unreachable!("one reading"),
        };
        let CheckValue::Minus(tail, frame) = &twist.value else { unreachable!("two rolls") };
        let roll = |what: &Observed, value: f64| Observation {
            what: what.clone(),
            value: value.to_radians(),
            sigma: self.uncertainties[1].to_radians(),
        };
        let inch = Length::from_inches(1.0).metres();
        let held = |along, by: f64| {
            let (from, to) = (find(&self.scene, FRAME, "joint"), find(&self.scene, CONE, "joint"));
            Observation { what: Observed::Gap { from, to, along }, value: 0.0, sigma: by * inch }
        };
        let string =
            Line { from: find(&self.scene, FRAME, "string-front"), to: find(&self.scene, FRAME, "string-aft") };
        vec![
            one(pitch, pass.pitch, 1_f64.to_radians(), self.uncertainties[0]),
            roll(tail, pass.tail_roll),
            roll(frame, pass.frame_roll),
            // The frame's own slope, from its lower tube; no check asks for it better.
            Observation { what: Observed::Slope(string), value: 0.0, sigma: 0.5_f64.to_radians() },
            one(square, pass.square, inch, self.uncertainties[2]),
            one(offset, pass.offset, inch, self.uncertainties[3]),
            held(Displacement::x(), 0.1),
            held(Displacement::y(), 1.0 / 32.0),
            held(Displacement::z(), 1.0 / 32.0),
        ]
    }

    /// Where things sit by the readings, to start from: the cone turned about the joint by what they say, or the frame the other way.
    fn placement(&self, pass: &Pass) -> Placement {
        let joint = position(JOINT);
        let yaw = Angle::atan(pass.offset / (TAIL_POST.fs - JOINT.fs));
        let (pitch, roll) = (Angle::from_degrees(pass.pitch - NOMINAL_PITCH_DEG), Angle::from_degrees(pass.twist));
        let turned = Pose::from_angles(pitch, roll, yaw, Position::origin());
        let cone = Pose::from_angles(pitch, roll, yaw, joint - turned.place(&joint).coords());
        let mut at = Placement::as_drawn(&self.scene, 0);
        if self.scene.fixed() == FRAME {
            at.poses[CONE] = cone;
        } else {
            at.poses[FRAME] = cone.inverse();
        }
        at
    }
}

impl Builder for WithTheEngine {
    fn orders(&mut self, pass: &Pass, _: &Twin) -> Orders {
        let network = Network::new(self.scene.clone(), self.readings(pass), Gravity::Unknown).expect("readings");
        let adjusted: Adjusted = adjust(&network, &self.placement(pass)).expect("enough readings");
        let now: Vec<Estimate> =
            self.checks.iter().map(|check| check.estimate(&adjusted).expect("a check of the scene")).collect();
        let at = adjusted.placement().clone();
        if let Some(before) = self.before.take() {
            let task = Task {
                scene: &self.scene,
                at: &before.at,
                adjusters: &before.adjusters,
                checks: &self.checks,
                now: &before.now,
                gains: &self.gains,
                cost: Cost { aim: Aim::Likeliest, ..Cost::default() },
            };
            let responses = task.responses(&before.amounts, &now, &self.graduations);
            self.alarms += usize::from(responses.iter().any(|response| response.strange().is_some()));
            let learned = self.gains.learn(&responses);
            self.gains = learned;
        }
        for (adjuster, gap) in self.adjusters[2..].iter_mut().zip(pass.gaps) {
            adjuster.setting = gap;
        }
        let task = Task {
            scene: &self.scene,
            at: &at,
            adjusters: &self.adjusters,
            checks: &self.checks,
            now: &now,
            gains: &self.gains,
            cost: Cost { aim: Aim::Likeliest, ..Cost::default() },
        };
        let mut amounts = vec![0.0; self.adjusters.len()];
        if let Answer::Plan(plan) = task.plan() {
            for made in plan.moves {
                amounts[made.adjuster] = self.adjusters[made.adjuster].amount(made.steps);
            }
        }
        let moved = self.adjusters.iter().zip(&amounts).map(|(adjuster, amount)| adjuster.moved(*amount)).collect();
        let orders = Orders { support: amounts[0], rock: amounts[1], joint: [amounts[2], amounts[3]] };
        self.before = Some(Before { at, adjusters: std::mem::replace(&mut self.adjusters, moved), now, amounts });
        orders
    }

    fn alarms(&self) -> usize {
        self.alarms
    }
}

fn position(at: Vec3) -> Position {
    Position::from([at.fs, at.bl, at.wl].map(|inches| Length::from_inches(inches).metres()))
}

fn scene(set_up: SetUp) -> Scene {
    let point = |(id, at): (&str, Vec3)| {
        let [fs, bl, wl] = [at.fs, at.bl, at.wl].map(Length::from_inches);
        StationPoint::new(id, id, fs, bl, wl)
    };
    let sides = |left: &'static str, right: &'static str, at: fn(Side) -> Vec3| {
        [(left, at(Side::Left)), (right, at(Side::Right))]
    };
    let joint = [("joint", JOINT)].into_iter().chain(sides("joint-left", "joint-right", upper_joint));
    let frame = sides("corner-left", "corner-right", firewall_corner)
        .into_iter()
        .chain(sides("lower-left", "lower-right", lower_joint))
        .chain([("string-front", vec3(37.0, 0.0, 52.0)), ("string-aft", vec3(121.0, 0.0, 52.0))])
        .chain(joint.clone());
    let cone = sides("aft-left", "aft-right", aft_bulkhead).into_iter().chain([("tail", TAIL_POST)]).chain(joint);
    let assembly = |id: &str, points: Vec<StationPoint>| Assembly { id: id.into(), name: id.into(), points };
    let assemblies = vec![assembly("frame", frame.map(point).collect()), assembly("cone", cone.map(point).collect())];
    Scene::new(assemblies, if set_up == SetUp::Saddle { FRAME } else { CONE }).expect("a scene")
}

fn find(scene: &Scene, assembly: usize, id: &str) -> PointRef {
    scene.find(["frame", "cone"][assembly], id).expect("a point of the drawing")
}

/// The sheet of the Veldrin H2.
fn checks(scene: &Scene) -> Vec<PoseCheck> {
    let line = |assembly, from, to| Line { from: find(scene, assembly, from), to: find(scene, assembly, to) };
    let roll = |assembly, left, right| Observed::Roll {
        left: find(scene, assembly, left),
        right: find(scene, assembly, right),
    };
    let ends = |corner| [find(scene, FRAME, corner), find(scene, CONE, "tail")];
    let string = line(FRAME, "string-front", "string-aft");
    let about = |nominal: f64, by: f64, unit| Limits { lower: Some(nominal - by), upper: Some(nominal + by), unit };
    let check = |id: &str, value, limits| PoseCheck { id: id.into(), title: id.into(), value, limits };
    vec![
        check(
            "pitch",
            CheckValue::One(Observed::RelativeAngle { zeroed: string, read: line(CONE, "joint-left", "aft-left") }),
            about(NOMINAL_PITCH_DEG, PITCH_TOLERANCE_DEG, Unit::Degree),
        ),
        check(
            "twist",
            CheckValue::Minus(roll(CONE, "aft-left", "aft-right"), roll(FRAME, "lower-left", "lower-right")),
            about(0.0, TWIST_TOLERANCE_DEG, Unit::Degree),
        ),
        check(
            "square",
            CheckValue::One(Observed::DistanceDifference { first: ends("corner-left"), second: ends("corner-right") }),
            about(0.0, DIAGONAL_TOLERANCE, Unit::Inch),
        ),
        check(
            "offset",
            CheckValue::One(Observed::StringOffset { point: find(scene, CONE, "tail"), string }),
            about(0.0, OFFSET_TOLERANCE, Unit::Inch),
        ),
    ]
}

/// The support, the rock, the left and the right side of the joint.
fn adjusters(scene: &Scene, config: &Config) -> Vec<PoseAdjuster> {
    let (body, out) = match config.set_up {
        SetUp::Saddle => (CONE, 1.0),
        SetUp::Block => (FRAME, -1.0),
    };
    let (sin, cos) = TUBE_SLOPE_DEG.to_radians().sin_cos();
    let (normal, pad, along, step, hand) = match config.set_up {
        SetUp::Saddle => {
            let pad = JOINT + vec3(SADDLE_AFT_OF_JOINT, 0.0, -SADDLE_BELOW_JOINT);
            (Displacement::z(), pad, Displacement::z(), 1.0 / 32.0, config.saddle_setting)
        }
        SetUp::Block => {
            let pad = JOINT + vec3(-BLOCK_FORWARD_OF_JOINT, 0.0, -BLOCK_BELOW_JOINT);
            (Displacement::new(sin, 0.0, cos), pad, -Displacement::x(), 1.0 / 16.0, config.block_setting)
        }
    };
    let hinge = |through, axis| Hinge { through: find(scene, body, through), axis };
    let adjuster =
        |id: &str, hinge, contact, step, hand: f64, lowest: (f64, Stop), highest: (f64, Stop)| PoseAdjuster {
            id: id.into(),
            name: id.into(),
            plus: String::new(),
            minus: String::new(),
            effect: Effect::Turn { carried: vec![body], hinge, contact },
            dial: Dial::inches(step),
            setting: 0.0,
            lowest,
            highest,
            // The hand errs evenly within its bounds.
            setting_u: hand / 3_f64.sqrt(),
            weight: 1.0,
        };
    let travel = |by: f64| ((-by, Stop::Travel), (by, Stop::Travel));
    let across = Displacement::y() * Length::from_inches(2.0 * PAD_HALF_WIDTH).metres();
    let side = |id, opened, hinged| {
        let contact = Contact::Drive { point: find(scene, body, opened), along: Displacement::x() * out };
        let hinge = hinge(hinged, Axis::Along(body, normal));
        adjuster(id, hinge, contact, 1.0 / 64.0, config.gap_setting, (0.0, Stop::Gap), (1.0, Stop::Gap))
    };
    let (low, high) = travel(16.0);
    vec![
        adjuster(
            "support",
            hinge("joint-left", Axis::Toward(find(scene, body, "joint-right"))),
            Contact::Pad { at: position(pad), along, assembly: body, normal },
            step,
            hand,
            low,
            high,
        ),
        adjuster(
            "rock",
            hinge("joint", Axis::Along(body, Displacement::x())),
            Contact::Rock { across, up: Displacement::z(), assembly: body, normal },
            1.0 / 64.0,
            config.saddle_setting,
            low,
            high,
        ),
        side("joint left", "joint-left", "joint-right"),
        side("joint right", "joint-right", "joint-left"),
    ]
}

/// What the readings of a pass leave open: a display rounds evenly within its step, and the seats, the pulls and the string as the
/// instruments are known to do.
fn uncertainties(config: &Config) -> [f64; 4] {
    let even = |step: f64| step / 12_f64.sqrt();
    let seated = |seats: f64| even(config.protractor_step).hypot(config.protractor_seat * seats.sqrt());
    // The median of three is not quite the mean: 0.67 of one pull (normal distribution; from memory).
    let pull = 0.67 * config.tape_pull.hypot(even(config.tape_step));
    let string = config.string_noise.hypot(even(config.string_step)) / 2_f64.sqrt();
    [
        seated(2.0) / 2_f64.sqrt(),
        seated(1.0) / 2_f64.sqrt(),
        pull * 2_f64.sqrt(),
        string.hypot(config.string_set / 3_f64.sqrt()),
    ]
}
