//! Cases of rigging, named in words (plane geometry and arithmetic by hand; common practice, no source outside that).

use trammel::metrology::{Beyond, Estimate, Limits, Rule, Verdict, judge, judge_by};
use trammel::quantity::{Angle, Length, Unit};
use trammel::rigging::{
    Balance, BladeSwing, Corner, Envelope, Feet, Item, OnBlock, OnScale, PanelAngles, Pin, Place, Placed, Strut,
    TensionChart, ThirdWheel, ThreadedEnd, ThrustChange, TipRise, Toward, TurnError, UnderFeet, WheelStraightedge,
    across_swept_hinge, change_by, extreme, left_less_right, length_for, raise_rear, square_to_hinge, stack_for,
    turn_per_turn, under_feet, wedge,
};

use crate::assert_near;

fn inches(value: f64) -> Estimate {
    Estimate::new(value, 0.0, Unit::Inch)
}

fn degrees(value: f64) -> Estimate {
    Estimate::new(value, 0.0, Unit::Degree)
}

fn inch(value: f64) -> Length {
    Length::from_inches(value)
}

fn angle(value: f64) -> Angle {
    Angle::from_degrees(value)
}

fn plain(value: Estimate, nominal: f64, by: f64) -> Verdict {
    let limits = Limits { lower: Some(nominal - by), upper: Some(nominal + by), unit: value.unit };
    judge_by(Rule::Plain, value, Some(limits))
}

/// Tips 3.61 and 4.56 in up over 180 in: the dihedral is right, and the fuselage leans 0.15° left side low.
#[test]
fn unequal_tips_are_a_leaning_fuselage() {
    let rise = |rise| TipRise { rise: inches(rise), span: inches(180.0) };
    let wings = PanelAngles::from_rises(rise(3.61), rise(4.56)).expect("heights");
    assert_near(wings.left.value, 1.15, 0.002);
    assert_near(wings.right.value, 1.45, 0.002);
    let dihedral = wings.dihedral().expect("angles");
    assert_near(dihedral.value, 1.30, 0.001);
    assert_eq!(plain(dihedral, 1.3, 0.15), Verdict::In);
    let roll = wings.roll().expect("angles");
    assert_near(roll.value, -0.15, 0.002);
    // A level on the fuselage that says the same leaves nothing for a strut.
    assert_near(wings.unlike(degrees(-0.15)).expect("angles").value, 0.0, 0.003);
    assert_near(wings.unlike(degrees(0.0)).expect("angles").value, 0.30, 0.003);
}

#[test]
fn two_tenths_of_incidence_between_the_wings() {
    let apart = left_less_right(degrees(1.80), degrees(2.00)).expect("angles");
    let limits = Limits::equal_within(0.1, Unit::Degree);
    assert_eq!(judge_by(Rule::Plain, apart, Some(limits)), Verdict::Out(Beyond::Low));
    let raise = raise_rear(angle(2.00), angle(1.80), inch(33.75)).expect("a spacing");
    assert_near(raise.inches(), 0.118, 5e-4);
}

fn rear_strut() -> Strut {
    let pin = |[aft, outboard, up]: [f64; 3]| Pin { aft: inch(aft), outboard: inch(outboard), up: inch(up) };
    Strut::between(pin([78.0, 18.75, 53.0]), pin([104.25, 112.0, 99.048]), pin([104.25, 21.0, 99.939]))
        .expect("a strut")
}

fn fork(showing: f64) -> ThreadedEnd {
    ThreadedEnd { pitch: inch(1.0 / 24.0), showing, least: 0.0, most: 12.0 }
}

#[test]
fn washout_by_one_and_a_half_turns_of_the_rear_strut() {
    let strut = rear_strut();
    let (station, spacing) = (inch(180.0), inch(33.75));
    let longer = strut.longer_for_washout(angle(1.0 - 0.55), station, spacing).expect("a strut");
    assert_near(fork(6.0).turns_for(longer).expect("a fork"), 1.41, 0.005);
    let turning = fork(6.0).turn(longer).expect("inside the limits");
    assert_near(turning.turns(), 1.5, 1e-12);
    assert_near(turning.showing, 7.5, 1e-12);
    let gained = strut.washout(turning.length, station, spacing).expect("a strut");
    assert_near(gained.degrees(), 0.48, 0.005);
    assert_eq!(plain(degrees(0.55 + gained.degrees()), 1.0, 0.2), Verdict::In);
}

#[test]
fn a_fork_at_its_limit_is_not_turned() {
    let refused = fork(11.5).turn(inch(1.5 / 24.0)).expect_err("13 of 12 threads");
    assert_eq!(refused, TurnError::PastMost { showing: 13.0, most: 12.0 });
    assert!(refused.to_string().contains("ask the kit's support"), "{refused}");
}

