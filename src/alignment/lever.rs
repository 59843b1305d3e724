//! What moving an adjuster does, from its geometry.

use crate::quantity::{Angle, Length};

/// What a check's value does when an adjuster is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// An angle changes: pitch (aft end up is plus) or twist (right side low is plus).
    Turn(Angle),
    /// A difference of distances changes: left minus right.
    Shift(Length),
}

/// An adjuster's geometry: how a movement of it changes the check that it serves. Amounts are signed along the adjuster's own
/// positive direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lever {
    /// The forward frame pivots at the joint and is carried by a block of fixed height under its sloping lower tube; the cone
    /// lies still. **Positive: block moved forward.** Changes the pitch of the cone to the frame.
    ///
    /// In the side view with the joint at the origin, x forward and z up, the tube is a line of slope α at the perpendicular
    /// distance p from the joint, and it rests on the block's top (x, −d). Turning the frame changes α but not p:
    /// p = d·cos α + x·sin α, so x = (p − d·cos α) / sin α. Exact; no small angles.
    SlopingTube {
        /// Joint to block, measured forward along the bench.
        distance: Length,
        /// Block top below the joint.
        below_joint: Length,
        /// Slope of the tube now, rising **forward** positive.
        slope: Angle,
    },
    /// The frame stands level; the cone pivots at the joint and lies in a saddle. **Positive: saddle raised.** Changes the pitch:
    /// h = B·tan θ over the distance B from the joint.
    Saddle {
        /// Joint to saddle.
        distance: Length,
    },
    /// The cone rolls in its saddle. **Positive: right side of the saddle raised**, which takes right-low twist out:
    /// h = S·tan τ over the width S.
    Rock {
        /// Width between the saddle's two lifting points.
        width: Length,
    },
    /// One side of the joint is opened, which swings the tail to the other side. **Positive: right side opened** (or the left
    /// closed by the same). A gap g over the joint's width W swings the tail e = g·L/W to the left, and the distances from the
    /// forward points change their difference by 4a·e / (D_L + D_R).
    Joint {
        /// Width between the joint's left and right members, W.
        width: Length,
        /// Joint to the aft centre point, L.
        to_tail: Length,
        /// Half the distance between the forward points, a.
        half_width: Length,
        /// Mean of the two distances, D̄.
        distance: Length,
    },
    /// Something turns by the amount over an arm, as a lever of that length does when its end is pushed: a rod on a horn.
    Turn {
        /// The arm.
        arm: Length,
    },
    /// A length changes by the amount times a ratio.
    Shift {
        /// Change per amount.
        ratio: f64,
    },
}

impl Lever {
    /// What moving by `amount` changes; `None` where the geometry has no answer (the block would leave the tube).
    #[must_use]
    pub fn change(self, amount: Length) -> Option<Change> {
        match self {
            Self::SlopingTube { distance, below_joint, slope } => {
                let new = slope_at(distance + amount, below_joint, offset_of(distance, below_joint, slope), slope)?;
                Some(Change::Turn(new - slope))
            }
            Self::Saddle { distance } => Some(Change::Turn(Angle::atan2(amount, distance))),
            Self::Rock { width } => Some(Change::Turn(-Angle::atan2(amount, width))),
            Self::Joint { width, to_tail, half_width, distance } => {
                let swing = to_tail * (amount / width);
                Some(Change::Shift(swing * (-2.0 * (half_width / distance))))
            }
            Self::Turn { arm } => Some(Change::Turn(Angle::from_radians(amount / arm))),
            Self::Shift { ratio } => Some(Change::Shift(amount * ratio)),
        }
    }

    /// How far to move for a wanted change; `None` where the adjuster cannot give it (a level tube; the wrong kind of change).
    #[must_use]
    pub fn amount(self, wanted: Change) -> Option<Length> {
        match (self, wanted) {
            (Self::SlopingTube { distance, below_joint, slope }, Change::Turn(turn)) => {
                let offset = offset_of(distance, below_joint, slope);
                let new = slope + turn;
                // The tube must keep sloping the same way, or the block has no hold on it.
                if new.sin() * slope.sin() <= 0.0 {
                    return None;
                }
                let there = (offset - below_joint * new.cos()) / new.sin();
                (there > Length::ZERO).then(|| there - distance)
            }
            (Self::Saddle { distance }, Change::Turn(turn)) => Some(distance * turn.tan()),
            (Self::Rock { width }, Change::Turn(turn)) => Some(width * -turn.tan()),
            (Self::Joint { width, to_tail, half_width, distance }, Change::Shift(shift)) => {
                let swing = shift * (distance / half_width / -2.0);
                Some(width * (swing / to_tail))
            }
            (Self::Turn { arm }, Change::Turn(turn)) => Some(arm * turn.radians()),
            (Self::Shift { ratio }, Change::Shift(shift)) if ratio != 0.0 => Some(shift * ratio.recip()),
            _ => None,
        }
    }
}

/// Perpendicular distance p of the tube's line from the joint.
fn offset_of(distance: Length, below_joint: Length, slope: Angle) -> Length {
    below_joint * slope.cos() + distance * slope.sin()
}

