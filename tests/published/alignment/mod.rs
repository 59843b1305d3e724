//! Published adjustments: level nets, trilateration, a pose in six degrees of freedom, the constants of the tests.

mod level_nets;
mod pose;
mod trilateration;

use trammel::alignment::Levels;

use crate::Tally;

/// Baarda's constants. α₀ = 0.001 → 3.29 and δ₀ = 4.13 as quoted widely (second hand); the others recomputed.
const BAARDA: &str = "constants of the w-test";

pub(crate) fn checks(tally: &mut Tally) {
    level_nets::checks(tally);
    trilateration::checks(tally);
    pose::checks(tally);
    for (alpha, power, critical, delta) in [
        (0.001, 0.80, 3.2905, 4.13215),
        (0.05, 0.80, 1.9600, 2.80159),
        (0.01, 0.80, 2.5758, 3.41745),
        (0.001, 0.90, 3.2905, 4.57208),
    ] {
        let levels = Levels { alpha, power };
        tally.near(BAARDA, "critical value", levels.critical(), critical, 0.5e-4);
        tally.near(BAARDA, "non-centrality", levels.non_centrality(), delta, 0.5e-5);
    }
    tally.near(BAARDA, "squared", Levels::USUAL.non_centrality().powi(2), 17.07465, 0.5e-5);
}
