//! One row a reading or a mark on a hole, for a spreadsheet: RFC 4180, CRLF, every formula made harmless.

use std::collections::BTreeMap;

use crate::metrology::in_unit;
use crate::quantity::Unit;
use crate::record::{Airframe, Body, HoleMark, Ledger, MarkedHole, Mode, RunId, day_text};

/// The columns, in order. `value` is the number in `unit` (UCUM code); `text` is what was typed; `instrument_mode` is `absolute` or
/// `relative` where the instrument has such a thing; `asked` is what the pad asked before it was kept; `struck` says why the reading
/// does not count, and is empty when it does. Of a hole, `reading` is which and `text` what was said of it; it has no value and no
/// instrument.
pub const COLUMNS: [&str; 23] = [
    "entry",
    "time",
    "model",
    "serial",
    "procedure",
    "run",
    "step",
    "reading",
    "text",
    "value",
    "unit",
    "millimetres",
    "resolution",
    "instrument",
    "instrument_error",
    "instrument_mode",
    "zero_error",
    "last_check",
    "reader",
    "manual",
    "device",
    "asked",
    "struck",
];

/// Every reading of an airframe and every mark on a hole, struck ones too, oldest first.
#[must_use]
pub fn readings_csv(airframe: &Airframe, ledger: &Ledger) -> String {
    let mut text = row(&COLUMNS);
    let struck = ledger.struck(airframe.id);
    let procedures = procedures(airframe);
    for entry in ledger.of(airframe.id) {
        let (run, step, at, said, reading) = match &entry.body {
            Body::ReadingTaken(reading) => {
                (reading.run, &reading.step, reading.slot.clone(), reading.value.text.clone(), Some(reading))
            }
            Body::HoleMarked(marked) => (marked.run, &marked.step, place(marked), mark(marked), None),
            _ => continue,
        };
        let (value, instrument) = (reading.map(|reading| &reading.value), reading.map(|reading| &reading.instrument));
        let procedure = procedures.get(&run).map_or("", |procedure| procedure.as_str());
        let reason = struck.get(entry.id).and_then(|strike| match &ledger.get(strike)?.body {
            Body::Struck { reason, .. } => Some(if reason.is_empty() { "struck".to_owned() } else { reason.clone() }),
            _ => None,
        });
        let millimetres = value.and_then(|value| in_unit(value, Unit::Millimetre));
        let cells = [
            entry.id.to_string(),
            entry.at.to_rfc3339(),
            harmless(&airframe.details.model),
            harmless(&airframe.details.serial),
            harmless(procedure),
            run.to_string(),
            harmless(step),
            harmless(&at),
            harmless(&said),
            number(value.map(|value| value.value)),
            value.map_or("", |value| value.unit.ucum()).to_owned(),
            number(millimetres),
            number(value.map(|value| value.step)),
            harmless(instrument.map_or("", |instrument| &instrument.name)),
            number(instrument.map(|instrument| instrument.accuracy)),
            instrument.and_then(|instrument| instrument.mode).map_or("", mode).to_owned(),
            number(instrument.and_then(|instrument| instrument.zero).map(|zero| zero.value)),
            instrument.and_then(|instrument| instrument.checked).map(day_text).unwrap_or_default(),
            harmless(&entry.by),
            harmless(&airframe.details.manual),
            entry.device.to_string(),
            harmless(reading.and_then(|reading| reading.asked.as_deref()).unwrap_or_default()),
            harmless(&reason.unwrap_or_default()),
        ];
        text.push_str(&row(&cells));
    }
    text
}

/// Each run's procedure and its version: "mate-aft-fuselage v3".
pub(super) fn procedures(airframe: &Airframe) -> BTreeMap<RunId, String> {
    let mut found = BTreeMap::new();
    for started in &airframe.runs {
        found.entry(started.run).or_insert_with(|| format!("{} v{}", started.procedure, started.version));
    }
    found
}

/// One row: what holds a comma, a quote or a line break is quoted, quotes inside doubled (RFC 4180, section 2). By hand, because
/// the usual crate looks at every cell with the core library's reader of decimals, whose tables weigh more than a page of
/// the app.
pub(super) fn row(cells: &[impl AsRef<str>]) -> String {
    let mut text = String::new();
    for (place, cell) in cells.iter().map(AsRef::as_ref).enumerate() {
        if place > 0 {
            text.push(',');
        }
        if cell.contains(['"', ',', '\r', '\n']) {
            text.push('"');
            text.push_str(&cell.replace('"', "\"\""));
            text.push('"');
        } else {
            text.push_str(cell);
        }
    }
    text.push_str("\r\n");
    text
}

/// Which hole, in English whatever the app speaks, like everything of the file that nobody typed.
fn place(marked: &MarkedHole) -> String {
    format!("row {}, hole {}", marked.row, marked.hole)
}

/// What was said of a hole, in English too.
fn mark(marked: &MarkedHole) -> String {
    let word = match marked.mark {
        HoleMark::Done => "done",
        HoleMark::Bad => "bad",
        HoleMark::Open => "not done after all",
        HoleMark::Answered => "put right",
    };
    if marked.note.is_empty() { word.to_owned() } else { format!("{word}, {}", marked.note) }
}

const fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Absolute => "absolute",
        Mode::Relative => "relative",
    }
}

/// A number as a spreadsheet reads it: a plain minus, a point. Empty where there is none.
fn number(value: Option<f64>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}

/// A text that a spreadsheet cannot take for a formula: an apostrophe before a leading `=`, `+`, `-`, `@`, tab or line break (OWASP
/// ASVS 5.0, 1.2.10), and before the wide forms of these that some spreadsheets fold (from memory). Control characters, which no
/// spreadsheet file can hold, become U+FFFD.
pub(super) fn harmless(text: &str) -> String {
    let text: String = text
        .chars()
        .map(|character| match character {
            '\t' | '\r' | '\n' => character,
            control if control.is_control() => char::REPLACEMENT_CHARACTER,
            '\u{fffe}' | '\u{ffff}' => char::REPLACEMENT_CHARACTER,
            other => other,
        })
        .collect();
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']) {
        format!("'{text}")
    } else {
        text
    }
}
