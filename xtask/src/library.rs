//! `cargo xtask bench library`: how fast the library is and how its costs grow, and the page that says so, `docs/performance-library.md`.

use std::fs;

use anyhow::{Context, Result};

use crate::bench::Group;
use crate::debian::{self, Need};
use crate::figures::Figure;
use crate::growth::{self, Growth};
use crate::{bench, process, project, python};

/// A solver in another language that ours is held against, and what counts instructions.
const SOLVER: [Need; 2] = [("g++", "g++"), ("/usr/include/ceres/ceres.h", "libceres-dev")];
const COUNTER: [Need; 1] = [("valgrind", "valgrind")];

const PAGE: &str = "docs/performance-library.md";

/// What the first table of the page shows: the figure, in words, its unit, digits after the point.
const SPEED: [(&str, &str, &str, usize); 22] = [
    ("solves_per_second", "adjustments of 8 to 24 readings, start to covariance", "a second", 0),
    ("solves_per_second_scipy", "the same by scipy", "a second", 0),
    ("solves_per_second_ceres", "the same by Ceres Solver", "a second", 0),
    ("spoken_parses_per_second_en", "spoken numbers, English", "a second", 0),
    ("spoken_parses_per_second_de", "spoken numbers, German", "a second", 0),
    ("spoken_parses_per_second_fr", "spoken numbers, French", "a second", 0),
    ("spoken_parses_per_second_es", "spoken numbers, Spanish", "a second", 0),
    ("record_open_ms_100k", "100,000 entries read as the app stores them, and merged", "ms", 0),
    ("record_fold_ms_100k", "the same, folded as one run", "ms", 1),
    ("record_export_mb_per_second", "JSON written", "MB/s", 0),
    ("record_import_mb_per_second", "JSON read, checked and merged", "MB/s", 0),
    ("record_csv_mb_per_second", "CSV written", "MB/s", 0),
    ("record_page_mb_per_second", "page to print written", "MB/s", 0),
    ("record_export_ms_100k", "100,000 entries as JSON", "ms", 0),
    ("record_import_ms_100k", "100,000 entries from JSON", "ms", 0),
    ("record_csv_ms_100k", "their readings as CSV", "ms", 0),
    ("record_page_ms_100k", "the page to print", "ms", 0),
    ("instructions.one_solve", "instructions of one adjustment of 24 readings", "", 0),
    ("instructions.one_spoken_number", "instructions of one spoken number", "", 0),
    ("instructions.one_fold", "instructions of one fold of a run of 10,000 entries", "", 0),
    ("solve_vs_scipy_ratio", "scipy's time by ours", "", 0),
    ("solve_vs_ceres_ratio", "Ceres Solver's time by ours", "", 1),
];

/// In the order in which they run.
pub(crate) const PARTS: [Group; 2] = [("library/speed", measure_speed), ("library/growth", measure_growth)];

/// How fast it is beside other solvers, and how many instructions the hottest work takes.
fn measure_speed(found: &mut Vec<Figure>) -> Result<()> {
    debian::see_to(&SOLVER, "the comparison of solvers")?;
    count_instructions();
    for test in [
        "--test network_cross_check -- --include-ignored --nocapture --test-threads=1",
        "--test spoken -- --ignored --nocapture speeds",
        "--test record_scale -- --ignored --nocapture",
        "--test instructions -- --nocapture the_hottest",
    ] {
        found.extend(measured(test)?);
    }
    on_the_page(|text| filled(text, "speed", &speed(found)))
}

/// How its costs grow, as tables and plots.
fn measure_growth(found: &mut Vec<Figure>) -> Result<()> {
    found.extend(measured("--test growth -- --ignored --nocapture --test-threads=1 measure")?);
    let growth = Growth::of(found);
    on_the_page(|text| {
        let mut text = text.to_owned();
        for (by, heading) in growth::BY {
            let plot = format!("images/growth-{by}.svg");
            growth.draw(by, &project::root().join("docs").join(&plot))?;
            let picture = format!("\n![Costs by {heading}, both axes logarithmic]({plot})\n");
            text = filled(&text, by, &(growth.table(by, heading) + &picture))?;
        }
        Ok(text)
    })
}

/// Outside the app the clock needs the machine for itself: one test at a time.
fn measured(test: &str) -> Result<Vec<Figure>> {
    let mut cargo = process::cargo(&format!("test --profile bench --package trammel {test}"));
    python::equip(&mut cargo);
    bench::measured(&mut cargo)
}

/// Installs what counts instructions where we may; without it the test says that it is left out.
pub(crate) fn count_instructions() {
    if let Err(error) = debian::see_to(&COUNTER, "the count of instructions") {
        eprintln!("{error:#}");
    }
}

/// Puts figures into the page.
fn on_the_page(fill: impl FnOnce(&str) -> Result<String>) -> Result<()> {
    let page = project::root().join(PAGE);
    let text = fs::read_to_string(&page).with_context(|| format!("cannot read {PAGE}"))?;
    fs::write(&page, fill(&text)?).with_context(|| format!("cannot write {PAGE}"))
}

fn speed(found: &[Figure]) -> String {
    let value = |name: &str| found.iter().find(|(known, _)| known == name).map(|(_, value)| *value);
    let row = |(name, what, unit, digits): &(&str, &str, &str, usize)| {
        Some(format!("| {what} | {} {unit} |\n", grouped(value(name)?, *digits)))
    };
    format!("| | |\n|---|--:|\n{}", SPEED.iter().filter_map(row).collect::<String>())
}

/// A number with a comma at the thousands.
pub(crate) fn grouped(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let whole = text.split('.').next().unwrap_or_default().len();
    let comma = |place: usize| place > 0 && place < whole && (whole - place).is_multiple_of(3);
    text.chars().enumerate().flat_map(|(place, digit)| comma(place).then_some(',').into_iter().chain([digit])).collect()
}

/// The text with what stands between the marks of that name replaced.
fn filled(text: &str, name: &str, table: &str) -> Result<String> {
    let (begin, end) = (format!("<!-- {name} -->\n"), format!("<!-- end of {name} -->"));
    let missing = || format!("{PAGE} has no place for {name}");
    let (before, rest) = text.split_once(&begin).with_context(missing)?;
    let (_, after) = rest.split_once(&end).with_context(missing)?;
    Ok(format!("{before}{begin}{table}{end}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_takes_the_place_of_the_one_before() {
        let text = "A\n<!-- speed -->\nold\n<!-- end of speed -->\nB\n";
        let once = filled(text, "speed", "| new |\n").unwrap();
        assert_eq!(once, "A\n<!-- speed -->\n| new |\n<!-- end of speed -->\nB\n");
        assert_eq!(filled(&once, "speed", "| new |\n").unwrap(), once);
        assert!(filled(text, "entries", "").is_err());
    }

    #[test]
    fn thousands_have_a_comma() {
        let all = [(7.0, 0), (700.0, 0), (1234.5, 1), (1_234_567.0, 0)].map(|(value, digits)| grouped(value, digits));
        assert_eq!(all, ["7", "700", "1,234.5", "1,234,567"]);
    }

    #[test]
    fn the_page_has_a_place_for_every_table() {
        let text = fs::read_to_string(project::root().join(PAGE)).unwrap();
        for name in ["speed"].into_iter().chain(growth::BY.map(|(by, _)| by)) {
            assert!(filled(&text, name, "").is_ok(), "{name}");
        }
    }
}
