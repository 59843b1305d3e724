//! Every reading of a tape and of a protractor, spoken in many styles, is heard as itself.

use std::time::Instant;

use trammel::quantity::{Unit, hear, say};

use super::speaker::{american, british, digits, fraction, mistaken, recogniser, shop};
use crate::values;

/// Whole inches and a reduced fraction, top 0 for none.
#[derive(Clone, Copy)]
pub(crate) struct Inches {
    whole: u32,
    top: u32,
    bottom: u32,
}

impl Inches {
    fn of(sixty_fourths: u32) -> Self {
        let (whole, rest) = (sixty_fourths / 64, sixty_fourths % 64);
        let common = if rest == 0 { 64 } else { 1 << rest.trailing_zeros() };
        Self { whole, top: rest / common, bottom: 64 / common }
    }

    fn value(self) -> f64 {
        f64::from(self.whole) + f64::from(self.top) / f64::from(self.bottom)
    }

    /// The whole number and the fraction in words, with `and` between; a whole number of 0 is not said.
    fn spoken(self, whole: fn(u32) -> String, and: &str) -> String {
        match self {
            Self { whole: inches, top: 0, .. } => whole(inches),
            Self { whole: 0, top, bottom } => fraction(top, bottom),
            Self { whole: inches, top, bottom } => format!("{}{and}{}", whole(inches), fraction(top, bottom)),
        }
    }

    /// The same in digits, with `line` between top and bottom and `end` after them.
    fn written(self, and: &str, line: &str, end: &str) -> String {
        match self {
            Self { whole, top: 0, .. } => whole.to_string(),
            Self { whole: 0, top, bottom } => format!("{top}{line}{bottom}{end}"),
            Self { whole, top, bottom } => format!("{whole}{and}{top}{line}{bottom}{end}"),
        }
    }
}

