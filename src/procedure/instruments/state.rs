//! What an instrument is now, and what is said of it.

use chrono::NaiveDate;

use super::describe::class_label;
use super::reversal::{reversed, zero_of};
use crate::language::tr;
use crate::metrology::{Estimate, rough};
use crate::procedure::{Formula, Procedure, Run, Slot, StepKind, StepState};
use crate::quantity::{Unit, print};
use crate::record::{Airframe, Instrument, InstrumentKind, Mode, Reversal, day_text};

/// The instrument that plays a role, as it is now: with the zero error that its last reversal check found.
#[must_use]
pub fn instrument_now(airframe: &Airframe, role: &str) -> Option<Instrument> {
    let mut instrument = airframe.instruments.get(role)?.0.clone();
    let found = airframe.instruments.reversal(role).and_then(|reversal| zero_of(reversal, &instrument));
    instrument.zero = found.or(instrument.zero);
    Some(instrument)
}

/// The instrument that a slot of a step is read with, in the mode that the check asks for.
#[must_use]
pub fn instrument_for(procedure: &Procedure, airframe: &Airframe, step: &StepState, slot: &Slot) -> Option<Instrument> {
    let mut instrument = instrument_now(airframe, &slot.role)?;
    if instrument.kind == InstrumentKind::Protractor
        && let StepKind::Measure { check, .. } = &step.step.kind
    {
        let relative = zeroed_on_part(procedure, check, &slot.id);
        instrument.mode = Some(if relative { Mode::Relative } else { Mode::Absolute });
    }
    Some(instrument)
}

/// Whether a check's reading is taken with the instrument zeroed on a face of the part. A blind re-reading is taken as what it
/// reads again was.
fn zeroed_on_part(procedure: &Procedure, check: &str, slot: &str) -> bool {
    match procedure.check(check).map(|check| &check.formula) {
        Some(Formula::Balance { zeroed, .. }) => *zeroed,
        Some(Formula::Reckoned(reckoned)) => reckoned.zeroed,
        Some(Formula::Agreement { with }) => procedure.laid_out().iter().any(|(path, _, step)| match &step.kind {
            StepKind::Measure { check: first, slots, .. } => {
                with.contains(path)
                    && first != check
                    && slots.iter().any(|read| read.id == slot)
                    && zeroed_on_part(procedure, first, slot)
            }
            _ => false,
        }),
        Some(Formula::Largest { .. }) | None => false,
    }
}

/// The mode that an instrument was last read in during a run.
pub(in crate::procedure) fn last_mode(run: &Run, instrument: &Instrument) -> Option<Mode> {
    let readings = run.steps.iter().flat_map(|step| step.attempts.iter().flat_map(|set| &set.readings));
    let its = readings
        .filter(|reading| (reading.instrument.kind, &reading.instrument.name) == (instrument.kind, &instrument.name));
    its.max_by_key(|reading| reading.entry)?.instrument.mode
}

/// What has to be said of an instrument before a number is read off it: its mode, that it was last used in the other one, that
/// its check is overdue.
#[must_use]
pub fn state_words(run: &Run, instrument: &Instrument, today: NaiveDate) -> Vec<String> {
    let mut words = Vec::new();
    if let Some(mode) = instrument.mode {
        let other = last_mode(run, instrument).filter(|before| *before != mode);
        words.push(match (mode, other.is_some()) {
            (Mode::Absolute, false) => tr!("Absolute mode: its zero is level."),
            (Mode::Absolute, true) => tr!("It was last read in relative mode: set it back to absolute first."),
            (Mode::Relative, false) => tr!("Relative mode: its zero is the face named here."),
            (Mode::Relative, true) => {
                tr!("It was last read in absolute mode: set it to relative and zero it on the face named here.")
            }
        });
    }
    words.extend(overdue_words(instrument, today));
    words
}

