//! Numbers in words, as test sets of speech systems pair them with digits.

use trammel::quantity::{ParseError, Unit, parse, say};

use crate::Tally;

/// Crate text-processing-rs 0.2.2, `tests/data/en/{cardinal,decimal,measure}.txt`, Apache-2.0.
const ITN: &str = "text-processing-rs 0.2.2, English cases";
/// NeMo text processing, `test_cases_fraction.txt`, Apache-2.0: "31/32~thirty one thirty seconds", "2 1/2~two and a half",
/// "3 2/4~three and two quarters", "22/3~twenty two thirds".
const NEMO: &str = "NeMo text processing, fraction cases";
/// Recognizers-Text, `NumberModel.json` and `DimensionModel.json`: "2  1/4" 2.25, "10 1/2" 10.5, "1/4" 0.25.
const RECOGNIZERS: &str = "Recognizers-Text, English number cases";
/// Duckling, `Distance/EN/Corpus.hs`: 5'' and 5" are five inches.
const DUCKLING: &str = "Duckling, English distance corpus";

/// Words without the hyphens, which the sets do not write.
fn said(value: f64, unit: Unit, step: f64) -> String {
    say(value, unit, step).replace('-', " ")
}

pub(crate) fn checks(tally: &mut Tally) {
    // Only from a thousand on: below it the shop's "two twenty-seven" is ours on purpose.
    for (number, words) in [
        (147_451.0, "one hundred forty seven thousand four hundred fifty one"),
        (46_664.0, "forty six thousand six hundred sixty four"),
        (-25_037.0, "minus twenty five thousand thirty seven"),
        (18_880.0, "eighteen thousand eight hundred eighty"),
        (1_013.0, "one thousand thirteen"),
        (1_001.0, "one thousand one"),
        (1_100.0, "one thousand one hundred"),
        (1_026.0, "one thousand twenty six"),
        (1_126.0, "one thousand one hundred twenty six"),
        (60.0, "sixty"),
        (-60.0, "minus sixty"),
        (0.0, "zero"),
    ] {
        tally.same(ITN, words, said(number, Unit::One, 1.0), words.into());
    }
    // The sets say "o" for a zero after the point; we say "zero", which is not mistaken for a letter.
    for (number, places, words) in [
        (-60.24, 4, "minus sixty point two four o o"),
        (0.26, 2, "o point two six"),
        (60.2, 1, "sixty point two"),
        (18.85, 2, "eighteen point eight five"),
        (18.5, 2, "eighteen point five o"),
        (18.05, 2, "eighteen point o five"),
        (18.0, 3, "eighteen point o o o"),
        (18.3, 3, "eighteen point three o o"),
        (18.36, 2, "eighteen point three six"),
    ] {
        let words = words.split(' ').map(|word| if word == "o" { "zero" } else { word }).collect::<Vec<_>>().join(" ");
        tally.same(ITN, &words, said(number, Unit::One, 0.1_f64.powi(places)), words.clone());
    }
    for (inches, words) in [
        (31.0 / 32.0, "thirty one thirty seconds of an inch"),
        (2.5, "two and a half inches"),
        // The set says "two quarters"; a reading is reduced.
        (3.5, "three and a half inches"),
    ] {
        tally.same(NEMO, words, said(inches, Unit::Inch, 1.0 / 64.0), words.into());
    }
    let read = |typed| parse(typed, Unit::Inch, 0.0).map(|quantity| quantity.value);
    tally.same(NEMO, "22/3 is on no tape", read("22/3"), Err(ParseError::OddDenominator));
    for (source, typed, value) in [
        (RECOGNIZERS, "2  1/4", 2.25),
        (RECOGNIZERS, "10 1/2", 10.5),
        (RECOGNIZERS, "1/4", 0.25),
        (DUCKLING, "5''", 5.0),
        (DUCKLING, "5\"", 5.0),
    ] {
        tally.same(source, typed, read(typed), Ok(value));
    }
    tally.same(RECOGNIZERS, "- 1 4/5 is on no tape", read("- 1 4/5"), Err(ParseError::OddDenominator));
}
