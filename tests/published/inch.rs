//! What an inch is.

use trammel::quantity::{Length, Quantity, Unit, parse};

use crate::Tally;

/// Addendum of 1960 to NBS Circular 572: "1 yard = 0.914 4 meter exactly", from which 1 inch is 25.4 mm, in force since
/// July 1, 1959. Text seen on books.google.com, id SeRcAAAAIAAJ.
const NBS: &str = "NBS Circular 572, addendum of 1960";
/// Abramowitz and Stegun, Handbook of Mathematical Functions (AMS 55), table 2.5. Text seen on convertit.com.
const AMS55: &str = "NBS AMS 55, table 2.5";
/// NIST SP 811 (2008), B.8: factors 2.54 E−02, 3.048 E−01, 9.144 E−01, 2.54 E−05 (mil), all exact. From memory.
const SP811: &str = "NIST SP 811, B.8, from memory";

fn metres(typed: &str) -> Option<f64> {
    parse(typed, Unit::Inch, 0.0).ok().as_ref().and_then(Quantity::length).map(Length::metres)
}

pub(crate) fn checks(tally: &mut Tally) {
    tally.same(NBS, "one inch in millimetres", Length::from_inches(1.0).millimetres(), 25.4);
    tally.same(NBS, "one yard in metres", metres("36 in"), Some(0.9144));
    tally.same(NBS, "one yard as three feet", metres("3 ft"), Some(0.9144));
    tally.same(AMS55, "one inch in metres", metres("1 in"), Some(0.0254));
    tally.same(AMS55, "one foot in metres", metres("1 ft"), Some(0.3048));
    tally.same(AMS55, "one yard in metres", metres("36"), Some(0.9144));
    tally.near(SP811, "one mil in metres", metres("0.001").unwrap_or(f64::NAN), 2.54e-5, 1e-20);
    tally.same(SP811, "one metre in inches and back", Length::from_inches(1.0 / 0.0254).metres(), 1.0);
}
