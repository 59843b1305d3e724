//! A map of holes or rivets: how each stands, whether they add up, and what a tap means.
//!
//! A hole that was marked bad leaves that state in two ways only: somebody says how it was put right, or the mark is struck out.
//! So no tap on "done", on whatever phone and merged in whatever order, hides a bad one.

use crate::language::{tr, words};
use crate::procedure::words::capitalised;
use crate::procedure::{Run, StepKind, StepState};
use crate::quantity::{Unit, print_number};
use crate::record::{Airframe, Body, Entry, EntryId, HoleMark, HolePlace, LaidOutHoles, MarkedHole};

/// The reason with which a mark is struck out that called a good hole bad.
#[must_use]
pub fn not_bad() -> &'static str {
    words!("It was not bad")
}

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
    pub fn word(self) -> &'static str {
        match self {
            Self::ToGo => words!("to go"),
            Self::Done => words!("done"),
            Self::Bad => words!("bad"),
            Self::PutRight => words!("put right"),
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
            (_, HoleState::Bad) => {
                Err(tr!("{hole} is bad. Choose it below and say how it was put right.", hole = large(at)))
            }
            (HoleTool::Clear, HoleState::PutRight) => Err(tr!(
                "{hole} was put right. If that is wrong, strike it out in the record, or mark it bad.",
                hole = large(at)
            )),
            (HoleTool::Done, _) | (HoleTool::Clear, HoleState::ToGo) => Ok(None),
        }
    }

    /// A hole and how it stands: "Row 2, hole 7: bad, elongated".
    #[must_use]
    pub fn label(&self, at: HolePlace) -> String {
        let (hole, state, note) = (large(at), self.state(at).word(), self.note(at));
        if note.is_empty() {
            tr!("{hole}: {state}", hole, state)
        } else {
            tr!("{hole}: {state}, {note}", hole, state, note)
        }
    }

    /// How many there should be: "48 rivets."
    #[must_use]
    pub fn ask(&self, what: &str) -> String {
        self.expected.map_or_else(
            || tr!("The sheet does not say how many {what} there are: what is laid out is recorded, not judged.", what),
            |number| tr!("{number} {what}.", number = whole(number), what),
        )
    }

    /// "18 of 24 done, 1 bad, 5 to go."; with what was put right among those done.
    #[must_use]
    pub fn counts(&self) -> String {
        let right = self.number(HoleState::PutRight);
        let (done, all, bad, left) = (self.good(), self.laid_out(), self.bad().count(), self.to_go());
        if right > 0 {
            tr!(
                "{done} of {all} done ({right} of them put right), {bad} bad, {left} to go.",
                done,
                all,
                right,
                bad,
                left
            )
        } else {
            tr!("{done} of {all} done, {bad} bad, {left} to go.", done, all, bad, left)
        }
    }

    /// What does not add up: "The map has 30, the sheet says 32."
    #[must_use]
    pub fn sum(&self) -> Option<String> {
        let expected = self.expected.filter(|_| !self.rows.is_empty() && !self.adds_up())?;
        Some(tr!(
            "The map has {there}, the sheet says {number}. Count them again on the drawing.",
            there = self.laid_out(),
            number = whole(expected)
        ))
    }

    /// What keeps a hold point shut: the bad ones by name, otherwise the counts, and what does not add up.
    #[must_use]
    pub fn missing(&self) -> String {
        let mut words: Vec<String> = self.bad().take(NAMED).map(|(at, note, _)| named(at, note)).collect();
        let more = self.bad().count().saturating_sub(NAMED);
        if more > 0 {
            words.push(tr!("{number} more", number = more));
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

/// "row 2, hole 7".
#[must_use]
pub fn place_words(at: HolePlace) -> String {
    tr!("row {row}, hole {hole}", row = at.row, hole = at.hole)
}

/// What a mark says: "bad, elongated".
#[must_use]
pub fn mark_words(marked: &MarkedHole) -> String {
    let word = match marked.mark {
        HoleMark::Done => words!("done"),
        HoleMark::Bad => words!("bad"),
        HoleMark::Open => words!("not done after all"),
        HoleMark::Answered => words!("put right"),
    };
    if marked.note.is_empty() { word.to_owned() } else { tr!("{state}, {note}", state = word, note = marked.note) }
}

/// "row 2, hole 7: elongated".
fn named(at: HolePlace, note: &str) -> String {
    let note = if note.is_empty() { words!("bad") } else { note };
    tr!("{hole}: {note}", hole = place_words(at), note)
}

/// "Row 2, hole 7".
fn large(at: HolePlace) -> String {
    capitalised(&place_words(at))
}

fn whole(number: f64) -> String {
    print_number(number, Unit::One, 0.0)
}
