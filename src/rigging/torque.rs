//! Torques of nuts by thread, and of nuts that drag.

use super::error::RiggingError;
use crate::quantity::Torque;

/// Which nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nut {
    /// A full nut, loaded along the bolt.
    Tension,
    /// A thin nut, on a bolt loaded across.
    Shear,
}

/// A row of the table: inch pounds-force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadTorque {
    /// The thread: "1/4-28", diameter and threads to the inch.
    pub thread: &'static str,
    tension: [u16; 2],
    shear: [u16; 2],
    most_tension: u16,
    most_shear: u16,
}

const fn row(
    thread: &'static str,
    tension: [u16; 2],
    shear: [u16; 2],
    most_tension: u16,
    most_shear: u16,
) -> ThreadTorque {
    ThreadTorque { thread, tension, shear, most_tension, most_shear }
}

/// FAA AC 43.13-1B, table 7-1, fine then coarse: dry, cadmium-plated threads. The shear values of 1-14, 1-1/8-12 and 1-1/4-12 are
/// "estimated" there. Copies disagree on 3/8-16 with a shear nut (95–100, 95–110); the lower is kept.
const TABLE: [ThreadTorque; 25] = [
    row("8-36", [12, 15], [7, 9], 20, 12),
    row("10-32", [20, 25], [12, 15], 40, 25),
    row("1/4-28", [50, 70], [30, 40], 100, 60),
    row("5/16-24", [100, 140], [60, 85], 225, 140),
    row("3/8-24", [160, 190], [95, 110], 390, 240),
    row("7/16-20", [450, 500], [270, 300], 840, 500),
    row("1/2-20", [480, 690], [290, 410], 1100, 660),
    row("9/16-18", [800, 1000], [480, 600], 1600, 960),
    row("5/8-18", [1100, 1300], [600, 780], 2400, 1400),
    row("3/4-16", [2300, 2500], [1300, 1500], 5000, 3000),
    row("7/8-14", [2500, 3000], [1500, 1800], 7000, 4200),
    row("1-14", [3700, 5500], [2200, 3300], 10_000, 6000),
    row("1-1/8-12", [5000, 7000], [3000, 4200], 15_000, 9000),
    row("1-1/4-12", [9000, 11_000], [5400, 6600], 25_000, 15_000),
    row("8-32", [12, 15], [7, 9], 20, 12),
    row("10-24", [20, 25], [12, 15], 35, 21),
    row("1/4-20", [40, 50], [25, 30], 75, 45),
    row("5/16-18", [80, 90], [48, 55], 160, 100),
    row("3/8-16", [160, 185], [95, 100], 275, 170),
    row("7/16-14", [235, 255], [140, 155], 475, 280),
    row("1/2-13", [400, 480], [240, 290], 880, 520),
    row("9/16-12", [500, 700], [300, 420], 1100, 650),
    row("5/8-11", [700, 900], [420, 540], 1500, 900),
    row("3/4-10", [1150, 1600], [700, 950], 2500, 1500),
    row("7/8-9", [2200, 3000], [1300, 1800], 4600, 2700),
];

/// From what to what a nut is tightened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueRange {
    /// Least.
    pub least: Torque,
    /// Most.
    pub most: Torque,
}

impl ThreadTorque {
    /// The row of a thread; none where the table has none. Only for what the kit's own manual leaves open.
    #[must_use]
    pub fn of(thread: &str) -> Option<Self> {
        TABLE.iter().copied().find(|row| row.thread == thread)
    }

    /// Every row, fine then coarse.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &TABLE
    }

    /// The recommended range for a nut.
    #[must_use]
    pub fn range(self, nut: Nut) -> TorqueRange {
        let [least, most] = match nut {
            Nut::Tension => self.tension,
            Nut::Shear => self.shear,
        };
        TorqueRange { least: inch_pounds(least), most: inch_pounds(most) }
    }

    /// The most that the thread is ever given.
    #[must_use]
    pub fn most(self, nut: Nut) -> Torque {
        inch_pounds(match nut {
            Nut::Tension => self.most_tension,
            Nut::Shear => self.most_shear,
        })
    }
}

fn inch_pounds(value: u16) -> Torque {
    Torque::from_inch_pounds(f64::from(value))
}

impl TorqueRange {
    /// The range for a nut that takes `drag` to turn before it seats: both ends and the drag (AC 43.13-1B, 7-40). A castle nut starts
    /// at the least and goes on to the next slot, never past the most.
    ///
    /// # Errors
    /// When the drag is missing or below zero.
    pub fn with_drag(self, drag: Torque) -> Result<Self, RiggingError> {
        match drag.newton_metres() {
            by if by.is_finite() && by >= 0.0 => Ok(Self { least: self.least + drag, most: self.most + drag }),
            _ => Err(RiggingError::NotANumber),
        }
    }

    /// Whether a torque is inside, ends included.
    #[must_use]
    pub fn allows(self, torque: Torque) -> bool {
        self.least <= torque && torque <= self.most
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_rises_to_its_most_and_the_thin_nut_takes_less() {
        for row in ThreadTorque::all() {
            let (tension, shear) = (row.range(Nut::Tension), row.range(Nut::Shear));
            assert!(tension.least < tension.most && tension.most < row.most(Nut::Tension), "{row:?}");
            assert!(shear.least < shear.most && shear.most < row.most(Nut::Shear), "{row:?}");
            assert!(shear.most < tension.most && row.most(Nut::Shear) < row.most(Nut::Tension), "{row:?}");
            let tenth = row.most(Nut::Shear) / row.most(Nut::Tension);
            assert!((0.55..0.65).contains(&tenth), "about six tenths: {row:?}");
            assert_eq!(ThreadTorque::of(row.thread), Some(*row), "no thread twice");
        }
        assert_eq!(ThreadTorque::of("1/4-27"), None);
    }

    #[test]
    fn a_nut_that_drags_needs_more() {
        let quarter = ThreadTorque::of("1/4-28").expect("in the table").range(Nut::Tension);
        let drag = quarter.with_drag(Torque::from_inch_pounds(10.0)).expect("a drag");
        assert!(!drag.allows(Torque::from_inch_pounds(55.0)) && drag.allows(Torque::from_inch_pounds(80.0)));
        assert!(!drag.allows(Torque::from_inch_pounds(81.0)));
        assert_eq!(quarter.with_drag(Torque::from_inch_pounds(-1.0)), Err(RiggingError::NotANumber));
    }
}
