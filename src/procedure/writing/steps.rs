//! The fields of a step and of a reading.

use super::cell::{AskWords, FieldForm, Flag, Key, Lines, Made, Text, Times, Visitor};
use super::change::slug;
use super::form::{item, only_if, with_none};
use super::known::Known;
use crate::language::{self, words};
use crate::procedure::{Picture, Slot, Step, StepKind};

pub(super) fn step(step: &mut Step, known: &Known, visitor: &mut Visitor<'_>) {
    visitor.line("title", words!("What is it called?"), "", &mut step.title);
    let text = &mut Lines(&mut step.text);
    let hint = words!("What to do with the hands, where to look, what number comes out: one thing a line.");
    visitor.field("text", words!("What is done?"), hint, FieldForm::Lines, text);
    let cautions = &mut Lines(&mut step.cautions);
    visitor.field(
        "cautions",
        words!("Cautions of this step"),
        words!("One sentence a line."),
        FieldForm::Lines,
        cautions,
    );
    let kind = &mut Made { of: &mut step.kind, read: &kind_word, write: &change_kind };
    visitor.field("kind", words!("What kind of step is it?"), "", FieldForm::One(kinds()), kind);
    match &mut step.kind {
        StepKind::Confirm => {}
        StepKind::Instrument(role) => one("role", words!("Which instrument?"), &known.roles, role, visitor),
        StepKind::Measure { check, blind, .. } => {
            one("check", words!("What is worked out from its readings?"), &known.checks, check, visitor);
            let hint = words!("Somebody else reads, who has not seen the first values.");
            visitor.field("blind", words!("A second person reads it"), hint, FieldForm::Yes, &mut Flag(blind));
        }
        StepKind::Count { expected, what } => {
            visitor.line("what", words!("What is counted?"), words!("Holes, rivets, bolts."), what);
            one("expected", words!("How many there are, by the manual"), &known.counts, expected, visitor);
        }
        StepKind::Holes { expected, what, reasons } => {
            visitor.line("what", words!("What is marked?"), words!("Holes, rivets, bolts."), what);
            one("expected", words!("How many there are, by the manual"), &known.counts, expected, visitor);
            let hint = words!("Words to choose from when one is bad: tilted, cracked. One a line.");
            visitor.field(
                "reasons",
                words!("What can be wrong with one?"),
                hint,
                FieldForm::Lines,
                &mut Lines(reasons),
            );
        }
        StepKind::Hold { second_person, statement } => {
            let words = &mut Text(statement);
            visitor.field("statement", words!("What does the signature say?"), "", FieldForm::Lines, words);
            let hint = words!("Somebody other than the one who took the readings.");
            visitor.field(
                "second-person",
                words!("A second person signs"),
                hint,
                FieldForm::Yes,
                &mut Flag(second_person),
            );
        }
        StepKind::Pass { gate, of } => {
            let read = |gate: &String| gate.clone();
            // It stands in addresses; while it is typed it may be empty.
            let write = |gate: &mut String, words: &str| {
                *gate = if words.trim().is_empty() { String::new() } else { slug(words, |_| false) };
            };
            let cell = &mut Made { of: gate, read: &read, write: &write };
            visitor.field(
                "gate",
                words!("At which gate?"),
                words!("Set, clamped, piloted, drilled: one word."),
                FieldForm::Line,
                cell,
            );
            one("of", words!("Which group of steps is repeated?"), &known.groups, of, visitor);
        }
    }
    let pictures = pictures();
    let read = |picture: &Option<Picture>| picture.map(|picture| picture.name().to_owned()).unwrap_or_default();
    let write = |picture: &mut Option<Picture>, words: &str| *picture = Picture::try_from(words.to_owned()).ok();
    let cell = &mut Made { of: &mut step.picture, read: &read, write: &write };
    let form = FieldForm::One(with_none(words!("No drawing"), &pictures));
    visitor.field("picture", words!("What is drawn beside it?"), "", form, cell);
    only_if(&mut step.only_if, &known.conditions, visitor);
}

