//! Writing and changing a procedure without writing a file: its parts, the fields of each, what a field's words do, and the changes
//! that keep everything that names a part true.
//!
//! The page that draws this knows no procedure: it asks [`fields`] what a [`Part`] consists of, draws each by its [`FieldForm`], and
//! hands back what was typed to [`set`]. A procedure that is being written may be wrong at any moment; [`crate::procedure::faults`]
//! says so in plain words, and only one without faults is kept.

mod cell;
mod change;
mod form;
mod judged;
mod known;
mod outline;
mod part;
mod steps;

#[cfg(test)]
mod tests;

pub use cell::{Field, FieldForm};
pub use change::{add, blank, free_id, remove, set, shift};
pub use known::{Choosable, numbers_of_the_sheet};
pub use outline::{Section, outline, part_of, readings_of};
pub use part::{Kind, Part, StepAt};

use crate::procedure::Procedure;
use cell::Visitor;
use known::Known;

/// The fields of a part, in their order, with what they say now.
#[must_use]
pub fn fields(procedure: &Procedure, part: Part) -> Vec<Field> {
    let known = Known::of(procedure, part);
    let (mut copy, mut found) = (procedure.clone(), Vec::new());
    visit(&mut copy, part, &known, &mut Visitor::new(&mut |field, _| found.push(field)));
    found
}

/// Shows the visitor every field of a part with the cell behind it, one after the other.
fn visit(procedure: &mut Procedure, part: Part, known: &Known, visitor: &mut Visitor<'_>) {
    match part {
        Part::About => form::about(procedure, known, visitor),
        Part::Number(place) => procedure.specification.get_mut(place).into_iter().for_each(|item| {
            form::number(item, known, visitor);
        }),
        Part::Instrument(place) => procedure.roles.get_mut(place).into_iter().for_each(|role| {
            form::instrument(role, visitor);
        }),
        Part::Check(place) => procedure.checks.get_mut(place).into_iter().for_each(|check| {
            judged::check(check, known, visitor);
        }),
        Part::Adjuster(place) => procedure.adjusters.get_mut(place).into_iter().for_each(|adjuster| {
            judged::adjuster(adjuster, known, visitor);
        }),
        Part::Group(place) => form::group(procedure, place, visitor),
        Part::Step(at) => at.of_mut(procedure).into_iter().for_each(|step| steps::step(step, known, visitor)),
        Part::Reading(at, place) => {
            at.slots_mut(procedure).and_then(|slots| slots.get_mut(place)).into_iter().for_each(|slot| {
                steps::reading(slot, known, visitor);
            });
        }
    }
}
