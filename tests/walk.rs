//! Every built-in procedure, walked to its end by machine on both invented airframes.
//!
//! Readings are simulated: whatever the check's own formula turns into the middle of the sheet's limits. That each step's words make
//! sense is not shown here; that there is no dead end, no step that is never reached and no hold point that opens too early, is.

mod support;

use std::collections::BTreeSet;
use std::io::Write as _;

use support::{Logbook, instrument};
use trammel::metrology::Verdict;
use trammel::procedure::{
    Hold, Progress, Run, State, StepKind, StepState, Words, aircraft, applies_to, built_in_ids, procedures,
};
use trammel::quantity::Unit;
use trammel::record::{About, Body, HoleMark, InstrumentKind, Ledger, Question};
use trammel::report::extract;

/// Fine instruments of every kind, so that what is in the middle of its limits can be told to be in.
fn fine(kind: InstrumentKind, inches: bool) -> (Unit, f64) {
    match (kind, inches) {
        (InstrumentKind::Protractor, _) => (Unit::Degree, 0.001),
        (InstrumentKind::Tensiometer, true) => (Unit::PoundForce, 0.01),
        (InstrumentKind::Tensiometer, false) => (Unit::Decanewton, 0.01),
        (InstrumentKind::Scales, true) => (Unit::Pound, 0.01),
        (InstrumentKind::Scales, false) => (Unit::Kilogram, 0.01),
        (InstrumentKind::TorqueWrench, true) => (Unit::InchPoundForce, 0.01),
        (InstrumentKind::TorqueWrench, false) => (Unit::NewtonMetre, 0.01),
        (InstrumentKind::Thermometer, true) => (Unit::Fahrenheit, 0.1),
        (InstrumentKind::Thermometer, false) => (Unit::Celsius, 0.1),
        (_, true) => (Unit::Inch, 0.0001),
        (_, false) => (Unit::Millimetre, 0.001),
    }
}

/// A number to begin with, where the sheet names none that the reading should be near.
fn plausible(unit: Unit) -> f64 {
    match unit {
        Unit::Degree => 0.0,
        Unit::Fahrenheit => 70.0,
        Unit::Celsius => 20.0,
        Unit::Inch => 10.0,
        Unit::Millimetre => 250.0,
        _ => 100.0,
    }
}

/// What the wheels of the invented airframes weigh, in the unit that tells them apart.
fn on_scales(slot: &str, unit: Unit) -> Option<f64> {
    match (slot, unit) {
        ("left", Unit::Pound) => Some(291.0),
        ("right", Unit::Pound) => Some(293.0),
        ("third", Unit::Pound) => Some(264.0),
        ("left", Unit::Kilogram) => Some(196.5),
        ("right", Unit::Kilogram) => Some(197.5),
        ("third", Unit::Kilogram) => Some(18.5),
        ("tare", Unit::Pound | Unit::Kilogram) => Some(0.0),
        _ => None,
    }
}

struct Walk {
    book: Logbook,
    reached: BTreeSet<String>,
    refused: usize,
}

impl Walk {
    fn fold(&self) -> Run {
        self.book.fold_without_advice()
    }

    fn walk(&mut self) {
        for _ in 0..400 {
            let run = self.fold();
            self.holds_are_shut(&run);
            let Some(current) = run.current else { return };
            let step = run.steps[current].clone();
            self.reached.insert(step.path.clone());
            self.take(&run, &step);
            let after = self.fold();
            assert_eq!(
                after.steps[current].state,
                State::Done,
                "{}: {}: stuck: {step:#?}",
                self.book.works_on,
                step.path
            );
        }
        panic!("{}: no end", self.book.works_on);
    }