#[test]
fn a_tailplane_at_the_edge_of_its_tolerance() {
    let at = |u| {
        let limits = Limits { lower: Some(-1.4), upper: Some(-1.0), unit: Unit::Degree };
        judge(Estimate::new(-1.0, u, Unit::Degree), Some(limits))
    };
    assert_eq!((at(0.0), at(0.05)), (Verdict::In, Verdict::CantTell));
    let raise = raise_rear(angle(-1.0), angle(-1.2), inch(22.5)).expect("a spacing");
    assert_near(raise.inches(), 0.079, 5e-4);
}

#[test]
fn right_thrust_by_two_washers_at_the_left_feet() {
    let wanted = angle(1.0 - 0.62);
    let under = under_feet(ThrustChange::Right(wanted), inch(17.5)).expect("feet");
    assert_eq!(under.feet, Feet::Left);
    assert_near(under.thickness.inches(), 0.116, 5e-4);
    let washers = stack_for(under.thickness, inch(0.063)).expect("washers");
    assert_eq!(washers.count, 2);
    let change = change_by(UnderFeet { thickness: washers.thickness, ..under }, inch(17.5)).expect("feet");
    let ThrustChange::Right(gained) = change else { panic!("right feet turn the shaft right: {change:?}") };
    assert_near(gained.degrees(), 0.41, 0.005);
    assert_eq!(plain(degrees(0.62 + gained.degrees()), 1.0, 0.25), Verdict::In);
    // The swung blade: 0.62° at a radius of 33 in over 258 3/4 in.
    let half = 33.0 * 258.75 * 0.62_f64.to_radians().sin() / 261.2;
    let swing = BladeSwing {
        left: inches(261.2 + half),
        right: inches(261.2 - half),
        radius: 33.0,
        to_tail: 258.75,
        hub_right: 0.0,
    };
    assert_near(swing.right_thrust().expect("a swing").value, 0.62, 1e-9);
}

#[test]
fn half_a_degree_of_toe_in() {
    let wheel = WheelStraightedge { front: inches(39.06), rear: inches(39.38), length: inches(36.0) };
    let toe = wheel.toe_in().expect("distances");
    assert_near(toe.value, 0.51, 0.005);
    assert_eq!(plain(toe, 0.2, 0.2), Verdict::Out(Beyond::High));
    assert_near(0.2 - toe.value, -0.31, 0.005);
    assert!(wedge(angle(0.2 - toe.value), inch(4.0)).expect("a flange") < Length::ZERO);
}

/// 1.17 turns: one, and what is left is inside the tolerance.
#[test]
fn one_degree_more_elevator_by_the_rod() {
    let (pitch, horn) = (inch(1.0 / 28.0), inch(2.4));
    let per_turn = turn_per_turn(pitch, horn).expect("a horn");
    assert_near(per_turn.degrees(), 0.853, 5e-4);
    let longer = length_for(angle(26.0 - 25.0), horn).expect("a horn");
    let rod = ThreadedEnd { pitch, showing: 5.0, least: 2.0, most: 10.0 };
    assert_near(rod.turns_for(longer).expect("a rod"), 1.17, 0.005);
    let turning = rod.turn(longer).expect("inside the limits");
    assert_near(turning.turns(), 1.0, 1e-12);
    assert_eq!(plain(degrees(25.0 + per_turn.degrees() * turning.turns()), 26.0, 1.0), Verdict::In);
}

/// 33 lb at 50 °F: the number for 70 °F would have passed it.
#[test]
fn a_cold_cable_is_too_tight() {
    let points = [(30.0, 22.0), (50.0, 27.0), (70.0, 32.0), (90.0, 37.0), (110.0, 42.0)];
    let chart = TensionChart::new(&points, (Unit::Fahrenheit, Unit::PoundForce), 3.0, 3.0).expect("a chart");
    let at = |temperature| Estimate::new(temperature, 0.0, Unit::Fahrenheit);
    let read = Estimate::new(33.0, 0.25, Unit::PoundForce);
    assert_near(chart.target(at(50.0)).expect("inside"), 27.0, 1e-12);
    assert_eq!(chart.judge(read, at(50.0)), Ok(Verdict::Out(Beyond::High)));
    assert_eq!(chart.judge(read, at(70.0)), Ok(Verdict::In));
}

#[test]
fn a_rudder_on_a_swept_hinge() {
    let shown = across_swept_hinge(angle(24.0), angle(12.0)).expect("angles");
    assert_near(shown.degrees(), 23.53, 0.005);
    let entered = square_to_hinge(angle(23.5), angle(12.0)).expect("angles");
    assert_near(entered.degrees(), 24.0, 0.05);
    assert_eq!(plain(degrees(entered.degrees()), 24.0, 1.0), Verdict::In);
}

fn pounds(value: f64) -> Estimate {
    Estimate::new(value, 0.5, Unit::Pound)
}

