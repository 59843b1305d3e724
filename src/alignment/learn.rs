//! Learning how much several adjusters really do, when one or several were moved at once.

use super::Gain;
use crate::language::words;
use crate::metrology::Estimate;

/// What is known of the gains of several adjusters, each the ratio of its real effect to the effect that geometry predicts: best
/// ratios with their covariance. Gains that were seen only together stay tied together.
#[derive(Clone, Debug, PartialEq)]
pub struct Gains {
    ratios: Vec<f64>,
    /// Symmetric.
    covariance: Vec<Vec<f64>>,
}

/// How one check answered a round of moves; everything in the check's unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// The change that was to be expected with the gains known before.
    pub predicted: f64,
    /// For each adjuster, how the expected change grows with its gain: what geometry says that its move alone does. Zero where it
    /// was not moved.
    pub by_gain: Vec<f64>,
    /// For each adjuster, the standard uncertainty that setting it by hand gives the change, signed as one step of it acts; zero
    /// where it was not moved.
    pub by_setting: Vec<f64>,
    /// The change that was seen, with its uncertainty.
    pub seen: Estimate,
    /// One graduation of the instrument.
    pub step: f64,
}

/// Why a structure may not answer as it should.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Much less than expected.
    TooLittle,
    /// Much more than expected.
    TooMuch,
    /// The other way.
    WrongWay,
}

impl Cause {
    /// Likely causes, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TooLittle => {
                words!(
                    "It moved much less than it should have: something is springing, slipping or binding. Look at the clamps, the joint \
                 and whatever else carries it, and let it settle, before you move anything again."
                )
            }
            Self::TooMuch => {
                words!(
                    "It moved much more than it should have: something slipped, or it is pivoting elsewhere. Look at the clamps, the \
                 joint and the supports before you move anything again."
                )
            }
            Self::WrongWay => {
                words!(
                    "It moved the other way: it is pivoting elsewhere, the sides were taken for each other, or a sign was entered \
                 wrongly. If the move or the reading was entered wrongly, strike it out in the record."
                )
            }
        }
    }
}

impl Response {
    /// Why it is not believable, if it is not. Believable is any change that gains inside [`Gain::BELIEVABLE`] can give, within
    /// twice its own uncertainty and a graduation either way. Moves too small for these say nothing.
    #[must_use]
    pub fn strange(&self) -> Option<Cause> {
        let (lowest, highest) = Gain::BELIEVABLE;
        let span =
            |of: fn(f64, f64) -> f64| self.by_gain.iter().map(|part| of(lowest * part, highest * part)).sum::<f64>();
        let (low, high) = (span(f64::min), span(f64::max));
        let set: f64 = self.by_setting.iter().map(|part| part * part).sum();
        let leeway = 2.0 * self.seen.u.hypot(set.sqrt()) + 2.0 * self.step;
        if self.by_gain.iter().map(|part| part.abs()).sum::<f64>() <= leeway {
            return None;
        }
        // Counted along the way that the moves push.
        let way = if self.by_gain.iter().sum::<f64>() < 0.0 { -1.0 } else { 1.0 };
        let (low, high, seen) = if way < 0.0 { (-high, -low, -self.seen.value) } else { (low, high, self.seen.value) };
        if seen < -leeway && seen < low - leeway {
            Some(Cause::WrongWay)
        } else if seen < low - leeway {
            Some(Cause::TooLittle)
        } else {
            (seen > high + leeway).then_some(Cause::TooMuch)
        }
    }
}

impl Gains {
    /// Nothing seen yet: geometry, each adjuster for itself.
    #[must_use]
    pub fn from_geometry(adjusters: usize) -> Self {
        Self::from_priors(&vec![Gain::FROM_GEOMETRY; adjusters])
    }

    /// From what earlier airframes taught of each adjuster ([`from_earlier`]), or geometry.
    #[must_use]
    pub fn from_priors(priors: &[Gain]) -> Self {
        let mut covariance = vec![vec![0.0; priors.len()]; priors.len()];
        for (place, prior) in priors.iter().enumerate() {
            covariance[place][place] = prior.u * prior.u;
        }
        Self { ratios: priors.iter().map(|prior| prior.ratio).collect(), covariance }
    }

    /// One adjuster's gain for itself.
    #[must_use]
    pub fn gain(&self, adjuster: usize) -> Gain {
        Gain { ratio: self.ratios[adjuster], u: self.covariance[adjuster][adjuster].max(0.0).sqrt() }
    }

    /// Best ratio of one adjuster.
    #[must_use]
    pub fn ratio(&self, adjuster: usize) -> f64 {
        self.ratios[adjuster]
    }

    /// Variance of Σ parts·gains: hᵀPh.
    #[must_use]
    pub fn variance(&self, parts: &[f64]) -> f64 {
        self.covariance_with(parts).iter().zip(parts).map(|(with, part)| with * part).sum::<f64>().max(0.0)
    }

