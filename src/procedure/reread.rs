//! The specification as it stands: how much of it is entered, and what a second person who reads the manual again finds.

use std::fmt;

use crate::language::{tr, words};
use crate::metrology::{Limits, in_unit};
use crate::procedure::{
    Procedure, SpecDraft, SpecError, SpecForm, SpecItem, Words, applies_to, fold, procedures, specify,
};
use crate::quantity::{Quantity, Unit};
use crate::record::{Airframe, SpecValue, SpecifiedItem, Units, same_person};

/// How much of what a procedure asks for is entered. What the airframe's shape leaves out does not count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SheetCount {
    /// Items asked for.
    pub asked: usize,
    /// Items entered and not blank.
    pub entered: usize,
    /// Numbers among them that nobody has read again.
    pub unread: usize,
}

impl SheetCount {
    /// Of a procedure on an airframe.
    #[must_use]
    pub fn of(procedure: &Procedure, airframe: &Airframe) -> Self {
        let mut count = Self::default();
        for item in asked(procedure, airframe) {
            count.asked += 1;
            if let Some(kept) = entered(item, airframe) {
                count.entered += 1;
                count.unread += usize::from(item.is_number() && kept.reread.is_none());
            }
        }
        count
    }

    /// "12 of 20 items entered."
    #[must_use]
    pub fn words(&self) -> String {
        tr!("{entered} of {asked} items entered.", entered = self.entered, asked = self.asked)
    }

    /// "3 numbers nobody has read again." Empty when there is none.
    #[must_use]
    pub fn unread_words(&self) -> String {
        match self.unread {
            0 => String::new(),
            unread => tr!("1 number nobody has read again." | "{n} numbers nobody has read again." % unread as u64),
        }
    }
}

impl SpecItem {
    /// Whether it is a number (or a chart of numbers) out of the manual: what a second person reads again.
    #[must_use]
    pub const fn is_number(&self) -> bool {
        !matches!(self.form, SpecForm::Choice | SpecForm::Words)
    }
}

fn asked<'p>(procedure: &'p Procedure, airframe: &Airframe) -> impl Iterator<Item = &'p SpecItem> {
    procedure.specification.iter().filter(|item| fold::applies(item.only_if.as_ref(), airframe))
}

fn entered<'a>(item: &SpecItem, airframe: &'a Airframe) -> Option<&'a SpecifiedItem> {
    airframe.specification.item(&item.key).filter(|kept| kept.value != SpecValue::default())
}

/// Numbers that are entered and that nobody has read again, each once; of one procedure, or of all that apply.
#[must_use]
pub fn unread(airframe: &Airframe, of: Option<&'static Procedure>) -> Vec<&'static SpecItem> {
    let mut found: Vec<&SpecItem> = Vec::new();
    for procedure in procedures() {
        let wanted = of.map_or_else(|| applies_to(procedure, airframe), |one| one.id == procedure.id);
        for item in asked(procedure, airframe).filter(|item| wanted && item.is_number()) {
            let open = entered(item, airframe).is_some_and(|kept| kept.reread.is_none());
            if open && found.iter().all(|known| known.key != item.key) {
                found.push(item);
            }
        }
    }
    found
}

/// What the second reading says.
#[derive(Clone, Debug, PartialEq)]
pub enum Reread {
    /// The same number, the same tolerance.
    Same,
    /// Another: one of the two has to be corrected. What was read, and both in words.
    Different(SpecValue, String),
}

/// Why a second reading does not count.
#[derive(Clone, Debug, PartialEq)]
pub enum RereadError {
    /// Nobody said who reads.
    NoName,
    /// Who reads is who entered it.
    SamePerson,
    /// It cannot be read.
    Unreadable(SpecError),
}

impl fmt::Display for RereadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoName => f.write_str(words!("Write your name first, above.")),
            Self::SamePerson => {
                f.write_str(words!("You entered this one yourself: somebody else has to read it again."))
            }
            Self::Unreadable(error) => error.fmt(f),
        }
    }
}

/// Holds what a second person typed against what was entered.
///
/// # Errors
/// [`RereadError`].
pub fn read_again(
    item: &SpecItem,
    kept: &SpecifiedItem,
    draft: &SpecDraft,
    units: Units,
    by: &str,
) -> Result<Reread, RereadError> {
    if by.trim().is_empty() {
        return Err(RereadError::NoName);
    }
    if same_person(by, &kept.by) {
        return Err(RereadError::SamePerson);
    }
    let read = specify(item, draft, units).map_err(RereadError::Unreadable)?;
    if same_value(&kept.value, &read, item.unit(units)) {
        return Ok(Reread::Same);
    }
    let words = [said_entered(kept), said_read(kept, &read)].join(" ");
    Ok(Reread::Different(read, words))
}

fn said_entered(kept: &SpecifiedItem) -> String {
    let value = Words::tolerance(&kept.value);
    if kept.by.is_empty() {
        tr!("Not the same. Entered: {value}.", value)
    } else {
        tr!("Not the same. Entered by {name}: {value}.", name = kept.by, value)
    }
}

