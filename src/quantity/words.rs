//! Number words: English here, as a shop says them, and the other languages below.

pub(super) mod french;
pub(super) mod german;
pub(super) mod spanish;

/// What a unit is called.
struct Name {
    /// One of it; empty for a count.
    one: &'static str,
    /// Several of it.
    many: &'static str,
    /// Its gender, where it decides how a number is said.
    feminine: bool,
}

impl Name {
    const fn masculine(one: &'static str, many: &'static str) -> Self {
        Self { one, many, feminine: false }
    }

    const fn feminine(one: &'static str, many: &'static str) -> Self {
        Self { one, many, feminine: true }
    }

    /// One and several alike.
    const fn same(name: &'static str) -> Self {
        Self::masculine(name, name)
    }

    const fn of(&self, single: bool) -> &'static str {
        if single { self.one } else { self.many }
    }
}

const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// The number that one word is: "seven", "seventeen", "seventy".
pub(super) fn number(word: &str) -> Option<u32> {
    let ones = ONES.iter().position(|&name| name == word);
    let number = ones.or_else(|| Some(10 * TENS[2..].iter().position(|&name| name == word)? + 20))?;
    Some(number as u32)
}

/// A whole number: "two twenty-seven", "two oh five", "two hundred", "one thousand two hundred forty". None from a
/// million on, which nothing on an airframe measures.
pub(super) fn whole(number: u64) -> Option<String> {
    match number {
        0..100 => Some(below_hundred(number)),
        100..1000 => Some(hundreds_spoken(number)),
        1000..1_000_000 => {
            let (thousands, rest) = (formal(number / 1000), number % 1000);
            Some(if rest == 0 {
                format!("{thousands} thousand")
            } else {
                format!("{thousands} thousand {}", formal(rest))
            })
        }
        _ => None,
    }
}

/// Digits one by one: "three seven five".
pub(super) fn digits(digits: &str) -> String {
    one_by_one(digits, &ONES)
}

/// Digits one by one, each by its name.
fn one_by_one(digits: &str, names: &[&str]) -> String {
    let words: Vec<&str> = digits.bytes().map(|digit| names[usize::from(digit.wrapping_sub(b'0')).min(9)]).collect();
    words.join(" ")
}

/// A proper fraction of an inch without the unit: "eleven sixteenths", "a half", "an eighth", "one sixteenth".
///
/// Halves, quarters and eighths have their article, as people say them; finer single parts have "one", because an
/// article is lost in shop noise.
pub(super) fn fraction(top: u64, bottom: u64) -> String {
    let part = match bottom {
        2 => "half",
        4 => "quarter",
        8 => "eighth",
        16 => "sixteenth",
        32 => "thirty-second",
        _ => "sixty-fourth",
    };
    match (top, bottom) {
        (1, 8) => format!("an {part}"),
        (1, 2 | 4) => format!("a {part}"),
        (1, _) => format!("one {part}"),
        _ => format!("{} {part}s", below_hundred(top)),
    }
}

fn below_hundred(number: u64) -> String {
    let (tens, ones) = ((number / 10 % 10) as usize, (number % 10) as usize);
    match (tens, ones) {
        (0 | 1, _) => ONES[tens * 10 + ones].into(),
        (_, 0) => TENS[tens].into(),
        _ => format!("{}-{}", TENS[tens], ONES[ones]),
    }
}

/// 100 to 999 as in a shop.
fn hundreds_spoken(number: u64) -> String {
    let (hundreds, rest) = (ONES[(number / 100 % 10) as usize], number % 100);
    match rest {
        0 => format!("{hundreds} hundred"),
        1..10 => format!("{hundreds} oh {}", below_hundred(rest)),
        _ => format!("{hundreds} {}", below_hundred(rest)),
    }
}

/// 1 to 999 as part of a longer number.
fn formal(number: u64) -> String {
    let (hundreds, rest) = (number / 100, number % 100);
    match (hundreds, rest) {
        (0, _) => below_hundred(rest),
        (_, 0) => format!("{} hundred", below_hundred(hundreds)),
        _ => format!("{} hundred {}", below_hundred(hundreds), below_hundred(rest)),
    }
}
