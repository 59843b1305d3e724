//! A light aircraft's outline in the airframe's own proportions, from above and from the side.
//!
//! Every length is a share of the distance from the propeller to the tail post. What the specification does not give is drawn
//! as it usually is (common practice, no source), and every share is kept where a drawing can still be read.

use crate::record::Airframe;

use super::Ink;
use super::proportions::length;
use super::zone::Zone;

type Point = (f64, f64);

/// The shares that the outline is drawn from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Craft {
    /// Half the wing's span.
    pub(super) half_span: f64,
    chord: f64,
    /// Propeller to the wing's leading edge.
    wing: f64,
    pub(super) half_width: f64,
    tail_half: f64,
    propeller: f64,
    /// Half the track of the main wheels.
    pub(super) track: f64,
    joint: f64,
    /// Propeller to the main axles and to the third wheel.
    pub(super) main: f64,
    third: f64,
    /// The wing lies on top, held by struts; else below.
    pub(super) high: bool,
    pub(super) tail_wheel: bool,
}

impl Craft {
    pub(super) fn of(airframe: &Airframe) -> Self {
        let whole =
            length(airframe, "prop-to-tail").or_else(|| Some(length(airframe, "joint-to-tail")? / 0.55)).unwrap_or(6.5);
        let of = |key| length(airframe, key).map(|length| length / whole);
        let share = |share: Option<f64>, usual: f64, least: f64, most: f64| {
            share.filter(|share| share.is_finite()).unwrap_or(usual).max(least).min(most)
        };
        let is = |key: &str, word: &str| airframe.specification.words(key) == Some(word);
        let tail_wheel = is("third-wheel", "tail wheel");
        let chord = share(of("spar-spacing").map(|spars| spars * 2.0), 0.24, 0.14, 0.3);
        let ahead = of("tip-along").map(|tip| 1.0 - tip - chord / 4.0);
        let track = share(of("track-width").map(|track| track / 2.0), 0.16, 0.1, 0.25);
        let main = of("axle-to-tail").map(|long| 1.0 - (long * long - track * track).max(0.0).sqrt());
        let (usual, least, most) = if tail_wheel { (0.22, 0.14, 0.3) } else { (0.34, 0.28, 0.45) };
        let main = share(main, usual, least, most);
        let arms = of("third-arm").zip(of("main-arm")).map(|(third, axle)| main + third - axle);
        let (usual, least, most) = if tail_wheel { (0.95, 0.85, 0.99) } else { (0.08, 0.06, 0.14) };
        Self {
            half_span: share(of("wing-tip-span").map(|span| span / 2.0), 0.75, 0.5, 1.0),
            chord,
            wing: share(ahead, 0.2, 0.15, 0.3),
            half_width: share(of("pin-half-width"), 0.085, 0.06, 0.11),
            tail_half: share(of("tail-tip-span").map(|span| span / 2.0), 0.23, 0.15, 0.3),
            propeller: share(of("prop-radius"), 0.14, 0.09, 0.18),
            track,
            joint: share(of("joint-to-tail").map(|tail| 1.0 - tail), 0.47, 0.42, 0.6),
            main,
            third: share(arms, usual, least, most),
            high: !is("wing-bracing", "cantilever"),
            tail_wheel,
        }
    }

    /// Seen from above: x to the right of the centre line, y aft of the propeller.
    pub(super) fn plan(&self) -> Vec<(Zone, Vec<Point>)> {
        let (body, tail) = (self.half_width, 0.02);
        let both = |half: f64, from: f64, to: f64| vec![(-half, from), (half, from), (half, to), (-half, to)];
        let mut parts = vec![
            (Zone::Propeller, both(self.propeller, -0.008, 0.008)),
            (Zone::Engine, vec![(-0.05, 0.02), (0.05, 0.02), (body, 0.17), (-body, 0.17)]),
            (Zone::Datum, both(body, 0.17, self.joint)),
            (Zone::Aft, vec![(-body, self.joint), (body, self.joint), (tail, 1.0), (-tail, 1.0)]),
        ];
        let (lead, hinge, trail) = (self.wing, self.wing + self.chord * 0.76, self.wing + self.chord);
        let inner = body + 0.008;
        let across = |share: f64| inner + (self.half_span - inner) * share;
        let mut sided = |zone, (from, to): Point, (ahead, aft): Point| {
            for side in [-1.0, 1.0] {
                parts
                    .push((zone, vec![(side * from, ahead), (side * to, ahead), (side * to, aft), (side * from, aft)]));
            }
        };
        sided(Zone::Wings, (inner, self.half_span), (lead, hinge));
        sided(Zone::Flaps, (inner, across(0.5)), (hinge, trail));
        sided(Zone::Controls, (across(0.52), self.half_span), (hinge, trail));
        sided(Zone::Tailplane, (tail, self.tail_half), (0.87, 0.99));
        sided(Zone::Controls, (tail, self.tail_half), (0.99, 1.06));
        parts
    }

