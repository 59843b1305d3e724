//! Uncertainty of a computed quantity, by its derivatives.

use super::Estimate;
use crate::quantity::Unit;

/// A computed quantity with the uncertainty that its derivatives give, and what they leave out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Propagated {
    /// Value, first-order standard uncertainty and effective degrees of freedom.
    pub estimate: Estimate,
    /// Standard uncertainty that the second derivatives add, √(½·ΣΣ(Hᵢⱼuᵢuⱼ)²) (JCGM 100:2008, 5.1.2 note, without its third
    /// derivatives); same unit.
    pub second_order: f64,
    /// How far the second derivatives shift the value, ½·ΣHᵢᵢuᵢ²; same unit. It is not applied.
    pub shift: f64,
}

impl Propagated {
    /// Whether a straight line is a poor picture of the function over its uncertainty: the second order, or the shift, is more
    /// than a quarter of u (a quarter changes u by 3 %). The first-order uncertainty is then too small, at worst zero
    /// (JCGM 101:2008, 9.4).
    #[must_use]
    pub fn linearisation_lies(self) -> bool {
        self.second_order.max(self.shift.abs()) > self.estimate.u / 4.0
    }
}

/// The function `of` of independent inputs, with its `gradient` (first derivatives, in the order of the inputs); the result is in
/// `unit`. First order: u² = Σ(cᵢuᵢ)² (JCGM 100:2008, eq. 10), degrees of freedom by Welch and Satterthwaite. The second
/// derivatives come from the gradient one uncertainty up and down.
#[must_use]
pub fn propagate<const N: usize>(
    inputs: [Estimate; N],
    unit: Unit,
    of: impl Fn([f64; N]) -> f64,
    gradient: impl Fn([f64; N]) -> [f64; N],
) -> Propagated {
    let at = inputs.map(|input| input.value);
    let mut estimate = Estimate::new(of(at), 0.0, unit);
    for (input, slope) in inputs.iter().zip(gradient(at)) {
        estimate = estimate.widened((slope * input.u).abs(), input.dof);
    }
    let (mut squares, mut shift) = (0.0, 0.0);
    for (j, input) in inputs.iter().enumerate() {
        let moved = |by: f64| {
            let mut place = at;
            place[j] += by;
            gradient(place)
        };
        let (up, down) = (moved(input.u), moved(-input.u));
        for (i, other) in inputs.iter().enumerate() {
            // H·uᵢ·uⱼ with H = (up − down) / 2uⱼ.
            let term = (up[i] - down[i]) / 2.0 * other.u;
            squares += term * term / 2.0;
            if i == j {
                shift += term / 2.0;
            }
        }
    }
    Propagated { estimate, second_order: f64::sqrt(squares), shift }
}

/// The slope in degrees of a height over a level base, atan(h / b); positive as the height is. Both in one length unit.
#[must_use]
pub fn angle_over_base(height: Estimate, base: Estimate) -> Propagated {
    propagate(
        [height, base],
        Unit::Degree,
        |[h, b]| (h / b).atan().to_degrees(),
        |[h, b]| [b, -h].map(|part| (part / (h * h + b * b)).to_degrees()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::normal_quantile;

    /// Mean and standard deviation of the function over normal inputs (JCGM 101:2008), fixed seed.
    fn simulated<const N: usize>(inputs: [Estimate; N], of: impl Fn([f64; N]) -> f64) -> (f64, f64) {
        let mut random = fastrand::Rng::with_seed(7);
        let values: Vec<f64> = (0..200_000)
            .map(|_| of(inputs.map(|input| input.value + input.u * normal_quantile(random.f64().max(1e-12)))))
            .collect();
        let mean = crate::metrology::statistics::mean(&values).expect("values");
        (mean, crate::metrology::statistics::standard_deviation(&values).expect("values"))
    }

    #[test]
    fn a_height_over_a_base_agrees_with_simulation() {
        for (height, base) in [(5.722, 126.0), (0.3, 40.0), (30.0, 24.0)] {
            let inputs = [Estimate::new(height, 0.02, Unit::Inch), Estimate::new(base, 0.06, Unit::Inch)];
            let got = angle_over_base(inputs[0], inputs[1]);
            let (mean, sd) = simulated(inputs, |[h, b]| h.atan2(b).to_degrees());
            assert!((got.estimate.value - mean).abs() < sd / 50.0, "{height}/{base}: {got:?}, {mean}");
            // 200,000 draws know their standard deviation to 0.16 %.
            assert!((got.estimate.u / sd - 1.0).abs() < 0.01, "{height}/{base}: {got:?}, {sd}");
            assert!(!got.linearisation_lies(), "{got:?}");
        }
    }

    /// The fall of a 100 in bar out of level by θ, 100·(1 − cos θ): at level the derivative is zero, the uncertainty is not.
    #[test]
    fn a_cosine_at_zero_is_caught_and_its_second_order_agrees_with_simulation() {
        let fall = |[degrees]: [f64; 1]| 100.0 * (1.0 - degrees.to_radians().cos());
        let slope = |[degrees]: [f64; 1]| [100.0 * degrees.to_radians().sin() * 1_f64.to_radians()];
        let level = [Estimate::new(0.0, 0.5, Unit::Degree)];
        let got = propagate(level, Unit::Inch, fall, slope);
        let (mean, sd) = simulated(level, fall);
        assert!(got.linearisation_lies() && got.estimate.u == 0.0, "{got:?}");
        assert!(
            (got.second_order / sd - 1.0).abs() < 0.02 && (got.shift / mean - 1.0).abs() < 0.02,
            "{got:?}, {mean}, {sd}"
        );
        let steep = propagate([Estimate::new(20.0, 0.5, Unit::Degree)], Unit::Inch, fall, slope);
        assert!(!steep.linearisation_lies(), "{steep:?}");
    }
}
