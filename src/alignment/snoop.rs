//! Naming wrong readings one at a time.

use super::{AdjustError, Levels, Network, Placement, Slip, Suspect, Taken, adjust};

/// What is left after readings that the others contradict were set aside, one at a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Snooped {
    /// In the order in which they were found; places among the readings of the network given.
    pub suspects: Vec<Suspect>,
    /// The network without them, and where its readings stood in the one given.
    pub network: Network,
    /// Place in the given network of each reading that is left.
    pub kept: Vec<usize>,
    /// Where everything sits by what is left.
    pub placement: Placement,
}

/// Names suspects one at a time: the worst is set aside (with its twin, where the two were swapped), the rest adjusted
/// again, until none is left or nothing could be checked any more. It is for a person to read them again: nothing is
/// corrected.
///
/// # Errors
/// As [`adjust`] for the network given.
pub fn snoop(network: &Network, start: &Placement, taken: &[Taken], levels: Levels) -> Result<Snooped, AdjustError> {
    let placement = adjust(network, start)?.placement().clone();
    let kept = (0..network.observations().len()).collect();
    let mut now = Snooped { suspects: Vec::new(), network: network.clone(), kept, placement };
    loop {
        let adjusted = adjust(&now.network, &now.placement)?;
        let here = taken_of(taken, &now.kept);
        let Some(suspect) = adjusted.suspect(&here, levels) else { return Ok(now) };
        let aside = [Some(suspect.reading), suspect.slip.as_ref().and_then(Slip::twin)];
        let left: Vec<usize> = (0..here.len()).filter(|place| !aside.contains(&Some(*place))).collect();
        let Some(rest) = now.network.only(&left) else { return Ok(now) };
        let kept = now.kept.clone();
        let placement = adjust(&rest, &now.placement).ok().map(|adjusted| adjusted.placement().clone());
        now.suspects.push(suspect.at_places(&kept));
        let Some(placement) = placement else { return Ok(now) };
        now = Snooped {
            suspects: now.suspects,
            network: rest,
            kept: left.iter().map(|place| kept[*place]).collect(),
            placement,
        };
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
