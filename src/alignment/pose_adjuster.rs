//! An adjuster as a person works it: in its own units, by its own steps, between its own stops.

use super::Effect;
use crate::language::{tr, words};
use crate::quantity::{Length, Unit, print, print_number};

/// What an adjuster is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DialUnit {
    /// A length, in this unit.
    Length(Unit),
    /// Turns of a thread.
    Turn,
    /// Washers or shims of one thickness.
    Piece,
}

/// How an adjuster is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dial {
    /// What is counted.
    pub unit: DialUnit,
    /// The smallest amount that can be set, above zero: 1/64 (in), 0.5 (turn), 1 (washer).
    pub step: f64,
    /// How far one whole unit goes.
    pub travel: Length,
}

impl Dial {
    /// Inches.
    #[must_use]
    pub const fn inches(step: f64) -> Self {
        Self { unit: DialUnit::Length(Unit::Inch), step, travel: Length::from_inches(1.0) }
    }

    /// Millimetres.
    #[must_use]
    pub const fn millimetres(step: f64) -> Self {
        Self { unit: DialUnit::Length(Unit::Millimetre), step, travel: Length::from_millimetres(1.0) }
    }

    /// Half turns of a fork or a rod end whose thread advances `lead` in a turn.
    #[must_use]
    pub const fn half_turns(lead: Length) -> Self {
        Self { unit: DialUnit::Turn, step: 0.5, travel: lead }
    }

    /// Half turns of a turnbuckle's barrel: both ends advance.
    #[must_use]
    pub fn turnbuckle(lead: Length) -> Self {
        Self { travel: lead * 2.0, ..Self::half_turns(lead) }
    }

    /// Washers or shims, each so thick.
    #[must_use]
    pub const fn pieces(thickness: Length) -> Self {
        Self { unit: DialUnit::Piece, step: 1.0, travel: thickness }
    }

    /// An amount as a person says it: "1/16 in", "1 1/2 turns", "2 washers".
    #[must_use]
    pub fn words(&self, amount: f64) -> String {
        // A fraction of a turn is printed as a fraction of an inch is.
        let number = || print_number(amount, Unit::Inch, self.step);
        let one = amount.abs() <= 1.0;
        match self.unit {
            DialUnit::Length(unit) => print(amount, unit, self.step),
            DialUnit::Turn if one => tr!("{number} turn", number = number()),
            DialUnit::Turn => tr!("{number} turns", number = number()),
            DialUnit::Piece if one => tr!("{number} washer", number = number()),
            DialUnit::Piece => tr!("{number} washers", number = number()),
        }
    }
}

/// Why an adjuster may go no further.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// Thread that must stay engaged, or the most that may show.
    Thread,
    /// The manual's limit of a gap, or parts that touch.
    Gap,
    /// The most shims or washers that the manual lets be.
    Shim,
    /// Edge distance that a hole must keep.
    Edge,
    /// The end of the support's own travel.
    Travel,
}

impl Stop {
    /// In words: what further would pass.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Thread => words!("the thread limit"),
            Self::Gap => words!("the gap limit"),
            Self::Shim => words!("the shim limit"),
            Self::Edge => words!("the edge distance"),
            Self::Travel => words!("the end of its travel"),
        }
    }
}

/// One thing that is moved. Amounts are in its own units along its plus.
#[derive(Clone, Debug, PartialEq)]
pub struct PoseAdjuster {
    /// Stable id.
    pub id: String,
    /// What it is called: "Right rear strut".
    pub name: String,
    /// The plus way as an order: "Open the RIGHT side of the joint".
    pub plus: String,
    /// The minus way: "Close the RIGHT side of the joint".
    pub minus: String,
    /// What it does.
    pub effect: Effect,
    /// How it is set.
    pub dial: Dial,
    /// Where it stands now, own units.
    pub setting: f64,
    /// The lowest setting allowed, and what it would pass.
    pub lowest: (f64, Stop),
    /// The highest setting allowed, and what it would pass.
    pub highest: (f64, Stop),
    /// Standard uncertainty of setting it by hand, own units.
    pub setting_u: f64,
    /// What one step of it costs beside one step of another; above zero.
    pub weight: f64,
}

