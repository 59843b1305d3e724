//! What is told of a reading that was kept to whoever does not see the screen.

mod support;

use support::Logbook;
use trammel::procedure::told;
use trammel::quantity::{Quantity, Unit};

const STEP: &str = "set/pitch";

#[test]
fn a_reading_is_told_by_itself_and_the_verdict_with_the_last_of_its_set() {
    let mut book = Logbook::example(0);
    let kept = Quantity::new(-3.6, Unit::Degree, 0.1);
    let tell = |book: &Logbook| told(book.fold().step(STEP).expect("a step"), &kept);
    for slot in ["direct", "direct", "reversed"] {
        book.read(STEP, slot, -3.6);
        assert_eq!(tell(&book), "Kept: \u{2212}3.6°.", "the set is not complete");
    }
    book.read(STEP, "reversed", -3.6);
    assert_eq!(tell(&book), "Kept: \u{2212}3.6°. out: \u{2212}3.60°.");
    book.moved(STEP, "saddle", 0.5);
    assert_eq!(tell(&book), "Kept: \u{2212}3.6°.", "a verdict on what was moved since is none");
}
