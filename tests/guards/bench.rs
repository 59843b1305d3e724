//! A structure on its supports and a builder with instruments, simulated: what an honest reading shows, and what moves do.
//!
//! Plane geometry on the numbers of an invented airframe's sheet (common practice, no source). The sizes of starts, scatter and
//! hidden effects are the mating twin's (`tests/twin/config.rs`) where it has them, else what the person who wrote this found
//! believable. Only arithmetic that gives the same digits on every machine: the same seed, the same readings.

use trammel::procedure::examples;
use trammel::quantity::Unit;
use trammel::record::{Instrument, InstrumentKind};

const DEGREES: f64 = 180.0 / std::f64::consts::PI;

/// Chance, the same for the same seed.
pub(crate) struct Chance(fastrand::Rng);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self(fastrand::Rng::with_seed(seed))
    }

    /// Uniform between the two.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.0.f64()
    }

    /// Uniform between `-size` and `+size`.
    pub(crate) fn within(&mut self, size: f64) -> f64 {
        self.between(-size, size)
    }

    /// Near enough normal: twelve uniform numbers less six (their variance is 12/12 = 1).
    pub(crate) fn normal(&mut self, sigma: f64) -> f64 {
        sigma * ((0..12).map(|_| self.0.f64()).sum::<f64>() - 6.0)
    }

    pub(crate) fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.0.usize(..from.len())]
    }

    pub(crate) fn below(&mut self, end: usize) -> usize {
        self.0.usize(..end)
    }
}

/// The nearest mark of a scale.
pub(crate) fn to_step(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// How steady the hands are, and how true to geometry the structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hands {
    /// As the mating twin has them.
    Usual,
    /// Twice the scatter, twice the doubt about what a move does.
    Unsteady,
}

/// Lengths in the airframe's unit, angles in degrees, signs as everywhere (aft end high, right side low, tail right +).
pub(crate) struct Bench {
    pub(crate) chance: Chance,
    /// 1 for inches, 25.4 for millimetres: sizes below are thought of in inches.
    inch: f64,
    pub(crate) protractor: Instrument,
    pub(crate) tape: Instrument,
    pub(crate) rule: Instrument,
    /// Standard deviation of laying on: protractor, tape, rule.
    laying: [f64; 3],
    zero: f64,
    mounting: f64,
    tape_scale: f64,
    gain: [f64; 3],
    sheet: Sheet,
    bar: f64,
    twins: [f64; 2],
    edge: f64,
    gaps: [f64; 4],
    pitch: f64,
    frame: f64,
    twist: f64,
    offset: f64,
    opened: f64,
}

struct Sheet {
    pitch: f64,
    diagonal: f64,
    half_width: f64,
    joint_width: f64,
    to_tail: f64,
    saddle: f64,
    saddle_width: f64,
}

impl Bench {
    pub(crate) fn new(which: usize, seed: u64, hands: Hands) -> Self {
        let mut chance = Chance::new(seed);
        let rough = if hands == Hands::Unsteady { 2.0 } else { 1.0 };
        let example = &examples()[which];
        let number = |key: &str| {
            let item = example.specification.iter().find(|(known, _)| known == key);
            item.and_then(|(_, value)| value.nominal.as_ref()).expect("on the invented sheet").value
        };
        let unit = example.details.units.length();
        let (inch, tapes, rules) = match unit {
            Unit::Inch => (1.0, [1.0 / 16.0, 1.0 / 32.0, 1.0 / 64.0], [1.0 / 32.0, 1.0 / 64.0]),
            _ => (25.4, [1.0, 1.0, 0.5], [1.0, 0.5]),
        };
        let made = |kind, unit, step, accuracy| Instrument::new(kind, "bench".to_owned(), unit, step, accuracy);
        Self {
            protractor: made(InstrumentKind::Protractor, Unit::Degree, chance.pick(&[0.1, 0.05]), 0.1),
            tape: made(InstrumentKind::Tape, unit, chance.pick(&tapes), inch / 16.0),
            rule: made(InstrumentKind::Rule, unit, chance.pick(&rules), inch / 64.0),
            laying: [
                rough * chance.between(0.01, 0.04),
                rough * inch * chance.between(0.5, 1.5) / 64.0,
                rough * inch * chance.between(0.5, 1.5) / 64.0,
            ],
            zero: chance.within(0.15),
            mounting: chance.within(0.03),
            tape_scale: 1.0 + chance.within(1.0 / 16.0) / 300.0,
            gain: std::array::from_fn(|_| 1.0 + rough * chance.within(0.2)),
            bar: chance.within(0.5),
            twins: std::array::from_fn(|_| number("half-width") + inch * chance.within(1.0 / 32.0)),
            edge: inch * chance.between(5.0 / 16.0, 11.0 / 16.0),
            gaps: std::array::from_fn(|_| inch * chance.between(0.0, 3.0 / 16.0)),
            pitch: number("pitch") + chance.within(1.2),
            frame: chance.within(0.1),
            twist: chance.within(0.5),
            offset: inch * chance.within(1.5),
            opened: inch * chance.between(1.0 / 32.0, 3.0 / 32.0),
            sheet: Sheet {
                pitch: number("pitch"),
                diagonal: number("diagonal"),
                half_width: number("half-width"),
                joint_width: number("joint-width"),
                to_tail: number("joint-to-tail"),
                saddle: number("saddle-distance"),
                saddle_width: number("saddle-width"),
            },
            inch,
            chance,
        }
    }