fn said_read(kept: &SpecifiedItem, read: &SpecValue) -> String {
    let value = Words::tolerance(read);
    if kept.source.is_empty() {
        tr!("You read: {value}. One of the two is wrong: look at the page together.", value)
    } else {
        let page = &kept.source;
        tr!("You read: {value}. One of the two is wrong: look at the page together ({page}).", value, page)
    }
}

/// Whether two values of an item say the same: number and limits as quantities, whatever they were typed as and in; words as words.
#[must_use]
pub fn same_value(one: &SpecValue, two: &SpecValue, unit: Unit) -> bool {
    let number = |quantity: &Option<Quantity>| quantity.as_ref().map(|quantity| in_unit(quantity, unit));
    let limits = |value: &SpecValue| Limits::of(value, unit).map(|limits| (limits.lower, limits.upper));
    let close = |one: Option<f64>, two: Option<f64>| match (one, two) {
        (Some(one), Some(two)) => (one - two).abs() <= 1e-9 * one.abs().max(1.0),
        (one, two) => one == two,
    };
    let nominals = match (number(&one.nominal), number(&two.nominal)) {
        // Of another dimension: equal to nothing.
        (Some(None), _) | (_, Some(None)) => false,
        (one, two) => close(one.flatten(), two.flatten()),
    };
    let limited = match (limits(one), limits(two)) {
        (Some(one), Some(two)) => close(one.0, two.0) && close(one.1, two.1),
        (one, two) => one == two,
    };
    nominals && limited && one.words == two.words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{draft_of, examples, sheet_items};

    fn item(key: &str) -> &'static SpecItem {
        sheet_items().find(|item| item.key == key).expect("on the sheet")
    }

    fn draft(number: &str, tolerance: &str) -> SpecDraft {
        SpecDraft { number: number.to_owned(), tolerance: tolerance.to_owned(), words: String::new() }
    }

    fn value(key: &str, number: &str, tolerance: &str) -> SpecValue {
        specify(item(key), &draft(number, tolerance), Units::Inches).expect(key)
    }

    fn kept(value: SpecValue) -> SpecifiedItem {
        let entry = crate::record::EntryId(uuid::Uuid::nil());
        SpecifiedItem { value, source: "page 4-2".to_owned(), entry, by: "A. Builder".to_owned(), reread: None }
    }

    #[test]
    fn the_same_number_written_otherwise_is_the_same() {
        for (key, one, two) in [
            ("pitch", ("-2.6", "0.2"), ("-2° 36'", "+0.2 -0.2")),
            ("half-width", ("17 1/4", ""), ("17.25 in", "")),
            ("twins", ("", "1/16"), ("", "0.0625")),
        ] {
            let (one, two) = (value(key, one.0, one.1), value(key, two.0, two.1));
            assert!(same_value(&one, &two, item(key).unit(Units::Inches)), "{key}: {one:?} {two:?}");
        }
        for (key, one, two) in [
            ("pitch", ("-2.6", "0.2"), ("2.6", "0.2")),
            ("pitch", ("-2.6", "0.2"), ("-2.6", "0.1")),
            ("pitch", ("-2.6", "0.2"), ("-2.6", "")),
            ("half-width", ("17 1/4", ""), ("17 1/2", "")),
        ] {
            let (one, two) = (value(key, one.0, one.1), value(key, two.0, two.1));
            assert!(!same_value(&one, &two, item(key).unit(Units::Inches)), "{key}: {one:?} {two:?}");
        }
    }

    /// Whatever an item's form: what is read off the sheet again is what is on the sheet.
    #[test]
    fn every_number_of_the_examples_reads_again_as_the_same() {
        for example in examples() {
            let units = example.details.units;
            for (key, value) in example.specification.iter().filter(|(key, _)| item(key).is_number()) {
                let again =
                    read_again(item(key), &kept(value.clone()), &draft_of(item(key), value), units, "B. Helper");
                assert_eq!(again, Ok(Reread::Same), "{key}");
            }
        }
    }

    #[test]
    fn another_number_shows_both_and_the_same_person_does_not_count() {
        let entered = kept(value("half-width", "17 1/4", ""));
        let read =
            |by: &str, number: &str| read_again(item("half-width"), &entered, &draft(number, ""), Units::Inches, by);
        let Ok(Reread::Different(_, words)) = read("B. Helper", "17 1/2") else { panic!("another number") };
        assert_eq!(
            words,
            "Not the same. Entered by A. Builder: 17 1/4 in. You read: 17 1/2 in. One of the two is wrong: look at the page together \
             (page 4-2)."
        );
        assert_eq!(read(" a. BUILDER ", "17 1/4"), Err(RereadError::SamePerson));
        assert_eq!(read(" ", "17 1/4"), Err(RereadError::NoName));
        assert!(matches!(read("B. Helper", "wide"), Err(RereadError::Unreadable(_))));
    }
}
