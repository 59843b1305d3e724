use super::*;
use crate::metrology::Estimate;
use proptest::prelude::*;

/// An invented envelope: the forward limit runs aft with the mass.
fn envelope() -> Envelope {
    let corners = [(69.0, 700.0), (69.0, 1100.0), (71.0, 1430.0), (75.5, 1430.0), (75.5, 700.0)];
    let corners = corners.map(|(arm, mass)| Corner { arm, mass }).to_vec();
    Envelope::new(corners, Unit::Inch, Unit::Pound).expect("an envelope")
}

fn balance(arm: f64, mass: f64, u: [f64; 2]) -> Balance {
    Balance { mass: Estimate::new(mass, u[1], Unit::Pound), arm: Estimate::new(arm, u[0], Unit::Inch) }
}

fn plain(arm: f64, mass: f64) -> Placed {
    envelope().place(balance(arm, mass, [0.0, 0.0]), Rule::Guarded).expect("a balance")
}

proptest! {
    /// The polygon written out as inequalities.
    #[test]
    fn inside_is_inside_every_limit(arm in 67.0..77.0_f64, mass in 600.0..1500.0_f64) {
        let forward = if mass <= 1100.0 { 69.0 } else { 69.0 + (mass - 1100.0) / 330.0 * 2.0 };
        let inside = (700.0..=1430.0).contains(&mass) && (forward..=75.5).contains(&arm);
        prop_assert_eq!(plain(arm, mass) == Placed::In, inside);
        if (700.0..=1430.0).contains(&mass) {
            let margin = envelope().margin(balance(arm, mass, [0.0; 2])).expect("a balance").expect("a known mass");
            prop_assert!((margin.forward - (arm - forward)).abs() < 1e-9 && (margin.aft - (75.5 - arm)).abs() < 1e-9);
        }
    }

    /// Guarded in: every point of the uncertainty is in; guarded out: none is.
    #[test]
    fn guarded_is_sure(arm in 67.0..77.0_f64, mass in 600.0..1500.0_f64, turn in 0.0..std::f64::consts::TAU, share in 0.0..1.0_f64) {
        let placed = envelope().place(balance(arm, mass, [0.3, 20.0]), Rule::Guarded).expect("a balance");
        let (sin, cos) = turn.sin_cos();
        let near = plain(arm + 0.6 * share * cos, mass + 40.0 * share * sin);
        match placed {
            Placed::In => prop_assert_eq!(near, Placed::In),
            Placed::Out(_) => prop_assert!(matches!(near, Placed::Out(_))),
            Placed::CantTell => {}
        }
    }

    #[test]
    fn the_order_round_does_not_matter(arm in 67.0..77.0_f64, mass in 600.0..1500.0_f64, first in 0..5_usize) {
        let mut corners = envelope().corners;
        corners.rotate_left(first);
        corners.reverse();
        let other = Envelope::new(corners, Unit::Inch, Unit::Pound).expect("an envelope");
        prop_assert_eq!(other.place(balance(arm, mass, [0.0; 2]), Rule::Plain), Ok(plain(arm, mass)));
    }
}

#[test]
fn edges_and_corners_are_inside() {
    for (arm, mass) in
        [(69.0, 900.0), (75.5, 1000.0), (72.0, 1430.0), (72.0, 700.0), (70.0, 1265.0), (71.0, 1430.0), (69.0, 700.0)]
    {
        assert_eq!(plain(arm, mass), Placed::In, "{arm}, {mass}");
    }
}

#[test]
fn outside_says_which_way() {
    assert_eq!(plain(72.0, 1430.5), Placed::Out(Outside::TooHeavy));
    assert_eq!(plain(72.0, 699.0), Placed::Out(Outside::TooLight));
    assert_eq!(plain(70.5, 1400.0), Placed::Out(Outside::TooFarForward));
    assert_eq!(plain(75.6, 1400.0), Placed::Out(Outside::TooFarAft));
    assert_eq!(envelope().margin(balance(72.0, 1500.0, [0.0; 2])), Ok(None));
}

#[test]
fn near_an_edge_it_cannot_be_told() {
    let guarded = |arm, u| envelope().place(balance(arm, 900.0, [u, 0.5]), Rule::Guarded).expect("a balance");
    assert_eq!(guarded(75.3, 0.05), Placed::In);
    assert_eq!(guarded(75.3, 0.2), Placed::CantTell);
    assert_eq!(guarded(75.7, 0.2), Placed::CantTell);
    assert_eq!(guarded(75.7, 0.05), Placed::Out(Outside::TooFarAft));
    assert_eq!(envelope().place(balance(75.3, 900.0, [0.2, 0.5]), Rule::Plain), Ok(Placed::In));
}

#[test]
fn kilograms_are_held_against_pounds() {
    let heavy = Balance { mass: Estimate::new(649.0, 0.0, Unit::Kilogram), arm: Estimate::new(1.83, 0.0, Unit::Metre) };
    assert_eq!(envelope().place(heavy, Rule::Plain), Ok(Placed::Out(Outside::TooHeavy)), "1430.8 lb at 72.05 in");
}

#[test]
fn what_is_no_polygon_is_refused() {
    let of = |corners: &[(f64, f64)]| {
        let corners = corners.iter().map(|(arm, mass)| Corner { arm: *arm, mass: *mass }).collect();
        Envelope::new(corners, Unit::Inch, Unit::Pound).map(|_| ())
    };
    assert_eq!(of(&[(0.0, 0.0), (1.0, 1.0)]), Err(EnvelopeError::NoArea));
    assert_eq!(of(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]), Err(EnvelopeError::NoArea));
    assert_eq!(of(&[(0.0, 0.0), (1.0, f64::NAN), (2.0, 0.0)]), Err(EnvelopeError::NotFinite));
    assert_eq!(of(&[(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)]), Err(EnvelopeError::Crossing));
    assert_eq!(of(&[(0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0)]), Ok(()));
}
