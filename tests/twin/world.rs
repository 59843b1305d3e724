//! The twin itself: two bodies, their supports, what is hidden, what can be read and what can be moved.

use super::body::{
    Assembly, JOINT, JOINT_HEIGHT, NOMINAL_PITCH_DEG, Side, aft_bulkhead, bar_end, firewall_corner, lower_joint,
    upper_joint,
};
use super::config::{Config, SetUp};
use super::contact::{Sole, Supports, TUBE_SLOPE_DEG, settle};
use super::instruments::{CentreString, Chance, Protractor, Tape, to_step};
use super::space::{Rotation, newton3, vec3};

/// Where a level is laid across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Station {
    /// Across the frame's lower cross-member.
    Frame,
    /// Across the cone's aft bulkhead.
    Tail,
}

/// A corner of the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Corner {
    Upper(Side),
    Lower(Side),
}

/// A cone being mated to a frame. See the module for the frames and signs.
#[derive(Clone, Debug)]
pub(crate) struct Twin {
    config: Config,
    chance: Chance,
    fixed: Rotation,
    sole: Sole,
    supports: Supports,
    /// Joint faces that are not square, as gaps that no feeler finds.
    skew: f64,
    start_mean_gap: f64,
    gain: [f64; 3],
    gap_to_pitch: f64,
    protractor: Protractor,
    tape: Tape,
    string: CentreString,
    now: Assembly,
}

impl Twin {
    /// A twin with its hidden effects and its start drawn from `seed`; the same seed gives the same twin.
    pub(crate) fn new(config: Config, seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        let fixed = Rotation::from_angles(
            chance.within(config.level).to_radians(),
            chance.within(config.level).to_radians(),
            0.0,
        );
        let gain = std::array::from_fn(|_| 1.0 + chance.within(config.gain));
        let gap_to_pitch = chance.within(config.gap_to_pitch);
        let protractor = Protractor::new(&config, &mut chance);
        let tape = Tape::new(&config, &mut chance);
        let string = CentreString::new(&config, &mut chance);
        let gaps = [chance.between(1.0 / 32.0, 3.0 / 32.0), chance.between(1.0 / 32.0, 3.0 / 32.0)];
        let target =
            [chance.within(config.start_pitch), chance.within(config.start_twist), chance.within(config.start_offset)];
        let supports = Supports { gaps, ..Supports::drawn(config.set_up) };
        let mut twin = Self {
            config,
            chance,
            fixed,
            sole: Sole::drawn(config.set_up),
            supports,
            skew: 0.0,
            start_mean_gap: f64::midpoint(gaps[0], gaps[1]),
            gain,
            gap_to_pitch,
            protractor,
            tape,
            string,
            now: settle(config.set_up, fixed, Sole::drawn(config.set_up), supports),
        };
        twin.begin_at(target);
        twin
    }

    /// Lets the sole sit higher or lower on the body, the pads stand askew and the joint faces be out of square, so that
    /// the start is exactly this pitch error, twist and tail offset.
    fn begin_at(&mut self, [pitch, twist, offset]: [f64; 3]) {
        let found = newton3([0.0; 3], [1e-3; 3], |unknowns| {
            let now = self.clone_with(unknowns).rest();
            [now.pitch_error_deg() - pitch, now.twist_deg() - twist, now.tail_offset() - offset]
        });
        *self = self.clone_with(found);
        self.now = self.rest();
    }

    fn clone_with(&self, [sole_down, rock, skew]: [f64; 3]) -> Self {
        let mut other = self.clone();
        other.sole = Sole::drawn(self.config.set_up).lowered(sole_down);
        other.supports.rock = rock;
        other.skew = skew;
        other
    }

    /// Solves for where the bodies rest now.
    fn rest(&self) -> Assembly {
        let mut supports = self.supports;
        let [left, right] = supports.gaps;
        let opened = f64::midpoint(left, right) - self.start_mean_gap;
        let lever = (supports.station - JOINT.fs).abs();
        supports.height += self.gap_to_pitch * opened * lever / JOINT_HEIGHT;
        supports.gaps = [left + self.skew / 2.0, right - self.skew / 2.0];
        settle(self.config.set_up, self.fixed, self.sole, supports)
    }

    // What a person can read.

    /// Protractor zeroed on the frame's fore-and-aft face and read on the cone's upper longeron, degrees, tail high +.
    pub(crate) fn read_pitch(&mut self, side: Side, reversed: bool) -> f64 {
        let face = self.now.frame.direction(vec3(1.0, 0.0, 0.0)).inclination_deg();
        let along = aft_bulkhead(side) - upper_joint(side);
        let longeron = self.now.cone.direction(along).inclination_deg();
        self.protractor.relative(face, longeron, reversed, &mut self.chance)
    }

    /// Level laid across, degrees, right side low +, the instrument's zero error included; `reversed` is end for end.
    pub(crate) fn read_roll(&mut self, station: Station, reversed: bool) -> f64 {
        let body = match station {
            Station::Frame => self.now.frame,
            Station::Tail => self.now.cone,
        };
        let right_low = -body.direction(vec3(0.0, 1.0, 0.0)).inclination_deg();
        self.protractor.absolute(right_low, reversed, &mut self.chance)
    }

