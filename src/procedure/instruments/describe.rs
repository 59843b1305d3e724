//! From what is typed of an instrument to the instrument, and back.

use std::fmt;

use crate::language::words;
use crate::procedure::Preset;
use crate::quantity::{ParseError, parse, print_number};
use crate::record::{AccuracyClass, Instrument, InstrumentKind, MAX_TEXT, day, day_text};

/// The texts of an instrument's fields.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct InstrumentDraft {
    /// What is written on it; blank becomes what its kind is called.
    pub name: String,
    /// Its limit of error in its unit, where its card says another than the preset.
    pub accuracy: String,
    /// "I", "II", "III", "HB44", or blank.
    pub class: String,
    /// The day of its last check: 2026-03-31, or blank.
    pub checked: String,
    /// For how many days that check holds, or blank.
    pub due_after: String,
}

/// Why an instrument was not accepted: the text that the person reads.
#[derive(Clone, Debug, PartialEq)]
pub enum InstrumentError {
    /// The limit of error is not a number.
    Unreadable(ParseError),
    /// A limit of error is a positive amount.
    NotPositive,
    /// The day is not one.
    NoSuchDay,
    /// The number of days is not a whole number from 1 to 36 500.
    NotDays,
}

impl fmt::Display for InstrumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(error) => error.fmt(f),
            Self::NotPositive => f.write_str(words!("How far it may be off is a positive amount.")),
            Self::NoSuchDay => {
                f.write_str(words!("Enter the day of the last check as year-month-day, or leave it blank."))
            }
            Self::NotDays => f.write_str(words!("For how many days the check holds is a whole number, or blank.")),
        }
    }
}

/// Classes as they are chosen, with their keys.
const CLASSES: [(AccuracyClass, &str); 4] = [
    (AccuracyClass::I, "I"),
    (AccuracyClass::II, "II"),
    (AccuracyClass::III, "III"),
    (AccuracyClass::Handbook44, "HB44"),
];

/// What a class is called.
pub(super) fn class_label(class: AccuracyClass) -> &'static str {
    match class {
        AccuracyClass::I => words!("Class I"),
        AccuracyClass::II => words!("Class II"),
        AccuracyClass::III => words!("Class III"),
        AccuracyClass::Handbook44 => words!("US trade tape"),
    }
}

impl InstrumentDraft {
    /// The classes that can be chosen for a kind, as keys and labels; none for what has no such classes.
    #[must_use]
    pub fn classes(kind: InstrumentKind) -> Vec<(String, String)> {
        if kind != InstrumentKind::Tape {
            return Vec::new();
        }
        let none = (String::new(), words!("None printed").to_owned());
        let known = CLASSES.iter().map(|(class, key)| ((*key).to_owned(), class_label(*class).to_owned()));
        std::iter::once(none).chain(known).collect()
    }
}

/// Reads an instrument's fields. A blank limit of error is the preset's.
///
/// # Errors
/// The first field that cannot be read.
pub fn describe(draft: &InstrumentDraft, kind: InstrumentKind, preset: Preset) -> Result<Instrument, InstrumentError> {
    let Preset { unit, step, accuracy } = preset;
    let typed = draft.name.trim();
    let name = if typed.is_empty() { kind.title() } else { typed };
    let end = name.char_indices().nth(MAX_TEXT / 4).map_or(name.len(), |(end, _)| end);
    let mut instrument = Instrument::new(kind, name[..end].to_owned(), unit, step, accuracy);
    if !draft.accuracy.trim().is_empty() {
        let limit = parse(&draft.accuracy, unit, step).map_err(InstrumentError::Unreadable)?;
        if limit.value <= 0.0 {
            return Err(InstrumentError::NotPositive);
        }
        instrument.accuracy = limit.value;
    }
    instrument.class =
        CLASSES.iter().find(|(_, key)| kind == InstrumentKind::Tape && *key == draft.class).map(|(class, _)| *class);
    if !draft.checked.trim().is_empty() {
        instrument.checked = Some(day(draft.checked.trim()).ok_or(InstrumentError::NoSuchDay)?);
    }
    if !draft.due_after.trim().is_empty() {
        let days = draft.due_after.trim().parse::<u32>().ok().filter(|days| (1..=36_500).contains(days));
        instrument.due_after = Some(days.ok_or(InstrumentError::NotDays)?);
    }
    Ok(instrument)
}

/// The fields that give an instrument back, beside its preset's own limit of error.
#[must_use]
pub fn draft_of_instrument(instrument: &Instrument, preset: Preset) -> InstrumentDraft {
    let class = CLASSES.iter().find(|(class, _)| Some(*class) == instrument.class);
    let other = instrument.accuracy != preset.accuracy;
    let accuracy = print_number(instrument.accuracy, instrument.unit, 0.0);
    InstrumentDraft {
        name: instrument.name.clone(),
        accuracy: if other { accuracy } else { String::new() },
        class: class.map(|(_, key)| (*key).to_owned()).unwrap_or_default(),
        checked: instrument.checked.map(day_text).unwrap_or_default(),
        due_after: instrument.due_after.map(|days| days.to_string()).unwrap_or_default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::presets;
    use crate::record::Units;

    fn tape() -> Preset {
        presets(InstrumentKind::Tape, Units::Inches)[1]
    }

    #[test]
    fn what_was_typed_of_an_instrument_comes_back() {
        let draft = InstrumentDraft {
            name: "8 m, yellow".to_owned(),
            accuracy: "3/64".to_owned(),
            class: "II".to_owned(),
            checked: "2026-03-31".to_owned(),
            due_after: "365".to_owned(),
        };
        let instrument = describe(&draft, InstrumentKind::Tape, tape()).expect("an instrument");
        assert_eq!(instrument.accuracy, 3.0 / 64.0);
        assert_eq!(instrument.class, Some(AccuracyClass::II));
        assert_eq!(draft_of_instrument(&instrument, tape()), draft);
    }

    #[test]
    fn a_blank_form_is_the_preset_under_the_name_of_its_kind() {
        let instrument = describe(&InstrumentDraft::default(), InstrumentKind::Tape, tape()).expect("an instrument");
        assert_eq!((instrument.name.as_str(), instrument.accuracy), ("Steel tape", 1.0 / 16.0));
        assert_eq!(instrument.checked, None);
    }

    #[test]
    fn what_cannot_be_is_said_in_words() {
        let said = |change: fn(&mut InstrumentDraft)| {
            let mut draft = InstrumentDraft::default();
            change(&mut draft);
            describe(&draft, InstrumentKind::Tape, tape()).expect_err("refused").to_string()
        };
        assert_eq!(said(|draft| draft.accuracy = "0".to_owned()), "How far it may be off is a positive amount.");
        assert_eq!(said(|draft| draft.checked = "2026-02-30".to_owned()), InstrumentError::NoSuchDay.to_string());
        assert_eq!(said(|draft| draft.due_after = "0".to_owned()), InstrumentError::NotDays.to_string());
        assert_eq!(said(|draft| draft.due_after = "99999".to_owned()), InstrumentError::NotDays.to_string());
        assert!(said(|draft| draft.accuracy = "1 mm".to_owned()).contains("inches"));
    }
}