    /// A hold point before which something is not done refuses.
    fn holds_are_shut(&mut self, run: &Run) {
        let Some(current) = run.current else { return };
        for step in &run.steps[current..] {
            if matches!(step.step.kind, StepKind::Hold { .. }) && step.path != run.steps[current].path {
                let mut tried = self.book.clone();
                tried.sign(&step.path, "C. Somebody");
                let hold = tried.fold_without_advice().step(&step.path).and_then(|step| step.hold.clone());
                assert!(hold.is_some_and(|hold| !hold.open()), "{}: {} opens too early", self.book.works_on, step.path);
                self.refused += 1;
            }
        }
    }

    fn take(&mut self, run: &Run, step: &StepState) {
        match &step.step.kind {
            StepKind::Confirm | StepKind::Pass { .. } => {
                self.book.confirm(&step.path);
            }
            StepKind::Instrument(role) => {
                let inches = self.book.airframe().details.units.length() == Unit::Inch;
                let kind = self.book.procedure().roles.iter().find(|known| known.role == *role).expect("a role").kind;
                let (unit, fine) = fine(kind, inches);
                self.book.accept(role, instrument(kind, unit, fine, fine));
            }
            StepKind::Count { expected, .. } => {
                let airframe = self.book.airframe();
                let number = airframe.specification.nominal(expected).map_or(4.0, |number| number.value);
                self.book.count(&step.path, number as u32, 0);
            }
            StepKind::Holes { expected, .. } => self.holes(run, step, expected),
            StepKind::Hold { second_person, .. } => self.sign(run, step, *second_person),
            StepKind::Measure { blind, .. } => {
                let reader = self.book.by.clone();
                if *blind {
                    "B. Helper".clone_into(&mut self.book.by);
                }
                self.measure(step);
                self.book.by = reader;
            }
        }
    }

    /// All holes but the last are done, the last is bad: every later hold point refuses and names it until it is put right.
    fn holes(&mut self, run: &Run, step: &StepState, expected: &str) {
        let number = self.book.airframe().specification.nominal(expected).map_or(4.0, |number| number.value) as u32;
        let rows = [number - number / 3, number / 3];
        self.book.lay_out(&step.path, &rows);
        for (row, length) in (1..).zip(rows) {
            for hole in 1..=length {
                self.book.mark(&step.path, (row, hole), HoleMark::Done, "");
            }
        }
        let last = (2, rows[1]);
        self.book.mark(&step.path, last, HoleMark::Bad, "elongated");
        let open = self.fold();
        let place = run.place(&step.path).expect("there");
        assert_eq!(open.steps[place].state, State::Open, "{}: a bad one is open", step.path);
        let mut told = 0;
        for later in &run.steps[place + 1..] {
            if !matches!(later.step.kind, StepKind::Hold { .. }) {
                continue;
            }
            let mut tried = self.book.clone();
            tried.sign(&later.path, "C. Somebody");
            let tried = tried.fold_without_advice();
            let hold = tried.step(&later.path).and_then(|step| step.hold.clone()).expect("a hold point");
            assert!(!hold.open(), "{}: opens over a bad one", later.path);
            if let Hold::Void(missing) = hold {
                let words: Vec<String> = missing.iter().map(|missing| Words::missing(missing, &tried.steps)).collect();
                let named = format!("row 2, hole {}: elongated", rows[1]);
                assert!(words.iter().any(|words| words.contains(&named)), "{}: {words:?}", later.path);
                told += 1;
            }
            self.refused += 1;
        }
        assert_eq!(told, 1, "{}: the next hold point names it, those behind it are shut by it", step.path);
        self.book.mark(&step.path, last, HoleMark::Done, "");
        assert_eq!(self.fold().steps[place].state, State::Open, "{}: done does not hide a bad one", step.path);
        self.book.mark(&step.path, last, HoleMark::Answered, "next size, by the support's answer");
    }

