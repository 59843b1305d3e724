//! The guards' questions: what a person reads before a doubtful number is kept.

use std::fmt;

use crate::language::{tr, words};
use crate::procedure::guard::{Doubt, Slip, Source, WrongMode};
use crate::quantity::{Quantity, Unit, print};
use crate::record::InstrumentKind;

impl Doubt {
    /// What the number is held against: "the last pull", "what the sheet gives".
    fn held_against(&self) -> &'static str {
        let tape = matches!(self.context.kind, InstrumentKind::Tape);
        match self.expected.source {
            Source::Repeats if tape => words!("the last pull"),
            Source::Repeats => words!("the last reading of this"),
            Source::SetBefore => words!("the set before"),
            Source::Move => words!("what that move should give"),
            Source::GateBefore => words!("the reading at the last gate"),
            Source::OtherWay => words!("the reading the other way round"),
            Source::OtherSide => words!("the other side"),
            Source::Sheet => words!("what the sheet gives"),
            Source::Limit => words!("what the sheet's limit leads you to expect"),
        }
    }

    /// The same with its number: "what the sheet gives, about 227 7/16 in".
    fn against_number(&self) -> String {
        let number = print(self.expected.value, self.context.unit, self.context.step);
        let against = self.held_against();
        match self.expected.source {
            Source::Limit => against.to_owned(),
            Source::Repeats => tr!("{against}, {number}", against, number),
            _ => tr!("{against}, about {number}", against, number),
        }
    }

    /// The whole question.
    fn question(&self) -> String {
        let (entered, against) = (self.entered.print(), self.held_against());
        let meant = self.meant.as_ref().map(Quantity::print).unwrap_or_default();
        match self.slip {
            Slip::Far => tr!(
                "{entered} is a long way from {against}. Look at the instrument once more: its number, its unit, its seat.",
                entered,
                against = self.against_number()
            ),
            Slip::TapeStart(by) => self.tape_start(by),
            Slip::Fraction => tr!(
                "{meant} would fit {against}. {entered} does not. Count the lines again: which side of the half, and how many to the \
                 inch?",
                meant,
                against,
                entered
            ),
            Slip::Transposed => tr!(
                "{meant} would fit {against}. Have two digits of {entered} changed places? Read them once more.",
                meant,
                against,
                entered
            ),
            Slip::Swapped => tr!(
                "{entered} would fit the other side ({side}) and not this one. Which side are you on? Left and right are the pilot's, \
                 seated and facing forward.",
                entered,
                side = self.context.other_side
            ),
            Slip::Sign => tr!(
                "{meant} would fit {against}. Look at the part, not at the display: {question}",
                meant,
                against,
                question = self.context.question.as_deref().unwrap_or_default()
            ),
            Slip::Mode(WrongMode::LeftRelative) => tr!(
                "{entered} does not fit {against}. The protractor was last read in relative mode: is it set back to absolute?",
                entered,
                against = self.against_number()
            ),
            Slip::Mode(WrongMode::LeftAbsolute) => tr!(
                "{entered} does not fit {against}. The protractor was last read in absolute mode: was it zeroed on the first face?",
                entered,
                against = self.against_number()
            ),
            Slip::Mode(WrongMode::ZeroedHere) => tr!(
                "{entered} is next to nothing; {expected} is expected. Was the protractor zeroed on the face that it is read on?",
                entered,
                expected = print(self.expected.value, self.context.unit, self.context.step)
            ),
            Slip::SameAgain => tr!(
                "{entered} is what was typed last, for “{title}”, to the digit. It does not fit {against}. Look at the \
                 instrument once more.",
                entered,
                title = self.context.last.as_ref().map(|last| last.title.as_str()).unwrap_or_default(),
                against = self.against_number()
            ),
            Slip::Point => {
                tr!("{meant} would fit {against}. Is the point of {entered} in its place?", meant, against, entered)
            }
            Slip::OtherUnit => {
                let (inches, millimetres) = (words!("inches"), words!("millimetres"));
                let (typed, read) =
                    if self.context.unit == Unit::Inch { (inches, millimetres) } else { (millimetres, inches) };
                tr!(
                    "{entered} does not fit {against}; the same number in {read} would. This instrument is entered in {typed}: read \
                     it once more in those.",
                    entered,
                    against = self.against_number(),
                    read,
                    typed
                )
            }
        }
    }

    /// The question where the tape began at another mark than its end; `by` as in [`Slip::TapeStart`].
    fn tape_start(&self, by: f64) -> String {
        let (mark, against) = (print(by.abs(), self.context.unit, 0.0), self.held_against());
        let repeats = self.expected.source == Source::Repeats;
        let exact = repeats && self.expected.value + by == self.entered.value;
        let about = if exact { words!("exactly") } else { words!("about") };
        let is_tape = matches!(self.context.kind, InstrumentKind::Tape);
        let tape = if is_tape { words!("the tape") } else { words!("the rule") };
        if by > 0.0 {
            tr!(
                "That is {about} {mark} more than {against}. Did {tape} start at the {mark} mark?",
                about,
                mark,
                against,
                tape
            )
        } else if repeats {
            tr!(
                "That is {about} {mark} less than {against}. Did that one start at the {mark} mark? Lay {tape} once more.",
                about,
                mark,
                against,
                tape
            )
        } else {
            tr!(
                "That is {about} {mark} less than {against}. Was {mark} taken off though {tape} started at its end?",
                about,
                mark,
                against,
                tape
            )
        }
    }
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.question())
    }
}
