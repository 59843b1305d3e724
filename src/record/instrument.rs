//! Instruments: what a reading was taken with, and the state it was in.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::language::words;
use crate::quantity::{Quantity, Unit};

/// What kind of instrument a reading was taken with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum InstrumentKind {
    /// Digital level or digital protractor.
    Protractor,
    /// Steel tape.
    Tape,
    /// Steel rule, feeler or gauge held against the part.
    Rule,
    /// Water level: two heights by one surface of water.
    WaterLevel,
    /// Line or rotating laser.
    Laser,
    /// Cable tensiometer.
    Tensiometer,
    /// Weighing scales.
    Scales,
    /// Torque wrench.
    TorqueWrench,
    /// Thermometer held to the structure.
    Thermometer,
}

impl InstrumentKind {
    /// Every kind, in the order in which they are offered.
    pub const ALL: [Self; 9] = [
        Self::Protractor,
        Self::Tape,
        Self::Rule,
        Self::WaterLevel,
        Self::Laser,
        Self::Tensiometer,
        Self::Scales,
        Self::TorqueWrench,
        Self::Thermometer,
    ];

    /// Its name in files.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Protractor => "protractor",
            Self::Tape => "tape",
            Self::Rule => "rule",
            Self::WaterLevel => "water-level",
            Self::Laser => "laser",
            Self::Tensiometer => "tensiometer",
            Self::Scales => "scales",
            Self::TorqueWrench => "torque-wrench",
            Self::Thermometer => "thermometer",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Protractor => words!("Digital protractor"),
            Self::Tape => words!("Steel tape"),
            Self::Rule => words!("Steel rule"),
            Self::WaterLevel => words!("Water level"),
            Self::Laser => words!("Laser"),
            Self::Tensiometer => words!("Tensiometer"),
            Self::Scales => words!("Scales"),
            Self::TorqueWrench => words!("Torque wrench"),
            Self::Thermometer => words!("Thermometer"),
        }
    }

    /// Whether it can be turned end for end on the spot where it reads, which takes its zero error out.
    #[must_use]
    pub const fn reverses(self) -> bool {
        matches!(self, Self::Protractor)
    }
}

/// What an instrument is used as, for a sentence: the words of a key of the built-in procedures; another key stays as it is.
#[must_use]
pub fn role_words(role: &str) -> &str {
    match role {
        "protractor" => words!("protractor"),
        "tape" => words!("tape"),
        "other-tape" => words!("other-tape"),
        "rule" => words!("rule"),
        "water-level" => words!("water-level"),
        "laser" => words!("laser"),
        "tensiometer" => words!("tensiometer"),
        "scales" => words!("scales"),
        "torque-wrench" => words!("torque-wrench"),
        "thermometer" => words!("thermometer"),
        other => other,
    }
}

/// What an instrument's zero is set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mode {
    /// To gravity, or to its own mark.
    Absolute,
    /// To a face of the part that it was zeroed on.
    Relative,
}

/// Accuracy class of a tape, by whoever printed it there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum AccuracyClass {
    /// Class I of Directive 2014/32/EU, annex X (OIML R 35-1).
    I,
    /// Class II of the same.
    II,
    /// Class III of the same.
    III,
    /// A metal tape in trade in the United States (NIST Handbook 44, 5.52).
    #[serde(rename = "HB44")]
    Handbook44,
}

/// What the reversal check found: how much the instrument shows where it should show nothing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ZeroError {
    /// The zero error, in the instrument's unit: every reading in absolute mode is too large by it.
    pub value: f64,
    /// Its standard uncertainty, in the instrument's unit.
    pub u: f64,
}

/// An instrument as it was accepted: its state is copied into each reading taken with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// What kind it is.
    pub kind: InstrumentKind,
    /// The owner's name for it: what is written on it.
    pub name: String,
    /// Unit that it reads in.
    pub unit: Unit,
    /// Display or graduation step, in `unit`.
    pub step: f64,
    /// The maker's stated limit of error, plus or minus, in `unit`; over the lengths used here. Of a tape with a class: at
    /// 5 m, and the class says the rest.
    pub accuracy: f64,
    /// The class printed on a tape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<AccuracyClass>,
    /// When it was last checked against a reference, as its owner says.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "super::time::maybe_day")]
    pub checked: Option<NaiveDate>,
    /// After how many days it is due for another check.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due_after: Option<u32>,
    /// What its last reversal check found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zero: Option<ZeroError>,
    /// What its zero was set to when a reading was taken; nothing for an instrument that has no such thing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mode: Option<Mode>,
}

impl Instrument {
    /// An instrument of which no more is known than what it reads to and how far its maker lets it be off.
    #[must_use]
    pub const fn new(kind: InstrumentKind, name: String, unit: Unit, step: f64, accuracy: f64) -> Self {
        Self { kind, name, unit, step, accuracy, class: None, checked: None, due_after: None, zero: None, mode: None }
    }

    /// How many days it is over its time on a day; `None` when it is not, or when nobody said when it was checked and for how
    /// long that holds.
    #[must_use]
    pub fn overdue(&self, today: NaiveDate) -> Option<i64> {
        let days = (today - self.checked?).num_days() - i64::from(self.due_after?);
        (days > 0).then_some(days)
    }
}

/// The two readings of a reversal check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reversal {
    /// As it lay first. Signs are the instrument's own: its right end high is plus, both times.
    pub first: Quantity,
    /// Turned end for end in the same outline.
    pub turned: Quantity,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kind_is_called_in_the_program_as_in_files() {
        for kind in InstrumentKind::ALL {
            assert_eq!(serde_json::to_value(kind).expect("writes"), kind.key());
        }
    }

    #[test]
    fn an_instrument_is_overdue_the_day_after_its_time() {
        let day = |text: &str| crate::record::day(text).expect("a date");
        let mut level = Instrument::new(InstrumentKind::Protractor, "level".to_owned(), Unit::Degree, 0.1, 0.1);
        assert_eq!(level.overdue(day("2030-01-01")), None, "nobody said when it was checked");
        (level.checked, level.due_after) = (Some(day("2026-01-31")), Some(28));
        assert_eq!(level.overdue(day("2026-02-28")), None, "the last day still counts");
        assert_eq!(level.overdue(day("2026-03-02")), Some(2));
    }

    #[test]
    fn an_instrument_of_an_older_file_reads_and_writes_as_it_was() {
        let now =
            r#"{"kind":"tape","name":"8 m","unit":"mm","step":1.0,"accuracy":1.3,"class":"II","checked":"2026-03-31"}"#;
        let read: Instrument = serde_json::from_str(now).expect("reads");
        assert_eq!(serde_json::to_string(&read).expect("writes"), now);
        let old = r#"{"kind":"tape","name":"8 m","unit":"mm","step":1.0,"accuracy":1.3}"#;
        let read: Instrument = serde_json::from_str(old).expect("reads");
        assert_eq!(serde_json::to_string(&read).expect("writes"), old);
    }
}
