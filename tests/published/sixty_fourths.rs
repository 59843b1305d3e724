//! Decimal equivalents of the sixty-fourths of an inch, as tables print them.
//!
//! Sources of the columns of `sixty_fourths.tsv`:
//! - exact: "Principle and Practice" (plumbing), table LXIII, seen on chestofbooks.com; its misprint 3/62 is read as 3/64.
//!   1 is by definition.
//! - four places, half up: chart seen on machinecalcs.com to 53/64; from 27/32 on from memory.
//! - four places, half even (1/32 as .0312): chart seen on blog.delteil.my.id to 15/32; the custom of drill tables after
//!   ASME B94.11M, from memory.
//!
//! Six places are the exact column filled with zeros.

use trammel::quantity::{Unit, parse, print, print_number};

use crate::{Tally, rows};

const EXACT: &str = "Principle and Practice, table LXIII";
const HALF_UP: &str = "four-place chart rounded half up";
const HALF_EVEN: &str = "four-place chart rounded half even";

pub(crate) fn checks(tally: &mut Tally) {
    let read = |typed: &str| parse(typed, Unit::Inch, 1.0 / 64.0).map_or(f64::NAN, |quantity| quantity.value);
    let mut sixty_fourths = 0;
    for [fraction, exact, half_up, half_even] in rows(include_str!("sixty_fourths.tsv")) {
        sixty_fourths += 1;
        let inches = read(fraction);
        tally.same(EXACT, fraction, inches, read(exact));
        tally.same(EXACT, fraction, inches * 64.0, f64::from(sixty_fourths));
        tally.same(EXACT, fraction, print(read(exact), Unit::Inch, 1.0 / 64.0), format!("{fraction} in"));
        let six = if fraction == "1" { "1.000000".into() } else { format!("0{exact:0<7}") };
        tally.same(EXACT, fraction, print_number(inches, Unit::Inch, 1e-6), six);
        tally.same(HALF_UP, fraction, print_number(inches, Unit::Inch, 1e-4), half_up.into());
        tally.same(HALF_UP, fraction, print_number(read(half_up), Unit::Inch, 1.0 / 64.0), fraction.into());
        if half_even != "-" {
            tally.near(HALF_EVEN, fraction, inches, read(half_even), 0.5e-4);
            tally.same(HALF_EVEN, fraction, print_number(read(half_even), Unit::Inch, 1.0 / 64.0), fraction.into());
        }
    }
    tally.same(EXACT, "entries in the table", sixty_fourths, 64);
}
