//! What would settle a "can't tell", as a step says it.

mod support;

use support::{Logbook, instrument};
use trammel::quantity::Unit;
use trammel::record::InstrumentKind;

/// The lath's marks are 14 in apart and read to 1/32 in. 0.105 in aside is 0.430° of 0.5°, give or take 2·√2·(1/32)/√12/14 rad = 0.104°, which
/// cannot be told; over 21 in it is 0.070°, and can (plane geometry; what the one rule is off drops out).
#[test]
fn where_a_lath_cannot_tell_a_longer_one_is_proposed() {
    let mut book = Logbook::sheet_only(0);
    book.accept("rule", instrument(InstrumentKind::Rule, Unit::Inch, 1.0 / 32.0, 1.0 / 32.0));
    book.begin("third-wheel-fit", 0xB);
    let mut better = |aside: f64| {
        for (slot, value) in [("lath-front", 1.0), ("lath-rear", 1.0 + aside)] {
            for _ in 0..2 {
                book.read("set/wheel-straight", slot, value);
            }
        }
        let run = book.fold();
        let step = run.step("set/wheel-straight").expect("the step");
        assert!(step.result().is_some(), "complete");
        step.advice.as_ref().map(|advice| advice.better.clone()).unwrap_or_default()
    };
    let proposed = |better: &[String]| better.iter().find(|words| words.starts_with("Read over")).cloned();
    assert_eq!(
        proposed(&better(0.105)).as_deref(),
        Some(
            "Read over 21 in instead of 14 in, and enter that length: give or take 0.07°, enough to decide this value."
        )
    );
    assert_eq!(proposed(&better(0.0)), None, "what can be told needs nothing");
}