    /// Seen from the pilot's left: x aft of the propeller, y up from the thrust line.
    pub(super) fn side(&self) -> Vec<(Zone, Vec<Point>)> {
        let (lead, trail) = (self.wing, self.wing + self.chord);
        let box_ = |x: f64, y: f64, to_x: f64, to_y: f64| vec![(x, y), (to_x, y), (to_x, to_y), (x, to_y)];
        let (mut roof, top) = if self.high {
            (vec![(0.17, 0.08), (lead.max(0.18), 0.15), (trail.min(self.joint), 0.15)], 0.11)
        } else {
            (vec![(0.17, 0.08), (0.25, 0.08), (0.31, 0.145), (0.39, 0.145)], 0.08)
        };
        roof.extend([(self.joint, top), (self.joint, -0.075), (0.17, -0.08)]);
        let wing = if self.high { 0.155 } else { -0.09 };
        let mut parts = vec![
            (Zone::Engine, vec![(0.02, 0.055), (0.17, 0.08), (0.17, -0.08), (0.02, -0.05)]),
            (Zone::Propeller, box_(-0.008, -self.propeller, 0.008, self.propeller)),
            (Zone::Datum, roof),
            (Zone::Aft, vec![(self.joint, top), (1.0, 0.035), (1.0, -0.01), (self.joint, -0.075)]),
            (Zone::Cables, box_(self.joint + 0.04, 0.002, 0.98, 0.016)),
            (Zone::Fin, vec![(0.86, 0.058), (0.94, 0.21), (1.0, 0.21), (1.0, 0.035)]),
            (Zone::Controls, vec![(1.0, 0.21), (1.06, 0.2), (1.07, 0.02), (1.0, -0.01)]),
            (Zone::Tailplane, box_(0.87, 0.028, 0.99, 0.044)),
            (
                Zone::Wings,
                vec![
                    (lead, wing + 0.012),
                    (lead + self.chord * 0.3, wing + 0.036),
                    (trail, wing + 0.008),
                    (lead + 0.02, wing),
                ],
            ),
        ];
        for aft in [0.56, 0.76] {
            parts.push((Zone::Jig, vec![(aft - 0.022, FLOOR), (aft, -0.045), (aft + 0.022, FLOOR)]));
        }
        for hole in 0..6 {
            let up = -0.06 + 0.026 * f64::from(hole);
            parts.push((Zone::Holes, box_(self.joint - 0.007, up, self.joint + 0.007, up + 0.014)));
        }
        let foot = lead + self.chord * 0.35;
        parts.push((
            Zone::Struts,
            vec![(foot, -0.07), (foot + 0.016, -0.07), (foot + 0.036, 0.155), (foot + 0.02, 0.155)],
        ));
        let half_disc = (0..=8).map(|part| {
            let (sin, cos) = (std::f64::consts::PI * f64::from(part) / 8.0).sin_cos();
            (0.68 - 0.035 * cos, 0.078 + 0.035 * sin)
        });
        parts.push((Zone::Instruments, half_disc.collect()));
        let (main, third) = self.wheels();
        parts.push((
            Zone::MainGear,
            vec![
                (self.main - 0.02, -0.08),
                (self.main + 0.01, -0.08),
                (self.main + 0.006, main.1),
                (self.main - 0.006, main.1),
            ],
        ));
        for (zone, (middle, radius)) in [(Zone::MainGear, (main, 0.045)), (Zone::ThirdWheel, (third, THIRD))] {
            parts.push((zone, ring(middle, radius)));
        }
        for (aft, low) in [(main.0, FLOOR), (third.0, third.1 - THIRD)] {
            parts.push((Zone::Weighing, box_(aft - 0.05, low - 0.022, aft + 0.05, low)));
        }
        parts
    }