/// A style of speech.
type Style<T> = (&'static str, fn(T) -> String);

const INCH_STYLES: [Style<Inches>; 14] = [
    ("as the app says it", |n| say(n.value(), Unit::Inch, 1.0 / 64.0)),
    ("American", |n| format!("{} inches", n.spoken(american, " and "))),
    ("British", |n| n.spoken(british, " and ")),
    ("shop", |n| n.spoken(shop, " and ")),
    ("shop without and", |n| n.spoken(shop, " ")),
    ("digit by digit", |n| n.spoken(|whole| digits(&whole.to_string()), " and ")),
    ("typed", |n| format!("{} in.", n.written(" ", "/", ""))),
    ("line lost after and", |n| n.written(" and ", if n.whole == 0 { "/" } else { " " }, "")),
    ("recogniser", |n| match n {
        Inches { whole, top: 0, .. } => recogniser(whole),
        Inches { whole, top, bottom } => format!("{} and {top}/{bottom}", recogniser(whole)),
    }),
    ("ordinal digits", |n| n.written(" and ", " ", "ths")),
    ("homophones", |n| mistaken(&n.spoken(american, " and "))),
    ("unit in the middle", |n| match n {
        Inches { top: 0, .. } => format!("{} inches", n.spoken(shop, "")),
        Inches { whole: 0, .. } => format!("{} of an inch", n.spoken(shop, "")),
        _ => n.spoken(|whole| format!("{} inches", shop(whole)), " "),
    }),
    ("feet and inches", |n| {
        let rest = Inches { whole: n.whole % 12, ..n };
        format!("{} foot {}", american(n.whole / 12), rest.spoken(american, " and "))
    }),
    ("decimal", |n| {
        let decimal = format!("{}", n.value());
        let (whole, after) = decimal.split_once('.').unwrap_or((&decimal, "0"));
        format!("{} point {}", digits(whole), digits(after))
    }),
];

/// Twentieths of a degree.
#[derive(Clone, Copy)]
pub(crate) struct Degrees(i32);

impl Degrees {
    fn value(self) -> f64 {
        f64::from(self.0) / 20.0
    }

    fn whole(self) -> u32 {
        self.0.unsigned_abs() / 20
    }

    fn hundredths(self) -> u32 {
        self.0.unsigned_abs() % 20 * 5
    }

    fn minutes(self) -> u32 {
        self.0.unsigned_abs() % 20 * 3
    }

    fn sign(self, minus: &'static str) -> &'static str {
        if self.0 < 0 { minus } else { "" }
    }
}

const DEGREE_STYLES: [Style<Degrees>; 11] = [
    ("as the app says it", |d| say(d.value(), Unit::Degree, 0.05)),
    ("American", |d| {
        let after = digits(&format!("{:02}", d.hundredths()));
        format!("{}{} point {after} degrees", d.sign("minus "), american(d.whole()))
    }),
    ("British", |d| {
        let after = digits(&format!("{:02}", d.hundredths()));
        format!("{}{} decimal {after}", d.sign("negative "), british(d.whole()))
    }),
    ("typed", |d| format!("{:.2}°", d.value())),
    ("typed with the minus of typography", |d| format!("{}{:.2}", d.sign("−"), d.value().abs())),
    ("digit by digit", |d| {
        let after = digits(&format!("{:02}", d.hundredths()));
        format!("{}{} decimal {after}", d.sign("minus "), digits(&d.whole().to_string()))
    }),
    ("minutes", |d| match d.minutes() {
        0 => format!("{}{} degrees", d.sign("minus "), shop(d.whole())),
        minutes => format!("{}{} degrees {} minutes", d.sign("minus "), shop(d.whole()), american(minutes)),
    }),
    ("minutes in digits", |d| format!("{}{}° {}'", d.sign("-"), d.whole(), d.minutes())),
    ("hundredths", |d| match d.hundredths() {
        0 => format!("{}{}", d.sign("minus "), american(d.whole())),
        after => format!("{}{} and {} hundredths", d.sign("minus "), american(d.whole()), american(after)),
    }),
    ("pairs after the point", |d| match d.hundredths() {
        after @ 0..10 => format!("{}{} point oh {}", d.sign("minus "), shop(d.whole()), american(after)),
        after => format!("{}{} point {}", d.sign("minus "), shop(d.whole()), american(after)),
    }),
    ("homophones", |d| {
        let after = digits(&format!("{:02}", d.hundredths()));
        mistaken(&format!("{}{} point {after}", d.sign("minus "), american(d.whole())))
    }),
];

/// Every n/64 in from 0 to 300 in.
fn tape() -> impl Iterator<Item = Inches> {
    (0..=300 * 64).map(Inches::of)
}

/// Every 0.05° from −180° to 180°.
fn protractor() -> impl Iterator<Item = Degrees> {
    (-180 * 20..=180 * 20).map(Degrees)
}

/// Says every value and looks for it: first among the readings when it is expected, and first without anything expected too,
/// but for `misled` of them, which come second. Gives how many were said.
fn every<T: Copy>(
    values_of: impl Iterator<Item = T>,
    (style, speak): Style<T>,
    value: fn(T) -> f64,
    unit: Unit,
    step: f64,
    misled: usize,
) -> usize {
    let (mut said, mut second) = (0, 0);
    for number in values_of {
        let (words, value) = (speak(number), value(number));
        let is_it = |got: &&f64| (*got - value).abs() < 1e-9;
        let expected = values(&hear(&words, unit, step, Some(value)));
        assert!(
            expected.first().as_ref().is_some_and(is_it),
            "{style}: {words:?} expected {value}, heard {expected:?}"
        );
        let unasked = values(&hear(&words, unit, step, None));
        assert!(unasked.iter().any(|got| is_it(&got)), "{style}: {words:?} is {value}, heard {unasked:?}");
        second += usize::from(!is_it(&&unasked[0]));
        said += 1;
    }
    assert_eq!(second, misled, "{style}: values that are not the first reading when nothing is expected");
    said
}

#[test]
fn every_sixty_fourth_to_three_hundred_inches_in_every_style() {
    for style in INCH_STYLES {
        // "Thirty one thirty seconds" is 31/32 before it is 30 1/32: 63 times a fraction takes the ones of a round number.
        let misled = if style.0 == "shop without and" { 63 } else { 0 };
        assert_eq!(every(tape(), style, Inches::value, Unit::Inch, 1.0 / 64.0, misled), 19_201);
    }
}

#[test]
fn every_twentieth_of_a_degree_in_every_style() {
    for style in DEGREE_STYLES {
        assert_eq!(every(protractor(), style, Degrees::value, Unit::Degree, 0.05, 0), 7_201);
    }
}

/// How often the measurement hears every utterance.
const ROUNDS: usize = 20;

/// How many utterances of all styles are heard in a second, on one core.
pub(crate) fn parses_per_second() -> f64 {
    let inches = INCH_STYLES.iter().flat_map(|(_, speak)| tape().step_by(16).map(speak)).map(|said| (said, Unit::Inch));
    let degrees = DEGREE_STYLES.iter().flat_map(|(_, speak)| protractor().step_by(7).map(speak));
    let all: Vec<(String, Unit)> = inches.chain(degrees.map(|said| (said, Unit::Degree))).collect();
    let is_number = |(said, unit): &&(String, Unit)| !values(&hear(said, *unit, 1.0 / 64.0, Some(100.0))).is_empty();
    let start = Instant::now();
    let heard: usize = (0..ROUNDS).map(|_| all.iter().filter(is_number).count()).sum();
    let seconds = start.elapsed().as_secs_f64();
    assert_eq!(heard, ROUNDS * all.len(), "every utterance is a number");
    heard as f64 / seconds
}
