//! The guards' questions: what a person reads before a doubtful number is kept.

use std::fmt;

use crate::procedure::guard::{Doubt, Slip, Source, WrongMode};
use crate::quantity::{Quantity, Unit, print};
use crate::record::InstrumentKind;

impl Doubt {
    /// What the number is held against: "the last pull", "what the sheet gives".
    fn held_against(&self) -> &'static str {
        let tape = matches!(self.context.kind, InstrumentKind::Tape);
        match self.expected.source {
            Source::Repeats if tape => "the last pull",
            Source::Repeats => "the last reading of this",
            Source::SetBefore => "the set before",
            Source::Move => "what that move should give",
            Source::GateBefore => "the reading at the last gate",
            Source::OtherWay => "the reading the other way round",
            Source::OtherSide => "the other side",
            Source::Sheet => "what the sheet gives",
            Source::Limit => "what the sheet's limit leads you to expect",
        }
    }

    /// The same with its number: "what the sheet gives, about 227 7/16 in".
    fn against_number(&self) -> String {
        let number = print(self.expected.value, self.context.unit, self.context.step);
        let against = self.held_against();
        match self.expected.source {
            Source::Limit => against.to_owned(),
            Source::Repeats => format!("{against}, {number}"),
            _ => format!("{against}, about {number}"),
        }
    }

    /// What would fit: "2.6° would fit the last reading of this."
    fn would_fit(&self, meant: &str) -> String {
        format!("{meant} would fit {}.", self.held_against())
    }
}

impl fmt::Display for Doubt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let entered = self.entered.print();
        let meant = self.meant.as_ref().map(Quantity::print).unwrap_or_default();
        match self.slip {
            Slip::Far => write!(
                f,
                "{entered} is a long way from {}. Look at the instrument once more: its number, its unit, its seat.",
                self.against_number()
            ),
            Slip::TapeStart(by) => {
                let mark = print(by.abs(), self.context.unit, 0.0);
                let repeats = self.expected.source == Source::Repeats;
                let exact = repeats && self.expected.value + by == self.entered.value;
                let exactly = if exact { "exactly" } else { "about" };
                let against = self.held_against();
                let tape = if matches!(self.context.kind, InstrumentKind::Tape) { "tape" } else { "rule" };
                if by > 0.0 {
                    write!(f, "That is {exactly} {mark} more than {against}. Did the {tape} start at the {mark} mark?")
                } else if repeats {
                    write!(
                        f,
                        "That is {exactly} {mark} less than {against}. Did that one start at the {mark} mark? Lay the \
                         {tape} once more."
                    )
                } else {
                    write!(
                        f,
                        "That is {exactly} {mark} less than {against}. Was {mark} taken off though the {tape} started at its end?"
                    )
                }
            }
            Slip::Fraction => write!(
                f,
                "{} {entered} does not. Count the lines again: which side of the half, and how many to the inch?",
                self.would_fit(&meant)
            ),
            Slip::Transposed => {
                write!(
                    f,
                    "{} Have two digits of {entered} changed places? Read them once more.",
                    self.would_fit(&meant)
                )
            }
            Slip::Swapped => write!(
                f,
                "{entered} would fit the other side ({}) and not this one. Which side are you on? Left and right are the \
                 pilot's, seated and facing forward.",
                self.context.other_side
            ),
            Slip::Sign => {
                let question = self.context.question.as_deref().unwrap_or_default();
                write!(f, "{} Look at the part, not at the display: {question}", self.would_fit(&meant))
            }
            Slip::Mode(WrongMode::LeftRelative) => write!(
                f,
                "{entered} does not fit {}. The protractor was last read in relative mode: is it set back to absolute?",
                self.against_number()
            ),
            Slip::Mode(WrongMode::LeftAbsolute) => write!(
                f,
                "{entered} does not fit {}. The protractor was last read in absolute mode: was it zeroed on the first face?",
                self.against_number()
            ),
            Slip::Mode(WrongMode::ZeroedHere) => write!(
                f,
                "{entered} is next to nothing; {} is expected. Was the protractor zeroed on the face that it is read on?",
                print(self.expected.value, self.context.unit, self.context.step)
            ),
            Slip::SameAgain => {
                let title = self.context.last.as_ref().map(|last| last.title.as_str()).unwrap_or_default();
                write!(
                    f,
                    "{entered} is what was typed last, for “{title}”, to the digit. It does not fit {}. Look at the instrument \
                     once more.",
                    self.against_number()
                )
            }
            Slip::Point => {
                write!(f, "{} Is the point of {entered} in its place?", self.would_fit(&meant))
            }
            Slip::OtherUnit => {
                let (typed, read) =
                    if self.context.unit == Unit::Inch { ("inches", "millimetres") } else { ("millimetres", "inches") };
                write!(
                    f,
                    "{entered} does not fit {}; the same number in {read} would. This instrument is entered in {typed}: read \
                     it once more in those.",
                    self.against_number()
                )
            }
        }
    }
}
