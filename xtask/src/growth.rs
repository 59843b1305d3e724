//! How the library's costs grow, as a table and as a plot, out of figures named `growth.BY.WORK.SIZE` and `growth.BY.WORK.exponent`.

use std::path::Path;

use anyhow::{Context, Result};
use plotters::prelude::*;

use crate::figures::Figure;
use crate::library::grouped;

/// By what costs are measured, and what stands over the column of the works.
pub(crate) const BY: [(&str, &str); 3] = [
    ("entries", "entries of one airframe, a run for each 500"),
    ("run", "entries of one run"),
    ("airframes", "airframes of one type, 1,000 entries each"),
];

/// Each work's name in the figures and in words; `memory` is megabytes, the rest milliseconds.
const WORKS: [(&str, &str); 16] = [
    ("open", "open: read what is stored, merge"),
    ("fold", "a step's page: fold its run, say what to move"),
    ("append", "append an entry, fold again"),
    ("aircraft", "the whole aircraft"),
    ("hangar", "the hangar"),
    ("desk", "the desk"),
    ("latest", "the record's page: latest 200"),
    ("lines", "every entry in words"),
    ("left", "what is left to do"),
    ("hours", "the work log"),
    ("chains", "follow every seal"),
    ("csv", "CSV of the readings"),
    ("page", "the page to print"),
    ("export", "JSON out"),
    ("import", "JSON in, merged"),
    ("memory", "memory of the open record (MB)"),
];

/// One work: its costs by size, and the exponent with which they grow.
struct Line {
    words: &'static str,
    costs: Vec<(f64, f64)>,
    exponent: f64,
}

/// What was measured.
pub(crate) struct Growth<'f> {
    found: &'f [Figure],
}

impl<'f> Growth<'f> {
    /// Out of all figures.
    pub(crate) fn of(found: &'f [Figure]) -> Self {
        Self { found }
    }

    fn lines(&self, by: &str) -> Vec<Line> {
        WORKS.iter().filter_map(|(name, words)| self.line(by, name, words)).collect()
    }

    fn line(&self, by: &str, name: &str, words: &'static str) -> Option<Line> {
        let head = format!("growth.{by}.{name}.");
        let own = || self.found.iter().filter_map(|(known, value)| Some((known.strip_prefix(&head)?, *value)));
        let costs: Vec<(f64, f64)> = own().filter_map(|(size, cost)| Some((size.parse().ok()?, cost))).collect();
        let exponent = own().find(|(size, _)| *size == "exponent")?.1;
        Some(Line { words, costs, exponent })
    }

    /// The costs as a table: a row for each work, a column for each size.
    pub(crate) fn table(&self, by: &str, heading: &str) -> String {
        let lines = self.lines(by);
        let sizes: Vec<f64> =
            lines.first().map(|line| line.costs.iter().map(|cost| cost.0).collect()).unwrap_or_default();
        let columns: String = sizes.iter().map(|size| format!(" {} |", grouped(*size, 0))).collect();
        let mut table = format!("| ms, by {heading} |{columns} exponent |\n|---|{}--:|\n", "--:|".repeat(sizes.len()));
        for line in lines {
            let costs: String = line.costs.iter().map(|(_, cost)| format!(" {} |", short(*cost))).collect();
            table.push_str(&format!("| {} |{costs} {:.2} |\n", line.words, line.exponent));
        }
        table
    }

