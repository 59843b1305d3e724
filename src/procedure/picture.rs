//! What is drawn beside a step.

use serde::{Deserialize, Serialize};

/// A drawing. The first three are made from the airframe's own dimensions and the run; the others are figures of what a step
/// reads, with the airframe's own points where they show the aircraft (`sketch/figures.txt`, in the same order).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Picture {
    /// Seen from the pilot's left: the two assemblies and what carries them.
    Side,
    /// Seen from above: the forward points, the joint, the aft centre point.
    Plan,
    /// Seen from behind: roll of the frame and of the aft bulkhead.
    Rear,
    /// A protractor on a straight bar in a marked outline.
    Turned,
    /// A protractor with its base against an upright face, in a marked outline.
    TurnedUpright,
    /// A protractor laid on a straightedge at three places, the same way round each time.
    Along,
    /// A tape's hook at an edge.
    Hook,
    /// Two tapes between the same two marks, lying flat, the same pull on both.
    Tapes,
    /// Both ends of a water level held together on one upright rule.
    WaterEnds,
    /// A laser between two walls.
    LaserFlip,
    /// A known weight hangs on a cable.
    KnownPull,
    /// A known weight in the middle of a scale, nobody touching it.
    TestWeight,
    /// The jig from above, front up the page, the pilot's left on the left.
    Jig,
    /// The fuselage from behind, the pilot's left on the left.
    LevelAcross,
    /// The aircraft from the pilot's left, nose to the left.
    LevelAlong,
    /// The fuselage from above, nose up the page, a string along its centre line.
    CentreLine,
    /// The aircraft's body from above, nose up the page, the pilot's left on the left.
    Points,
    /// The aircraft from behind, the pilot's left on the left.
    Heights,
    /// The box from above, forward end up the page, the pilot's left on the left.
    Stations,
    /// The aircraft from behind, the pilot's left on the left.
    WingSlope,
    /// A wing from behind.
    WingGap,
    /// Both wing roots from above, nose up the page, the pilot's left on the left.
    RootGaps,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    Sweep,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    NoseTips,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    TipsTail,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    TipsTailplane,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    Axles,
    /// The aircraft from above, nose up the page.
    BladeSwing,
    /// The tail from behind, the pilot's left on the left.
    Fin,
    /// The fin from above, nose up the page.
    FinEdge,
    /// A string stretched through the hinge line, and the eyes beside it.
    Eyes,
    /// A wing's section from the pilot's left, leading edge to the left.
    Incidence,
    /// A wing root from the pilot's left, leading edge to the left.
    RearPin,
    /// A lift strut lying on the bench, measured from pin centre to pin centre.
    Strut,
    /// The tailplane from above, nose up the page, the pilot's left on the left.
    Tailplane,
    /// The tail from behind, the pilot's left on the left.
    TailRoll,
    /// A main wheel from above, nose up the page.
    Toe,
    /// A main wheel from behind, standing on the floor.
    Camber,
    /// Both main wheels from behind, standing on the floor.
    Track,
    /// The third wheel from above, nose up the page, over the chalked centre line.
    ThirdWheel,
    /// The third wheel from behind, straight ahead.
    Pivot,
    /// The tail wheel's steering from above, nose up the page, the pilot's left on the left.
    Springs,
    /// The engine from the pilot's left, nose to the left.
    Flange,
    /// The gap between spinner and cowl, as the pilot sees it, left on the left.
    Spinner,
    /// The feet of the engine mount on the firewall, from behind, the pilot's left on the left.
    Mount,
    /// Wing and control surface from above.
    HingeGap,
    /// A control surface's section at its hinge.
    Clearance,
    /// A control surface's section.
    Play,
    /// A control surface from above.
    SurfaceTwist,
    /// The elevator's halves from behind, the pilot's left on the left.
    Halves,
    /// A control surface's section.
    Neutral,
    /// A control surface's section.
    Travel,
    /// The rudder from above, nose up the page.
    Rudder,
    /// A flap's section at the end of the wing.
    Flap,
    /// A control cable with the tension meter on the middle of its longest run, and a thermometer on the structure beside it.
    Cable,
    /// The propeller from the side.
    BladeTrack,
    /// The propeller's bolts on their circle, and the torque wrench at the lowest and at the highest.
    Torque,
    /// Holes near a part's edge.
    EdgeDistance,
    /// A rivet's section through the layers.
    Rivet,
    /// The aircraft from above, nose up the page, the pilot's left on the left.
    Scales,
    /// One scale with the persons and the baggage of the case on it, dressed for flying.
    Seats,
}