    /// Middles of the main and of the third wheel, seen from the side.
    fn wheels(&self) -> (Point, Point) {
        let third = if self.tail_wheel { -0.055 } else { FLOOR + THIRD };
        ((self.main, FLOOR + 0.045), (self.third, third))
    }

    /// A named point, seen from above, on the pilot's left or on the centre line.
    pub(super) fn above(&self, name: &str) -> Option<Point> {
        let spar = self.wing + self.chord / 4.0;
        Some(match name {
            "nose" => (0.0, 0.02),
            "firewall" => (0.0, 0.17),
            "cross" => (0.0, spar),
            "corner" => (-self.half_width, 0.17),
            "pin" => (-self.half_width, spar),
            "tip" => (-self.half_span, spar),
            "trail" => (-self.half_span * 0.8, self.wing + self.chord),
            "post" => (0.0, 1.0),
            "mark" => (0.0, self.joint),
            "tail" => (-self.tail_half, 0.93),
            "stab" => (0.0, 0.93),
            "blade" => (-self.propeller, 0.0),
            "axle" => (-self.track, self.main),
            "third" => (0.0, self.third),
            _ => return None,
        })
    }

    /// A named point, seen from behind, on the pilot's left or on the centre line: units of the sheet from the body's middle.
    pub(super) fn behind(&self, name: &str) -> Option<Point> {
        let root = if self.high { -26.0 } else { 22.0 };
        let share = |part: f64| -part / self.half_span * BEHIND;
        Some(match name {
            "rear-pin" => (-26.0, root),
            "rear-tip" => (-BEHIND, root - 16.0),
            "rear-tail" => (share(self.tail_half) * 1.3, -8.0),
            "rear-fin" => (0.0, -62.0),
            "rear-wheel" => (share(self.track) * 1.2, 58.0),
            _ => return None,
        })
    }

    /// Its outlines, seen from behind.
    pub(super) fn rear_view(&self) -> Vec<(Vec<Point>, Ink)> {
        let point = |name| self.behind(name).unwrap_or_default();
        let (pin, tip, tail, fin, wheel) =
            (point("rear-pin"), point("rear-tip"), point("rear-tail"), point("rear-fin"), point("rear-wheel"));
        let mut parts = vec![(ring((0.0, 0.0), 28.0), Ink::Support)];
        for side in [1.0, -1.0] {
            let at = |(x, y): Point| (x * side, y);
            parts.push((vec![at(pin), at(tip), at((tip.0, tip.1 + 4.0)), at((pin.0, pin.1 + 8.0))], Ink::Frame));
            parts.push((
                vec![at((0.0, tail.1)), at(tail), at((tail.0, tail.1 + 3.0)), at((0.0, tail.1 + 4.0))],
                Ink::Frame,
            ));
            parts.push((vec![at((-18.0, 22.0)), at((wheel.0, 44.0))], Ink::Support));
            let (x, y) = at(wheel);
            parts.push((vec![(x - 5.0, y - 26.0), (x + 5.0, y - 26.0), (x + 5.0, y), (x - 5.0, y)], Ink::Support));
        }
        parts.push((vec![(-2.0, fin.1), (2.0, fin.1), (4.0, -8.0), (-4.0, -8.0)], Ink::Frame));
        parts
    }
}

/// Half the span in a view from behind, in units of the sheet.
const BEHIND: f64 = 142.0;

/// The floor below the thrust line, and the third wheel's radius.
pub(super) const FLOOR: f64 = -0.21;
const THIRD: f64 = 0.032;

/// An outline moved to its place on a sheet: every point times the scale (down is positive), from the origin.
pub(super) fn placed(mut outline: Vec<Point>, origin: Point, (across, down): Point) -> Vec<Point> {
    for (x, y) in &mut outline {
        (*x, *y) = (origin.0 + *x * across, origin.1 + *y * down);
    }
    outline
}

fn ring((x, y): Point, radius: f64) -> Vec<Point> {
    (0..16)
        .map(|part| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(part) / 16.0).sin_cos();
            (x + radius * cos, y + radius * sin)
        })
        .collect()
}
