//! What the phone says through a mating, word for word; and that it says nothing twice and nothing to somebody who reads blind.
//!
//! The script in `tests/aloud/mating.txt` is what the code says, to be read by people: `cargo test --test aloud -- --ignored write_the_script`
//! writes it anew.

mod support;

use std::fmt::Write as _;

use support::Logbook;
use trammel::procedure::{Face, Run, Script, StepKind, StepState, Told};
use trammel::quantity::print;

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/aloud/mating.txt");

/// A phone that writes down what it says.
struct Phone {
    book: Logbook,
    told: Told,
    written: String,
    /// Measured once more though nothing was moved.
    again: bool,
}

impl Phone {
    fn script(&self, path: &str) -> Script {
        let run = self.book.fold();
        let step = run.step(path).expect("a step");
        let face = Face::of(&run, step, self.again, Some("B. Builder"));
        Script::of(self.book.procedure(), &self.book.airframe(), &run, (step, &face), &[])
    }

    /// The screen shows a step, or it changed: what is said.
    fn shows(&mut self, path: &str) -> Vec<String> {
        let said = self.told.due(&self.script(path));
        let _ = writeln!(self.written, "[{path}]");
        for words in &said {
            let _ = writeln!(self.written, "  {words}");
        }
        said
    }

    /// Reads slots one after the other, as a builder does, and listens.
    fn reads(&mut self, path: &str, readings: &[(&str, f64)]) -> Vec<String> {
        let mut said = self.shows(path);
        for (slot, value) in readings {
            self.book.read(path, slot, *value);
            self.again = false;
            said = self.shows(path);
        }
        said
    }
}

const PITCH: [&str; 4] = ["direct", "direct", "reversed", "reversed"];

fn mating() -> Phone {
    let mut phone = Phone { book: Logbook::example(0), told: Told::default(), written: String::new(), again: false };
    phone.shows("cautions");
    phone.book.confirm("cautions");
    phone.shows("cautions");
    phone.shows("protractor");
    phone.reads("reversal", &[("first", 0.3), ("turned", -0.1)]);
    phone.shows("set/pitch");
    for step in ["level-frame", "centre-line", "aft-point"] {
        phone.book.confirm(step);
    }
    phone.shows("offer-up");
    phone.book.confirm("offer-up");
    phone.reads("twins", &[("twin-left", 17.25), ("twin-right", 17.25)]);
    let gaps =
        [("upper-left", 1.0 / 32.0), ("upper-right", 0.0), ("lower-left", 1.0 / 16.0), ("lower-right", 1.0 / 32.0)];
    phone.reads("gaps", &gaps);
    // Out, moved as it says, then between the limits with one of them in doubt, then in.
    phone.reads("set/pitch", &PITCH.map(|slot| (slot, -2.9)));
    phone.book.moved("set/pitch", "saddle", 0.625);
    phone.reads("set/pitch", &PITCH.map(|slot| (slot, -2.7)));
    phone.again = true;
    phone.reads("set/pitch", &PITCH.map(|slot| (slot, -2.6)));
    phone.reads("set/twist", &["frame", "frame-reversed", "aft", "aft-reversed"].map(|slot| (slot, 0.1)));
    let square =
        [("left", 227.6875), ("left", 227.6875), ("left", 227.65625), ("right", 227.4375), ("right", 227.4375)];
    phone.reads("set/square", &square);
    phone.book.read("set/square", "right", 227.4375);
    phone.shows("set/square");
    phone
}

#[test]
fn the_script_of_a_mating_is_the_one_that_was_read() {
    let kept = std::fs::read_to_string(SCRIPT).expect("the script");
    let said = mating().written;
    assert!(
        said == kept,
        "tests/aloud/mating.txt is not what is said: write it again and look at the difference\n{said}"
    );
}

/// `cargo test --test aloud -- --ignored write_the_script`
#[test]
#[ignore = "writes tests/aloud/mating.txt"]
fn write_the_script() {
    std::fs::write(SCRIPT, mating().written).expect("written");
}

#[test]
fn nothing_is_said_twice_by_itself_and_everything_again_when_asked() {
    let mut phone = mating();
    let first = phone.shows("set/pitch");
    assert!(!first.is_empty(), "a step that comes up speaks");
    assert!(phone.shows("set/pitch").is_empty(), "and then is still");
    assert_eq!(phone.script("set/pitch").all(), first, "again, the whole of it");
    phone.shows("set/twist");
    assert_eq!(phone.shows("set/pitch"), first, "a step that one comes back to speaks anew");
}

/// No digit reaches the voice with its unit: those are words by then.
#[test]
fn numbers_with_a_unit_are_words() {
    for line in mating().written.lines().filter(|line| line.starts_with("  ")) {
        let digits_then_unit = |unit: &str| {
            line.match_indices(unit).any(|(at, _)| line[..at].ends_with(|before: char| before.is_ascii_digit()))
        };
        assert!(![" in", "°", " mm", "/"].into_iter().any(digits_then_unit), "{line}");
        assert!(!line.contains(['°', '±', '−']), "{line}");
    }
}

/// Every blind step of the procedure, before and while somebody reads it: not the target, not the first reader's numbers, no verdict.
#[test]
fn a_blind_reader_hears_nothing_of_the_first_values() {
    let mut book = mating().book;
    let run = book.fold();
    let blind: Vec<StepState> = run.steps.iter().filter(|step| is_blind(step)).cloned().collect();
    assert!(!blind.is_empty(), "the procedure has blind steps");
    let first: Vec<String> = values(&run);
    assert!(first.len() > 10, "the first reader has read: {first:?}");
    book.by = "B. Builder".to_owned();
    for step in blind {
        for reader in [None, Some("B. Builder")] {
            let StepKind::Measure { slots, .. } = &step.step.kind else { continue };
            let face = match reader {
                None => Face::HandOver,
                Some(_) => Face::Read { slot: slots[0].clone(), repeat: 1, attempt: 0 },
            };
            let script = Script::of(book.procedure(), &book.airframe(), &run, (&step, &face), &[]);
            let said = script.all().join(" ");
            assert!(!said.is_empty(), "{}: it says what to do", step.path);
            for word in ["Target", "expect", "Kept", "In.", "Out.", "Can't tell."] {
                assert!(!said.contains(word), "{}: {word} in {said}", step.path);
            }
            for value in &first {
                assert!(!said.contains(value), "{}: {value} in {said}", step.path);
            }
        }
    }
}

fn is_blind(step: &StepState) -> bool {
    matches!(step.step.kind, StepKind::Measure { blind: true, .. })
}

/// Every number that was read, shown and said; a bare nought or one would be found in any sentence.
fn values(run: &Run) -> Vec<String> {
    let taken = run.steps.iter().flat_map(|step| &step.attempts).flat_map(|attempt| &attempt.readings);
    let far = taken.filter(|reading| reading.value.value.abs() > 1.0);
    far.flat_map(|reading| {
        let value = &reading.value;
        [value.say(), print(value.value, value.unit, value.step)]
    })
    .collect()
}
