//! A small logbook, and what every drawing must keep to.

mod aircraft;
mod charts;
mod dump;
mod figures;
mod inside;
mod marks;
mod off;
mod sits;

use chrono::DateTime;
use uuid::Uuid;

use crate::procedure::{MATE_AFT_FUSELAGE, Procedure, Run, StepKind, examples, procedure};
use crate::quantity::{Quantity, Unit};
use crate::record::{
    Airframe, AirframeDetails, AirframeId, Body, Entry, EntryId, Instrument, Ledger, MovedAdjuster, Reading, RunId,
    SpecValue, Tolerance, Units,
};
use crate::sketch::{Element, Ink, Shape, Sketch, step_sketch};

const RUN: RunId = RunId(Uuid::from_u128(0xB));
const AIRFRAME: AirframeId = AirframeId(Uuid::from_u128(0xA));

/// Writes entries and folds them.
struct Book {
    ledger: Ledger,
    units: Units,
    count: u64,
}

impl Book {
    fn blank(units: Units) -> Self {
        let mut book = Self { ledger: Ledger::default(), units, count: 0 };
        let details = AirframeDetails {
            model: "Example".to_owned(),
            serial: String::new(),
            builder: String::new(),
            manual: String::new(),
            units,
            invented: true,
        };
        book.put(Body::AirframeMade { details });
        book
    }

    fn example(which: usize) -> Self {
        let example = &examples()[which];
        let mut book = Self::blank(example.details.units);
        for (key, value) in &example.specification {
            book.put(Body::SpecificationSet { key: key.clone(), value: value.clone(), source: String::new() });
        }
        book
    }

    /// The invented inch airframe with its frame on a block.
    fn on_a_block() -> Self {
        let mut book = Self::example(0);
        book.words("set-up", "frame on a block");
        book
    }

    fn put(&mut self, body: Body) {
        self.count += 1;
        let millis = 1_760_000_000_000 + self.count * 1_000;
        let id = EntryId(uuid::Builder::from_unix_timestamp_millis(millis, &[0; 10]).into_uuid());
        let at = DateTime::from_timestamp_millis(millis as i64).expect("in range").fixed_offset();
        let entry = Entry {
            id,
            airframe: AIRFRAME,
            at,
            by: "A. Builder".to_owned(),
            device: Uuid::from_u128(0xD),
            body,
            seal: None,
        };
        self.ledger.merge([entry]);
    }

    fn words(&mut self, key: &str, words: &str) {
        let value = SpecValue { words: Some(words.to_owned()), ..SpecValue::default() };
        self.put(Body::SpecificationSet { key: key.to_owned(), value, source: String::new() });
    }

    fn number(&mut self, key: &str, value: f64, unit: Unit, tolerance: Option<f64>) {
        let tolerance =
            tolerance.map_or(Tolerance::None, |by| Tolerance::PlusMinus { by: Quantity::new(by, unit, 0.0) });
        let value = SpecValue { nominal: Some(Quantity::new(value, unit, 0.0)), tolerance, words: None };
        self.put(Body::SpecificationSet { key: key.to_owned(), value, source: String::new() });
    }

    /// Every reading of a step, one value to a slot, each as often as the slot asks.
    fn read(&mut self, step: &str, values: &[(&str, f64)]) {
        let (_, _, found) = procedure_().laid_out().into_iter().find(|(path, _, _)| path == step).expect("a step");
        let StepKind::Measure { slots, .. } = found.kind else { panic!("{step} is not measured") };
        for (id, value) in values {
            let slot = slots.iter().find(|slot| slot.id == *id).expect("a slot");
            let role = procedure_().roles.iter().find(|role| role.role == slot.role).expect("a role");
            let (unit, finest) = match (slot.role.as_str(), self.units) {
                ("protractor", _) => (Unit::Degree, 0.1),
                (_, Units::Inches) => (Unit::Inch, 1.0 / 32.0),
                (_, Units::Millimetres) => (Unit::Millimetre, 0.5),
            };
            for _ in 0..slot.repeats {
                self.put(Body::ReadingTaken(Reading {
                    run: RUN,
                    step: step.to_owned(),
                    slot: slot.id.clone(),
                    value: Quantity::new(*value, unit, finest),
                    instrument: Instrument::new(role.kind, "bench".to_owned(), unit, finest, finest),
                    asked: None,
                }));
            }
        }
    }

