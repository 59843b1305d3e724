//! Every question that the guards ask, as it is read.

use proptest::prelude::*;
use trammel::procedure::{Context, Expected, LastTyped, Source, doubt};
use trammel::quantity::{Quantity, Unit};
use trammel::record::{InstrumentKind, Mode};

/// A tape of thirty-seconds that was pulled once before: 227 7/16 in.
fn pulled() -> Context {
    Context {
        kind: InstrumentKind::Tape,
        unit: Unit::Inch,
        step: 1.0 / 32.0,
        expected: Some(Expected { value: 227.4375, u: 0.0255, source: Source::Repeats }),
        swapped: None,
        other_side: String::new(),
        question: None,
        last: None,
        switched_to: None,
    }
}

fn against(value: f64, u: f64, source: Source) -> Context {
    Context { expected: Some(Expected { value, u, source }), ..pulled() }
}

/// A 0.1° protractor on the longeron.
fn pitch(u: f64, source: Source) -> Context {
    Context {
        kind: InstrumentKind::Protractor,
        unit: Unit::Degree,
        step: 0.1,
        expected: Some(Expected { value: -2.6, u, source }),
        question: Some("Which end of the longeron is high?".to_owned()),
        ..pulled()
    }
}

fn cases() -> Vec<(f64, Context)> {
    let metric = |value, u, source| Context { unit: Unit::Millimetre, step: 1.0, ..against(value, u, source) };
    let roll = Context {
        expected: Some(Expected { value: 0.1, u: 0.12, source: Source::OtherWay }),
        ..pitch(0.12, Source::Sheet)
    };
    let typed = |value, unit, step, title: &str| {
        Some(LastTyped { value: Quantity::new(value, unit, step), title: title.to_owned() })
    };
    vec![
        (228.4375, pulled()),
        (237.4375, pulled()),
        (226.4375, pulled()),
        (237.5, against(227.46, 0.1, Source::Sheet)),
        (226.5, against(227.46, 0.1, Source::Sheet)),
        (4479.0, metric(4468.0, 0.8, Source::GateBefore)),
        (5.375, against(5.625, 0.03, Source::SetBefore)),
        (0.0625, against(0.125, 0.0255, Source::Repeats)),
        (272.4375, pulled()),
        (-6.2, pitch(0.8, Source::Sheet)),
        (2.6, pitch(0.07, Source::Repeats)),
        (2.6, pitch(0.8, Source::Sheet)),
        (-26.0, pitch(0.12, Source::OtherWay)),
        (-3.5, Context { switched_to: Some(Mode::Absolute), ..roll.clone() }),
        (-5.6, Context { switched_to: Some(Mode::Relative), ..pitch(0.2, Source::Move) }),
        (0.0, pitch(0.8, Source::Sheet)),
        (
            227.75,
            Context {
                swapped: Some(Expected { value: 227.78, u: 0.04, source: Source::Move }),
                other_side: "RIGHT distance".to_owned(),
                ..against(227.45, 0.04, Source::Move)
            },
        ),
        (-2.6, Context { last: typed(-2.6, Unit::Degree, 0.1, "Pitch, turned end for end"), ..roll }),
        (17.25, Context { last: typed(17.25, Unit::Inch, 1.0 / 32.0, "RIGHT point to the centre line"), ..pulled() }),
        (438.0, against(17.25, 0.06, Source::OtherSide)),
        (175.9, metric(4468.0, 2.0, Source::Sheet)),
        (230.0, pulled()),
        (-1.1, pitch(0.2, Source::Move)),
        (1.1875, Context { kind: InstrumentKind::Rule, ..against(0.1875, 0.126, Source::Limit) }),
        (14.0, Context { kind: InstrumentKind::Rule, ..against(0.0625, 0.126, Source::Limit) }),
    ]
}

#[test]
fn every_question_reads_as_kept() {
    let mut asked = String::new();
    for (value, context) in cases() {
        let entry = Quantity::new(value, context.unit, context.step);
        let doubt = doubt(&entry, &context).unwrap_or_else(|| panic!("nothing asked about {value}"));
        let meant =
            doubt.meant.as_ref().map_or("nothing offered".to_owned(), |meant| format!("offers {}", meant.print()));
        asked.push_str(&format!("{:?}: {meant}\n    {doubt}\n", doubt.slip));
    }
    let kept = include_str!("questions.txt");
    assert!(asked == kept, "tests/guards/questions.txt is not what is asked:\n{asked}");
}

/// What could have been read is not asked about, and neither is what nothing is known about.
#[test]
fn nothing_is_asked_about_what_fits() {
    let context = pulled();
    for value in [227.375, 227.40625, 227.4375, 227.46875, 227.5] {
        assert_eq!(doubt(&Quantity::new(value, Unit::Inch, 1.0 / 32.0), &context), None, "{value}");
    }
    let foreign = Quantity::new(900.0, Unit::Millimetre, 1.0);
    assert_eq!(doubt(&foreign, &context), None, "another unit than the context's");
    let unknown = Context { expected: None, ..pulled() };
    assert_eq!(doubt(&Quantity::new(3.0, Unit::Inch, 1.0 / 32.0), &unknown), None);
    // Answering "it is what I read" is for the screen: the same digits against the same context ask the same again.
    let entry = Quantity::new(228.4375, Unit::Inch, 1.0 / 32.0);
    assert_eq!(doubt(&entry, &context), doubt(&entry, &context));
}

proptest! {
    /// Whatever is typed with whatever instrument: an answer, a question that is not empty, nothing offered that is no number.
    #[test]
    fn no_number_is_too_strange(
        value in prop::num::f64::NORMAL | prop::num::f64::ZERO | prop::num::f64::SUBNORMAL,
        expected in -1e4..1e4_f64,
        u in 0.0..10.0_f64,
        step in prop::sample::select(vec![0.0, 1.0 / 64.0, 1.0 / 32.0, 0.001, 0.05, 0.1, 1.0, 7.0]),
        unit in prop::sample::select(vec![Unit::Inch, Unit::Millimetre, Unit::Degree, Unit::One]),
        switched_to in prop::sample::select(vec![None, Some(Mode::Absolute), Some(Mode::Relative)]),
    ) {
        let context = Context { unit, step, switched_to, ..pitch(u, Source::Sheet) };
        let context = Context { expected: Some(Expected { value: expected, u, source: Source::Sheet }), ..context };
        for value in [value, expected * 10.0, -expected, expected + 1.0, value % 1e4] {
            if let Some(doubt) = doubt(&Quantity::new(value, unit, step), &context) {
                prop_assert!(!doubt.to_string().is_empty());
                prop_assert!(doubt.meant.is_none_or(|meant| meant.value.is_finite()));
            }
        }
    }
}
