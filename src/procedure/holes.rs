//! A map of holes or rivets: how each stands, whether they add up, and what a tap means.
//!
//! A hole that was marked bad leaves that state in two ways only: somebody says how it was put right, or the mark is struck out.
//! So no tap on "done", on whatever phone and merged in whatever order, hides a bad one.

use std::fmt;

use crate::procedure::{Run, StepKind, StepState};
use crate::quantity::{Unit, print_number};
use crate::record::{Airframe, Body, Entry, EntryId, HoleMark, HolePlace, LaidOutHoles, MAX_HOLES, MarkedHole};

/// The reason with which a mark is struck out that called a good hole bad.
pub const NOT_BAD: &str = "It was not bad";

/// As many bad holes are named in one sentence.
const NAMED: usize = 4;

/// How a hole stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HoleState {
    /// Not yet done.
    #[default]
    ToGo,
    /// Done and good.
    Done,
    /// Bad, and not put right.
    Bad,
    /// It was bad and was put right.
    PutRight,
}

impl HoleState {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::ToGo => "to go",
            Self::Done => "done",
            Self::Bad => "bad",
            Self::PutRight => "put right",
        }
    }

    /// The letter beside the hole's number; none where nothing was done.
    #[must_use]
    pub const fn letter(self) -> &'static str {
        match self {
            Self::ToGo => "",
            Self::Done => "D",
            Self::Bad => "B",
            Self::PutRight => "P",
        }
    }
}

/// What a tap on a hole says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleTool {
    /// It is done.
    Done,
    /// It is bad.
    Bad,
    /// It is not done after all.
    Clear,
}

/// A hole that something was said of.
#[derive(Clone, Debug, PartialEq)]
struct Hole {
    at: HolePlace,
    state: HoleState,
    note: String,
    /// The entry that it stands by.
    entry: EntryId,
}

/// The map of one step. Empty for a step that has none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HoleMap {
    rows: Vec<u32>,
    /// How many there are by the specification.
    expected: Option<f64>,
    /// Those that something was said of, in order of their place.
    holes: Vec<Hole>,
    /// Who changed a hole last, with the entry.
    last: Option<(String, EntryId)>,
}

impl HoleMap {
    /// How many holes each row has, first row first; empty before it is laid out.
    #[must_use]
    pub fn rows(&self) -> &[u32] {
        &self.rows
    }

    /// How many holes the map has.
    #[must_use]
    pub fn laid_out(&self) -> u32 {
        self.rows.iter().sum()
    }

    /// How a hole stands.
    #[must_use]
    pub fn state(&self, at: HolePlace) -> HoleState {
        self.find(at).map_or(HoleState::ToGo, |place| self.holes[place].state)
    }

    /// The holes that are bad, with what is wrong with them and the entry that says so. Also those of a row that has become
    /// shorter since.
    pub fn bad(&self) -> impl Iterator<Item = (HolePlace, &str, EntryId)> {
        let bad = self.holes.iter().filter(|hole| hole.state == HoleState::Bad);
        bad.map(|hole| (hole.at, hole.note.as_str(), hole.entry))
    }

    /// Whether it was laid out or something was said of a hole.
    #[must_use]
    pub fn begun(&self) -> bool {
        !self.rows.is_empty() || !self.holes.is_empty()
    }

    /// The last entry that changed a hole.
    #[must_use]
    pub fn last(&self) -> Option<EntryId> {
        self.last.as_ref().map(|(_, entry)| *entry)
    }

    /// Every hole of the map is done or put right, none is bad, and there are as many as the specification says. Without a
    /// number there, as many as were laid out.
    #[must_use]
    pub fn complete(&self) -> bool {
        !self.rows.is_empty() && self.bad().next().is_none() && self.to_go() == 0 && self.adds_up()
    }

    /// Complete, and there is no number to hold it against.
    #[must_use]
    pub fn not_judged(&self) -> bool {
        self.expected.is_none() && self.complete()
    }

    /// The holes of a row that nothing was said of: what "all of this row" marks as done.
    #[must_use]
    pub fn rest_of_row(&self, row: u32) -> Vec<HolePlace> {
        let length = row.checked_sub(1).and_then(|place| self.rows.get(place as usize)).copied().unwrap_or_default();
        let places = (1..=length).map(|hole| HolePlace { row, hole });
        places.filter(|at| self.state(*at) == HoleState::ToGo).collect()
    }