    /// Covariance of each gain with Σ parts·gains: Ph.
    pub(super) fn covariance_with(&self, parts: &[f64]) -> Vec<f64> {
        self.covariance.iter().map(|row| row.iter().zip(parts).map(|(p, part)| p * part).sum()).collect()
    }

    /// The gains after a round of moves, however many adjusters were moved at once. The Kalman update of the linear model
    /// change = Σ gain·by_gain + Σ slip·by_setting + noise, one check after the other, in which the slips of the hand (one for each
    /// adjuster, standard, the same in all checks) are unknowns too and are forgotten afterwards. For one check, one adjuster and no
    /// slip it is [`Gain::learn`]. The readings between two rounds serve both and are taken as independent.
    #[must_use]
    pub fn learn(&self, responses: &[Response]) -> Self {
        let n = self.ratios.len();
        // State: gains, then slips.
        let mut state: Vec<f64> = self.ratios.iter().copied().chain(std::iter::repeat_n(0.0, n)).collect();
        let mut p = vec![vec![0.0; 2 * n]; 2 * n];
        for i in 0..n {
            p[i][..n].copy_from_slice(&self.covariance[i]);
            p[n + i][n + i] = 1.0;
        }
        for response in responses {
            let h: Vec<f64> = response.by_gain.iter().chain(&response.by_setting).copied().collect();
            let ph: Vec<f64> = p.iter().map(|row| row.iter().zip(&h).map(|(p, h)| p * h).sum()).collect();
            let variance = h.iter().zip(&ph).map(|(h, ph)| h * ph).sum::<f64>() + response.seen.u.powi(2);
            if variance <= 0.0 {
                continue;
            }
            // The prediction was made with the gains before this round.
            let since: f64 = (0..n).map(|j| h[j] * (state[j] - self.ratios[j]) + h[n + j] * state[n + j]).sum();
            let innovation = response.seen.value - response.predicted - since;
            for i in 0..2 * n {
                state[i] += ph[i] / variance * innovation;
                for j in 0..2 * n {
                    p[i][j] -= ph[i] * ph[j] / variance;
                }
            }
        }
        state.truncate(n);
        let covariance = p.into_iter().take(n).map(|mut row| {
            row.truncate(n);
            row
        });
        Self { ratios: state, covariance: covariance.collect() }
    }
}

/// What an earlier airframe of the type ended with, for one adjuster.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earlier {
    /// Gain.
    pub gain: f64,
    /// Its variance; above zero.
    pub variance: f64,
}

/// The prior for the next airframe of a type. Half of what geometry leaves open ([`Gain::FROM_GEOMETRY`]) is taken to be the
/// type's own (fittings are not where the drawing has them), half the airframe's (each springs its own way); how much airframes
/// differ is then corrected by how much the earlier ones did: the moment estimate of DerSimonian and Laird (Controlled Clinical
/// Trials 7, 1986; from memory), the half of geometry counting as much as two airframes more (a judgement). The type's mean is the
/// weighted mean of geometry and the earlier ones.
#[must_use]
pub fn from_earlier(earlier: &[Earlier]) -> Gain {
    const AS_MANY_AS: f64 = 2.0;
    let half = Gain::FROM_GEOMETRY.u.powi(2) / 2.0;
    let more = earlier.len().saturating_sub(1) as f64;
    let between = (AS_MANY_AS * half + more * spread_between(earlier)) / (AS_MANY_AS + more);
    let weights = earlier.iter().map(|one| (one.gain, 1.0 / (one.variance + between)));
    let (mut sum, mut weight) = (Gain::FROM_GEOMETRY.ratio / half, 1.0 / half);
    for (gain, own) in weights {
        sum += gain * own;
        weight += own;
    }
    Gain { ratio: sum / weight, u: (1.0 / weight + between).sqrt() }
}

/// Variance from airframe to airframe: max(0, (Q − (n − 1)) / (Σw − Σw²/Σw)), w = 1/variance, Q = Σw(g − ḡ)².
fn spread_between(earlier: &[Earlier]) -> f64 {
    let (mut w, mut w2, mut wg) = (0.0, 0.0, 0.0);
    for one in earlier {
        let weight = 1.0 / one.variance;
        w += weight;
        w2 += weight * weight;
        wg += weight * one.gain;
    }
    let free = w - w2 / w;
    if earlier.len() < 2 || free <= 0.0 {
        return 0.0;
    }
    let q: f64 = earlier.iter().map(|one| (one.gain - wg / w).powi(2) / one.variance).sum();
    ((q - (earlier.len() as f64 - 1.0)) / free).max(0.0)
}

#[cfg(test)]
#[path = "learn_tests.rs"]
mod tests;
