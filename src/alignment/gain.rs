//! Learning how much an adjuster really does.

/// The ratio of an adjuster's real effect to the effect that geometry predicts, with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// Best ratio; 1 before anything was seen.
    pub ratio: f64,
    /// Standard uncertainty of the ratio.
    pub u: f64,
}

impl Gain {
    /// Before the first move: geometry, give or take a quarter (a judgement: fittings are not where the drawing has them and
    /// structures spring).
    pub const FROM_GEOMETRY: Self = Self { ratio: 1.0, u: 0.25 };

    /// A response outside this band says that something is springing, slipping or pivoting elsewhere.
    pub const BELIEVABLE: (f64, f64) = (0.5, 2.0);

    /// The ratio after one more (move, change) pair: `predicted` by geometry, `seen` with standard uncertainty `seen_u`, in one
    /// unit. The scalar Kalman update: weights are inverse variances. A predicted change of nothing teaches nothing.
    #[must_use]
    pub fn learn(self, predicted: f64, seen: f64, seen_u: f64) -> Self {
        if predicted == 0.0 {
            return self;
        }
        let (observed, variance) = (seen / predicted, (seen_u / predicted).powi(2));
        let prior = self.u * self.u;
        let weight = prior / (prior + variance);
        Self { ratio: self.ratio + weight * (observed - self.ratio), u: ((1.0 - weight) * prior).sqrt() }
    }

    /// Whether a seen response is believable, given how well it was seen: false only when the ratio lies outside
    /// [`Self::BELIEVABLE`] by more than twice its own uncertainty and one `step` of the instrument either way (repeats that
    /// agree to the graduation look better than they are).
    #[must_use]
    pub fn believable(predicted: f64, seen: f64, seen_u: f64, step: f64) -> bool {
        if predicted == 0.0 {
            return true;
        }
        let (observed, leeway) = (seen / predicted, ((2.0 * seen_u + 2.0 * step) / predicted).abs());
        observed + leeway >= Self::BELIEVABLE.0 && observed - leeway <= Self::BELIEVABLE.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_well_seen_response_replaces_the_prior() {
        let gain = Gain::FROM_GEOMETRY.learn(1.0, 0.7, 0.02);
        assert!((gain.ratio - 0.7).abs() < 0.01 && gain.u < 0.02, "{gain:?}");
    }

    #[test]
    fn a_badly_seen_response_hardly_moves_it() {
        let gain = Gain::FROM_GEOMETRY.learn(0.05, 0.02, 0.05);
        assert!((gain.ratio - 1.0).abs() < 0.06, "{gain:?}");
    }

    /// Two pairs at once and one after the other agree: the update is the weighted mean of all that was seen.
    #[test]
    fn order_does_not_matter() {
        let one = Gain::FROM_GEOMETRY.learn(1.0, 0.8, 0.05).learn(0.4, 0.36, 0.04);
        let two = Gain::FROM_GEOMETRY.learn(0.4, 0.36, 0.04).learn(1.0, 0.8, 0.05);
        assert!((one.ratio - two.ratio).abs() < 1e-12 && (one.u - two.u).abs() < 1e-12, "{one:?} {two:?}");
    }

    /// 0.30° predicted and 0.05° seen, read to 0.02°: stop and look.
    #[test]
    fn a_weak_response_is_not_believed() {
        assert!(!Gain::believable(0.30, 0.05, 0.01, 0.02));
        assert!(Gain::believable(0.30, 0.28, 0.03, 0.05));
        assert!(Gain::believable(0.05, 0.0, 0.04, 0.05), "too small a move to say");
        assert!(Gain::believable(0.02, -0.031, 0.018, 1.0 / 32.0), "one graduation each way says nothing");
    }
}