    fn read_pitch(&mut self, gate: &str, value: f64) {
        self.read(&format!("{gate}/pitch"), &[("direct", value), ("reversed", value)]);
    }

    fn read_twist(&mut self, gate: &str, frame: f64, aft: f64) {
        let slots = [("frame", frame), ("frame-reversed", frame), ("aft", aft), ("aft-reversed", aft)];
        self.read(&format!("{gate}/twist"), &slots);
    }

    fn read_square(&mut self, gate: &str, left: f64, right: f64) {
        self.read(&format!("{gate}/square"), &[("left", left), ("right", right)]);
    }

    fn read_gaps(&mut self, gaps: [f64; 4]) {
        let slots = ["upper-left", "upper-right", "lower-left", "lower-right"];
        let values: Vec<(&str, f64)> = slots.into_iter().zip(gaps).collect();
        self.read("gaps", &values);
    }

    fn moved(&mut self, adjuster: &str, amount: f64) {
        let amount = Quantity::new(amount, self.units.length(), 1.0 / 64.0);
        let (step, adjuster) = ("set/pitch".to_owned(), adjuster.to_owned());
        self.put(Body::AdjusterMoved(MovedAdjuster { run: RUN, step, adjuster, amount }));
    }

    fn airframe(&self) -> Airframe {
        self.ledger.airframe(AIRFRAME).expect("made")
    }

    fn run(&self) -> Run {
        Run::fold(procedure_(), &self.airframe(), RUN, &self.ledger.in_force(AIRFRAME))
    }

    fn sketch(&self, step: &str, slot: Option<&str>) -> Sketch {
        let run = self.run();
        let step = run.step(step).expect("a step");
        step_sketch(procedure_(), &self.airframe(), &run, step, slot).expect("a drawing")
    }
}

fn procedure_() -> &'static Procedure {
    procedure(MATE_AFT_FUSELAGE).expect("built in")
}

/// Every shape lies on the sheet and is made of numbers; every path and every word of it too.
fn check_inside(sketch: &Sketch, context: &str) {
    for shape in &sketch.shapes {
        let [left, top, right, bottom] = shape.reach();
        let inside = left >= 0.0 && top >= 0.0 && right <= sketch.width && bottom <= sketch.height;
        assert!(inside, "{context}: {shape:?} reaches {left:.1} {top:.1} {right:.1} {bottom:.1}\n{}", sketch.title);
    }
    for element in sketch.elements() {
        let Element::Path { d, .. } = element else { continue };
        assert!(!d.contains("NaN") && !d.contains("inf"), "{context}: {d}");
    }
    assert!(!sketch.title.contains("NaN") && !sketch.title.contains("inf "), "{context}: {}", sketch.title);
}

/// The lettering of a drawing, in order.
fn lettering(sketch: &Sketch) -> Vec<&str> {
    sketch
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Text { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect()
}

/// The points of every line, area, arrow and dimension of an ink, in order; of a circle its middle.
fn points(sketch: &Sketch, wanted: Ink) -> Vec<Vec<(f64, f64)>> {
    sketch
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Line { ends, ink } | Shape::Arrow { ends, ink } | Shape::Dimension { ends, ink }
                if *ink == wanted =>
            {
                Some(ends.to_vec())
            }
            Shape::Polyline { points, ink, .. } if *ink == wanted => Some(points.clone()),
            Shape::Circle { centre, ink, .. } if *ink == wanted => Some(vec![*centre]),
            _ => None,
        })
        .collect()
}

/// Tail and point of the arrows of an ink.
fn arrows(sketch: &Sketch, wanted: Ink) -> Vec<[(f64, f64); 2]> {
    sketch
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Arrow { ends, ink } if *ink == wanted => Some(*ends),
            _ => None,
        })
        .collect()
}

/// No two pieces of lettering lie on each other.
fn check_apart(sketch: &Sketch, context: &str) {
    let words: Vec<(&str, [f64; 4])> = sketch
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Text { text, .. } => Some((text.as_str(), shape.reach())),
            _ => None,
        })
        .collect();
    for (place, (one, a)) in words.iter().enumerate() {
        for (other, b) in &words[place + 1..] {
            let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
            assert!(apart, "{context}: “{one}” {a:?} lies on “{other}” {b:?}");
        }
    }
}
