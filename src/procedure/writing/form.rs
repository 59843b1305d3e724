//! The fields of what stands before the steps: about, numbers, instruments, groups.

use super::cell::{FieldForm, Key, Lines, Made, Named, OneOf, OnlyIf, Text, Visitor, options};
use super::change::slug;
use super::known::{Known, QUANTITIES, without};
use crate::language::{later, words};
use crate::procedure::{Procedure, Role, SpecForm, SpecItem, StepKind};
use crate::record::InstrumentKind;

pub(super) fn about(procedure: &mut Procedure, known: &Known, visitor: &mut Visitor<'_>) {
    visitor.line("title", words!("What is it called?"), "", &mut procedure.title);
    let purpose = &mut Text(&mut procedure.purpose);
    visitor.field("purpose", words!("What is it for?"), words!("A sentence or two."), FieldForm::Lines, purpose);
    let tools = &mut Lines(&mut procedure.tools);
    visitor.field("tools", words!("What must be at hand?"), words!("One thing a line."), FieldForm::Lines, tools);
    let cautions = &mut Lines(&mut procedure.cautions);
    visitor.field(
        "cautions",
        words!("Cautions"),
        words!(
            "What could hurt somebody or spoil the part: one sentence a line. They are shown before the first step."
        ),
        FieldForm::Lines,
        cautions,
    );
    let needs = FieldForm::Any(known.procedures.clone());
    visitor.field("needs", words!("What should be finished first?"), "", needs, &mut Lines(&mut procedure.needs));
    only_if(&mut procedure.only_if, &known.conditions, visitor);
}

pub(super) fn number(item: &mut SpecItem, known: &Known, visitor: &mut Visitor<'_>) {
    visitor.line("title", words!("What is it called?"), "", &mut item.title);
    let help = &mut Text(&mut item.help);
    visitor.field(
        "help",
        words!("Where does the builder find it?"),
        words!("In the manual, or how to measure it."),
        FieldForm::Lines,
        help,
    );
    let hint = words!("The number itself is the airframe's: it is typed by the builder, never here.");
    visitor.field("form", words!("What is typed?"), hint, options(&FORMS), &mut OneOf(&mut item.form, &FORMS));
    match item.form {
        SpecForm::Choice => {
            let options = &mut Lines(&mut item.options);
            visitor.field(
                "options",
                words!("Of what is it chosen?"),
                words!("One a line, two at least."),
                FieldForm::Lines,
                options,
            );
        }
        SpecForm::Toleranced
        | SpecForm::AtMost
        | SpecForm::AtLeast
        | SpecForm::Range
        | SpecForm::EqualWithin
        | SpecForm::Amount => {
            visitor.field(
                "of",
                words!("What does it measure?"),
                "",
                options(&QUANTITIES),
                &mut OneOf(&mut item.of, &QUANTITIES),
            );
        }
        _ => {}
    }
    only_if(&mut item.only_if, &without(&known.conditions, &item.key), visitor);
}

pub(super) fn instrument(role: &mut Role, visitor: &mut Visitor<'_>) {
    visitor.line("title", words!("What is it called?"), "", &mut role.title);
    let kinds = InstrumentKind::ALL.iter().map(|kind| (kind.key().to_owned(), kind.title().to_owned())).collect();
    let read = |kind: &InstrumentKind| kind.key().to_owned();
    let write = |kind: &mut InstrumentKind, words: &str| {
        *kind = InstrumentKind::ALL.into_iter().find(|other| other.key() == words).unwrap_or(*kind);
    };
    let cell = &mut Made { of: &mut role.kind, read: &read, write: &write };
    visitor.field("kind", words!("What kind is it?"), "", FieldForm::One(kinds), cell);
}

pub(super) fn group(procedure: &mut Procedure, place: usize, visitor: &mut Visitor<'_>) {
    let Some(group) = procedure.passes.get(place) else { return };
    let name = group.id.clone();
    let rename = |procedure: &mut Procedure, words: &str| {
        let new = slug(words, |key| procedure.passes.iter().any(|pass| pass.id == key && pass.id != name));
        for step in &mut procedure.steps {
            if let StepKind::Pass { of, .. } = &mut step.kind
                && *of == name
            {
                of.clone_from(&new);
            }
        }
        procedure.passes[place].id = new;
    };
    let read = |_: &Procedure| name.clone();
    let cell = &mut Made { of: procedure, read: &read, write: &rename };
    visitor.field(
        "name",
        words!("Name of the group"),
        words!("Its steps are added below, and a step of the procedure repeats it."),
        FieldForm::Line,
        cell,
    );
}

/// On which airframes: those on which a choice of the sheet is made so.
pub(super) fn only_if(
    condition: &mut Option<crate::procedure::Condition>,
    conditions: &[super::Choosable],
    visitor: &mut Visitor<'_>,
) {
    if conditions.is_empty() && condition.is_none() {
        return;
    }
    let form = FieldForm::One(with_none(words!("On every airframe"), conditions));
    visitor.field("only-if", words!("Where does it apply?"), "", form, &mut OnlyIf(condition));
}

/// Options with one before them that chooses nothing.
pub(super) fn with_none(none: &str, options: &[super::Choosable]) -> Vec<super::Choosable> {
    std::iter::once((String::new(), none.to_owned())).chain(options.iter().cloned()).collect()
}

/// An item of the specification that may be left out.
pub(super) fn item(
    key: impl Into<String>,
    label: impl Into<String>,
    none: &str,
    options: &[super::Choosable],
    visitor: &mut Visitor<'_>,
    chosen: &mut Option<String>,
) {
    visitor.field(key, label, "", FieldForm::One(with_none(none, options)), &mut Key(chosen));
}

const FORMS: [Named<SpecForm>; 14] = [
    (SpecForm::TolerancedAngle, "toleranced-angle", later::words!("An angle and its tolerance")),
    (SpecForm::TolerancedLength, "toleranced-length", later::words!("A length and its tolerance")),
    (SpecForm::Toleranced, "toleranced", later::words!("Another quantity and its tolerance")),
    (SpecForm::EqualWithin, "equal-within", later::words!("How much left and right may differ")),
    (SpecForm::AtMost, "at-most", later::words!("The most that it may be")),
    (SpecForm::AtLeast, "at-least", later::words!("The least that it may be")),
    (SpecForm::Range, "range", later::words!("The least and the most")),
    (SpecForm::Length, "length", later::words!("A length")),
    (SpecForm::Angle, "angle", later::words!("An angle")),
    (SpecForm::Amount, "amount", later::words!("Another quantity")),
    (SpecForm::Count, "count", later::words!("A number of things")),
    (SpecForm::Chart, "chart", later::words!("A chart of tension against temperature")),
    (SpecForm::Choice, "choice", later::words!("One of several")),
    (SpecForm::Words, "words", later::words!("Words")),
];