    pub(crate) fn instrument(&self, role: &str) -> &Instrument {
        match role {
            "protractor" => &self.protractor,
            "tape" => &self.tape,
            _ => &self.rule,
        }
    }

    /// What a slot would show with no scatter and no graduation, the instrument's own error included.
    pub(crate) fn mean(&self, check: &str, slot: &str) -> f64 {
        let tail = self.frame + self.twist;
        match (check, slot) {
            ("zero-error", "first") => self.bar + self.zero,
            ("zero-error", _) => self.zero - self.bar,
            (_, "twin-left") => self.twins[0],
            (_, "twin-right") => self.twins[1],
            (_, "upper-left") => self.gaps[0],
            (_, "upper-right") => self.gaps[1],
            (_, "lower-left") => self.gaps[2],
            (_, "lower-right") => self.gaps[3],
            (_, "direct") => self.pitch + self.mounting,
            (_, "reversed") => self.pitch - self.mounting,
            (_, "frame") => self.frame + self.zero,
            (_, "frame-reversed") => self.frame - self.zero,
            (_, "aft") => tail + self.zero,
            (_, "aft-reversed") => tail - self.zero,
            (_, "left") => self.diagonal(1.0),
            (_, "right") => self.diagonal(-1.0),
            (_, "string") => self.offset,
            (_, "worst") => self.edge,
            other => panic!("the bench lacks {other:?}"),
        }
    }

    /// From a forward point to the aft centre point: the tail to the right makes the left distance the longer.
    fn diagonal(&self, side: f64) -> f64 {
        let Sheet { diagonal, half_width, .. } = self.sheet;
        let along = (diagonal * diagonal - half_width * half_width).sqrt() + self.opened;
        let across = half_width + side * self.offset;
        (along * along + across * across).sqrt() * self.tape_scale
    }

    /// Standard deviation of a reading about its mean before it is rounded. Relative pitch is laid on twice.
    pub(crate) fn scatter(&self, role: &str, slot: &str) -> f64 {
        match (role, slot) {
            ("protractor", "direct" | "reversed") => self.laying[0] * 1.42,
            ("protractor", _) => self.laying[0],
            ("tape", _) => self.laying[1],
            _ => self.laying[2],
        }
    }

    /// An honest reading.
    pub(crate) fn read(&mut self, check: &str, slot: &str, role: &str) -> f64 {
        let scatter = self.scatter(role, slot);
        let shown = self.mean(check, slot) + self.chance.normal(scatter);
        let shown = if matches!(check, "gaps" | "edge") { shown.max(0.0) } else { shown };
        to_step(shown, self.instrument(role).step)
    }

    /// What is known of a slot that was never read: where readings lie that no slip was made in. `None` where nothing is known.
    pub(crate) fn first_range(&self, slot: &str) -> Option<(f64, f64)> {
        let diagonal = self.sheet.diagonal;
        match slot {
            "direct" | "reversed" => Some((self.sheet.pitch, 1.3)),
            "frame" | "frame-reversed" => Some((0.0, 0.35)),
            "aft" | "aft-reversed" => Some((0.0, 0.85)),
            "twin-left" | "twin-right" => Some((self.sheet.half_width, self.inch / 8.0)),
            "left" | "right" => Some((diagonal, self.inch * 0.3 + diagonal * 2e-4)),
            "string" if self.inch == 1.0 => Some((0.0, 1.6)),
            "worst" if self.inch == 1.0 => Some((0.5, 0.3)),
            _ => None,
        }
    }

    /// One of the procedure's moves, with what else it disturbs.
    pub(crate) fn moved(&mut self, adjuster: &str, amount: f64) {
        let set = amount + self.inch * self.chance.within(1.0 / 64.0);
        let Sheet { saddle, saddle_width, joint_width, to_tail, .. } = self.sheet;
        match adjuster {
            "saddle" => self.pitch += self.gain[0] * set / saddle * DEGREES,
            "saddle-rock" => self.twist -= self.gain[1] * set / saddle_width * DEGREES,
            "joint-right" | "joint-left" => {
                let side = if adjuster == "joint-right" { 1.0 } else { -1.0 };
                self.offset -= side * self.gain[2] * set * to_tail / joint_width;
                self.opened += set / 2.0;
            }
            other => panic!("the bench lacks {other}"),
        }
        self.pitch += self.chance.normal(0.01);
        self.twist += self.chance.normal(0.02);
        self.offset += self.inch * self.chance.normal(0.03);
    }

    /// What clamping, drilling and a night do between two gates.
    pub(crate) fn settle(&mut self) {
        self.pitch += self.chance.normal(0.05);
        self.twist += self.chance.normal(0.04);
        self.offset += self.inch * self.chance.normal(0.03);
        self.opened += self.inch * self.chance.normal(0.01);
    }

    /// Three standard deviations of what [`Self::settle`] does to a slot, and a little more.
    pub(crate) fn settles_by(&self, role: &str) -> f64 {
        if role == "protractor" { 0.2 } else { self.inch * 0.12 }
    }
}
