//! A run walked from the first reading to the last, on the bench: every reading honest, every move the app's own advice.

use trammel::metrology::Verdict;
use trammel::procedure::{Attempt, Context, Procedure, Run, Slot, StepKind, TakenReading, context_of, instrument_for};
use trammel::quantity::Quantity;
use trammel::record::{Airframe, Body, Instrument, Reading};

use super::bench::{Bench, Hands};
use crate::support::Logbook;

/// The moment before an honest reading is kept.
pub(crate) struct Moment<'a> {
    pub(crate) procedure: &'a Procedure,
    pub(crate) airframe: &'a Airframe,
    pub(crate) run: &'a Run,
    pub(crate) place: usize,
    pub(crate) check: &'a str,
    pub(crate) slot: &'a Slot,
    pub(crate) instrument: &'a Instrument,
    pub(crate) context: &'a Context,
    /// What was read.
    pub(crate) honest: f64,
    /// Middle and half width of where a reading without a slip can lie, as far as anybody can know at this moment.
    pub(crate) range: Option<(f64, f64)>,
}

/// Walks one run and shows every moment to `see`.
pub(crate) fn walk(which: usize, seed: u64, hands: Hands, see: &mut impl FnMut(&Moment<'_>, &mut Bench)) {
    let bench = Bench::new(which, seed, hands);
    let mut book = Logbook::example(which);
    for role in ["protractor", "tape", "rule"] {
        book.accept(role, bench.instrument(role).clone());
    }
    let airframe = book.airframe();
    let mut walk = Walk { procedure: book.procedure(), airframe, run: book.fold_without_advice(), book, bench };
    for path in ["reversal", "twins", "gaps"] {
        walk.measure(path, see);
    }
    for gate in ["set", "clamped", "piloted"] {
        let checks: &[&str] =
            if which == 0 { &["pitch", "twist", "square", "offset"] } else { &["pitch", "twist", "square"] };
        for check in checks.iter().chain(checks) {
            walk.bring_in(&format!("{gate}/{check}"), see);
        }
        if gate == "clamped" {
            for path in ["edge", "reread"] {
                walk.measure(path, see);
            }
        }
        walk.bench.settle();
    }
}

struct Walk {
    book: Logbook,
    bench: Bench,
    procedure: &'static Procedure,
    airframe: Airframe,
    run: Run,
}

impl Walk {
    /// Measures a step until it is in, three times at most, moving what the app says.
    fn bring_in(&mut self, path: &str, see: &mut impl FnMut(&Moment<'_>, &mut Bench)) {
        for _ in 0..3 {
            let step = self.run.step(path).expect("a step");
            let fresh = step.attempt().is_some_and(|set| set.complete && set.stale.is_none());
            if fresh && step.result().is_some_and(|result| matches!(result.verdict, Verdict::In | Verdict::NotJudged)) {
                return;
            }
            let out = step.result().is_some_and(|result| matches!(result.verdict, Verdict::Out(_)));
            if fresh && (out || self.bench.chance.below(2) == 0) {
                let run = self.book.fold();
                let correction =
                    run.step(path).and_then(|step| step.advice.clone()).and_then(|advice| advice.correction);
                if let Some(correction) = correction {
                    for proposed in correction.moves {
                        self.bench.moved(&proposed.adjuster, proposed.amount.value);
                        self.book.moved(path, &proposed.adjuster, proposed.amount.value);
                    }
                    self.run = self.book.fold_without_advice();
                }
            }
            self.measure(path, see);
        }
    }

    /// Takes one set of a step's readings.
    fn measure(&mut self, path: &str, see: &mut impl FnMut(&Moment<'_>, &mut Bench)) {
        let run = &mut self.run;
        let place = run.place(path).expect("a step");
        let StepKind::Measure { check, slots, blind } = run.steps[place].step.kind.clone() else {
            panic!("{path} is measured")
        };
        let as_check = if check == "second-reader" { "" } else { check.as_str() };
        let set_before = run.steps[place].attempts.iter().rfind(|set| set.complete && !blind);
        let unmoved = set_before.map(|set| set.stale.is_none());
        let gate_before = run.steps[..place].iter().rev().find(|step| measures(&step.step.kind, &check));
        let settled = gate_before.and_then(|step| step.attempt()).is_some_and(|set| set.stale.is_none());
        run.steps[place].attempts.push(Attempt::default());
        run.steps[place].results.push(None);
        for slot in &slots {
            let step = &run.steps[place];
            let instrument = instrument_for(self.procedure, &self.airframe, step, slot).expect("accepted");
            for repeat in 0..slot.repeats {
                let step = &run.steps[place];
                let context = context_of(self.procedure, &self.airframe, run, step, slot, &instrument);
                let mean = self.bench.mean(as_check, &slot.id);
                let scatter = 4.0 * self.bench.scatter(&slot.role, &slot.id) + instrument.step;
                let range = if repeat > 0 || unmoved == Some(true) {
                    Some((mean, scatter))
                } else if unmoved.is_none() && settled {
                    Some((mean, scatter + self.bench.settles_by(&slot.role)))
                } else {
                    self.bench.first_range(&slot.id)
                };
                let honest = self.bench.read(as_check, &slot.id, &slot.role);
                let moment = Moment {
                    procedure: self.procedure,
                    airframe: &self.airframe,
                    run,
                    place,
                    check: as_check,
                    slot,
                    instrument: &instrument,
                    context: &context,
                    honest,
                    range,
                };
                see(&moment, &mut self.bench);
                let value = Quantity::new(honest, instrument.unit, instrument.step);
                let entry = self.book.put(Body::ReadingTaken(Reading {
                    run: run.id,
                    step: path.to_owned(),
                    slot: slot.id.clone(),
                    value: value.clone(),
                    instrument: instrument.clone(),
                    asked: None,
                }));
                let taken = TakenReading {
                    entry,
                    slot: slot.id.clone(),
                    value,
                    instrument: instrument.clone(),
                    by: self.book.by.clone(),
                };
                run.steps[place].attempts.last_mut().expect("begun").readings.push(taken);
            }
        }
        self.run = self.book.fold_without_advice();
    }
}

fn measures(kind: &StepKind, id: &str) -> bool {
    matches!(kind, StepKind::Measure { check, .. } if check == id)
}
