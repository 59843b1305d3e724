//! Cases that readings and their uncertainty settle.

use trammel::alignment::Change;
use trammel::alignment::{Diagonals, JointGaps, Lever, SideGap, share_between_sides};
use trammel::metrology::{Beyond, Chart, ChartPoint, Estimate, Limits, Reversal, Verdict, angle_over_base, judge};
use trammel::procedure::{StepKind, context_of, doubt};
use trammel::quantity::{Angle, Length, Quantity, Unit};
use trammel::record::Side;

use crate::assert_near;
use crate::support::Logbook;

fn inches(value: f64, u: f64) -> Estimate {
    Estimate::new(value, u, Unit::Inch)
}

fn degrees(value: f64, u: f64) -> Estimate {
    Estimate::new(value, u, Unit::Degree)
}

fn plus_minus(nominal: f64, by: f64, unit: Unit) -> Option<Limits> {
    Some(Limits { lower: Some(nominal - by), upper: Some(nominal + by), unit })
}

#[test]
fn g01_reversal() {
    let turned = Reversal::as_shown(degrees(0.3, 0.05), degrees(-0.1, 0.05));
    assert_near(turned.slope.value, 0.2, 1e-12);
    assert_near(turned.zero.value, 0.1, 1e-12);
}

/// Each tape to 1/64 in; the hidden offset is the sum of both, as a limit.
const TAPE_LIMIT: f64 = 2.0 / 64.0;

#[test]
fn g03_diagonals() {
    let pair = Diagonals {
        left: inches(227.0 + 15.0 / 32.0, 0.0),
        right: inches(227.0 + 13.0 / 32.0, 0.0),
        half_width: 17.25,
    };
    let offset = pair.lateral_offset().value;
    assert_near(offset, 0.41, 0.005);
    assert_near((offset / 142.0).atan().to_degrees(), 0.166, 5e-4);
    let hidden = TAPE_LIMIT * pair.sensitivity();
    assert_near(hidden, 0.21, 0.005);
    assert_eq!(judge(inches(offset, hidden / 2.0), plus_minus(0.0, 0.125, Unit::Inch)), Verdict::Out(Beyond::High));
    // Closed first by what the left has, then the right opened for the rest.
    let joint = Lever::Joint {
        width: Length::from_inches(33.0),
        to_tail: Length::from_inches(142.0),
        half_width: Length::from_inches(17.25),
        distance: Length::from_inches(227.4375),
    };
    let change = joint.amount(Change::Shift(Length::from_inches(-0.0625))).expect("a joint");
    assert_near(change.inches(), 0.096, 5e-4);
    let gap = |at: f64| SideGap { least: Length::from_inches(at), most: Length::from_inches(at) };
    let gaps = JointGaps { left: gap(1.0 / 32.0), right: gap(0.0), limit: Some(Length::from_inches(0.125)) };
    let share = share_between_sides(change, gaps, Length::from_inches(1.0 / 64.0));
    let (closed, by) = share.close.expect("the left's own gap first");
    assert_eq!(closed, Side::Left);
    assert_near(by.inches(), 1.0 / 32.0, 1e-9);
    let (opened, by) = share.open.expect("the rest");
    assert_eq!(opened, Side::Right);
    assert_near(by.inches(), 0.0645, 5e-4);
}

#[test]
fn g04_cannot_tell() {
    let at = 227.0 + 7.0 / 16.0;
    let pair = Diagonals { left: inches(at, 0.0), right: inches(at, 0.0), half_width: 17.25 };
    let hidden = TAPE_LIMIT * pair.sensitivity();
    assert_eq!(
        judge(inches(pair.lateral_offset().value, hidden / 2.0), plus_minus(0.0, 0.125, Unit::Inch)),
        Verdict::CantTell
    );
    let bar = Diagonals { left: inches(203.9, 0.0), right: inches(203.9, 0.0), half_width: 60.0 };
    assert_near(TAPE_LIMIT * bar.sensitivity(), 0.053, 5e-4);
}