/// The invented Veldrin H2 on three scales, then two up with fuel and baggage.
#[test]
fn three_scales_and_two_up() {
    let wheel = |shown, arm| OnScale { shown: pounds(shown), tare: pounds(0.0), arm: inches(arm) };
    let wheels = [wheel(264.0, 29.0), wheel(291.0, 88.5), wheel(293.0, 88.5)];
    let empty = Balance::on_scales(&wheels).expect("scales");
    assert_near(empty.mass.value, 848.0, 1e-12);
    assert_near(empty.arm.value, 69.98, 0.005);
    assert_eq!(ThirdWheel::Nose.stands(empty, inches(88.5)), Ok(()));
    let corners = [(69.0, 700.0), (69.0, 1430.0), (75.5, 1430.0), (75.5, 700.0)];
    let corners = corners.map(|(arm, mass)| Corner { arm, mass }).to_vec();
    let envelope = Envelope::new(corners, Unit::Inch, Unit::Pound).expect("an envelope");
    assert_eq!(envelope.place(empty, Rule::Guarded), Ok(Placed::In));
    let item = |mass, arm| Item { mass: pounds(mass), arm: inches(arm) };
    let full = empty.with(&[item(380.0, 79.0), item(156.0, 84.0), item(40.0, 112.0)]).expect("a load");
    assert_near(full.mass.value, 1424.0, 1e-9);
    assert_near(full.arm.value, 75.10, 0.005);
    assert_eq!(envelope.place(full, Rule::Guarded), Ok(Placed::In));
    let margin = envelope.margin(full).expect("a load").expect("a known mass");
    assert_near(margin.aft, 0.40, 0.005);
}

/// The invented Okalune T1 in millimetres and kilograms, level on its mains and a stand.
#[test]
fn a_tail_wheel_on_its_stand() {
    let at = |mass, arm| Item {
        mass: Estimate::new(mass, 0.1, Unit::Kilogram),
        arm: Estimate::new(arm, 1.0, Unit::Millimetre),
    };
    let empty = Balance::of(&[at(196.5, 1580.0), at(197.5, 1580.0), at(18.5, 5480.0)]).expect("scales");
    assert_near(empty.mass.value, 412.5, 1e-12);
    assert_near(empty.arm.value, 1754.9, 0.05);
    let mains = Estimate::new(1580.0, 1.0, Unit::Millimetre);
    assert_eq!(ThirdWheel::Tail.stands(empty, mains), Ok(()));
    let loaded =
        |front, rear, fuel| empty.with(&[at(front, 1940.0), at(rear, 2440.0), at(fuel, 1690.0)]).expect("a load");
    assert_near(loaded(70.0, 0.0, 8.0).arm.value, 1780.0, 0.5);
    let full = loaded(85.0, 80.0, 43.0);
    assert_near(full.mass.value, 620.5, 1e-9);
    assert_near(full.arm.value, 1864.0, 0.5);
    assert_near(loaded(85.0, 80.0, 0.0).arm.value, 1877.0, 0.5);
    // Fuel lies ahead of the seats: burning it takes the balance aft, and the aftmost case has none.
    let kilograms = |mass| Estimate::new(mass, 0.1, Unit::Kilogram);
    let place = |arm, least, most| Place {
        arm: Estimate::new(arm, 1.0, Unit::Millimetre),
        least: kilograms(least),
        most: kilograms(most),
    };
    let places = [place(1940.0, 70.0, 85.0), place(2440.0, 0.0, 80.0), place(1690.0, 0.0, 43.0)];
    let aft = extreme(empty, &places, Toward::Aft).expect("a load");
    assert_near(aft.arm.value, 1877.0, 0.5);
    let forward = extreme(empty, &places, Toward::Forward).expect("a load");
    assert_near(forward.mass.value, 412.5 + 70.0 + 43.0, 1e-9);
}

/// Two blocks an eighth apart over the spar spacing: one wing seems 0.212° off, and swapping them shows twice that.
#[test]
fn two_blocks_that_are_not_alike() {
    let false_slope = (0.125_f64 / 33.75).atan().to_degrees();
    assert_near(false_slope, 0.212, 5e-4);
    let incidence = |block_error: f64| {
        let on_block = OnBlock { reading: degrees(1.8 + block_error), block: Angle::ZERO, datum_slope: degrees(0.0) };
        on_block.incidence().expect("angles")
    };
    let first = left_less_right(incidence(0.0), incidence(false_slope)).expect("angles");
    let swapped = left_less_right(incidence(false_slope), incidence(0.0)).expect("angles");
    assert_near(swapped.minus(first).value, 0.424, 1e-3);
}

/// Nose up 0.3° is a longeron with its tail end 0.3° low.
#[test]
fn incidence_with_the_nose_up() {
    let block = OnBlock { reading: degrees(2.10), block: Angle::ZERO, datum_slope: degrees(-0.3) };
    let incidence = block.incidence().expect("angles");
    assert_near(incidence.value, 1.80, 1e-12);
    assert_eq!(plain(incidence, 1.8, 0.2), Verdict::In);
}