pub(super) fn reading(slot: &mut Slot, known: &Known, visitor: &mut Visitor<'_>) {
    visitor.line(
        "title",
        words!("What is read?"),
        words!("Say which side: the pilot's left or right."),
        &mut slot.title,
    );
    let place = &mut Text(&mut slot.place);
    let hint = words!("Where to hold the instrument, and how.");
    visitor.field("place", words!("Between which points?"), hint, FieldForm::Lines, place);
    one("role", words!("With which instrument?"), &known.roles, &mut slot.role, visitor);
    let hint = words!("Lifted off and laid on again in between.");
    visitor.field("repeats", words!("How often is it read?"), hint, FieldForm::Number, &mut Times(&mut slot.repeats));
    let hint =
        words!("Nobody is asked for a minus: ask which end is high, which side is low. Empty where there is no sign.");
    let question = &mut AskWords(&mut slot.ask, |ask| &mut ask.question);
    visitor.field("question", words!("What question gives it its sign?"), hint, FieldForm::Line, question);
    if slot.ask.is_some() {
        let plus = &mut AskWords(&mut slot.ask, |ask| &mut ask.plus);
        visitor.field("plus", words!("The answer that counts plus"), "", FieldForm::Line, plus);
        let minus = &mut AskWords(&mut slot.ask, |ask| &mut ask.minus);
        visitor.field("minus", words!("The answer that counts minus"), "", FieldForm::Line, minus);
    }
    item(
        "near",
        words!("Which number of the manual should it be near?"),
        words!("None"),
        &known.items,
        visitor,
        &mut slot.near,
    );
    let form = FieldForm::One(with_none(words!("None"), &known.readings));
    let hint = words!("A slip of the finger shows when the two sides differ much.");
    visitor.field(
        "partner",
        words!("Which reading is its twin on the other side?"),
        hint,
        form,
        &mut Key(&mut slot.partner),
    );
}

/// One of the parts that the procedure has.
fn one(
    key: &'static str,
    label: &'static str,
    options: &[super::Choosable],
    chosen: &mut String,
    visitor: &mut Visitor<'_>,
) {
    let none =
        if options.is_empty() { words!("None yet: add one to the procedure first") } else { words!("Choose one") };
    visitor.field(key, label, "", FieldForm::One(with_none(none, options)), &mut Text(chosen));
}

/// The kinds of step, by the words that files use.
fn kinds() -> Vec<super::Choosable> {
    [
        ("confirm", words!("Do it and say so")),
        ("instrument", words!("Accept an instrument")),
        ("measure", words!("Read and judge")),
        ("count", words!("Count things done")),
        ("holes", words!("Mark each hole or rivet on a map")),
        ("hold", words!("Hold point: sign before going on")),
        ("pass", words!("Repeat a group of steps at a gate")),
    ]
    .iter()
    .map(|(key, words)| ((*key).to_owned(), (*words).to_owned()))
    .collect()
}

fn kind_word(kind: &StepKind) -> String {
    match kind {
        StepKind::Confirm => "confirm",
        StepKind::Instrument(_) => "instrument",
        StepKind::Measure { .. } => "measure",
        StepKind::Count { .. } => "count",
        StepKind::Holes { .. } => "holes",
        StepKind::Hold { .. } => "hold",
        StepKind::Pass { .. } => "pass",
    }
    .to_owned()
}

/// Another kind begins empty; the same kind keeps what it has.
fn change_kind(kind: &mut StepKind, words: &str) {
    if kind_word(kind) == words {
        return;
    }
    *kind = match words {
        "instrument" => StepKind::Instrument(String::new()),
        "measure" => StepKind::Measure { check: String::new(), slots: Vec::new(), blind: false },
        "count" => StepKind::Count { expected: String::new(), what: String::new() },
        "holes" => StepKind::Holes { expected: String::new(), what: String::new(), reasons: Vec::new() },
        "hold" => StepKind::Hold { second_person: false, statement: String::new() },
        "pass" => StepKind::Pass { gate: String::new(), of: String::new() },
        _ => StepKind::Confirm,
    };
}

/// Every drawing: its name, in words.
fn pictures() -> Vec<super::Choosable> {
    let words = |name: &str| match name {
        "side" => words!("Side").to_owned(),
        "plan" => words!("Plan").to_owned(),
        "rear" => words!("Rear").to_owned(),
        // The others stand in the figures' file.
        name => {
            let words = name.replace('-', " ");
            language::of_file(&(words[..1].to_ascii_uppercase() + &words[1..]))
        }
    };
    Picture::names().map(|name| (name.to_owned(), words(name))).collect()
}