    /// The costs as a plot, both axes logarithmic.
    ///
    /// # Errors
    /// When there is nothing to draw, or the file cannot be written.
    pub(crate) fn draw(&self, by: &str, file: &Path) -> Result<()> {
        let lines: Vec<Line> = self.lines(by).into_iter().filter(|line| !line.words.contains("(MB)")).collect();
        let all = || lines.iter().flat_map(|line| &line.costs);
        let heading = BY.iter().find(|(name, _)| *name == by).map_or(by, |(_, heading)| heading);
        let (low, high) =
            all().fold((f64::INFINITY, 0.0_f64), |(low, high), (_, cost)| (low.min(*cost), high.max(*cost)));
        let (least, most) =
            all().fold((f64::INFINITY, 0.0_f64), |(low, high), (size, _)| (low.min(*size), high.max(*size)));
        if lines.is_empty() {
            anyhow::bail!("nothing was measured by {by}");
        }
        let mut text = String::new();
        {
            let area = SVGBackend::with_string(&mut text, (760, 480)).into_drawing_area();
            area.fill(&WHITE)?;
            let (plot, legend) = area.split_horizontally(500);
            let mut chart = ChartBuilder::on(&plot)
                .margin(12)
                .x_label_area_size(44)
                .y_label_area_size(64)
                .build_cartesian_2d((least..most).log_scale(), (low / 2.0..high * 2.0).log_scale())?;
            let number = |size: &f64| grouped(*size, 0);
            let cost = |cost: &f64| short(*cost);
            chart
                .configure_mesh()
                .x_desc(heading)
                .y_desc("ms")
                .x_label_formatter(&number)
                .y_label_formatter(&cost)
                .light_line_style(TRANSPARENT)
                .draw()?;
            for (place, line) in lines.iter().enumerate() {
                let (style, dots) = look(place);
                chart.draw_series(LineSeries::new(line.costs.iter().copied(), style))?;
                if dots {
                    chart.draw_series(line.costs.iter().map(|at| Circle::new(*at, 3, style.filled())))?;
                }
                let height = 30 + 24 * i32::try_from(place).context("few lines")?;
                legend.draw(&PathElement::new(vec![(4, height), (28, height)], style))?;
                if dots {
                    legend.draw(&Circle::new((16, height), 3, style.filled()))?;
                }
                let words = line.words.split(':').next().unwrap_or_default();
                let said = format!("{words} ({:.2})", line.exponent);
                legend.draw(&Text::new(said, (34, height - 7), ("sans-serif", 14)))?;
            }
            area.present()?;
        }
        std::fs::write(file, text).with_context(|| format!("cannot write {}", file.display()))
    }
}

/// Colours that are told apart with any eyes (Okabe and Ito's, from memory), each once plain and once with dots.
fn look(place: usize) -> (ShapeStyle, bool) {
    const COLOURS: [RGBColor; 8] = [
        RGBColor(0, 0, 0),
        RGBColor(230, 159, 0),
        RGBColor(86, 180, 233),
        RGBColor(0, 158, 115),
        RGBColor(0, 114, 178),
        RGBColor(213, 94, 0),
        RGBColor(204, 121, 167),
        RGBColor(130, 130, 130),
    ];
    (COLOURS[place % COLOURS.len()].stroke_width(2), place >= COLOURS.len())
}

/// Three digits that say something.
fn short(cost: f64) -> String {
    match cost {
        cost if cost >= 100.0 => grouped(cost, 0),
        cost if cost >= 10.0 => format!("{cost:.1}"),
        cost if cost >= 1.0 => format!("{cost:.2}"),
        cost => format!("{cost:.3}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures() -> Vec<Figure> {
        [("open.1000", 2.0), ("open.10000", 21.5), ("open.exponent", 1.03), ("fold.1000", 0.5), ("fold.10000", 0.6)]
            .iter()
            .map(|(name, value)| (format!("growth.entries.{name}"), *value))
            .chain([("growth.entries.fold.exponent".to_owned(), 0.08), ("other".to_owned(), 1.0)])
            .collect()
    }

    #[test]
    fn figures_become_a_table() {
        let table = Growth::of(&figures()).table("entries", "entries");
        assert_eq!(
            table,
            "| ms, by entries | 1,000 | 10,000 | exponent |\n|---|--:|--:|--:|\n\
             | open: read what is stored, merge | 2.00 | 21.5 | 1.03 |\n\
             | a step's page: fold its run, say what to move | 0.500 | 0.600 | 0.08 |\n"
        );
    }

    #[test]
    fn figures_become_a_plot() {
        let file = std::env::temp_dir().join(format!("trammel-growth-{}.svg", std::process::id()));
        let figures = figures();
        let drawn = Growth::of(&figures).draw("entries", &file);
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        let _ = std::fs::remove_file(&file);
        drawn.unwrap();
        assert!(text.starts_with("<svg") && text.contains("open (1.03)") && text.contains("10,000"), "{text}");
        assert!(Growth::of(&figures).draw("run", &file).is_err(), "nothing was measured");
    }
}
