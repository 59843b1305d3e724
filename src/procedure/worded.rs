//! The texts of a procedure that a person reads, apart from its keys: what a language changes.
//!
//! A gate and the options of a choice are keys too (they stand in paths and in the record): they are looked up where they are shown.

use super::{Procedure, Step, StepKind};

/// Every text that is no key, one after the other.
pub(super) fn each_text(procedure: &mut Procedure, change: &mut impl FnMut(&mut String)) {
    change(&mut procedure.title);
    change(&mut procedure.purpose);
    procedure.tools.iter_mut().for_each(&mut *change);
    procedure.cautions.iter_mut().for_each(&mut *change);
    for item in &mut procedure.specification {
        change(&mut item.title);
        change(&mut item.help);
    }
    for role in &mut procedure.roles {
        change(&mut role.title);
    }
    for check in &mut procedure.checks {
        for text in [&mut check.title, &mut check.plus, &mut check.minus] {
            change(text);
        }
    }
    for adjuster in &mut procedure.adjusters {
        for text in [&mut adjuster.title, &mut adjuster.plus, &mut adjuster.minus] {
            change(text);
        }
    }
    let inner = procedure.passes.iter_mut().flat_map(|pass| &mut pass.steps);
    for step in inner.chain(&mut procedure.steps) {
        each_of_step(step, change);
    }
}

fn each_of_step(step: &mut Step, change: &mut impl FnMut(&mut String)) {
    change(&mut step.title);
    step.text.iter_mut().for_each(&mut *change);
    step.cautions.iter_mut().for_each(&mut *change);
    match &mut step.kind {
        StepKind::Measure { slots, .. } => {
            for slot in slots {
                change(&mut slot.title);
                change(&mut slot.place);
                if let Some(ask) = &mut slot.ask {
                    for text in [&mut ask.question, &mut ask.plus, &mut ask.minus] {
                        change(text);
                    }
                }
            }
        }
        StepKind::Count { what, .. } => change(what),
        StepKind::Holes { what, reasons, .. } => {
            change(what);
            reasons.iter_mut().for_each(change);
        }
        StepKind::Hold { statement, .. } => change(statement),
        StepKind::Confirm | StepKind::Instrument(_) | StepKind::Pass { .. } => {}
    }
}

/// Every text of the built-in procedures that a catalogue has to hold, each once: what [`each_text`] finds, the gates, the options.
pub fn worded_texts() -> Vec<String> {
    let mut found = Vec::new();
    for procedure in super::library::procedures() {
        each_text(&mut procedure.clone(), &mut |text| found.push(text.clone()));
        found.extend(procedure.specification.iter().flat_map(|item| item.options.clone()));
        found.extend(procedure.laid_out().into_iter().filter_map(|(_, gate, _)| gate));
    }
    let mut seen = std::collections::HashSet::new();
    found.retain(|text| !text.is_empty() && seen.insert(text.clone()));
    found
}
