//! Counts, and the table that is made of them.

use std::fmt::Write;

use trammel::procedure::{Slip, WrongMode, doubt, plausible};
use trammel::quantity::{Quantity, parse, print_number};
use trammel::record::Instrument;

use super::bench::{Hands, to_step};
use super::plant::{Plant, Planted, plants};
use super::walk::{Moment, walk};

/// The guards by the name that the table gives them.
pub(crate) const GUARDS: [&str; 10] = [
    "far off, unexplained",
    "tape start",
    "fraction",
    "transposed digits",
    "left and right",
    "sign",
    "protractor mode",
    "same number again",
    "decimal point",
    "unit",
];

const fn guard(slip: Slip) -> usize {
    match slip {
        Slip::Far => 0,
        Slip::TapeStart(_) => 1,
        Slip::Fraction => 2,
        Slip::Transposed => 3,
        Slip::Swapped => 4,
        Slip::Sign => 5,
        Slip::Mode(WrongMode::LeftRelative | WrongMode::LeftAbsolute | WrongMode::ZeroedHere) => 6,
        Slip::SameAgain => 7,
        Slip::Point => 8,
        Slip::OtherUnit => 9,
    }
}

/// One kind of slip.
#[derive(Clone, Copy, Default)]
pub(crate) struct Row {
    /// Planted, and asked about or refused.
    pub(crate) planted: u64,
    pub(crate) asked: u64,
    /// The same of those that count; refused by the pad; named; with the true number offered.
    pub(crate) counting: u64,
    pub(crate) caught: u64,
    pub(crate) refused: u64,
    pub(crate) named: u64,
    pub(crate) offered: u64,
}

/// All counts.
#[derive(Clone, Default)]
pub(crate) struct Tally {
    pub(crate) clean: u64,
    pub(crate) refused: u64,
    pub(crate) false_alarms: [u64; GUARDS.len()],
    pub(crate) rows: [Row; Planted::ALL.len()],
}

/// How many times as far from the middle as an honest reading can be a slip has to lie to count.
const BEYOND: f64 = 2.0;

impl Tally {
    /// Walks these seeds, both airframes in turn, until `clean` honest readings were seen; slips are planted in every `plant`-th run.
    pub(crate) fn of(first: u64, clean: u64, plant: u64, hands: Hands) -> Self {
        let mut tally = Self::default();
        let mut seed = first;
        while tally.clean < clean {
            let planting = seed.is_multiple_of(plant);
            walk(usize::from(seed % 3 == 2), seed, hands, &mut |moment, bench| {
                if tally.clean == clean {
                    return;
                }
                tally.honest(moment);
                if planting {
                    for slip in plants(moment, bench) {
                        tally.slip(moment, &slip);
                    }
                }
            });
            seed += 1;
        }
        tally
    }

    fn honest(&mut self, moment: &Moment<'_>) {
        self.clean += 1;
        match typed(moment, moment.honest) {
            None => self.refused += 1,
            Some(entry) => {
                if let Some(doubt) = doubt(&entry, moment.context) {
                    self.false_alarms[guard(doubt.slip)] += 1;
                }
            }
        }
    }

    fn slip(&mut self, moment: &Moment<'_>, Plant { what, typed: value, context }: &Plant) {
        let row = &mut self.rows[Planted::ALL.iter().position(|known| known == what).expect("a row")];
        let raised = typed(moment, *value).map(|entry| doubt(&entry, context.as_ref().unwrap_or(moment.context)));
        let (asked, named, offered) = match &raised {
            None => (true, false, false),
            Some(None) => (false, false, false),
            Some(Some(doubt)) => {
                let meant = doubt.meant.as_ref().map(|meant| (meant.value - moment.honest).abs());
                (true, what.named_by(doubt.slip), meant.is_some_and(|off| off < moment.instrument.step / 2.0))
            }
        };
        row.planted += 1;
        row.asked += u64::from(asked);
        if moment.range.is_some_and(|(middle, half)| (value - middle).abs() > BEYOND * half) {
            row.counting += 1;
            row.caught += u64::from(asked);
            row.refused += u64::from(raised.is_none());
            row.named += u64::from(named);
            row.offered += u64::from(offered);
        }
    }

