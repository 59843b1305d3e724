//! A speaker: numbers into words, as different people and recognisers do it. It shares nothing with the library.

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
const TENS: [&str; 10] = ["", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

fn below_hundred(number: u32, hyphen: char) -> String {
    match (number / 10, number % 10) {
        (0 | 1, _) => ONES[number as usize].into(),
        (tens, 0) => TENS[tens as usize].into(),
        (tens, ones) => format!("{}{hyphen}{}", TENS[tens as usize], ONES[ones as usize]),
    }
}

/// "two hundred twenty seven"
pub(crate) fn american(number: u32) -> String {
    match (number / 100, number % 100) {
        (0, rest) => below_hundred(rest, ' '),
        (hundreds, 0) => format!("{} hundred", ONES[hundreds as usize]),
        (hundreds, rest) => format!("{} hundred {}", ONES[hundreds as usize], below_hundred(rest, ' ')),
    }
}

/// "two hundred and twenty-seven"
pub(crate) fn british(number: u32) -> String {
    match (number / 100, number % 100) {
        (0, rest) => below_hundred(rest, '-'),
        (1, 0) => "a hundred".into(),
        (hundreds, 0) => format!("{} hundred", ONES[hundreds as usize]),
        (hundreds, rest) => format!("{} hundred and {}", ONES[hundreds as usize], below_hundred(rest, '-')),
    }
}

/// "two twenty seven", "two oh five", "two hundred"
pub(crate) fn shop(number: u32) -> String {
    match (number / 100, number % 100) {
        (0, rest) => below_hundred(rest, ' '),
        (hundreds, 0) => format!("{} hundred", ONES[hundreds as usize]),
        (hundreds, rest @ 1..10) => format!("{} oh {}", ONES[hundreds as usize], ONES[rest as usize]),
        (hundreds, rest) => format!("{} {}", ONES[hundreds as usize], below_hundred(rest, ' ')),
    }
}

/// "two two seven"
pub(crate) fn digits(number: &str) -> String {
    let words: Vec<&str> = number.bytes().map(|digit| ONES[usize::from(digit - b'0')]).collect();
    words.join(" ")
}

/// "2 27": a recogniser that writes as it hears.
pub(crate) fn recogniser(number: u32) -> String {
    match (number / 100, number % 100) {
        (0, rest) => rest.to_string(),
        (hundreds, 0) => format!("{hundreds} hundred"),
        (hundreds, rest @ 1..10) => format!("{hundreds} oh {rest}"),
        (hundreds, rest) => format!("{hundreds} {rest}"),
    }
}

/// "eleven sixteenths", "a half"
pub(crate) fn fraction(top: u32, bottom: u32) -> String {
    let one = match bottom {
        2 => "half",
        4 => "quarter",
        8 => "eighth",
        16 => "sixteenth",
        32 => "thirty second",
        _ => "sixty fourth",
    };
    match (top, bottom) {
        (1, 8) => format!("an {one}"),
        (1, _) => format!("a {one}"),
        _ => format!("{} {one}s", below_hundred(top, ' ')),
    }
}

/// A recogniser's choice among words that sound alike.
pub(crate) fn mistaken(said: &str) -> String {
    let words: Vec<&str> = said
        .split(' ')
        .map(|word| match word {
            "one" => "won",
            "two" => "too",
            "four" => "for",
            "eight" => "ate",
            "sixteenths" => "sixteenth's",
            "eighths" => "eights",
            "fourths" => "forths",
            word => word,
        })
        .collect();
    words.join(" ")
}
