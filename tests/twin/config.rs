//! What the twin is allowed to hide from whoever works on it, and how it may start.

/// How the two bodies are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SetUp {
    /// The frame is fixed on trestles; the cone lies in a rocking saddle 122 in aft of the joint.
    Saddle,
    /// The cone is fixed on the bench; the frame is carried by a block under its sloping lower tubes.
    Block,
}

/// Sizes of the hidden effects, each drawn afresh per twin. A size of 0 switches the effect off.
/// The magnitudes have no source: they are what the person who wrote the twin found believable.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Config {
    pub(crate) set_up: SetUp,
    /// A move does `1 ± gain` of what was asked, uniform, one factor per adjuster for the twin's whole life.
    pub(crate) gain: f64,
    /// Setting the block by hand, inches, uniform ±.
    pub(crate) block_setting: f64,
    /// Setting the saddle or a shim under the block, inches, uniform ±.
    pub(crate) saddle_setting: f64,
    /// Setting a joint gap, inches, uniform ±.
    pub(crate) gap_setting: f64,
    /// Share (uniform ±) of a change in mean upper gap that also appears between the upper and the lower gap, pitching
    /// the cone.
    pub(crate) gap_to_pitch: f64,
    /// The body that is fixed lies off level by up to this in roll and in pitch, degrees.
    pub(crate) level: f64,
    /// Start: pitch off by up to this, degrees.
    pub(crate) start_pitch: f64,
    /// Start: twist up to this, degrees.
    pub(crate) start_twist: f64,
    /// Start: tail off the centre plane by up to this, inches.
    pub(crate) start_offset: f64,
    /// Protractor display step, degrees.
    pub(crate) protractor_step: f64,
    /// Protractor zero error up to this, degrees, uniform ±.
    pub(crate) protractor_zero: f64,
    /// How far the protractor's seat on one face differs from its seat on the other, degrees, uniform ±: turns its sign
    /// when the instrument is turned end for end.
    pub(crate) protractor_mounting: f64,
    /// Each seating of the protractor, degrees, standard deviation.
    pub(crate) protractor_seat: f64,
    /// Tape division, inches.
    pub(crate) tape_step: f64,
    /// Tape error over 25 ft, inches, uniform ±, in proportion to the length.
    pub(crate) tape_scale: f64,
    /// Each pull of the tape, inches, standard deviation.
    pub(crate) tape_pull: f64,
    /// Rule division for the string offset, inches.
    pub(crate) string_step: f64,
    /// The string lies off the frame's centre plane at the tail by up to this, inches, uniform ±.
    pub(crate) string_set: f64,
    /// Each reading against the string, inches, standard deviation.
    pub(crate) string_noise: f64,
    /// Rule division for joint gaps, inches.
    pub(crate) gap_step: f64,
}

impl Config {
    /// Everything hidden that the campaign hides.
    pub(crate) fn rough(set_up: SetUp) -> Self {
        Self {
            set_up,
            gain: 0.2,
            block_setting: 1.0 / 32.0,
            saddle_setting: 1.0 / 64.0,
            gap_setting: 1.0 / 64.0,
            gap_to_pitch: 0.3,
            level: 0.1,
            start_pitch: 1.2,
            start_twist: 0.5,
            start_offset: 1.5,
            protractor_step: 0.1,
            protractor_zero: 0.15,
            protractor_mounting: 0.03,
            protractor_seat: 0.02,
            tape_step: 1.0 / 32.0,
            tape_scale: 1.0 / 16.0,
            tape_pull: 1.0 / 64.0,
            string_step: 1.0 / 32.0,
            string_set: 1.0 / 64.0,
            string_noise: 1.0 / 64.0,
            gap_step: 1.0 / 64.0,
        }
    }

    /// No hidden effect, no noise, everything starting as drawn; the instruments still have their steps.
    pub(crate) fn perfect(set_up: SetUp) -> Self {
        Self {
            gain: 0.0,
            block_setting: 0.0,
            saddle_setting: 0.0,
            gap_setting: 0.0,
            gap_to_pitch: 0.0,
            level: 0.0,
            start_pitch: 0.0,
            start_twist: 0.0,
            start_offset: 0.0,
            protractor_zero: 0.0,
            protractor_mounting: 0.0,
            protractor_seat: 0.0,
            tape_scale: 0.0,
            tape_pull: 0.0,
            string_set: 0.0,
            string_noise: 0.0,
            ..Self::rough(set_up)
        }
    }
}
