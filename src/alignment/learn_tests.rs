use super::*;
use crate::quantity::Unit;

fn response(by_gain: &[f64], gains: &Gains, seen: f64, u: f64) -> Response {
    let predicted = by_gain.iter().enumerate().map(|(j, part)| part * gains.ratio(j)).sum();
    let seen = Estimate::new(seen, u, Unit::Degree);
    Response { predicted, by_gain: by_gain.to_vec(), by_setting: vec![0.0; by_gain.len()], seen, step: 0.01 }
}

#[test]
fn one_adjuster_and_one_check_is_the_scalar_update() {
    let gains = Gains::from_geometry(1);
    let learned = gains.learn(&[response(&[0.4], &gains, 0.3, 0.05)]).gain(0);
    let scalar = Gain::FROM_GEOMETRY.learn(0.4, 0.3, 0.05);
    assert!(
        (learned.ratio - scalar.ratio).abs() < 1e-12 && (learned.u - scalar.u).abs() < 1e-12,
        "{learned:?} {scalar:?}"
    );
}

/// Against the batch answer: the posterior of a linear model has precision P⁻¹ + Σhhᵀ/u² (weighted least squares with the prior
/// as observations; textbook, from memory), here for two gains with the inverse of a 2 × 2 written out.
#[test]
fn several_at_once_is_least_squares_with_the_prior() {
    let gains = Gains::from_geometry(2);
    let rows = [([0.6, 0.1], 0.55, 0.03), ([-0.05, 0.4], 0.25, 0.02), ([0.2, 0.2], 0.3, 0.1)];
    let responses: Vec<Response> = rows.iter().map(|(h, seen, u)| response(h, &gains, *seen, *u)).collect();
    let learned = gains.learn(&responses);
    let prior = 1.0 / 0.25_f64.powi(2);
    let (mut a, mut b, mut d, mut r) = (prior, 0.0, prior, [prior, prior]);
    for ([h0, h1], seen, u) in rows {
        let w = 1.0 / (u * u);
        a += w * h0 * h0;
        b += w * h0 * h1;
        d += w * h1 * h1;
        r = [r[0] + w * h0 * seen, r[1] + w * h1 * seen];
    }
    let det = a * d - b * b;
    let best = [(d * r[0] - b * r[1]) / det, (a * r[1] - b * r[0]) / det];
    for (j, (best, variance)) in best.into_iter().zip([d / det, a / det]).enumerate() {
        let gain = learned.gain(j);
        assert!((gain.ratio - best).abs() < 1e-10 && (gain.u - variance.sqrt()).abs() < 1e-10, "{gain:?} {best}");
    }
    assert!(
        (learned.variance(&[1.0, 1.0]) - (d + a - 2.0 * b) / det).abs() < 1e-10,
        "what was seen together stays tied"
    );
}

/// A slip of the hand of a tenth of the move leaves the gain open by a tenth of itself, however well the change was read, and
/// reading two checks does not help: it is the same slip.
#[test]
fn a_slip_of_the_hand_is_not_averaged_away() {
    let gains = Gains::from_priors(&[Gain { ratio: 1.0, u: 10.0 }]);
    let of = |part: f64| Response { by_setting: vec![part / 10.0], ..response(&[part], &gains, 0.8 * part, 1e-6) };
    for responses in [vec![of(0.5)], vec![of(0.5), of(2.0)]] {
        let gain = gains.learn(&responses).gain(0);
        assert!((gain.u - 0.1).abs() < 1e-3 && (gain.ratio - 0.8).abs() < 1e-3, "{gain:?}");
    }
}

#[test]
fn an_adjuster_that_was_not_moved_learns_nothing() {
    let gains = Gains::from_geometry(2);
    let learned = gains.learn(&[response(&[0.5, 0.0], &gains, 0.3, 0.01)]);
    assert_eq!(learned.gain(1), Gain::FROM_GEOMETRY);
}

/// G25 of the trade's cases: +0.32° predicted, +0.12° seen (ratio 0.38): stop.
#[test]
fn strange_answers_say_why() {
    let gains = Gains::from_geometry(1);
    let cause = |predicted: f64, seen: f64| response(&[predicted], &gains, seen, 0.005).strange();
    assert_eq!(cause(0.32, 0.12), Some(Cause::TooLittle));
    assert_eq!(cause(-0.32, -0.12), Some(Cause::TooLittle));
    assert_eq!(cause(0.32, -0.30), Some(Cause::WrongWay));
    assert_eq!(cause(-0.32, 0.30), Some(Cause::WrongWay));
    assert_eq!(cause(0.32, 0.80), Some(Cause::TooMuch));
    assert_eq!(cause(0.32, 0.28), None);
    assert_eq!(cause(0.32, 0.21), None, "a gain of two thirds is believable");
    assert_eq!(cause(0.03, -0.02), None, "too small a move to say");
    // Two moves that pull against each other: 0.5·0.3 − 2·0.2 to 2·0.3 − 0.5·0.2 can be.
    let against = |seen| response(&[0.3, -0.2], &Gains::from_geometry(2), seen, 0.01).strange();
    assert_eq!([0.45, 0.0, -0.2].map(against), [None; 3]);
    assert_eq!(against(0.6), Some(Cause::TooMuch));
}

#[test]
fn words_name_likely_causes() {
    let words = [Cause::TooLittle, Cause::TooMuch, Cause::WrongWay].map(Cause::words);
    assert!(words.iter().all(|words| words.starts_with("It moved ") && words.ends_with('.') && !words.contains("  ")));
    assert!(words[0].contains("springing, slipping or binding"));
    assert!(words[1].contains("pivoting elsewhere"));
    assert!(words[2].contains("strike it out"));
}

#[test]
fn earlier_airframes_narrow_the_prior_and_never_to_nothing() {
    assert_eq!(from_earlier(&[]).ratio, 1.0);
    assert!((from_earlier(&[]).u - Gain::FROM_GEOMETRY.u).abs() < 1e-12, "nothing earlier: geometry");
    let of =
        |gains: &[f64]| from_earlier(&gains.iter().map(|&gain| Earlier { gain, variance: 0.0016 }).collect::<Vec<_>>());
    let (one, five, apart) = (of(&[0.7]), of(&[0.70, 0.72, 0.68, 0.71, 0.69]), of(&[0.4, 1.0, 0.5, 0.9, 0.7]));
    assert!(one.ratio > 0.7 && one.ratio < 1.0 && one.u < Gain::FROM_GEOMETRY.u, "{one:?}");
    assert!((five.ratio - 0.7).abs() < 0.05 && five.u < one.u && five.u > 0.05, "{five:?}");
    assert!(apart.u > five.u, "airframes that differ promise less: {apart:?}");
}

/// DerSimonian and Laird by hand: gains 0.4, 1.0 with variances 0.01: w = 100, ḡ = 0.7, Q = 18, τ² = 17 / (200 − 100) = 0.17,
/// which is the sample variance 0.18 less 0.01.
#[test]
fn the_spread_between_airframes() {
    let earlier = [0.4, 1.0].map(|gain| Earlier { gain, variance: 0.01 });
    assert!((spread_between(&earlier) - 0.17).abs() < 1e-12);
}
