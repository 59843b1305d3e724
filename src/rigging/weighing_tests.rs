use super::*;
use crate::metrology::normal_quantile;
use crate::quantity::Unit;
use proptest::prelude::*;

fn lb(value: f64) -> Estimate {
    Estimate::new(value, 0.5, Unit::Pound)
}

fn inch(value: f64) -> Estimate {
    Estimate::new(value, 0.05, Unit::Inch)
}

fn item(mass: f64, arm: f64) -> Item {
    Item { mass: lb(mass), arm: inch(arm) }
}

proptest! {
    /// No source needed: the datum is a name, and the wheels balance where they balance.
    #[test]
    fn moving_the_datum_moves_the_arm_by_as_much(nose in 50.0..400.0_f64, main in 100.0..900.0_f64, by in -300.0..300.0_f64) {
        let wheels = |datum: f64| [item(nose, -32.0 + datum), item(main, 46.0 + datum), item(main + 3.0, 46.0 + datum)];
        let (here, there) = (Balance::of(&wheels(0.0)).expect("one"), Balance::of(&wheels(by)).expect("one"));
        prop_assert!((there.arm.value - here.arm.value - by).abs() < 1e-9);
        prop_assert!((there.arm.u - here.arm.u).abs() < 1e-12, "the uncertainty knows no datum");
        let third = from_third_wheel(inch(46.0 + by), lb(nose), inch(-78.0), lb(nose + 2.0 * main + 3.0)).expect("wheels");
        prop_assert!((third - there.arm.value).abs() < 1e-9, "the third wheel alone says the same");
    }

    #[test]
    fn ballast_brings_it_where_it_was_wanted(cg in 30.0..33.0_f64, wanted in 33.0..40.0_f64) {
        let empty = Balance { mass: lb(1876.0), arm: inch(cg) };
        let ballast = empty.ballast(inch(wanted), inch(228.0)).expect("aft moves it aft");
        let now = empty.with(&[Item { mass: ballast, arm: inch(228.0) }]).expect("a balance");
        prop_assert!((now.arm.value - wanted).abs() < 1e-9);
        prop_assert_eq!(empty.ballast(inch(wanted), inch(0.0)), Err(BalanceError::WrongEnd));
    }

    #[test]
    fn what_is_put_in_and_taken_out_leaves_the_arm(mass in 1.0..200.0_f64, arm in -50.0..150.0_f64) {
        let empty = Balance::of(&[item(222.5, -30.0), item(1280.0, 70.0)]).expect("a balance");
        let back = empty.with(&[item(mass, arm)]).and_then(|full| full.with(&[item(-mass, arm)])).expect("a balance");
        prop_assert!((back.arm.value - empty.arm.value).abs() < 1e-9);
        prop_assert!(back.mass.u > empty.mass.u, "what was weighed twice is not surer");
    }

    #[test]
    fn percent_of_the_chord_is_undone(percent in -20.0..120.0_f64) {
        let chord = MeanChord { leading_edge: inch(144.0), chord: inch(62.0) };
        let arm = chord.arm(percent).expect("a chord");
        prop_assert!((chord.percent(inch(arm)).expect("a chord") - percent).abs() < 1e-9);
    }
}

/// The uncertainty against normal draws (JCGM 101:2008), fixed seed.
#[test]
fn the_uncertainty_agrees_with_simulation() {
    let wheels = [item(264.0, 29.0), item(291.0, 88.5), item(293.0, 88.5)];
    let said = Balance::of(&wheels).expect("a balance");
    let mut random = fastrand::Rng::with_seed(11);
    let mut draw = |of: Estimate| of.value + of.u * normal_quantile(random.f64().max(1e-12));
    let mut values = Vec::new();
    for _ in 0..50_000 {
        let rows = wheels.map(|wheel| (draw(wheel.mass), draw(wheel.arm)));
        let mass: f64 = rows.iter().map(|row| row.0).sum();
        values.push(rows.iter().map(|row| row.0 * row.1).sum::<f64>() / mass);
    }
    let sd = crate::metrology::statistics::standard_deviation(&values).expect("values");
    assert!((said.arm.u / sd - 1.0).abs() < 0.015, "{said:?}, {sd}");
    assert!((said.mass.u - 0.5 * 3_f64.sqrt()).abs() < 1e-12);
}

#[test]
fn an_airframe_that_would_tip_is_refused() {
    let balance = Balance::of(&[item(264.0, 29.0), item(584.0, 88.5)]).expect("a balance");
    assert_eq!(ThirdWheel::Nose.stands(balance, inch(88.5)), Ok(()));
    assert_eq!(ThirdWheel::Tail.stands(balance, inch(88.5)), Err(BalanceError::WouldTip));
}

#[test]
fn kilograms_and_pounds_add_up_and_nothing_weighs_nothing() {
    let kilograms = Item { mass: Estimate::new(0.453_592_37, 0.0, Unit::Kilogram), arm: inch(10.0) };
    let both = Balance::of(&[item(1.0, 20.0), kilograms]).expect("a balance");
    assert!((both.mass.value - 2.0).abs() < 1e-12 && (both.arm.value - 15.0).abs() < 1e-12, "{both:?}");
    assert_eq!(Balance::of(&[]), Err(BalanceError::Nothing));
    assert_eq!(Balance::of(&[item(5.0, 1.0), item(-5.0, 1.0)]), Err(BalanceError::NoMass));
    assert!(matches!(Balance::of(&[Item { mass: inch(1.0), arm: inch(1.0) }]), Err(BalanceError::Rigging(_))));
}
