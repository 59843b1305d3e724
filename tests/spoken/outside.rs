//! Numbers in words from sets that others made to test speech systems.
//!
//! In scope is what a reading can be. A line of the first set is in scope when its written side is a number in digits, alone or
//! with one of the units m, mm, ft, kg, and when it is not beyond any reading (100 m, 10 t, 100 000 without a unit). What is out
//! of scope is not left alone: it must be refused, since a wrong number is worse than none.
//!
//! Passed and out of scope are printed by the test, the pass rate by the figures.

use trammel::quantity::{Heard, Unit, hear};

use crate::values;

/// Crate text-processing-rs 0.2.2, `tests/data/en`, Apache-2.0: spoken and written side, "~" between. See `itn_en/NOTICE`.
const ITN: [&str; 6] = [
    include_str!("itn_en/cardinal.txt"),
    include_str!("itn_en/cardinal_cased.txt"),
    include_str!("itn_en/decimal.txt"),
    include_str!("itn_en/decimal_cased.txt"),
    include_str!("itn_en/measure.txt"),
    include_str!("itn_en/measure_cased.txt"),
];

/// Fractions and lengths, from the documents of three open test sets. NeMo text processing,
/// `data_text_normalization/test_cases_fraction.txt`, Apache-2.0, written and spoken side exchanged; Recognizers-Text,
/// `NumberModel.json` and `DimensionModel.json`, MIT; Duckling, `Distance/EN/Corpus.hs`, BSD. Each with the unit asked for and
/// the value in it, or why it is out of scope.
const OTHERS: [(&str, Unit, Result<f64, Out>); 26] = [
    // NeMo text processing
    ("thirty one thirty seconds", Unit::Inch, Ok(31.0 / 32.0)),
    ("two and a half", Unit::Inch, Ok(2.5)),
    ("three and two quarters", Unit::Inch, Ok(3.5)),
    ("twenty two thirds", Unit::Inch, Err(Out::OddPart)),
    // Recognizers-Text
    ("five eighths", Unit::Inch, Ok(0.625)),
    ("one hundred and three and two thirds", Unit::Inch, Err(Out::OddPart)),
    ("twenty-three fifths", Unit::Inch, Err(Out::OddPart)),
    ("twenty and three fifths", Unit::Inch, Err(Out::OddPart)),
    ("one and a half", Unit::Inch, Ok(1.5)),
    ("five and a quarter", Unit::Inch, Ok(5.25)),
    ("- 1 4/5", Unit::Inch, Err(Out::OddPart)),
    ("two hundred point zero three", Unit::Millimetre, Ok(200.03)),
    ("two hundred point seventy-one", Unit::Millimetre, Ok(200.71)),
    ("2  1/4", Unit::Inch, Ok(2.25)),
    ("3-inch", Unit::Inch, Ok(3.0)),
    ("10 1/2 miles", Unit::Inch, Err(Out::OtherUnit)),
    ("1/4 mile", Unit::Inch, Err(Out::OtherUnit)),
    // Duckling
    ("7 feet and 10 inches", Unit::Inch, Ok(94.0)),
    ("2 yards 7 ft 10 inches", Unit::Inch, Err(Out::OtherUnit)),
    ("5''", Unit::Inch, Ok(5.0)),
    ("5\"", Unit::Inch, Ok(5.0)),
    ("five inches", Unit::Inch, Ok(5.0)),
    ("1.87 meters", Unit::Metre, Ok(1.87)),
    ("2 km and 1 meter", Unit::Metre, Err(Out::OtherUnit)),
    ("1 meter and 1 foot", Unit::Metre, Err(Out::OtherUnit)),
    ("lower than three point five miles", Unit::Inch, Err(Out::OtherUnit)),
];

/// Why a line is out of scope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Out {
    /// Million and more, crore and lakh, and "thousand" left standing on the written side.
    LargeNumber,
    /// A unit that no reading has, or a mixture of units: km, %, square feet.
    OtherUnit,
    /// A fraction that is on no tape.
    OddPart,
    /// 100 m, 10 t, 100 000.
    BeyondReading,
    /// The set leaves the word as it is.
    NotWrittenInDigits,
}