/// What is said of an instrument on its page, one sentence each.
#[must_use]
pub fn instrument_words(instrument: &Instrument, today: NaiveDate) -> Vec<String> {
    let shown = |number| print(number, instrument.unit, 0.0);
    let mut words = vec![tr!(
        "Reads to {step}, good to {limit}.",
        step = shown(instrument.step),
        limit = shown(instrument.accuracy)
    )];
    if let Some(class) = instrument.class.map(class_label) {
        words.push(tr!("{class}: its limit of error grows with the length.", class));
    }
    words.push(match (instrument.checked, overdue_words(instrument, today)) {
        (None, _) => tr!("Nobody has entered when it was last checked against a reference."),
        (Some(day), None) => tr!("Last checked {day}.", day = day_text(day)),
        (Some(day), Some(overdue)) => tr!("Last checked {day}. {overdue}", day = day_text(day), overdue),
    });
    words
}

/// The note that its check is overdue; `None` when it is not.
#[must_use]
pub(super) fn overdue_words(instrument: &Instrument, today: NaiveDate) -> Option<String> {
    let days = instrument.overdue(today)?;
    Some(tr!(
        "{instrument} is 1 day over its time for a check."
            | "{instrument} is {n} days over its time for a check." % days.unsigned_abs(),
        instrument = instrument.name
    ))
}

/// What a reversal check found, one sentence each.
#[must_use]
pub fn reversal_words(reversal: &Reversal, instrument: &Instrument) -> Vec<String> {
    let Some((zero, slope)) = reversed(reversal, instrument) else { return Vec::new() };
    let fine = instrument.step / 2.0;
    let said = |estimate: Estimate| {
        tr!(
            "{value} (give or take {amount})",
            value = print(estimate.value, estimate.unit, fine),
            amount = rough(estimate.expanded(), estimate.unit)
        )
    };
    let mut words =
        vec![tr!("Zero error {zero}. The bar itself slopes {slope}.", zero = said(zero), slope = said(slope))];
    if zero.value.abs() > instrument.accuracy + zero.expanded() {
        words.push(tr!(
            "That is more than the {limit} it is good to: set its zero anew as its leaflet says, or take another.",
            limit = print(instrument.accuracy, instrument.unit, 0.0)
        ));
    }
    if instrument.unit == Unit::Degree {
        words.push(tr!("A reading taken both ways round is free of it."));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Quantity;
    use crate::record::{AccuracyClass, InstrumentKind};

    fn level() -> Instrument {
        Instrument::new(InstrumentKind::Protractor, "Bench level".to_owned(), Unit::Degree, 0.1, 0.1)
    }

    #[test]
    fn what_is_said_of_an_instrument() {
        let day = |text: &str| crate::record::day(text).expect("a date");
        let mut tape = Instrument::new(InstrumentKind::Tape, "8 m".to_owned(), Unit::Millimetre, 1.0, 1.3);
        tape.class = Some(AccuracyClass::II);
        (tape.checked, tape.due_after) = (Some(day("2026-01-01")), Some(30));
        assert_eq!(
            instrument_words(&tape, day("2026-02-02")),
            [
                "Reads to 1 mm, good to 1.3 mm.",
                "Class II: its limit of error grows with the length.",
                "Last checked 2026-01-01. 8 m is 2 days over its time for a check.",
            ]
        );
        assert_eq!(
            instrument_words(&level(), day("2026-02-02")),
            ["Reads to 0.1°, good to 0.1°.", "Nobody has entered when it was last checked against a reference."]
        );
    }

    #[test]
    fn what_is_said_of_a_reversal() {
        let read = |value| Quantity::new(value, Unit::Degree, 0.1);
        let small = Reversal { first: read(0.3), turned: read(-0.1) };
        assert_eq!(
            reversal_words(&small, &level()),
            [
                "Zero error 0.10° (give or take 0.04°). The bar itself slopes 0.20° (give or take 0.04°).",
                "A reading taken both ways round is free of it.",
            ]
        );
        let large = Reversal { first: read(0.6), turned: read(0.2) };
        let words = reversal_words(&large, &level());
        assert_eq!(
            words[1],
            "That is more than the 0.1° it is good to: set its zero anew as its leaflet says, or take another."
        );
    }
}
