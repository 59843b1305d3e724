//! Ready-made shapes of an aircraft: the choices that decide which procedures and which numbers belong to it at all.

use crate::language::{of_file, tr, words};
use crate::procedure::{Condition, SpecForm, SpecItem, procedures, sheet_items};

/// A shape that a person knows by sight, and the choice that it comes down to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shape {
    /// The item of the specification.
    pub key: &'static str,
    /// The option of that item.
    pub option: &'static str,
}

impl Shape {
    /// What it is called.
    #[must_use]
    pub fn title(&self) -> &'static str {
        match self.option {
            "lift struts" => words!("High wing, strut braced"),
            "cantilever" => words!("Low wing, cantilever"),
            "nose wheel" => words!("Nose wheel"),
            _ => words!("Tail wheel"),
        }
    }
}

/// The ready-made shapes: two of the wing, two of the wheels.
pub const SHAPES: [Shape; 4] = [
    Shape { key: "wing-bracing", option: "lift struts" },
    Shape { key: "wing-bracing", option: "cantilever" },
    Shape { key: "third-wheel", option: "nose wheel" },
    Shape { key: "third-wheel", option: "tail wheel" },
];

/// Every item that is a choice: those that a shape decides first, then the others in the procedures' order.
#[must_use]
pub fn choice_items() -> Vec<&'static SpecItem> {
    let shaped = |item: &SpecItem| SHAPES.iter().any(|shape| shape.key == item.key);
    let choices =
        |of_shape: bool| sheet_items().filter(move |item| item.form == SpecForm::Choice && shaped(item) == of_shape);
    choices(true).chain(choices(false)).collect()
}

/// An option as a person knows it: the shape's title where it is one.
#[must_use]
pub fn option_title(item: &SpecItem, option: &str) -> String {
    let shape = SHAPES.iter().find(|shape| shape.key == item.key && shape.option == option);
    shape.map_or_else(|| of_file(option), |shape| shape.title().to_owned())
}

/// What a choice leaves out: "Leaves out: Lift struts. 3 numbers of other procedures are not asked for." Empty when that is nothing.
#[must_use]
pub fn leaves_out(key: &str, option: &str) -> String {
    let out = |condition: &Option<Condition>| condition.as_ref().is_some_and(|it| it.key == key && it.is != option);
    let titles: Vec<&str> =
        procedures().filter(|found| out(&found.only_if)).map(|found| found.title.as_str()).collect();
    let numbers = sheet_items().filter(|item| out(&item.only_if)).count();
    let mut sentences = Vec::new();
    if !titles.is_empty() {
        sentences.push(tr!("Leaves out: {procedures}.", procedures = titles.join("; ")));
    }
    if numbers > 0 {
        sentences.push(tr!("1 number is not asked for." | "{n} numbers are not asked for." % numbers as u64));
    }
    sentences.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shape_is_a_choice_of_the_sheet_and_every_option_of_it_has_a_shape() {
        for item in choice_items().into_iter().take(2) {
            let shapes: Vec<&str> =
                SHAPES.iter().filter(|shape| shape.key == item.key).map(|shape| shape.option).collect();
            assert_eq!(shapes, item.options, "{}", item.key);
        }
        assert_eq!(option_title(choice_items()[0], "cantilever"), "Low wing, cantilever");
    }

    #[test]
    fn a_shape_leaves_out_what_belongs_to_the_other() {
        assert!(leaves_out("wing-bracing", "cantilever").contains("Lift struts: dihedral"));
        assert!(leaves_out("wing-bracing", "lift struts").contains("Cantilever wing"));
        assert!(leaves_out("third-wheel", "nose wheel").contains("2 numbers are not asked for"));
        assert_eq!(leaves_out("acceptance", "plainly"), "");
    }
}
