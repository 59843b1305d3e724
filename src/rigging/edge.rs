//! Edge distance: from a hole's centre to the nearest edge, layer by layer, before the drill touches.

use super::error::{RiggingError, of, positive};
use crate::metrology::{Beyond, Estimate, Limits, Verdict, judge};
use crate::quantity::{Dimension, Length};

/// The handbook's least edge distance of a protruding head, in diameters, single row (AC 43.13-1B, 4-57). The drawing goes first.
pub const PROTRUDING: f64 = 2.0;
/// The handbook's least edge distance of a countersunk head, in diameters (a study guide's summary of the handbooks).
pub const COUNTERSUNK: f64 = 2.5;
/// The handbook's least distance between the rivets of a row, in diameters (AC 43.13-1B, 4-57; NAVEDTRA 14018).
pub const LEAST_PITCH: f64 = 3.0;
/// The usual most between the rivets of a row, in diameters (NAVEDTRA 14018).
pub const MOST_PITCH: f64 = 8.0;

/// One layer under the hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Centre of the hole to the layer's nearest edge, with what its place is uncertain by.
    pub to_edge: Estimate,
    /// How many diameters the drawing asks for.
    pub diameters: f64,
}

/// What a hole leaves of the layers' edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeVerdict {
    /// The verdict on the whole: out when one layer is out, in only when all are.
    pub verdict: Verdict,
    /// The layer with the least to spare, by its place in the list.
    pub worst: usize,
    /// What it has to spare; below zero where it lacks. In the unit of its distance.
    pub spare: f64,
}

impl Layer {
    /// The edge distance that a hole of `diameter` needs here: k·D.
    ///
    /// # Errors
    /// When the diameter or the number of diameters is not above zero.
    pub fn needed(self, diameter: Length) -> Result<Length, RiggingError> {
        let diameter = positive(diameter)?;
        match self.diameters {
            k if !k.is_finite() => Err(RiggingError::NotANumber),
            k if k <= 0.0 => Err(RiggingError::NotPositive),
            k => Ok(diameter * k),
        }
    }

    fn judged(self, diameter: Length) -> Result<(Verdict, f64, Length), RiggingError> {
        let to_edge = of(self.to_edge, Dimension::Length)?;
        let wrong = RiggingError::WrongUnit { wanted: Dimension::Length, got: to_edge.unit };
        let needed = self.needed(diameter)?.in_unit(to_edge.unit).ok_or(wrong)?;
        let limits = Limits { lower: Some(needed), upper: None, unit: to_edge.unit };
        let spare = to_edge.value - needed;
        let compared = super::error::within(Estimate { value: spare, ..to_edge }, crate::quantity::Unit::Metre)?;
        Ok((judge(to_edge, Some(limits)), spare, Length::from_metres(compared.value - compared.expanded())))
    }
}

/// Judges a hole of `diameter` through every layer: measured − U ≥ k·D. A hole drilled up for a larger fastener is judged by its new
/// diameter.
///
/// # Errors
/// When there is no layer, a number is missing or of another kind, or a diameter is not above zero.
pub fn judge_edges(layers: &[Layer], diameter: Length) -> Result<EdgeVerdict, RiggingError> {
    let mut worst: Option<(usize, f64, Length)> = None;
    let mut verdict = Verdict::In;
    for (at, layer) in layers.iter().enumerate() {
        let (one, spare, sure) = layer.judged(diameter)?;
        verdict = match (verdict, one) {
            (Verdict::Out(_), _) | (_, Verdict::Out(_)) => Verdict::Out(Beyond::Low),
            (Verdict::In, Verdict::In) => Verdict::In,
            _ => Verdict::CantTell,
        };
        if worst.is_none_or(|(_, _, least)| sure < least) {
            worst = Some((at, spare, sure));
        }
    }
    let (worst, spare, _) = worst.ok_or(RiggingError::NotANumber)?;
    Ok(EdgeVerdict { verdict, worst, spare })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;
    use proptest::prelude::*;

    fn layer(to_edge: f64, u: f64) -> Layer {
        Layer { to_edge: Estimate::new(to_edge, u, Unit::Inch), diameters: PROTRUDING }
    }

    proptest! {
        #[test]
        fn in_means_every_layer_has_it_with_the_uncertainty_to_spare(
            distances in proptest::collection::vec((0.2..1.0_f64, 0.0..0.05_f64), 1..5), diameter in 0.09..0.4_f64,
        ) {
            let layers: Vec<Layer> = distances.iter().map(|(to_edge, u)| layer(*to_edge, *u)).collect();
            let got = judge_edges(&layers, Length::from_inches(diameter)).expect("layers");
            let all = distances.iter().all(|(to_edge, u)| to_edge - 2.0 * u >= 2.0 * diameter - 1e-9);
            let one_out = distances.iter().any(|(to_edge, u)| to_edge + 2.0 * u < 2.0 * diameter - 1e-9);
            prop_assert_eq!(got.verdict == Verdict::In, all);
            prop_assert_eq!(matches!(got.verdict, Verdict::Out(_)), one_out);
        }
    }

    /// One plan's 5/8 in for a 5/16 in bolt is two diameters (common practice, no source).
    #[test]
    fn a_hidden_layer_decides_and_a_larger_bolt_takes_more() {
        let layers = [layer(0.75, 0.008), layer(0.64, 0.016), layer(0.70, 0.008)];
        let bolt = |sixteenths: f64| judge_edges(&layers, Length::from_inches(sixteenths / 16.0)).expect("layers");
        assert_eq!(bolt(4.0).verdict, Verdict::In);
        let marginal = bolt(5.0);
        assert_eq!((marginal.verdict, marginal.worst), (Verdict::CantTell, 1), "0.625 lies inside 0.64 ± 0.032");
        assert!((marginal.spare - 0.015).abs() < 1e-9);
        assert_eq!(bolt(6.0).verdict, Verdict::Out(Beyond::Low));
    }

    #[test]
    fn no_layer_no_verdict() {
        assert_eq!(judge_edges(&[], Length::from_inches(0.25)), Err(RiggingError::NotANumber));
        assert_eq!(judge_edges(&[layer(1.0, 0.0)], Length::ZERO), Err(RiggingError::NotPositive));
    }
}
