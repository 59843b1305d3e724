//! The same number in the other ways of writing it, for the line beside the entry.

use super::{Quantity, Unit, decimal_mark};
use crate::language;

impl Quantity {
    /// The number as it would stand on other tools: "227.6875 in · 5783.26 mm" beside inches, "8.866 in" beside millimetres,
    /// "2° 36′" beside degrees. For the eye only; `None` where there is no other way.
    #[must_use]
    pub fn beside(&self) -> Option<String> {
        match self.unit {
            Unit::Inch => {
                let millimetres = self.length()?.millimetres();
                Some(format!("{} in · {} mm", trimmed(self.value, 6), trimmed(millimetres, 2)))
            }
            Unit::Millimetre => Some(format!("{} in", trimmed(self.length()?.inches(), 3))),
            Unit::Degree => {
                let minutes = (self.value.abs() * 60.0).round();
                let sign = if self.value < 0.0 && minutes > 0.0 { "\u{2212}" } else { "" };
                Some(format!("{sign}{:.0}° {:.0}′", (minutes / 60.0).floor(), minutes % 60.0))
            }
            _ => None,
        }
    }
}

/// At most this many decimals, zeros at the end left away.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let text = text.replace('.', decimal_mark(language::current()).encode_utf8(&mut [0; 4]));
    let digits = text.strip_prefix('-');
    digits
        .map_or_else(|| text.clone(), |digits| if digits == "0" { "0".to_owned() } else { format!("\u{2212}{digits}") })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stands_beside_itself_in_the_other_ways_of_writing_it() {
        let beside = |value, unit, step| Quantity::new(value, unit, step).beside();
        // 1 in is 25.4 mm (NIST SP 811, B.8): 227 11/16 in = 5783.2625 mm.
        assert_eq!(beside(227.6875, Unit::Inch, 1.0 / 32.0).as_deref(), Some("227.6875 in · 5783.26 mm"));
        assert_eq!(beside(-1.0 / 64.0, Unit::Inch, 1.0 / 64.0).as_deref(), Some("−0.015625 in · −0.4 mm"));
        assert_eq!(beside(5780.0, Unit::Millimetre, 1.0).as_deref(), Some("227.559 in"));
        assert_eq!(beside(-2.6, Unit::Degree, 0.1).as_deref(), Some("−2° 36′"));
        assert_eq!(beside(-0.001, Unit::Degree, 0.001).as_deref(), Some("0° 0′"));
        assert_eq!(beside(59.999, Unit::Degree, 0.001).as_deref(), Some("60° 0′"));
        assert_eq!(beside(48.0, Unit::One, 1.0), None);
    }
}