    /// What a tap adds to the record, if anything; `why` is what is wrong with a hole that is marked bad.
    ///
    /// # Errors
    /// When a tap does not change such a hole: the words that say what does.
    pub fn tap(&self, tool: HoleTool, at: HolePlace, why: &str) -> Result<Option<(HoleMark, String)>, String> {
        let (state, why) = (self.state(at), why.trim());
        match (tool, state) {
            (HoleTool::Done, HoleState::ToGo) => Ok(Some((HoleMark::Done, String::new()))),
            (HoleTool::Clear, HoleState::Done) => Ok(Some((HoleMark::Open, String::new()))),
            (HoleTool::Bad, HoleState::Bad) if why.is_empty() || self.note(at) == why => Ok(None),
            (HoleTool::Bad, _) => Ok(Some((HoleMark::Bad, why.to_owned()))),
            (_, HoleState::Bad) => Err(format!("{} is bad. Choose it below and say how it was put right.", large(at))),
            (HoleTool::Clear, HoleState::PutRight) => Err(format!(
                "{} was put right. If that is wrong, strike it out in the record, or mark it bad.",
                large(at)
            )),
            (HoleTool::Done, _) | (HoleTool::Clear, HoleState::ToGo) => Ok(None),
        }
    }

    /// A hole and how it stands: "Row 2, hole 7: bad, elongated".
    #[must_use]
    pub fn label(&self, at: HolePlace) -> String {
        let note = self.note(at);
        let between = if note.is_empty() { "" } else { ", " };
        format!("{}: {}{between}{note}", large(at), self.state(at).word())
    }

    /// How many there should be: "48 rivets."
    #[must_use]
    pub fn ask(&self, what: &str) -> String {
        self.expected.map_or_else(
            || format!("The sheet does not say how many {what} there are: what is laid out is recorded, not judged."),
            |number| format!("{} {what}.", whole(number)),
        )
    }

    /// "18 of 24 done, 1 bad, 5 to go."; with what was put right among those done.
    #[must_use]
    pub fn counts(&self) -> String {
        let right = self.number(HoleState::PutRight);
        let right = if right > 0 { format!(" ({right} of them put right)") } else { String::new() };
        let bad = self.bad().count();
        format!("{} of {} done{right}, {bad} bad, {} to go.", self.good(), self.laid_out(), self.to_go())
    }

    /// What does not add up: "The map has 30, the sheet says 32."
    #[must_use]
    pub fn sum(&self) -> Option<String> {
        let expected = self.expected.filter(|_| !self.rows.is_empty() && !self.adds_up())?;
        Some(format!(
            "The map has {}, the sheet says {}. Count them again on the drawing.",
            self.laid_out(),
            whole(expected)
        ))
    }

    /// What keeps a hold point shut: the bad ones by name, otherwise the counts, and what does not add up.
    #[must_use]
    pub fn missing(&self) -> String {
        let mut words: Vec<String> = self.bad().take(NAMED).map(|(at, note, _)| named(at, note)).collect();
        let more = self.bad().count().saturating_sub(NAMED);
        if more > 0 {
            words.push(format!("{more} more"));
        }
        let first = if words.is_empty() { self.counts() } else { format!("{}.", words.join("; ")) };
        self.sum().map_or(first.clone(), |sum| format!("{first} {sum}"))
    }

    fn adds_up(&self) -> bool {
        self.expected.is_none_or(|expected| f64::from(self.laid_out()) == expected)
    }

    fn good(&self) -> u32 {
        self.number(HoleState::Done) + self.number(HoleState::PutRight)
    }

    fn to_go(&self) -> u32 {
        self.laid_out().saturating_sub(self.good() + self.number(HoleState::Bad))
    }

    /// How many holes of the map stand so.
    fn number(&self, state: HoleState) -> u32 {
        self.holes.iter().filter(|hole| hole.state == state && self.has(hole.at)).map(|_| 1).sum()
    }

    fn has(&self, at: HolePlace) -> bool {
        at.row.checked_sub(1).and_then(|row| self.rows.get(row as usize)).is_some_and(|length| at.hole <= *length)
    }

    fn note(&self, at: HolePlace) -> &str {
        self.find(at).map_or("", |place| &self.holes[place].note)
    }

    fn find(&self, at: HolePlace) -> Option<usize> {
        self.holes.binary_search_by_key(&at, |hole| hole.at).ok()
    }

    /// Takes in a mark, where it says something new of a hole that some map could have.
    fn mark(&mut self, marked: &MarkedHole, entry: &Entry) {
        let note = marked.note.trim();
        let state = match (marked.mark, self.state(marked.at())) {
            _ if !marked.at().possible() => return,
            (HoleMark::Done, HoleState::ToGo) => HoleState::Done,
            (HoleMark::Open, HoleState::Done) => HoleState::ToGo,
            (HoleMark::Bad, _) => HoleState::Bad,
            (HoleMark::Answered, HoleState::Bad) if !note.is_empty() => HoleState::PutRight,
            _ => return,
        };
        let hole = Hole { at: marked.at(), state, note: note.to_owned(), entry: entry.id };
        match self.holes.binary_search_by_key(&hole.at, |hole| hole.at) {
            Ok(place) => self.holes[place] = hole,
            Err(place) => self.holes.insert(place, hole),
        }
        self.last = Some((entry.by.clone(), entry.id));
    }
}