    pub(crate) fn and(mut self, other: &Self) -> Self {
        self.clean += other.clean;
        self.refused += other.refused;
        for (mine, theirs) in self.false_alarms.iter_mut().zip(other.false_alarms) {
            *mine += theirs;
        }
        for (mine, theirs) in self.rows.iter_mut().zip(other.rows) {
            mine.planted += theirs.planted;
            mine.asked += theirs.asked;
            mine.counting += theirs.counting;
            mine.caught += theirs.caught;
            mine.refused += theirs.refused;
            mine.named += theirs.named;
            mine.offered += theirs.offered;
        }
        self
    }

    pub(crate) fn false_alarm_rate(&self) -> f64 {
        share(self.refused + self.false_alarms.iter().sum::<u64>(), self.clean)
    }

    /// Caught of those that count: the mean of the rows.
    pub(crate) fn caught_rate(&self) -> f64 {
        self.mean(|row| share(row.caught, row.counting))
    }

    /// Asked about of all that were planted: the mean of the rows.
    pub(crate) fn raw_rate(&self) -> f64 {
        self.mean(|row| share(row.asked, row.planted))
    }

    fn mean(&self, rate: impl Fn(&Row) -> f64) -> f64 {
        self.rows.iter().map(rate).sum::<f64>() / self.rows.len() as f64
    }

    /// The rows of the table.
    pub(crate) fn slips(&self) -> String {
        let mut text = String::new();
        let percent = |part, of| format!("{:.1} %", 100.0 * share(part, of));
        for (what, row) in Planted::ALL.iter().zip(&self.rows) {
            let through = row.caught - row.refused;
            let named = if what.is_named() { percent(row.named, through) } else { "–".to_owned() };
            let offered = if what.knows() { percent(row.offered, through) } else { "–".to_owned() };
            let (asked, caught) = (percent(row.asked, row.planted), percent(row.caught, row.counting));
            let Row { planted, counting, refused, .. } = row;
            let title = what.title();
            let _ = writeln!(
                text,
                "| {title} | {planted} | {asked} | {counting} | {caught} | {refused} | {named} | {offered} |"
            );
        }
        let (raw, caught) = (100.0 * self.raw_rate(), 100.0 * self.caught_rate());
        let _ = writeln!(text, "| **mean of the rows** | | **{raw:.1} %** | | **{caught:.1} %** | | | |");
        text
    }

    /// Which guard asked about how many honest readings, beside the same with unsteady hands.
    pub(crate) fn for_nothing(&self, unsteady: &Self) -> String {
        let mut text = String::new();
        let counts = |tally: &Self| tally.false_alarms.into_iter().chain([tally.refused]);
        let names = GUARDS.into_iter().chain(["refused by the pad"]);
        for ((name, count), other) in names.zip(counts(self)).zip(counts(unsteady)) {
            let _ = writeln!(text, "| {name} | {count} | {other} |");
        }
        let [rate, other] = [self, unsteady].map(|tally| 100.0 * tally.false_alarm_rate());
        let _ = writeln!(text, "| **all together** | **{rate:.2} %** | **{other:.2} %** |");
        let _ = writeln!(text, "| honest readings | {} | {} |", self.clean, unsteady.clean);
        text
    }
}

/// The number as it comes through the pad; `None` when the pad refuses it.
fn typed(moment: &Moment<'_>, value: f64) -> Option<Quantity> {
    let Instrument { unit, step, .. } = *moment.instrument;
    // A number that the instrument cannot show (inches read off a metric tape) is typed with its own decimals.
    let step = if to_step(value, step) == value { step } else { 0.0 };
    let text = print_number(value.abs(), unit, step);
    let read = parse(&text, unit, moment.instrument.step).ok()?.answered(value < 0.0);
    plausible(&read, moment.slot, moment.airframe).ok().map(|()| read)
}

fn share(part: u64, of: u64) -> f64 {
    if of == 0 { 0.0 } else { part as f64 / of as f64 }
}