impl PoseAdjuster {
    /// The whole steps that may be made from where it stands, lowest and highest; at most a thousand each way. An adjuster that
    /// already stands beyond a stop may only come back: its range begins or ends at zero.
    #[must_use]
    pub fn range(&self) -> (i32, i32) {
        let steps = |to: f64| (to - self.setting) / self.dial.step;
        let slack = 1e-6;
        let low = (steps(self.lowest.0) - slack).ceil().clamp(-1000.0, 0.0);
        let high = (steps(self.highest.0) + slack).floor().clamp(0.0, 1000.0);
        (low as i32, high as i32)
    }

    /// The stop that a move of so many steps would pass.
    #[must_use]
    pub fn passes(&self, steps: i32) -> Option<Stop> {
        let (low, high) = self.range();
        if steps > high {
            Some(self.highest.1)
        } else if steps < low {
            Some(self.lowest.1)
        } else {
            None
        }
    }

    /// The same adjuster after a move, own units: what the entry says was moved.
    #[must_use]
    pub fn moved(&self, amount: f64) -> Self {
        Self { setting: self.setting + amount, ..self.clone() }
    }

    /// Steps in own units.
    #[must_use]
    pub fn amount(&self, steps: i32) -> f64 {
        f64::from(steps) * self.dial.step
    }

    /// A move as an order: "Open the RIGHT side of the joint 1/16 in".
    #[must_use]
    pub fn order(&self, steps: i32) -> String {
        let order = if steps < 0 { &self.minus } else { &self.plus };
        tr!("{order} {amount}", order, amount = self.dial.words(self.amount(steps.abs())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::alignment::Displacement;

    fn strut(exposed: f64) -> PoseAdjuster {
        PoseAdjuster {
            id: "strut".into(),
            name: "Right rear strut".into(),
            plus: "Lengthen the RIGHT rear strut".into(),
            minus: "Shorten the RIGHT rear strut".into(),
            effect: Effect::Shift { carried: vec![], along: Displacement::z() },
            dial: Dial::half_turns(Length::from_inches(1.0 / 24.0)),
            setting: exposed,
            lowest: (0.0, Stop::Thread),
            highest: (12.0, Stop::Thread),
            setting_u: 0.0,
            weight: 1.0,
        }
    }

    #[test]
    fn orders_are_in_its_own_units() {
        let dials = [
            Dial::inches(1.0 / 64.0).words(0.09375),
            Dial::millimetres(0.5).words(1.5),
            Dial::half_turns(Length::from_inches(1.0 / 24.0)).words(1.5),
            Dial::half_turns(Length::from_inches(1.0 / 24.0)).words(0.5),
            Dial::pieces(Length::from_inches(0.063)).words(2.0),
        ];
        assert_eq!(dials, ["3/32 in", "1.5 mm", "1 1/2 turns", "1/2 turn", "2 washers"]);
        assert_eq!(strut(6.0).order(3), "Lengthen the RIGHT rear strut 1 1/2 turns");
        assert_eq!(strut(6.0).order(-1), "Shorten the RIGHT rear strut 1/2 turn");
    }

    #[test]
    fn stops_are_hard() {
        assert_eq!(strut(11.5).range(), (-23, 1));
        assert_eq!(strut(11.5).passes(3), Some(Stop::Thread));
        assert_eq!(strut(11.5).passes(1), None);
        assert_eq!(strut(13.0).range(), (-26, 0), "beyond its stop: only back");
        assert_eq!(strut(6.0).moved(1.5).range(), (-15, 9));
    }

    #[test]
    fn what_a_stop_would_pass_is_said() {
        assert_eq!(
            [Stop::Thread, Stop::Gap, Stop::Shim, Stop::Edge, Stop::Travel].map(Stop::words),
            ["the thread limit", "the gap limit", "the shim limit", "the edge distance", "the end of its travel"]
        );
    }

    #[test]
    fn a_turnbuckle_goes_twice_as_far() {
        let lead = Length::from_inches(1.0 / 32.0);
        assert_eq!(Dial::turnbuckle(lead).travel, Dial::half_turns(lead).travel * 2.0);
    }
}
