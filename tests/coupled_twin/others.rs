//! Builders without the engine: fixed steps, and one check at a time with the textbook's formulas.

use crate::rounds::{Builder, OFFSET_TOLERANCE, Orders, Pass, sixty_fourths};
use crate::twin::body::NOMINAL_PITCH_DEG;
use crate::twin::config::SetUp;
use crate::twin::trial::{DIAGONAL_TOLERANCE, PITCH_TOLERANCE_DEG, TWIST_TOLERANCE_DEG};
use crate::twin::world::Twin;

/// Trial and error, all checks in each round: a quarter inch at the support, a sixteenth elsewhere, halved when a reading has
/// changed sides. A check whose reading is inside its tolerance is left alone.
pub(crate) struct BySteps {
    steps: [f64; 3],
    signs: [f64; 3],
}

impl BySteps {
    pub(crate) fn new() -> Self {
        Self { steps: [0.25, 1.0 / 16.0, 1.0 / 16.0], signs: [0.0; 3] }
    }

    fn against(&mut self, which: usize, error: f64, tolerance: f64) -> f64 {
        if error.abs() <= tolerance {
            return 0.0;
        }
        if error * self.signs[which] < 0.0 {
            self.steps[which] = (self.steps[which] / 2.0).max(1.0 / 64.0);
        }
        self.signs[which] = error.signum();
        -error.signum() * self.steps[which]
    }
}

impl Builder for BySteps {
    fn orders(&mut self, pass: &Pass, twin: &Twin) -> Orders {
        // Raising the saddle lifts the tail, sliding the block forward lowers it; raising the right of the saddle turns the tail
        // left-low, raising the right of the block right-low.
        let (lifts, rolls) = match twin.config().set_up {
            SetUp::Saddle => (1.0, -1.0),
            SetUp::Block => (-1.0, 1.0),
        };
        let yaw = tail_error(pass);
        let swing = self.against(2, yaw, 0.0);
        Orders {
            support: lifts * self.against(0, pass.pitch - NOMINAL_PITCH_DEG, PITCH_TOLERANCE_DEG),
            rock: rolls * self.against(1, pass.twist, TWIST_TOLERANCE_DEG),
            // Tail to the right: open the right.
            joint: if swing < 0.0 { [0.0, -swing] } else { [swing, 0.0] },
        }
    }
}

/// The tail's offset where it or the distances read out of tolerance, otherwise nothing.
fn tail_error(pass: &Pass) -> f64 {
    if pass.offset.abs() > OFFSET_TOLERANCE {
        pass.offset
    } else if pass.square.abs() > DIAGONAL_TOLERANCE {
        pass.square
    } else {
        0.0
    }
}

/// The textbook's formulas (plane geometry, common practice): B·tan for the support, S·tan for the rock, e·W/L for the joint,
/// (p − d·cos α)/sin α for a block under a sloping tube; each for its own check as if there were no other.
pub(crate) struct ByFormula {
    /// One check in each round, the first that reads out, since each move disturbs the others; or all of them at once.
    one_at_a_time: bool,
    /// Where the block stands forward of the joint, inches.
    block: f64,
}

impl ByFormula {
    pub(crate) fn new(one_at_a_time: bool) -> Self {
        Self { one_at_a_time, block: 74.0 }
    }
}

impl Builder for ByFormula {
    fn orders(&mut self, pass: &Pass, twin: &Twin) -> Orders {
        let set_up = twin.config().set_up;
        let pitch = pass.pitch - NOMINAL_PITCH_DEG;
        let mut orders = Orders::default();
        if pitch.abs() > PITCH_TOLERANCE_DEG {
            orders.support = match set_up {
                SetUp::Saddle => sixty_fourths(-122.0 * pitch.to_radians().tan()),
                SetUp::Block => {
                    let now = pass.tube.to_radians();
                    let offset = 38.0 * now.cos() + self.block * now.sin();
                    // The tail too high: the frame's nose must come down, its tubes rise less.
                    let wanted = now - pitch.to_radians();
                    // As far as the bench goes, which is where the engine's limit stands too.
                    let there = ((offset - 38.0 * wanted.cos()) / wanted.sin()).clamp(58.0, 90.0);
                    sixty_fourths(there - self.block)
                }
            };
            self.block += orders.support;
        }
        let more = |orders: &Orders| !self.one_at_a_time || *orders == Orders::default();
        if more(&orders) && pass.twist.abs() > TWIST_TOLERANCE_DEG {
            let up = 24.0 * pass.twist.to_radians().tan();
            orders.rock = sixty_fourths(if set_up == SetUp::Saddle { up } else { -up });
        }
        if more(&orders) {
            let swing = match tail_error(pass) {
                0.0 => 0.0,
                _ => pass.offset * 33.0 / 142.0,
            };
            // Close the side that has a gap first, open the other for the rest.
            let (opened, closed) = if swing > 0.0 { (1, 0) } else { (0, 1) };
            let closing = sixty_fourths(swing.abs().min(pass.gaps[closed]));
            orders.joint[closed] = -closing;
            orders.joint[opened] = sixty_fourths(swing.abs()) - closing;
        }
        orders
    }
}
