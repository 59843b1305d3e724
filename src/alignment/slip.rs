//! Ordinary slips of the hand, and a reading that is suspected of one, in words.

use super::Network;
use super::adjust::per_si;
use crate::language::tr;
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

/// How many other readings are named that could be wrong as well.
const AT_MOST: usize = 2;

impl Suspect {
    /// Said to the person who took it.
    #[must_use]
    pub fn words(&self, network: &Network, taken: &[Taken]) -> String {
        let observation = &network.observations()[self.reading];
        let Taken { unit, step, .. } = taken[self.reading];
        let name = |place: usize| network.observations()[place].what.words(network.scene());
        let factor = per_si(&observation.what, unit).unwrap_or(1.0);
        let amount = |value: f64| print(value.abs(), unit, step);
        let by = amount(self.error.0 * factor);
        let why = match &self.slip {
            Some(Slip::TapeStart(by)) if *by > 0.0 => Some(tr!("Did the tape start at {mark}?", mark = amount(*by))),
            Some(Slip::TapeStart(by)) => Some(tr!(
                "Was {amount} taken off for the start of the tape that should not have been?",
                amount = amount(*by)
            )),
            Some(Slip::Fraction(by)) => Some(tr!("Misread by {amount}?", amount = amount(*by))),
            Some(Slip::Swapped(with)) => Some(tr!("Swapped with {reading}?", reading = name(*with))),
            Some(Slip::Sign) => Some(tr!("Is its sign the wrong way round?")),
            Some(Slip::WrongSurface(surface)) => Some(tr!("Read from {surface}?", surface)),
            None => None,
        };
        let reading = name(self.reading);
        // One thing read twice has one name; a list of everything helps nobody.
        let mut others: Vec<String> = Vec::new();
        for other in self.or.iter().map(|place| name(*place)) {
            if other != reading && !others.contains(&other) {
                others.push(other);
            }
        }
        if others.len() > AT_MOST {
            others.truncate(AT_MOST);
            others.push(tr!("another one"));
        }
        let or = others.into_iter().reduce(|one, other| tr!("{one}, or {other}", one, other));
        let or = or.map(|readings| tr!("It could also be {readings}.", readings));
        let what = if self.error.0 > 0.0 {
            tr!(
                "The others do not agree with {reading}: it reads about {amount} more than they say.",
                reading,
                amount = by
            )
        } else {
            tr!(
                "The others do not agree with {reading}: it reads about {amount} less than they say.",
                reading,
                amount = by
            )
        };
        let again = tr!("Read it again.");
        [Some(what), why, or, Some(again)].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }
}
