//! Drill sizes: numbers, letters and sixty-fourths, and where they interleave.

use crate::quantity::Length;

/// A drill of an inch set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drill {
    /// #80 to #1.
    Number(u8),
    /// A to Z.
    Letter(char),
    /// So many sixty-fourths of an inch.
    SixtyFourths(u8),
}

/// #1 to #80 in ten-thousandths of an inch (ASME B94.11M; read in a public source file, seven of them from memory too).
#[rustfmt::skip]
const NUMBERS: [u16; 80] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800, 1770,
    1730, 1695, 1660, 1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, 1200, 1160,
    1130, 1110, 1100, 1065, 1040, 1015, 995, 980, 960, 935, 890, 860, 820, 810, 785, 760,
    730, 700, 670, 635, 595, 550, 520, 465, 430, 420, 410, 400, 390, 380, 370, 360,
    350, 330, 320, 310, 292, 280, 260, 250, 240, 225, 210, 200, 180, 160, 145, 135,
];

/// A to Z in ten-thousandths of an inch (the same source).
#[rustfmt::skip]
const LETTERS: [u16; 26] = [
    2340, 2380, 2420, 2460, 2500, 2570, 2610, 2660, 2720, 2770, 2810, 2900, 2950,
    3020, 3160, 3230, 3320, 3390, 3480, 3580, 3680, 3770, 3860, 3970, 4040, 4130,
];

const TEN_THOUSANDTHS: f64 = 10_000.0;
/// An inch drill goes up to one inch here.
const MOST_SIXTY_FOURTHS: u8 = 64;
/// Two diameters nearer than this are one.
const SAME: Length = Length::from_inches(1e-7);

impl Drill {
    /// Its diameter; none for a size that no set has.
    #[must_use]
    pub fn diameter(self) -> Option<Length> {
        let listed = |sizes: &[u16], at: Option<usize>| {
            let size = *sizes.get(at?)?;
            Some(Length::from_inches(f64::from(size) / TEN_THOUSANDTHS))
        };
        match self {
            Self::Number(number) => listed(&NUMBERS, usize::from(number).checked_sub(1)),
            Self::Letter(letter) => {
                listed(&LETTERS, letter.is_ascii_uppercase().then(|| letter as usize - 'A' as usize))
            }
            Self::SixtyFourths(n) => {
                (1..=MOST_SIXTY_FOURTHS).contains(&n).then(|| Length::from_inches(f64::from(n) / 64.0))
            }
        }
    }

    /// Every drill: numbers from #80 up, letters, sixty-fourths.
    fn all() -> impl Iterator<Item = (Self, Length)> {
        let numbers = (1..=80).rev().map(Self::Number);
        let letters = ('A'..='Z').map(Self::Letter);
        let fractions = (1..=MOST_SIXTY_FOURTHS).map(Self::SixtyFourths);
        numbers.chain(letters).chain(fractions).filter_map(|drill| Some((drill, drill.diameter()?)))
    }

    /// The smallest drill that is not smaller than a diameter. A fraction stands behind a number or a letter of the same size.
    #[must_use]
    pub fn at_least(diameter: Length) -> Option<Self> {
        smallest(Self::all().filter(|(_, size)| *size >= diameter - SAME))
    }

    /// The drills that make a hole within limits, ends included, smallest first.
    #[must_use]
    pub fn within(least: Length, most: Length) -> Vec<Self> {
        let mut inside: Vec<_> =
            Self::all().filter(|(_, size)| *size >= least - SAME && *size <= most + SAME).collect();
        inside.sort_by(|one, other| one.1.metres().total_cmp(&other.1.metres()));
        inside.into_iter().map(|(drill, _)| drill).collect()
    }

    /// The first lettered drill above a bolt's nominal diameter, the usual hole for a bolt that is not a driving fit (AC 43.13-1B,
    /// 7-39). From 1/4 in to below Z; the letters start too large for less. The drawing goes first.
    #[must_use]
    pub fn first_letter_above(nominal: Length) -> Option<Self> {
        let letters = Self::all().filter(|(drill, size)| matches!(drill, Self::Letter(_)) && *size > nominal + SAME);
        if nominal < Length::from_inches(0.25) - SAME { None } else { smallest(letters) }
    }
}

/// The first of the smallest.
fn smallest(drills: impl Iterator<Item = (Drill, Length)>) -> Option<Drill> {
    let least = drills.reduce(|best, next| if next.1 < best.1 - SAME { next } else { best });
    least.map(|(drill, _)| drill)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_set_runs_one_way() {
        assert!(NUMBERS.windows(2).all(|pair| pair[0] > pair[1]), "a higher number is a smaller drill");
        assert!(LETTERS.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn sizes_interleave() {
        let at_least = |inches| Drill::at_least(Length::from_inches(inches));
        assert_eq!(at_least(0.125), Some(Drill::SixtyFourths(8)));
        assert_eq!(at_least(0.1251), Some(Drill::Number(30)), "and not the next fraction");
        assert_eq!(at_least(0.25), Some(Drill::Letter('E')), "which is a quarter");
        assert_eq!(at_least(1.1), None);
        let bolt_hole = |sixteenths: f64| Drill::first_letter_above(Length::from_inches(sixteenths / 16.0));
        assert_eq!(bolt_hole(3.0), None, "A is 3/64 too large for it");
        assert_eq!(bolt_hole(7.0), None, "larger than Z");
        let hole = Drill::within(Length::from_inches(0.09), Length::from_inches(0.1));
        assert_eq!(
            hole,
            [Drill::Number(42), Drill::SixtyFourths(6), Drill::Number(41), Drill::Number(40), Drill::Number(39)]
        );
    }

    #[test]
    fn no_set_has_them() {
        for drill in
            [Drill::Number(0), Drill::Number(81), Drill::Letter('a'), Drill::Letter('É'), Drill::SixtyFourths(0)]
        {
            assert_eq!(drill.diameter(), None, "{drill:?}");
        }
    }
}
