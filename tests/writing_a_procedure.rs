//! The page on writing a procedure: its example is a procedure, by the app's reader and by the schema, and does what the page says.

mod support;

use serde_json::Value;
use support::{Logbook, instrument};
use trammel::metrology::Verdict;
use trammel::procedure::{Procedure, Run, StepState, read_procedure, write_procedure};
use trammel::quantity::{Quantity, Unit};
use trammel::record::{Body, InstrumentKind, Reading, SpecValue, Tolerance};
use trammel::rigging::reckonings;

const PAGE: &str = include_str!("../docs/writing-a-procedure.md");

fn example() -> &'static str {
    let (_, rest) = PAGE.split_once("```json\n").expect("an example");
    rest.split_once("\n```").expect("its end").0
}

fn read() -> Procedure {
    read_procedure(example()).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn the_example_is_a_procedure_file() {
    let schema = include_str!("../docs/schemas/procedure.schema.json");
    let schema = jsonschema::validator_for(&serde_json::from_str(schema).expect("JSON")).expect("a schema");
    for text in [example().to_owned(), write_procedure(&read())] {
        let file = serde_json::from_str(&text).expect("JSON");
        let errors: Vec<String> = schema.iter_errors(&file).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{errors:#?}");
    }
}

/// An airframe in millimetres whose sheet says 0 ± 0.1° and 1,200 mm, with the run of the example begun.
fn stand() -> Logbook {
    let mut book = Logbook::example_without_run(1);
    let exact = |value: f64, unit: Unit| Some(Quantity::new(value, unit, 0.001));
    let by = Quantity::new(0.1, Unit::Degree, 0.001);
    let level = SpecValue { nominal: exact(0.0, Unit::Degree), tolerance: Tolerance::PlusMinus { by }, words: None };
    book.specify("stand-level", level, "page 1");
    let length = SpecValue { nominal: exact(1200.0, Unit::Millimetre), ..SpecValue::default() };
    book.specify("stand-length", length, "page 1");
    let file = Some(write_procedure(&read()).into());
    book.put(Body::RunStarted { run: book.run, procedure: read().id, version: 1, file });
    book
}

/// Both readings of the slope at a step, in degrees, rear end high plus; the step then.
fn slope(book: &mut Logbook, step: &str, degrees: f64) -> StepState {
    let protractor = instrument(InstrumentKind::Protractor, Unit::Degree, 0.01, 0.1);
    for slot in ["one-way", "other-way"] {
        let value = Quantity::new(degrees, Unit::Degree, 0.01);
        let (step, slot, instrument) = (step.to_owned(), slot.to_owned(), protractor.clone());
        book.put(Body::ReadingTaken(Reading { run: book.run, step, slot, value, instrument, asked: None }));
    }
    let airframe = book.airframe();
    let run = Run::fold(&read(), &airframe, book.run, &book.ledger.in_force(airframe.id));
    run.step(step).expect("a step").clone()
}

/// 1,200 mm · tan 0.5° is 10.47 mm (plane geometry), to the next half millimetre; the other way round when the front is high.
#[test]
fn the_example_gives_the_order_that_the_page_names() {
    for (degrees, expected) in [(0.5, "Lower the rear jack 10.5 mm"), (-0.5, "Raise the rear jack 10.5 mm")] {
        let found = slope(&mut stand(), "set/level", degrees);
        assert!(matches!(found.result().expect("judged").verdict, Verdict::Out(_)), "{degrees}");
        let advice = found.advice.expect("advice");
        let orders: Vec<String> =
            advice.correction.expect("a correction").moves.into_iter().map(|it| it.order).collect();
        assert_eq!(orders, [expected]);
        assert!(degrees < 0.0 || PAGE.replace('\n', " ").contains("*Lower the rear jack 10.5 mm*"));
    }
    assert_eq!(slope(&mut stand(), "set/level", 0.0).result().expect("judged").verdict, Verdict::In);
}

/// Every way that a check is worked out, an adjuster moves it and a number is typed, by the schema's names, is on the page.
#[test]
fn every_formula_lever_and_form_is_named() {
    let schema: Value = serde_json::from_str(include_str!("../docs/schemas/procedure.schema.json")).expect("JSON");
    let of = |part: &str| schema["$defs"][part]["oneOf"].as_array().expect("kinds").clone();
    let kinds = ["formula", "lever", "how"]
        .into_iter()
        .flat_map(of)
        .map(|kind| kind.get("const").cloned().unwrap_or_else(|| kind["required"][0].clone()));
    let forms = schema["$defs"]["item"]["properties"]["form"]["enum"].as_array().expect("forms").clone();
    let names: Vec<Value> = kinds.chain(forms).collect();
    assert!(names.len() > 25, "{names:?}");
    for name in names {
        let name = name.as_str().expect("a name").to_owned();
        assert!(PAGE.contains(&format!("`{name}`")), "{name}");
    }
}

/// A closed form that a procedure may name stands on the page of the arithmetic.
#[test]
fn every_closed_form_is_on_the_page_of_the_arithmetic() {
    let page = include_str!("../docs/arithmetic.md");
    for form in reckonings() {
        assert!(page.contains(&format!("`{}`", form.id)), "{}", form.id);
    }
}
