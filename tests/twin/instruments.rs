//! Instruments with hidden errors of their own. Each gives back what a person would type.

use super::config::Config;

/// The twin's chance, the same for the same seed.
#[derive(Clone, Debug)]
pub(crate) struct Chance(fastrand::Rng);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self(fastrand::Rng::with_seed(seed))
    }

    /// Uniform between `-size` and `+size`.
    pub(crate) fn within(&mut self, size: f64) -> f64 {
        size * (2.0 * self.0.f64() - 1.0)
    }

    /// Uniform between `low` and `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.0.f64()
    }

    /// Normal about 0 (polar method).
    pub(crate) fn normal(&mut self, sigma: f64) -> f64 {
        loop {
            let (u, v) = (self.within(1.0), self.within(1.0));
            let s = u * u + v * v;
            if s > 0.0 && s < 1.0 {
                return sigma * u * (-2.0 * s.ln() / s).sqrt();
            }
        }
    }
}

/// The nearest mark of a scale.
pub(crate) fn to_step(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// A digital protractor. Its zero error stays with it; its seat differs a little from face to face.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Protractor {
    step: f64,
    zero: f64,
    mounting: f64,
    seat: f64,
}

impl Protractor {
    pub(crate) fn new(config: &Config, chance: &mut Chance) -> Self {
        Self {
            step: config.protractor_step,
            zero: chance.within(config.protractor_zero),
            mounting: chance.within(config.protractor_mounting),
            seat: config.protractor_seat,
        }
    }

    /// Set down once along a direction with this inclination, degrees, before the display rounds it.
    fn senses(&self, inclination: f64, reversed: bool, chance: &mut Chance) -> f64 {
        let along = if reversed { -inclination } else { inclination };
        along + self.zero + chance.normal(self.seat)
    }

    /// Absolute: set down and read. The person types which end is high, so a reversed display is turned back.
    pub(crate) fn absolute(&self, inclination: f64, reversed: bool, chance: &mut Chance) -> f64 {
        turned_back(to_step(self.senses(inclination, reversed, chance), self.step), reversed)
    }

    /// Relative: zeroed on the first face, read on the second, both the same way round.
    pub(crate) fn relative(&self, zeroed_on: f64, read_on: f64, reversed: bool, chance: &mut Chance) -> f64 {
        let zero = self.senses(zeroed_on, reversed, chance);
        let shown = self.senses(read_on, reversed, chance) + self.mounting - zero;
        turned_back(to_step(shown, self.step), reversed)
    }
}

fn turned_back(shown: f64, reversed: bool) -> f64 {
    if reversed { -shown } else { shown }
}

/// A steel tape, the same one for every distance.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tape {
    step: f64,
    scale: f64,
    pull: f64,
}

impl Tape {
    pub(crate) fn new(config: &Config, chance: &mut Chance) -> Self {
        Self {
            step: config.tape_step,
            scale: 1.0 + chance.within(config.tape_scale) / (25.0 * 12.0),
            pull: config.tape_pull,
        }
    }

    /// One independent pull, inches.
    pub(crate) fn pull(&self, distance: f64, chance: &mut Chance) -> f64 {
        to_step(distance * self.scale + chance.normal(self.pull), self.step)
    }
}

/// A string stretched down the frame's centre plane, read with a rule at the tail.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CentreString {
    step: f64,
    set: f64,
    noise: f64,
}

impl CentreString {
    pub(crate) fn new(config: &Config, chance: &mut Chance) -> Self {
        Self { step: config.string_step, set: chance.within(config.string_set), noise: config.string_noise }
    }

    /// How far a point at `bl` from the true centre plane seems to lie from the string, inches, right +.
    pub(crate) fn read(&self, bl: f64, chance: &mut Chance) -> f64 {
        to_step(bl - self.set + chance.normal(self.noise), self.step)
    }
}
