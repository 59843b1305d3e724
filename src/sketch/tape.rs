//! The tape at a value.

use crate::language::tr;
use crate::quantity::{TapeTicks, Unit, print};

use super::sheet::{Sheet, Sketch};
use super::{Anchor, Ink, Lettering};

const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 78.0;
/// The tape's upper and lower edge.
const TOP: f64 = 20.0;
const BOTTOM: f64 = 72.0;
/// How far a tick of each class comes down from the upper edge.
const TICKS: [f64; 7] = [34.0, 26.0, 20.0, 15.0, 11.0, 8.0, 6.0];

/// The tape around a value, its graduations from the upper edge and a pointer at the value. `None` for what no tape shows.
#[must_use]
pub fn tape_picture(value: f64, unit: Unit, step: f64) -> Option<Sketch> {
    let tape = TapeTicks::around(value, unit, step, window(unit, step))?;
    let mut sheet = Sheet::new(WIDTH, HEIGHT);
    let at = |offset: f64| 1.0 + offset / tape.width * (WIDTH - 2.0);
    sheet.rectangle((1.0, TOP), (WIDTH - 1.0, BOTTOM), Ink::Cone);
    for tick in &tape.ticks {
        let (x, class) = (at(tick.offset), usize::from(tick.class));
        // Millimetres have fewer classes: each is drawn one longer, so that the single millimetre is no sixteenth.
        let reach = TICKS.get(class).copied().unwrap_or(TICKS[6]);
        sheet.line((x, TOP), (x, TOP + reach), if class == 0 { Ink::Frame } else { Ink::Post });
        if let Some(label) = &tick.label {
            let half = Lettering::Plain.width(label) / 2.0;
            // A number cut in half by the edge is no number.
            if x + 4.0 + 2.0 * half < WIDTH - 2.0 {
                sheet.text((x + 4.0, BOTTOM - 5.0), Anchor::Start, Lettering::Plain, Ink::Note, label);
            }
        }
    }
    let x = at(tape.pointer);
    sheet.line((x, TOP), (x, BOTTOM), Ink::Reading);
    let (left, right) = ((x - 9.0).max(0.0), (x + 9.0).min(WIDTH));
    sheet.area(vec![(left, 3.0), (right, 3.0), (x, TOP)], Ink::Move);
    Some(sheet.finish(tr!("The tape at {amount}.", amount = print(value.abs(), unit, step))))
}

/// How much of the tape is shown, in its unit: no graduation is drawn closer than 3 units of the sheet to the next.
fn window(unit: Unit, step: f64) -> f64 {
    match unit {
        Unit::Inch if step >= 1.0 / 8.0 => 6.0,
        Unit::Inch if step >= 1.0 / 16.0 => 4.0,
        Unit::Inch if step >= 1.0 / 32.0 => 2.5,
        Unit::Inch => 1.5,
        _ if step >= 1.0 => 64.0,
        _ => 44.0,
    }
}
