//! Where a straight line is not enough: second-order terms.

use trammel::metrology::{Estimate, Propagated, propagate};
use trammel::quantity::Unit;

use crate::Tally;

/// GUM H.1.7: second-order terms of the end gauge. Second hand; recomputed.
const H17: &str = "GUM H.1.7";
/// JCGM 101:2008, 9.4: comparison loss δY = X₁² + X₂² with u = 0.005. Second hand.
const S1: &str = "JCGM 101, 9.4";

pub(crate) fn checks(tally: &mut Tally) {
    end_gauge(tally);
    // At the origin the derivatives vanish; the simulation of the supplement gives 50·10⁻⁶ for value and uncertainty.
    let origin = loss(0.0);
    tally.same(S1, "first-order uncertainty at the origin", origin.estimate.u, 0.0);
    tally.near(S1, "mean of the simulation at the origin", origin.shift, 50e-6, 0.5e-6);
    tally.near(S1, "standard deviation of the simulation there", origin.second_order, 50e-6, 0.5e-6);
    tally.same(S1, "flagged at the origin", origin.linearisation_lies(), true);
    let aside = loss(0.010);
    let reach = 1.959_964 * aside.estimate.u;
    tally.near(S1, "lower end of the first-order interval at 0.010", aside.estimate.value - reach, -96e-6, 0.5e-6);
    tally.near(S1, "its upper end", aside.estimate.value + reach, 296e-6, 0.5e-6);
    tally.same(S1, "flagged at 0.010", aside.linearisation_lies(), true);
    tally.same(S1, "not flagged far from the origin", loss(0.050).linearisation_lies(), false);
}

fn loss(x1: f64) -> Propagated {
    let at = |value| Estimate::new(value, 0.005, Unit::One);
    propagate([at(x1), at(0.0)], Unit::One, |[a, b]| a * a + b * b, |[a, b]| [2.0 * a, 2.0 * b])
}

fn end_gauge(tally: &mut Tally) {
    let input = |value, u, dof| Estimate { value, u, dof, unit: Unit::One };
    let known = f64::INFINITY;
    let inputs = [
        input(50_000_623.0, 25.0, 18.0),
        input(215.0, 9.7, 25.6),
        input(11.5e-6, 2e-6 / 3_f64.sqrt(), known),
        input(0.0, 1e-6 / 3_f64.sqrt(), 50.0),
        input(-0.1, f64::hypot(0.2, 0.5 / 2_f64.sqrt()), known),
        input(0.0, 0.05 / 3_f64.sqrt(), 2.0),
    ];
    let model = |[l, d, alpha, delta_alpha, theta, delta_theta]: [f64; 6]| {
        l + d - l * (delta_alpha * theta + alpha * delta_theta)
    };
    let gradient = |[l, _, alpha, delta_alpha, theta, delta_theta]: [f64; 6]| {
        [
            1.0 - delta_alpha * theta - alpha * delta_theta,
            1.0,
            -l * delta_theta,
            -l * theta,
            -l * delta_alpha,
            -l * alpha,
        ]
    };
    let length = propagate(inputs, Unit::One, model, gradient);
    tally.near(H17, "length, nm", length.estimate.value, 50_000_838.0, 0.5);
    tally.near(H17, "first order, nm", length.estimate.u, 32.0, 0.5);
    tally.near(H17, "effective degrees of freedom", length.estimate.dof, 16.7, 0.1);
    // Its two terms are 11.7 and 1.7.
    tally.near(H17, "second order, nm", length.second_order, f64::hypot(11.7262, 1.666_69), 1e-3);
    tally.near(H17, "both, nm", length.estimate.u.hypot(length.second_order), 34.0, 0.5);
    tally.same(H17, "flagged: 34 is not 32", length.linearisation_lies(), true);
}