/// Takes in an entry about holes. One that names a step without a map, a map without holes or with too many, or a hole that no
/// map can have, changes nothing.
pub(super) fn apply(steps: &mut [StepState], entry: &Entry) {
    let of = |path: &String, steps: &[StepState]| {
        steps.iter().position(|step| step.path == *path && matches!(step.step.kind, StepKind::Holes { .. }))
    };
    match &entry.body {
        Body::HolesLaidOut(laid) => {
            if let Some(place) = of(&laid.step, steps).filter(|_| LaidOutHoles::possible(&laid.rows)) {
                steps[place].holes.rows.clone_from(&laid.rows);
            }
        }
        Body::HoleMarked(marked) => {
            if let Some(place) = of(&marked.step, steps) {
                steps[place].holes.mark(marked, entry);
            }
        }
        _ => {}
    }
}

/// Once all entries are in: what the specification says, and who marked last.
pub(super) fn settle(steps: &mut [StepState], airframe: &Airframe) {
    for step in steps {
        if let StepKind::Holes { expected, .. } = &step.step.kind {
            step.holes.expected = airframe.specification.nominal(expected).map(|number| number.value);
            let marked = step.holes.holes.iter().any(|hole| hole.state != HoleState::ToGo);
            step.by = step.holes.last.clone().filter(|_| marked);
        }
    }
}

impl Run {
    /// How a map may be laid out to begin with: as it is, or as the last map before it of the same things.
    #[must_use]
    pub fn rows_to_begin(&self, path: &str) -> &[u32] {
        let Some(place) = self.place(path) else { return &[] };
        let StepKind::Holes { expected, .. } = &self.steps[place].step.kind else { return &[] };
        let same = |step: &&StepState| {
            let same = matches!(&step.step.kind, StepKind::Holes { expected: other, .. } if other == expected);
            same && !step.holes.rows.is_empty()
        };
        self.steps[..=place].iter().rev().find(same).map_or(&[], |step| step.holes.rows())
    }
}

/// Why typed rows are no map: the text that the person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowsError {
    /// Not whole numbers from 1.
    NotNumbers,
    /// More than [`MAX_HOLES`] in all.
    TooMany,
}

impl fmt::Display for RowsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotNumbers => {
                f.write_str("How many each row has, in whole numbers with spaces between: 12 12 8 is three rows.")
            }
            Self::TooMany => write!(f, "At most {MAX_HOLES} on one map. Take the joint in parts."),
        }
    }
}

impl std::error::Error for RowsError {}

/// Rows as typed: "12 12 8".
///
/// # Errors
/// When it is no map.
pub fn rows_of(text: &str) -> Result<Vec<u32>, RowsError> {
    let words = text.split([' ', ',', ';', '\t', '\u{a0}']).filter(|word| !word.is_empty());
    let rows: Option<Vec<u32>> = words.map(|word| word.parse().ok().filter(|row| *row > 0)).collect();
    let rows = rows.filter(|rows| !rows.is_empty()).ok_or(RowsError::NotNumbers)?;
    if LaidOutHoles::possible(&rows) { Ok(rows) } else { Err(RowsError::TooMany) }
}

/// Rows as they are typed: "12 12 8".
#[must_use]
pub fn rows_words(rows: &[u32]) -> String {
    rows.iter().map(u32::to_string).collect::<Vec<_>>().join(" ")
}

/// "row 2, hole 7".
#[must_use]
pub fn place_words(at: HolePlace) -> String {
    format!("row {}, hole {}", at.row, at.hole)
}

/// What a mark says: "bad, elongated".
#[must_use]
pub fn mark_words(marked: &MarkedHole) -> String {
    let word = match marked.mark {
        HoleMark::Done => "done",
        HoleMark::Bad => "bad",
        HoleMark::Open => "not done after all",
        HoleMark::Answered => "put right",
    };
    let between = if marked.note.is_empty() { "" } else { ", " };
    format!("{word}{between}{}", marked.note)
}

/// "row 2, hole 7: elongated".
fn named(at: HolePlace, note: &str) -> String {
    format!("{}: {}", place_words(at), if note.is_empty() { "bad" } else { note })
}

/// "Row 2, hole 7".
fn large(at: HolePlace) -> String {
    place_words(at).replacen('r', "R", 1)
}

fn whole(number: f64) -> String {
    print_number(number, Unit::One, 0.0)
}
