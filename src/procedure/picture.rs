//! What is drawn beside a step.

use serde::{Deserialize, Serialize};

/// A drawing, by its name. The first three are made from the airframe's own dimensions and the run; the others are figures of
/// what a step reads, with the airframe's own points where they show the aircraft (`sketch/figures.txt`, in the same order).
///
/// A list of names rather than an enum: reading sixty variants is thousands of bytes of code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Picture(u8);

const NAMES: &str = "side plan rear turned turned-upright along hook tapes water-ends laser-flip known-pull test-weight jig \
    level-across level-along centre-line points heights stations wing-slope wing-gap root-gaps sweep nose-tips \
    tips-tail tips-tailplane axles blade-swing fin fin-edge eyes incidence rear-pin strut tailplane tail-roll toe \
    camber track third-wheel pivot springs flange spinner mount hinge-gap clearance play surface-twist halves \
    neutral travel rudder flap cable blade-track torque edge-distance rivet scales seats";

impl Picture {
    /// Seen from the pilot's left: the two assemblies and what carries them.
    pub const SIDE: Self = Self(0);
    /// Seen from above: the forward points, the joint, the aft centre point.
    pub const PLAN: Self = Self(1);
    /// Seen from behind: roll of the frame and of the aft bulkhead.
    pub const REAR: Self = Self(2);

    /// The name of every drawing.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMES.split(' ')
    }

    /// Its name in procedure files.
    #[must_use]
    pub fn name(self) -> &'static str {
        NAMES.split(' ').nth(usize::from(self.0)).unwrap_or_default()
    }

    /// Its place among the figures; `None` for the first three.
    #[must_use]
    pub fn figure(self) -> Option<usize> {
        usize::from(self.0).checked_sub(3)
    }
}

impl TryFrom<String> for Picture {
    type Error = &'static str;

    fn try_from(name: String) -> Result<Self, Self::Error> {
        let place = NAMES.split(' ').position(|known| known == name);
        place.and_then(|place| u8::try_from(place).ok()).map(Self).ok_or("no picture has this name")
    }
}

impl From<Picture> for String {
    fn from(picture: Picture) -> Self {
        picture.name().to_owned()
    }
}
