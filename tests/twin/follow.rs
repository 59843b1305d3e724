//! A builder with the app in hand: enters what the instruments say and does what the advice says, through the same entries
//! and the same fold as on the phone.

use trammel::metrology::Verdict;
use trammel::procedure::{CheckResult, ProposedMove};
use trammel::quantity::{Quantity, Unit};
use trammel::record::{Instrument, InstrumentKind, SpecValue};

use crate::support::Logbook;
use crate::twin::body::Side;
use crate::twin::config::SetUp;
use crate::twin::mating::{Advice, Advisor, Check, diagonal_readings, pitch_readings, roll_readings};
use crate::twin::world::{Corner, Twin};

/// How often one check is measured again before the builder stops hoping for a better answer.
const READ_AGAIN: u32 = 3;

/// What the builder does when the app can't tell and the reading itself lies between the limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Habit {
    /// Measures again, up to three times, and follows the offered move only if that has not settled it.
    MeasureAgain,
    /// Follows the offered move at once.
    MoveAtOnce,
}

/// The builder, with the record so far.
pub(crate) struct WithTheApp {
    book: Logbook,
    habit: Habit,
}

impl WithTheApp {
    /// The example airframe's sheet, this twin's instruments, the set-up and the gaps as found. The gap limit is left out,
    /// so that a start beyond it is worked rather than sent back to the kit's support.
    pub(crate) fn new(habit: Habit, twin: &mut Twin) -> Self {
        let mut book = Logbook::example(0);
        let config = *twin.config();
        let bench = |kind, unit, step, accuracy| Instrument::new(kind, "bench".to_owned(), unit, step, accuracy);
        book.accept("protractor", bench(InstrumentKind::Protractor, Unit::Degree, config.protractor_step, 0.1));
        book.accept("tape", bench(InstrumentKind::Tape, Unit::Inch, config.tape_step, 1.0 / 16.0));
        book.accept("rule", bench(InstrumentKind::Rule, Unit::Inch, config.string_step, config.string_step / 2.0));
        book.specify("gap-limit", SpecValue::default(), "");
        if config.set_up == SetUp::Block {
            let words = Some("frame on a block".to_owned());
            book.specify("set-up", SpecValue { words, ..SpecValue::default() }, "as set up");
            let slope = [false, true].map(|reversed| twin.read_tube_slope(reversed));
            let slope = Quantity::new(f64::midpoint(slope[0], slope[1]), Unit::Degree, config.protractor_step / 2.0);
            book.specify("tube-slope", SpecValue { nominal: Some(slope), ..SpecValue::default() }, "as set up");
        }
        for (slot, corner) in [
            ("upper-left", Corner::Upper(Side::Left)),
            ("upper-right", Corner::Upper(Side::Right)),
            ("lower-left", Corner::Lower(Side::Left)),
            ("lower-right", Corner::Lower(Side::Right)),
        ] {
            book.read("gaps", slot, twin.read_gap(corner));
        }
        Self { book, habit }
    }

    /// Takes all the readings of a step, as the procedure asks for them.
    fn measure(&mut self, check: Check, step: &str, twin: &mut Twin) {
        match check {
            Check::Pitch => {
                for [direct, reversed] in [pitch_readings(twin), pitch_readings(twin)] {
                    self.book.read(step, "direct", direct);
                    self.book.read(step, "reversed", reversed);
                }
            }
            Check::Twist => {
                let [frame, tail] = roll_readings(twin);
                for (slot, value) in
                    [("frame", frame[0]), ("frame-reversed", frame[1]), ("aft", tail[0]), ("aft-reversed", tail[1])]
                {
                    self.book.read(step, slot, value);
                }
            }
            Check::Square => {
                for (slot, pulls) in ["left", "right"].into_iter().zip(diagonal_readings(twin)) {
                    for pull in pulls {
                        self.book.read(step, slot, pull);
                    }
                }
            }
            Check::Offset => {
                for _ in 0..2 {
                    self.book.read(step, "string", twin.read_offset());
                }
            }
        }
    }

    fn order(&mut self, step: &str, moves: &[ProposedMove]) -> Advice {
        let mut sides = Vec::new();
        let mut advice = Advice::Stop("a correction without a move".to_owned());
        for proposed in moves {
            let inches = proposed.amount.value;
            self.book.moved(step, &proposed.adjuster, inches);
            advice = match proposed.adjuster.as_str() {
                "saddle" | "block" => Advice::Support(inches),
                "saddle-rock" | "block-rock" => Advice::Rock(inches),
                "joint-left" | "joint-right" => {
                    let side = if proposed.adjuster == "joint-left" { Side::Left } else { Side::Right };
                    sides.push((side, inches));
                    Advice::Joint(sides.clone())
                }
                other => Advice::Stop(format!("an adjuster that the twin lacks: {other}")),
            };
        }
        advice
    }
}

impl Advisor for WithTheApp {
    fn advise(&mut self, check: Check, twin: &mut Twin) -> Advice {
        let step = match check {
            Check::Pitch => "set/pitch",
            Check::Twist => "set/twist",
            Check::Square => "set/square",
            Check::Offset => "set/offset",
        };
        for attempt in 0.. {
            self.measure(check, step, twin);
            let run = self.book.fold();
            let state = run.step(step).expect("a step of the procedure");
            let result = state.result().expect("all of its readings");
            if result.verdict == Verdict::In {
                return Advice::In;
            }
            let advice = state.advice.clone().unwrap_or_default();
            if let Some(why) = advice.stop {
                return Advice::Stop(why);
            }
            let waits = self.habit == Habit::MeasureAgain
                && result.verdict == Verdict::CantTell
                && reads_between_limits(result);
            if (advice.correction.is_none() || waits) && attempt < READ_AGAIN {
                continue;
            }
            return match advice.correction {
                Some(correction) => self.order(step, &correction.moves),
                None => Advice::Stop(format!("{:?}, and no move offered", result.verdict)),
            };
        }
        unreachable!("the loop ends by itself")
    }
}

/// The reading's own value lies between the limits, whatever its uncertainty.
fn reads_between_limits(result: &CheckResult) -> bool {
    let value = result.estimate.value;
    result.limits.is_some_and(|limits| {
        limits.lower.is_none_or(|lower| value >= lower) && limits.upper.is_none_or(|upper| value <= upper)
    })
}
