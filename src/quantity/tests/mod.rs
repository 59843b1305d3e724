//! What the quantity floor promises, one behaviour a file. Cases that are only data live beside as `.tsv`:
//! tab-separated, `#` starts a comment.

mod converting;
mod displacements;
mod keeping;
mod marks;
mod reading;
mod refusing;
mod round_trips;
mod showing;
mod tape;

use super::Unit;

/// The rows of a case file, each with `N` columns.
fn rows<const N: usize>(file: &'static str) -> impl Iterator<Item = [&'static str; N]> {
    let lines = file.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| {
        let columns: Vec<_> = line.split('\t').collect();
        columns.try_into().unwrap_or_else(|_| panic!("not {N} columns: {line:?}"))
    })
}

/// The unit with a UCUM code.
fn unit(ucum: &str) -> Unit {
    Unit::ALL.into_iter().find(|unit| unit.ucum() == ucum).unwrap_or_else(|| panic!("no unit {ucum:?}"))
}
