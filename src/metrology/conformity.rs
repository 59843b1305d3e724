//! How probable it is that a value is inside its limits, and that in words.

use super::{Estimate, Limits, t_cdf};
use crate::language::tr;

/// Probability that the value lies inside the limits, p = F((T_U − y)/u) − F((T_L − y)/u) with F normal, or Student's t where the
/// uncertainty has few degrees of freedom (JCGM 106:2012, 7.2 and 7.3). With no uncertainty it is 0 or 1.
#[must_use]
pub fn probability_of_conformity(estimate: Estimate, limits: Limits) -> f64 {
    debug_assert_eq!(estimate.unit, limits.unit, "judged in one unit");
    // Below a limit T; each tail from its own end, so that two small ones do not drown in 1.
    let below = |limit: f64| match estimate.u {
        0.0 => f64::from(u8::from(estimate.value < limit)),
        u => t_cdf((limit - estimate.value) / u, estimate.dof),
    };
    let above = |limit: f64| match estimate.u {
        0.0 => f64::from(u8::from(estimate.value > limit)),
        u => t_cdf((estimate.value - limit) / u, estimate.dof),
    };
    (1.0 - limits.lower.map_or(0.0, below) - limits.upper.map_or(0.0, above)).clamp(0.0, 1.0)
}

/// A probability of being inside in plain words: "97 in 100 that it is inside". Never 100 and never 0; above 95 and below 5 cut to
/// whole numbers toward caution, between them to the nearest ten, which is all that an uncertainty of a few readings supports.
#[must_use]
pub fn conformity_words(probability: f64) -> String {
    let hundred = probability * 100.0;
    // 95 that arrives as 94.999999 is 95.
    let whole = (hundred + 1e-6).floor();
    if !hundred.is_finite() {
        tr!("not known")
    } else if whole >= 99.0 {
        tr!("99 in 100 or more that it is inside")
    } else if (5.0..95.0).contains(&whole) {
        let tens = format!("{:.0}", ((hundred / 10.0).round() * 10.0).clamp(10.0, 90.0));
        tr!("about {tens} in 100 that it is inside", tens)
    } else if whole >= 1.0 {
        tr!("{number} in 100 that it is inside", number = format!("{whole:.0}"))
    } else {
        tr!("less than 1 in 100 that it is inside")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn words_never_promise_everything_or_nothing() {
        let words = [1.0, 0.9996, 0.99, 0.978, 0.95, 0.949, 0.62, 0.05, 0.049, 0.009, 0.0].map(conformity_words);
        let said: Vec<&str> = words.iter().map(|words| words.trim_end_matches(" that it is inside")).collect();
        assert_eq!(
            said,
            [
                "99 in 100 or more",
                "99 in 100 or more",
                "99 in 100 or more",
                "97 in 100",
                "95 in 100",
                "about 90 in 100",
                "about 60 in 100",
                "about 10 in 100",
                "4 in 100",
                "less than 1 in 100",
                "less than 1 in 100",
            ]
        );
    }

    #[test]
    fn fewer_degrees_of_freedom_promise_less() {
        let limits = Limits { lower: None, upper: Some(0.2), unit: Unit::Degree };
        let known = Estimate::new(0.1, 0.05, Unit::Degree);
        let few = Estimate { dof: 2.0, ..known };
        let (sure, less_sure) = (probability_of_conformity(known, limits), probability_of_conformity(few, limits));
        assert!((sure - 0.97725).abs() < 1e-5 && (less_sure - 0.90825).abs() < 1e-5, "{sure}, {less_sure}");
    }

    #[test]
    fn without_uncertainty_it_is_yes_or_no_and_the_limit_itself_is_inside() {
        let limits = Limits { lower: Some(1.0), upper: Some(2.0), unit: Unit::Inch };
        let at = |value| probability_of_conformity(Estimate::new(value, 0.0, Unit::Inch), limits);
        assert_eq!([0.9, 1.0, 1.5, 2.0, 2.1].map(at), [0.0, 1.0, 1.0, 1.0, 0.0]);
    }
}
