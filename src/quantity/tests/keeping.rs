//! A quantity in a file is the same quantity, and a hostile file is refused.

use proptest::prelude::*;
use serde_json::{from_str, json, to_string, to_value};

use super::super::{Dimension, Quantity, Unit, parse};

#[test]
fn a_quantity_is_kept_as_text_value_step_and_ucum_code() {
    let reading = parse("227 11/16", Unit::Inch, 0.0625).expect("a reading");
    let kept = json!({ "text": "227 11/16", "unit": "[in_i]", "value": 227.6875, "step": 0.0625 });
    assert_eq!(to_value(&reading).ok(), Some(kept));
}

#[test]
fn the_ucum_code_in_a_file_is_the_one_in_the_program() {
    for unit in Unit::ALL {
        assert_eq!(to_value(unit).ok(), Some(json!(unit.ucum())));
    }
}

/// UCUM, table of codes: the code of a product is its factors' with a point between.
#[test]
fn the_codes_of_files_stay() {
    let codes = Unit::ALL.map(Unit::ucum);
    let written =
        "[in_i] mm m deg [lb_av] kg [lbf_av] N daN Cel [degF] N.m [ft_i].[lbf_av] [in_i].[lbf_av] L [gal_us] 1";
    assert_eq!(codes.join(" "), written);
    let dimensions = Unit::ALL.map(Unit::dimension).map(|dimension| to_value(dimension).expect("a name"));
    let (length, angle, mass, force) = ("length", "angle", "mass", "force");
    let (temperature, torque, volume) = ("temperature", "torque", "volume");
    let named = [
        length,
        length,
        length,
        angle,
        mass,
        mass,
        force,
        force,
        force,
        temperature,
        temperature,
        torque,
        torque,
        torque,
    ];
    assert_eq!(dimensions[..14], named.map(|name| json!(name)));
    assert_eq!(dimensions[14..], [volume, volume, "count"].map(|name| json!(name)));
}

#[test]
fn hostile_quantities_are_refused() {
    let long = "1".repeat(257);
    for (hostile, why) in [
        (r#"{"text":"5","unit":"in","value":5,"step":1}"#, "unknown variant `in`"),
        (r#"{"text":"5","unit":"mm","value":1e9,"step":1}"#, "1000000000 mm is outside any physical range"),
        (r#"{"text":"5","unit":"mm","value":1e999,"step":1}"#, "number out of range"),
        (r#"{"text":"5","unit":"mm","value":null,"step":1}"#, "invalid type: null"),
        (r#"{"text":"5","unit":"deg","value":-361,"step":0.1}"#, "-361 deg is outside any physical range"),
        (r#"{"text":"5","unit":"Cel","value":-274,"step":0.1}"#, "-274 Cel is outside any physical range"),
        (r#"{"text":"5","unit":"[lbf_av]","value":30000,"step":1}"#, "30000 [lbf_av] is outside any physical range"),
        (r#"{"text":"5","unit":"mm","value":5,"step":-1}"#, "-1 mm is no resolution of a tool"),
        (r#"{"text":"5","unit":"mm","value":5,"step":1e9}"#, "1000000000 mm is no resolution of a tool"),
        (&format!(r#"{{"text":"{long}","unit":"mm","value":5,"step":1}}"#), "a number of 257 bytes is no number"),
    ] {
        let error = from_str::<Quantity>(hostile).expect_err(hostile).to_string();
        assert!(error.starts_with(why), "{hostile}: {error}");
    }
}

#[test]
fn each_unit_gives_its_own_kind_of_value() {
    let of = |unit| Quantity::new(1.0, unit, 1.0);
    assert_eq!(of(Unit::Inch).length().map(|l| l.millimetres()), Some(25.4));
    assert_eq!(of(Unit::Millimetre).length().map(|l| l.metres()), Some(0.001));
    assert_eq!(of(Unit::Degree).angle().map(|a| a.degrees()), Some(1.0));
    assert_eq!((of(Unit::Degree).length(), of(Unit::Inch).angle(), of(Unit::One).length()), (None, None, None));
    assert_eq!(of(Unit::Metre).length().map(|l| l.millimetres()), Some(1000.0));
    assert_eq!((of(Unit::Pound).length(), of(Unit::Celsius).angle()), (None, None));
    assert_eq!(of(Unit::One).dimension(), Dimension::Count);
}

/// An angle is kept to twelve decimals, below a right angle to thirteen.
#[test]
fn an_angle_is_kept_finer_than_a_length() {
    for (value, unit, kept) in [
        (123.456_789_012_345_6, Unit::Degree, 123.456_789_012_346),
        (12.345_678_901_234_56, Unit::Degree, 12.345_678_901_234_6),
        (12.345_678_901_234_56, Unit::Millimetre, 12.345_678_901),
    ] {
        assert_eq!(Quantity::new(value, unit, 0.1).value, kept);
    }
}

proptest! {
    #[test]
    fn any_value_survives_json_to_the_last_bit(inches in -3937.0..3937.0_f64, degrees in -360.0..360.0_f64) {
        for (value, unit) in [(inches, Unit::Inch), (inches * 25.4, Unit::Millimetre), (degrees, Unit::Degree)] {
            let quantity = Quantity::new(value, unit, 0.015625);
            // Half of the ninth decimal, and what the doubles on the way round away.
            prop_assert!((quantity.value - value).abs() < 6e-10, "nine decimals are kept");
            let written = to_string(&quantity).expect("written");
            let back: Quantity = from_str(&written).expect("the same quantity");
            prop_assert_eq!(back.value.to_bits(), quantity.value.to_bits());
            prop_assert_eq!(&to_string(&back).expect("written"), &written);
            prop_assert_eq!(back, quantity);
        }
    }
}
