//! What is printed reads back as the very same number.

use super::super::{Heard, Unit, hear, parse, print, print_number, say};

/// Checks every number of steps in `range`, with and without its unit; how many there were.
fn every_step(range: std::ops::RangeInclusive<i32>, steps_per_unit: i32, unit: Unit) -> usize {
    let step = 1.0 / f64::from(steps_per_unit);
    let mut count = 0;
    for n in range {
        let value = f64::from(n) / f64::from(steps_per_unit);
        for shown in [print(value, unit, step), print_number(value, unit, step)] {
            let read = parse(&shown, unit, step);
            assert_eq!(read.map(|q| q.value.to_bits()), Ok((value + 0.0).to_bits()), "{value} shown as {shown:?}");
        }
        count += 1;
    }
    count
}

#[test]
fn every_sixty_fourth_of_an_inch_to_three_hundred_inches() {
    assert_eq!(every_step(-300 * 64..=300 * 64, 64, Unit::Inch), 38_401);
    assert_eq!(every_step(-300 * 32..=300 * 32, 32, Unit::Inch), 19_201);
    assert_eq!(every_step(-300 * 16..=300 * 16, 16, Unit::Inch), 9_601);
}

#[test]
fn every_sixty_fourth_shows_exactly_at_each_step_that_holds_it() {
    for n in 0..=300 * 64_u32 {
        let value = f64::from(n) / 64.0;
        let finest = print(value, Unit::Inch, 1.0 / 64.0);
        for parts in [32, 16, 8, 4, 2, 1] {
            let shown = print(value, Unit::Inch, 1.0 / f64::from(parts));
            assert_eq!(shown == finest, n % (64 / parts) == 0, "{n}/64 in at 1/{parts} in: {shown}");
        }
    }
}

#[test]
fn every_twentieth_of_a_degree_through_the_half_circle() {
    assert_eq!(every_step(-180 * 20..=180 * 20, 20, Unit::Degree), 7_201);
}

#[test]
fn every_millimetre_and_half_millimetre() {
    assert_eq!(every_step(-8000..=8000, 1, Unit::Millimetre), 16_001);
    assert_eq!(every_step(-8000 * 2..=8000 * 2, 2, Unit::Millimetre), 32_001);
}

/// What is printed is typed back, and what is said is heard back.
#[test]
fn every_unit_reads_back_what_it_shows_and_hears_what_it_says() {
    for unit in Unit::ALL {
        let (step, lowest) = if unit == Unit::One { (1.0, 0) } else { (0.5, -90) };
        for n in lowest..=200 {
            let value = f64::from(n) * step;
            let typed = parse(&print(value, unit, step), unit, step);
            assert_eq!(typed.map(|q| q.value), Ok(value), "{value} {unit:?}");
            let heard = hear(&say(value, unit, step), unit, step, None);
            assert!(
                matches!(&heard, Heard::Reading(q) if q[0].value == value),
                "{}: {heard:?}",
                say(value, unit, step)
            );
        }
    }
}