/// The slope at which a tube at perpendicular distance `offset` from the joint rests on a block at `distance`: the root of
/// d·cos α + x·sin α = p next to the present slope. With R = √(d² + x²) and β = atan2(x, d): α = β ± acos(p / R).
fn slope_at(distance: Length, below_joint: Length, offset: Length, near: Angle) -> Option<Angle> {
    if distance <= Length::ZERO {
        return None;
    }
    let reach = Length::from_metres(distance.metres().hypot(below_joint.metres()));
    let ratio = offset / reach;
    if !(-1.0..=1.0).contains(&ratio) {
        return None;
    }
    let beta = Angle::atan2(distance, below_joint);
    let spread = Angle::from_radians(ratio.acos());
    let (one, two) = (beta - spread, beta + spread);
    Some(if (one - near).abs() <= (two - near).abs() { one } else { two })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tube(slope: f64) -> Lever {
        Lever::SlopingTube {
            distance: Length::from_inches(74.0),
            below_joint: Length::from_inches(38.0),
            slope: Angle::from_degrees(slope),
        }
    }

    fn turn(change: Option<Change>) -> f64 {
        match change {
            Some(Change::Turn(angle)) => angle.degrees(),
            other => panic!("not a turn: {other:?}"),
        }
    }

    #[test]
    fn a_block_under_a_tube_that_rises_forward_lifts_the_frame_when_slid_aft() {
        assert!(turn(tube(9.0).change(Length::from_inches(-1.0))) > 0.0);
        assert!(turn(tube(-9.0).change(Length::from_inches(-1.0))) < 0.0, "a falling tube the other way");
    }

    /// Independent of the closed form: turn a point of the tube about the joint with a rotation matrix and see that it still lies
    /// on the line through the moved block.
    #[test]
    fn the_block_geometry_holds_for_a_turned_tube() {
        for slope in [4.0, 9.0, 15.0, -7.0] {
            for amount in [-6.0, -1.0, 0.5, 4.0] {
                let theta = turn(tube(slope).change(Length::from_inches(amount))).to_radians();
                // Two points of the tube before the turn, in inches.
                let line = |x: f64| (x, -38.0 + (x - 74.0) * slope.to_radians().tan());
                let turned =
                    |(x, z): (f64, f64)| (x * theta.cos() - z * theta.sin(), x * theta.sin() + z * theta.cos());
                let ((x0, z0), (x1, z1)) = (turned(line(40.0)), turned(line(100.0)));
                let at_block = z0 + (74.0 + amount - x0) * (z1 - z0) / (x1 - x0);
                assert!((at_block + 38.0).abs() < 1e-9, "slope {slope}, slide {amount}: tube at {at_block}");
            }
        }
    }

    /// A tube that stands steeper than the line from the joint to the block rests on the other of the two slopes at which one touches that block: 80°
    /// and not 45.6° (plane geometry). A small slide turns it a little.
    #[test]
    fn a_steep_tube_keeps_to_its_own_slope() {
        for amount in [-0.1, 0.1] {
            let theta = turn(tube(80.0).change(Length::from_inches(amount)));
            assert!(theta != 0.0 && theta.abs() < 1.0, "slide {amount}: turned by {theta}");
        }
    }

    #[test]
    fn amount_undoes_change() {
        let joint = Lever::Joint {
            width: Length::from_inches(33.0),
            to_tail: Length::from_inches(142.0),
            half_width: Length::from_inches(17.25),
            distance: Length::from_inches(227.45),
        };
        let saddle = Lever::Saddle { distance: Length::from_inches(122.0) };
        let rock = Lever::Rock { width: Length::from_inches(24.0) };
        for lever in [tube(9.0), tube(-6.0), saddle, rock, joint] {
            for amount in [-1.5, -0.1, 0.0625, 2.0] {
                let amount = Length::from_inches(amount);
                let back = lever.change(amount).and_then(|change| lever.amount(change)).expect("in reach");
                assert!((back - amount).abs() < Length::from_inches(1e-9), "{lever:?}: {back:?}");
            }
        }
    }

    /// The trade's figures (plane geometry, common practice): 0.1° over 122 in is 0.213 in; 0.2° over a 24 in saddle is 0.084 in;
    /// 0.41 in at the tail, 142 in behind a joint 33 in wide, is a gap of 0.096 in.
    #[test]
    fn worked_figures() {
        let saddle = Lever::Saddle { distance: Length::from_inches(122.0) };
        let raise = saddle.amount(Change::Turn(Angle::from_degrees(0.1))).expect("a saddle");
        assert!((raise.inches() - 0.213).abs() < 5e-4, "{}", raise.inches());
        let rock = Lever::Rock { width: Length::from_inches(24.0) };
        let lift = rock.amount(Change::Turn(Angle::from_degrees(-0.2))).expect("a rocking saddle");
        assert!((lift.inches() - 0.084).abs() < 5e-4, "right-low twist is taken out by raising the right side");
        let joint = Lever::Joint {
            width: Length::from_inches(33.0),
            to_tail: Length::from_inches(142.0),
            half_width: Length::from_inches(17.25),
            distance: Length::from_inches(227.4375),
        };
        let gap = joint.amount(Change::Shift(Length::from_inches(-0.0625))).expect("a joint");
        assert!((gap.inches() - 0.096).abs() < 5e-4, "left longer: open the right side; {}", gap.inches());
    }
}