#[test]
fn g06_twist() {
    let twist = degrees(0.25, 0.01).minus(degrees(0.05, 0.01));
    assert_near(twist.value, 0.20, 1e-12);
    assert_eq!(judge(twist, plus_minus(0.0, 0.15, Unit::Degree)), Verdict::Out(Beyond::High));
    let rock = Lever::Rock { width: Length::from_inches(24.0) };
    let up = rock.amount(Change::Turn(Angle::from_degrees(-twist.value))).expect("a rocking saddle");
    assert_near(up.inches(), 0.084, 5e-4);
}

/// The value alone is inside; with an uncertainty of 0.1 on the limit it cannot be told.
#[test]
fn g12_tailplane() {
    assert_eq!(judge(degrees(-1.0, 0.0), plus_minus(-1.2, 0.2, Unit::Degree)), Verdict::In);
    assert_eq!(judge(degrees(-1.0, 0.05), plus_minus(-1.2, 0.2, Unit::Degree)), Verdict::CantTell);
    assert_near(22.5 * 0.2_f64.to_radians().tan(), 0.079, 5e-4);
}

#[test]
fn g15_toe() {
    let toe = angle_over_base(inches(39.38, 0.01).minus(inches(39.06, 0.01)), inches(36.0, 0.02)).estimate;
    assert_near(toe.value, 0.51, 0.005);
    assert_eq!(judge(toe, plus_minus(0.2, 0.2, Unit::Degree)), Verdict::Out(Beyond::High));
    assert_near(0.2 - toe.value, -0.31, 0.005);
}

/// 33 lb would have passed by the number for 70 °F.
#[test]
fn g18_tension() {
    let point = |(at, pounds): (f64, f64)| ChartPoint { at, lower: Some(pounds - 3.0), upper: Some(pounds + 3.0) };
    let points = [(30.0, 22.0), (50.0, 27.0), (70.0, 32.0), (90.0, 37.0), (110.0, 42.0)].map(point);
    let chart = Chart::new(points.to_vec(), Unit::PoundForce).expect("a chart");
    let verdict = |at| {
        let limits = chart.at(Estimate::new(at, 0.0, Unit::Fahrenheit)).expect("inside the chart").limits;
        judge(Estimate::new(33.0, 0.25, Unit::PoundForce), Some(limits))
    };
    assert_eq!(verdict(50.0), Verdict::Out(Beyond::High));
    assert_eq!(verdict(70.0), Verdict::In);
}

/// Two spacer blocks an eighth apart over the spar spacing; swapped, the difference of the two readings is twice that.
#[test]
fn g22_spacer_trap() {
    let slope = angle_over_base(inches(0.125, 0.0), inches(33.75, 0.0)).estimate.value;
    assert_near(slope, 0.212, 5e-4);
    let swapped = Reversal::by_the_part(degrees(slope, 0.0), degrees(-slope, 0.0));
    assert_near(2.0 * swapped.zero.value, 0.424, 1e-3);
}

/// Left 227 7/16 in, right exactly an inch more: asked about before anything is worked out from it.
#[test]
fn g24_burned_inch() {
    let mut book = Logbook::example(0);
    for _ in 0..3 {
        book.read("set/square", "left", 227.4375);
    }
    let (airframe, run) = (book.airframe(), book.fold());
    let step = run.step("set/square").expect("the step");
    let StepKind::Measure { slots, .. } = &step.step.kind else { panic!("it is measured") };
    let slot = slots.iter().find(|slot| slot.id == "right").expect("the other side");
    let tape = &airframe.instruments.get("tape").expect("accepted").0;
    let context = context_of(book.procedure(), &airframe, &run, step, slot, tape);
    let read = |value| doubt(&Quantity::new(value, Unit::Inch, 1.0 / 32.0), &context);
    let found = read(228.4375).expect("a question");
    assert_near(found.meant.as_ref().expect("a number that was meant").value, 227.4375, 1e-9);
    assert!(found.to_string().contains("1 in"), "{found}");
    assert!(
        read(227.4375).is_none() && read(227.40625).is_none(),
        "the two sides may differ by what a cone out of square gives"
    );
}
