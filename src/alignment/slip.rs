//! Ordinary slips of the hand, and a reading that is suspected of one, in words.

use super::Network;
use super::adjust::per_si;
use crate::quantity::{Unit, print};

/// What is known about how a reading was taken, for guessing what went wrong with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The unit that it was read in.
    pub unit: Unit,
    /// Its instrument's graduation, in that unit.
    pub step: f64,
    /// Whether it was read off a tape, whose start can be missed.
    pub tape: bool,
    /// The reading that it is easily swapped with: its twin on the other side.
    pub twin: Option<usize>,
    /// How much more it reads from a surface that is easily taken for the right one (in the unit; minus: less), and
    /// that surface in words: "the far side of the tube".
    pub surfaces: Vec<(f64, String)>,
}

/// An ordinary slip.
#[derive(Clone, Debug, PartialEq)]
pub enum Slip {
    /// The tape did not start at zero: the reading is too large by so much (minus: so much was taken off that should
    /// not have been), in its unit.
    TapeStart(f64),
    /// Misread by a fraction or a figure, in its unit.
    Fraction(f64),
    /// Swapped with the reading at this place.
    Swapped(usize),
    /// Written with the wrong sign.
    Sign,
    /// Read from another surface.
    WrongSurface(String),
}

impl Slip {
    /// The other reading of a swap.
    pub(super) fn twin(&self) -> Option<usize> {
        if let Self::Swapped(twin) = self { Some(*twin) } else { None }
    }
}

/// A reading that the others contradict.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Its place among the readings of the network.
    pub reading: usize,
    /// The standardised residual that raised the alarm: of a reading, or of a pair of twins held against each other.
    pub w: f64,
    /// By how much it reads too much, and the standard uncertainty of that; metres or radians.
    pub error: (f64, f64),
    /// The slip that explains it, where an ordinary one does.
    pub slip: Option<Slip>,
    /// Readings that could be wrong instead: more than a twentieth as likely.
    pub or: Vec<usize>,
}

impl Suspect {
    /// Said to the person who took it.
    #[must_use]
    pub fn words(&self, network: &Network, taken: &[Taken]) -> String {
        let observation = &network.observations()[self.reading];
        let Taken { unit, step, .. } = taken[self.reading];
        let name = |place: usize| network.observations()[place].what.words(network.scene());
        let factor = per_si(&observation.what, unit).unwrap_or(1.0);
        let amount = |value: f64| print(value.abs(), unit, step);
        let too = if self.error.0 > 0.0 { "more" } else { "less" };
        let by = amount(self.error.0 * factor);
        let why = match &self.slip {
            Some(Slip::TapeStart(by)) if *by > 0.0 => format!(" Did the tape start at {}?", amount(*by)),
            Some(Slip::TapeStart(by)) => {
                format!(" Was {} taken off for the start of the tape that should not have been?", amount(*by))
            }
            Some(Slip::Fraction(by)) => format!(" Misread by {}?", amount(*by)),
            Some(Slip::Swapped(with)) => format!(" Swapped with {}?", name(*with)),
            Some(Slip::Sign) => " Is its sign the wrong way round?".to_owned(),
            Some(Slip::WrongSurface(surface)) => format!(" Read from {surface}?"),
            None => String::new(),
        };
        let or: Vec<_> = self.or.iter().map(|place| name(*place)).collect();
        let or = if or.is_empty() { String::new() } else { format!(" It could also be {}.", or.join(", or ")) };
        format!(
            "The others do not agree with {}: it reads about {by} {too} than they say.{why}{or} Read it again.",
            name(self.reading)
        )
    }
}
