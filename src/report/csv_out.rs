//! One row a reading, for a spreadsheet: RFC 4180, CRLF, every formula made harmless.

use crate::metrology::in_unit;
use crate::quantity::Unit;
use crate::record::{Airframe, Body, Ledger, Mode, day_text};

/// The columns, in order. `value` is the number in `unit` (UCUM code); `text` is what was typed; `instrument_mode` is `absolute` or
/// `relative` where the instrument has such a thing; `asked` is what the pad asked before it was kept; `struck` says why the reading
/// does not count, and is empty when it does.
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

/// Every reading of an airframe, struck ones too, oldest first.
#[must_use]
pub fn readings_csv(airframe: &Airframe, ledger: &Ledger) -> String {
    let mut text = row(&COLUMNS);
    let struck = ledger.struck(airframe.id);
    for entry in ledger.of(airframe.id) {
        let Body::ReadingTaken(reading) = &entry.body else { continue };
        let procedure = airframe
            .runs
            .iter()
            .find(|started| started.run == reading.run)
            .map(|started| format!("{} v{}", started.procedure, started.version))
            .unwrap_or_default();
        let reason = struck.get(entry.id).and_then(|strike| match &ledger.get(strike)?.body {
            Body::Struck { reason, .. } => Some(if reason.is_empty() { "struck".to_owned() } else { reason.clone() }),
            _ => None,
        });
        let millimetres = in_unit(&reading.value, Unit::Millimetre).map(number).unwrap_or_default();
        let cells = [
            entry.id.to_string(),
            entry.at.to_rfc3339(),
            harmless(&airframe.details.model),
            harmless(&airframe.details.serial),
            procedure,
            reading.run.to_string(),
            harmless(&reading.step),
            harmless(&reading.slot),
            harmless(&reading.value.text),
            number(reading.value.value),
            reading.value.unit.ucum().to_owned(),
            millimetres,
            number(reading.value.step),
            harmless(&reading.instrument.name),
            number(reading.instrument.accuracy),
            reading.instrument.mode.map(mode).unwrap_or_default().to_owned(),
            reading.instrument.zero.map(|zero| number(zero.value)).unwrap_or_default(),
            reading.instrument.checked.map(day_text).unwrap_or_default(),
            harmless(&entry.by),
            harmless(&airframe.details.manual),
            entry.device.to_string(),
            harmless(reading.asked.as_deref().unwrap_or_default()),
            harmless(&reason.unwrap_or_default()),
        ];
        text.push_str(&row(&cells));
    }
    text
}

/// One row: what holds a comma, a quote or a line break is quoted, quotes inside doubled (RFC 4180, section 2). By hand, because
/// the usual crate looks at every cell with the core library's reader of decimals, whose tables weigh more than a page of
/// the app.
fn row(cells: &[impl AsRef<str>]) -> String {
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

const fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Absolute => "absolute",
        Mode::Relative => "relative",
    }
}

/// A number as a spreadsheet reads it: a plain minus, a point.
fn number(value: f64) -> String {
    format!("{value}")
}

/// A text that a spreadsheet cannot take for a formula: an apostrophe before a leading `=`, `+`, `-`, `@`, tab or return
/// (the characters that the OWASP page on CSV injection names).
fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) { format!("'{text}") } else { text.to_owned() }
}
