//! Naming wrong readings one at a time.

use super::{AdjustError, Adjusted, Levels, Network, Placement, Slip, Suspect, Taken, adjust};

/// What is left after readings that the others contradict were set aside, one at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Snooped {
    /// In the order in which they were found; places among the readings of the network given.
    pub suspects: Vec<Suspect>,
    /// The network without them; where what is left could not be adjusted, the last suspect (and its twin) is still in it, in `kept` and in
    /// `placement`.
    pub network: Network,
    /// Place in the given network of each reading that is left.
    pub kept: Vec<usize>,
    /// Where everything sits by what is left.
    pub placement: Placement,
}

/// Adjusts the readings and names suspects one at a time ([`Adjusted::snoop`]).
///
/// # Errors
/// As [`adjust`] for the network given.
pub fn snoop(network: &Network, start: &Placement, taken: &[Taken], levels: Levels) -> Result<Snooped, AdjustError> {
    adjust(network, start).map(|adjusted| adjusted.snoop(taken, levels))
}

impl Adjusted<'_> {
    /// Names suspects one at a time: the worst is set aside (with its twin, where the two were swapped), the rest
    /// adjusted again, until none is left or nothing could be checked any more. It is for a person to read them again:
    /// nothing is corrected.
    ///
    /// # Panics
    /// Where `taken` does not describe each reading.
    #[must_use]
    pub fn snoop(&self, taken: &[Taken], levels: Levels) -> Snooped {
        let kept = (0..self.network().observations().len()).collect();
        let (network, placement) = (self.network().clone(), self.placement().clone());
        let mut now = Snooped { suspects: Vec::new(), network, kept, placement };
        let mut next = self.suspect(taken, levels);
        while let Some(suspect) = next {
            let aside = [Some(suspect.reading), suspect.slip.as_ref().and_then(Slip::twin)];
            let left: Vec<usize> = (0..now.kept.len()).filter(|place| !aside.contains(&Some(*place))).collect();
            let Some(rest) = now.network.only(&left) else { break };
            now.suspects.push(suspect.at_places(&now.kept));
            let Ok(adjusted) = adjust(&rest, &now.placement) else { break };
            now.kept = left.iter().map(|place| now.kept[*place]).collect();
            now.placement = adjusted.placement().clone();
            next = adjusted.suspect(&taken_of(taken, &now.kept), levels);
            now.network = rest;
        }
        now
    }
}

/// The descriptions of what is kept, twins at their new places.
fn taken_of(taken: &[Taken], kept: &[usize]) -> Vec<Taken> {
    let place = |old: usize| kept.iter().position(|kept| *kept == old);
    kept.iter().map(|&old| Taken { twin: taken[old].twin.and_then(place), ..taken[old].clone() }).collect()
}

impl Suspect {
    /// The same with its places looked up.
    fn at_places(self, kept: &[usize]) -> Self {
        let slip = match self.slip {
            Some(Slip::Swapped(with)) => Some(Slip::Swapped(kept[with])),
            other => other,
        };
        let or = self.or.iter().map(|place| kept[*place]).collect();
        Self { reading: kept[self.reading], slip, or, ..self }
    }
}