/// What is expected of a line: the unit to ask for and the value in it.
fn expectation(written: &str) -> Result<(Unit, f64), Out> {
    let (number, named) = written.split_once(' ').unwrap_or((written, ""));
    let Ok(number) = number.parse::<f64>() else {
        let has_digits = number.contains(|c: char| c.is_ascii_digit());
        return Err(if has_digits { Out::LargeNumber } else { Out::NotWrittenInDigits });
    };
    let (unit, per, most) = match named.to_lowercase().as_str() {
        // A plain decimal is asked for in millimetres: a count has no decimals and no minus.
        "" => (Unit::Millimetre, 1.0, 100_000.0),
        "m" => (Unit::Metre, 1.0, 100.0),
        "mm" => (Unit::Millimetre, 1.0, 100_000.0),
        "ft" => (Unit::Inch, 12.0, 3937.0),
        "kg" => (Unit::Kilogram, 1.0, 10_000.0),
        "million" | "billion" | "trillion" | "thousand" => return Err(Out::LargeNumber),
        _ => return Err(Out::OtherUnit),
    };
    let value = number * per;
    if value.abs() <= most { Ok((unit, value)) } else { Err(Out::BeyondReading) }
}

/// How the sets fared.
#[derive(Default)]
pub(crate) struct Outcome {
    in_scope: usize,
    passed: usize,
    out: Vec<Out>,
    /// In scope and not first among the readings.
    failed: Vec<String>,
    /// Out of scope, and read as a number all the same.
    misread: Vec<String>,
}

impl Outcome {
    /// All sets.
    pub(crate) fn of_all() -> Self {
        let mut outcome = Self::default();
        for (spoken, written) in ITN.iter().flat_map(|set| set.lines()).filter_map(|line| line.split_once('~')) {
            match expectation(written) {
                _ if spoken.is_empty() => {}
                Ok((unit, value)) => outcome.expect(spoken, &hear(spoken, unit, 0.0, None), value),
                Err(why) => outcome.refuse(spoken, why),
            }
        }
        for (spoken, unit, expected) in OTHERS {
            match expected {
                Ok(value) => outcome.expect(spoken, &hear(spoken, unit, 0.0, None), value),
                Err(why) => outcome.refuse(spoken, why),
            }
        }
        outcome
    }

    fn expect(&mut self, spoken: &str, heard: &Heard, value: f64) {
        self.in_scope += 1;
        let first = values(heard).first().copied();
        if first.is_some_and(|first| (first - value).abs() < 1e-9) {
            self.passed += 1;
        } else {
            self.failed.push(format!("{spoken}: {value}, heard {heard:?}"));
        }
    }

    /// Out of scope: refused, whichever unit is asked for. What the set leaves as a word is a number to us all the same.
    fn refuse(&mut self, spoken: &str, why: Out) {
        self.out.push(why);
        if why == Out::NotWrittenInDigits {
            return;
        }
        for unit in [Unit::Metre, Unit::Inch, Unit::Millimetre, Unit::Kilogram, Unit::One] {
            let heard = hear(spoken, unit, 0.0, None);
            if !values(&heard).is_empty() {
                self.misread.push(format!("{spoken} in {unit:?}: {heard:?}"));
            }
        }
    }

    /// The share of what is in scope whose first reading is the number of the set.
    pub(crate) fn pass_rate(&self) -> f64 {
        self.passed as f64 / self.in_scope as f64
    }
}

#[test]
fn what_is_in_scope_is_read_as_the_sets_say_and_nothing_else_is_read() {
    let outcome = Outcome::of_all();
    let counted = |why| outcome.out.iter().filter(|&&out| out == why).count();
    let out = [Out::LargeNumber, Out::OtherUnit, Out::OddPart, Out::BeyondReading, Out::NotWrittenInDigits];
    let out = out.map(|why| (why, counted(why)));
    println!("outside: {} of {} in scope; out of scope: {out:?}", outcome.passed, outcome.in_scope);
    assert!(outcome.misread.is_empty(), "{}", outcome.misread.join("\n"));
    assert!(outcome.failed.is_empty(), "{} failed:\n{}", outcome.failed.len(), outcome.failed.join("\n"));
}
