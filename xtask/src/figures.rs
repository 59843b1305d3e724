//! `target/figures.json`: one flat object of name to number, merged from every measurement.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use serde_json::{Map, Value};

/// A measured number and its name.
pub(crate) type Figure = (String, f64);

/// The figures that a program printed, one line each: `figure: NAME = VALUE`.
///
/// # Errors
/// When such a line holds no name or no finite number.
pub(crate) fn printed(lines: &[String]) -> Result<Vec<Figure>> {
    // The test harness may write the first line behind its own "test name ... ".
    let said = lines.iter().filter_map(|line| line.split_once("figure: ").map(|(_, rest)| rest));
    said.map(|rest| {
        let (name, value) = rest.split_once(" = ").with_context(|| format!("no value in `{rest}`"))?;
        let number: f64 = value
            .trim()
            .parse()
            .ok()
            .filter(|number: &f64| number.is_finite())
            .with_context(|| format!("no number in `{rest}`"))?;
        Ok((name.trim().to_owned(), number))
    })
    .collect()
}

/// Prints counts as figures, one line each, and gives them.
pub(crate) fn said(counts: &[(&str, u64)]) -> Vec<Figure> {
    #[allow(clippy::cast_precision_loss, reason = "counts far below what a float holds exactly")]
    let figure = |(name, count): &(&str, u64)| {
        println!("figure: {name} = {count}");
        ((*name).to_owned(), *count as f64)
    };
    counts.iter().map(figure).collect()
}

/// Puts `figures` into the file, keeping what else it holds.
///
/// # Errors
/// When the file cannot be read as an object or written.
pub(crate) fn merge(file: &Path, figures: &[Figure]) -> Result<()> {
    let mut all: Map<String, Value> = match fs::read_to_string(file) {
        Ok(text) => serde_json::from_str(&text).with_context(|| format!("{} is no JSON object", file.display()))?,
        Err(_) => Map::new(),
    };
    for (name, value) in figures {
        all.insert(name.clone(), number(*value));
    }
    fs::write(file, format!("{:#}\n", Value::Object(all))).with_context(|| format!("cannot write {}", file.display()))
}

/// A table of the figures, in order of name.
pub(crate) fn table(figures: &[Figure]) -> String {
    let mut sorted: Vec<&Figure> = figures.iter().collect();
    sorted.sort_by(|a, b| a.0.cmp(&b.0));
    sorted.iter().map(|(name, value)| format!("{name:<32} {:>14}\n", number(*value).to_string())).collect()
}

/// A whole number stays without a decimal point.
fn number(value: f64) -> Value {
    if value.fract() == 0.0 && value.abs() < 9.0e15 {
        #[allow(clippy::cast_possible_truncation, reason = "the value is whole and fits")]
        return Value::from(value as i64);
    }
    Value::from(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_figures_among_other_lines() {
        let lines =
            ["running 1 test", "test campaign ... figure: twin_moves_p50 = 1", "figure: floor_paint_ms_4x = 196.5"];
        let found = printed(&lines.map(str::to_owned)).unwrap();
        assert_eq!(found, [("twin_moves_p50".to_owned(), 1.0), ("floor_paint_ms_4x".to_owned(), 196.5)]);
    }

    #[test]
    fn refuses_a_figure_without_a_number() {
        for line in ["figure: a", "figure: a = many", "figure: a = NaN"] {
            assert!(printed(&[line.to_owned()]).is_err(), "{line}");
        }
    }

    #[test]
    fn merging_keeps_other_keys_and_replaces_its_own() {
        let file = std::env::temp_dir().join(format!("trammel-figures-{}.json", std::process::id()));
        fs::write(&file, "{\"kept\": 7, \"b\": 1}").unwrap();
        merge(&file, &[("b".to_owned(), 2.5), ("c".to_owned(), 3.0)]).unwrap();
        let text = fs::read_to_string(&file).unwrap();
        fs::remove_file(&file).unwrap();
        let all: Map<String, Value> = serde_json::from_str(&text).unwrap();
        assert_eq!(Value::Object(all), serde_json::json!({"kept": 7, "b": 2.5, "c": 3}));
    }
}