    fn sign(&mut self, run: &Run, step: &StepState, second_person: bool) {
        let mut by_reader = self.book.clone();
        let reader = self.book.by.clone();
        by_reader.sign(&step.path, &reader);
        let hold = by_reader.fold_without_advice().step(&step.path).and_then(|step| step.hold.clone()).expect("a hold");
        let read = run.steps[..run.place(&step.path).expect("there")].iter().any(|step| step.attempt().is_some());
        if second_person && read && run.steps.iter().any(|step| matches!(step.hold, Some(Hold::Ready(_)))) {
            let since_last_hold = run.steps[..run.place(&step.path).expect("there")]
                .iter()
                .rev()
                .take_while(|step| !matches!(step.step.kind, StepKind::Hold { .. }))
                .filter_map(StepState::attempt)
                .any(|attempt| attempt.readings.iter().any(|reading| reading.by == reader));
            if since_last_hold {
                assert!(!hold.open(), "{}: {}: the reader signs as the second person", self.book.works_on, step.path);
                self.refused += 1;
            }
        }
        self.book.sign(&step.path, "B. Helper");
    }

    /// Readings that put the check in the middle of its limits; of a check without limits, what the sheet names or what is usual.
    fn measure(&mut self, step: &StepState) {
        let StepKind::Measure { slots, check, .. } = &step.step.kind else { return };
        let airframe = self.book.airframe();
        let mut values: Vec<f64> = slots
            .iter()
            .map(|slot| {
                let unit = airframe.instruments.get(&slot.role).expect("accepted before it is read with").0.unit;
                let near = slot.near.as_ref().and_then(|key| airframe.specification.nominal(key));
                let usual = on_scales(&slot.id, unit).unwrap_or_else(|| plausible(unit));
                near.filter(|near| near.unit == unit).map_or(usual, |near| near.value)
            })
            .collect();
        let earlier: Vec<f64> = self.first_reader(check, step);
        if earlier.len() == values.len() {
            values = earlier;
        }
        let with = |book: &Logbook, values: &[f64]| -> (Logbook, Option<(f64, Option<f64>)>) {
            let mut tried = book.clone();
            for (slot, value) in slots.iter().zip(values) {
                for _ in 0..slot.repeats {
                    tried.read(&step.path, &slot.id, *value);
                }
            }
            let run = tried.fold_without_advice();
            let found = run.step(&step.path).and_then(|step| step.result().cloned());
            let value = found.map(|found| {
                let aim = found.limits.and_then(|limits| match (limits.lower, limits.upper) {
                    (Some(lower), Some(upper)) => Some(f64::midpoint(lower, upper)),
                    (Some(lower), None) => Some(lower * 1.5),
                    (None, Some(upper)) => Some(upper * 0.5),
                    (None, None) => None,
                });
                let settled = matches!(found.verdict, Verdict::In | Verdict::NotJudged);
                (found.estimate.value, aim.filter(|_| !settled))
            });
            (tried, value)
        };
        // One reading after the other, the last first, is moved until the check is where it should be.
        for place in (0..values.len()).rev() {
            for _ in 0..12 {
                let Some((now, Some(aim))) = with(&self.book, &values).1 else { break };
                if (now - aim).abs() < 1e-4 {
                    break;
                }
                let mut beside = values.clone();
                beside[place] += 0.01;
                let Some((then, _)) = with(&self.book, &beside).1 else { break };
                let slope = (then - now) / 0.01;
                if slope.abs() < 1e-9 {
                    break;
                }
                values[place] += (aim - now) / slope;
            }
        }
        let (book, found) = with(&self.book, &values);
        assert!(found.is_some(), "{}: {}: {values:?} give no value", self.book.works_on, step.path);
        let run = book.fold_without_advice();
        let result = run.step(&step.path).and_then(|step| step.result().cloned()).expect("a result");
        assert!(
            matches!(result.verdict, Verdict::In | Verdict::NotJudged),
            "{}: {}: {values:?} give {:?} of {:?}: {:?}",
            self.book.works_on,
            step.path,
            result.estimate,
            result.limits,
            result.verdict
        );
        self.book = book;
    }