    /// Protractor on the frame's lower tube, degrees, rising forward +, the instrument's zero error included.
    pub(crate) fn read_tube_slope(&mut self, reversed: bool) -> f64 {
        let (rise, run) = TUBE_SLOPE_DEG.to_radians().sin_cos();
        let slope = self.now.frame.direction(vec3(-run, 0.0, rise)).inclination_deg();
        self.protractor.absolute(slope, reversed, &mut self.chance)
    }

    /// One pull of the tape from the lower firewall corner on this side to the tail post, inches.
    pub(crate) fn read_diagonal(&mut self, side: Side) -> f64 {
        self.tape.pull(self.now.tail_post_from(firewall_corner(side)), &mut self.chance)
    }

    /// One pull of the tape from this end of a 10 ft bar laid across the wing pins to the tail post, inches.
    pub(crate) fn read_bar(&mut self, side: Side) -> f64 {
        self.tape.pull(self.now.tail_post_from(bar_end(side)), &mut self.chance)
    }

    /// Tail post against a string down the frame's centre plane, inches, tail to the right +.
    pub(crate) fn read_offset(&mut self) -> f64 {
        self.string.read(self.now.tail_offset(), &mut self.chance)
    }

    /// Joint gap at a corner, inches, by rule: what the skewed faces add is not seen, and parts that foul each other leave
    /// no gap.
    pub(crate) fn read_gap(&self, corner: Corner) -> f64 {
        let (drawn, side) = match corner {
            Corner::Upper(side) => (upper_joint(side), side),
            Corner::Lower(side) => (lower_joint(side), side),
        };
        let faces = -side.sign() * self.skew / 2.0;
        to_step((self.now.opening(drawn) - faces).max(0.0), self.config.gap_step)
    }

    // What a person can move.

    /// Slides the block along the bench, inches, forward +. Only with the cone on the bench.
    pub(crate) fn slide_block(&mut self, inches: f64) {
        assert_eq!(self.config.set_up, SetUp::Block, "there is no block");
        self.supports.station -= self.gain[0] * (inches + self.chance.within(self.config.block_setting));
        self.now = self.rest();
    }

    /// Raises the saddle, inches, up +. Only with the frame on trestles.
    pub(crate) fn raise_saddle(&mut self, inches: f64) {
        assert_eq!(self.config.set_up, SetUp::Saddle, "there is no saddle");
        self.supports.height += self.gain[0] * (inches + self.chance.within(self.config.saddle_setting));
        self.now = self.rest();
    }

    /// Moves whichever support carries the movable body: slides the block forward +, or raises the saddle up +, inches.
    pub(crate) fn move_support(&mut self, inches: f64) {
        match self.config.set_up {
            SetUp::Block => self.slide_block(inches),
            SetUp::Saddle => self.raise_saddle(inches),
        }
    }

    /// Raises the right side of the saddle over its left (or, with the block, the right end of the block), inches.
    pub(crate) fn rock_saddle(&mut self, right_side_up: f64) {
        self.supports.rock += self.gain[1] * (right_side_up + self.chance.within(self.config.saddle_setting));
        self.now = self.rest();
    }

    /// Opens the joint on one side, inches; negative closes it, no further than until the parts touch.
    pub(crate) fn open_joint(&mut self, side: Side, inches: f64) {
        let gap = &mut self.supports.gaps[usize::from(side == Side::Right)];
        *gap = (*gap + self.gain[2] * (inches + self.chance.within(self.config.gap_setting))).max(0.0);
        self.now = self.rest();
    }

    // What nobody in the hangar knows.

    /// What it was made with. The set-up and the instruments' steps are no secret.
    pub(crate) fn config(&self) -> &Config {
        &self.config
    }

    /// Both bodies as they stand.
    pub(crate) fn assembly(&self) -> &Assembly {
        &self.now
    }

    /// Side-view pitch of the cone against the frame minus the manual's, degrees, tail high +.
    pub(crate) fn true_pitch_error(&self) -> f64 {
        self.now.pitch_error_deg()
    }

    /// Side-view slope of the cone's upper longeron against the frame, degrees, tail high +.
    pub(crate) fn true_pitch(&self) -> f64 {
        NOMINAL_PITCH_DEG + self.now.pitch_error_deg()
    }

    /// Left diagonal minus right diagonal, inches.
    pub(crate) fn true_diagonal_difference(&self) -> f64 {
        let [left, right] = [Side::Left, Side::Right].map(|side| self.now.tail_post_from(firewall_corner(side)));
        left - right
    }

    /// Tail against frame, degrees, tail right-low +.
    pub(crate) fn true_twist(&self) -> f64 {
        self.now.twist_deg()
    }

    /// Tail post from the frame's centre plane, inches, tail to the right +.
    pub(crate) fn true_offset(&self) -> f64 {
        self.now.tail_offset()
    }
}