    /// What the first reader read of the same things, for a blind re-reading.
    fn first_reader(&self, check: &str, step: &StepState) -> Vec<f64> {
        let procedure = self.book.procedure();
        let Some(trammel::procedure::Formula::Agreement { with }) = procedure.check(check).map(|check| &check.formula)
        else {
            return Vec::new();
        };
        let StepKind::Measure { slots, .. } = &step.step.kind else { return Vec::new() };
        let run = self.fold();
        let of = |id: &str| {
            with.iter()
                .filter_map(|path| run.step(path)?.attempt())
                .find_map(|attempt| attempt.of(id).next().map(|reading| reading.value.value))
        };
        slots.iter().filter_map(|slot| of(&slot.id)).collect()
    }
}

/// A question about the last step takes along all that the run follows from: an empty phone works out the same from its file alone.
fn seen_from_afar(walk: &Walk) {
    let mut book = walk.book.clone();
    let run = walk.fold();
    let step = run.steps.last().map(|step| step.path.clone());
    let about = About { run: Some(book.run), step, entry: None };
    let (question, to) = ("Is that all?".to_owned(), "C. Mentor".to_owned());
    let asked = book.put(Body::QuestionAsked(Question { about, question, to }));
    let mut there = Ledger::default();
    there.merge(extract(&book.ledger, asked).expect("a question").entries);
    let airframe = there.airframe(book.airframe).expect("made");
    let entries = there.of_run(book.airframe, book.run);
    let seen = Run::without_advice(book.procedure(), &airframe, book.run, &entries);
    assert!(seen == run, "{}: another run from the extract", book.works_on);
}

/// Two hold points side by side: a stop that is moved after both were signed makes either stale.
fn a_later_move_undoes_both_signatures(walk: &Walk) {
    let mut book = walk.book.clone();
    let signed = |run: &Run| {
        let holds = ["direction-again", "sign"].map(|hold| run.step(hold).expect("a hold").state);
        holds.map(|state| state == State::Done)
    };
    assert_eq!(signed(&walk.fold()), [true; 2]);
    book.moved("direction-again", "stop-aileron-left-up", 1.0);
    assert_eq!(signed(&book.fold_without_advice()), [false; 2]);
}

#[test]
fn every_procedure_comes_to_its_end_on_both_airframes() {
    let (mut walked, mut refused) = (BTreeSet::new(), 0);
    for which in 0..2 {
        let mut book = Logbook::sheet_only(which);
        for (number, procedure) in procedures().enumerate() {
            if !applies_to(procedure, &book.airframe()) {
                continue;
            }
            book.begin(&procedure.id, 0x100 + number as u128);
            let mut walk = Walk { book, reached: BTreeSet::new(), refused: 0 };
            walk.walk();
            let run = walk.fold();
            assert_eq!(run.done(), run.steps.len(), "{}", procedure.id);
            for step in &run.steps {
                // An instrument that an earlier procedure accepted is accepted.
                let accepted = matches!(step.step.kind, StepKind::Instrument(_));
                // What is worked out from earlier readings is there with them.
                let worked_out = matches!(&step.step.kind, StepKind::Measure { slots, .. } if slots.is_empty());
                let reached = accepted || worked_out || walk.reached.contains(&step.path);
                assert!(reached, "{}: {} is never reached", procedure.id, step.path);
            }
            seen_from_afar(&walk);
            if procedure.id == "control-travel" {
                a_later_move_undoes_both_signatures(&walk);
            }
            walked.insert(procedure.id.as_str());
            refused += walk.refused;
            book = walk.book;
        }
        let works = aircraft(&book.airframe(), &book.ledger);
        for work in &works {
            assert_eq!(work.progress, Progress::Done, "{}: {}", work.procedure.id, work.words());
        }
    }
    let all: BTreeSet<&str> = built_in_ids().collect();
    assert_eq!(walked, all, "one of the two airframes has everything");
    assert!(refused > 0);
    let mut out = std::io::stdout().lock();
    writeln!(out, "figure: procedures = {}", all.len()).expect("standard output");
    writeln!(out, "figure: procedures_walked = {}", walked.len()).expect("standard output");
}
