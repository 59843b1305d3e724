//! Every entry, as it was written.

use std::ops::Range;

use super::Printed;
use super::pen::Pen;
use crate::language::{tr, words};

pub(super) fn begin(page: &Printed<'_>, pen: &mut Pen) {
    pen.put("<section>\n<h2>", words!("Every entry"), "</h2>\n");
    let words = tr!(
        "{number} entries, the oldest first. Nothing is ever taken away: what was struck out stays, with the reason. The number is the \
         entry's place in what its device wrote; beside it the first characters of its digest.",
        number = page.lines.len()
    );
    pen.put("<p class=\"small\">", &words, "</p>\n");
    pen.markup("<table class=\"entries\">");
    pen.columns(&[words!("No."), words!("When"), words!("What"), words!("By")]);
}

pub(super) fn rows(page: &Printed<'_>, which: Range<usize>, pen: &mut Pen) {
    for line in &page.lines[which] {
        let seal = page.ledger.get(line.entry).and_then(|entry| entry.seal.as_ref());
        let number = seal.map(|seal| seal.number.to_string()).unwrap_or_default();
        let digest = seal.map(|seal| seal.digest.to_string().chars().take(6).collect::<String>()).unwrap_or_default();
        pen.markup(if line.struck.is_some() {
            "<tr class=\"struck\"><td class=\"no\">"
        } else {
            "<tr><td class=\"no\">"
        });
        pen.text(&number).put(" <small>", &digest, "</small></td>");
        pen.put("<td class=\"when\">", &line.when, "</td>").put("<td><span class=\"what\">", &line.what, "</span>");
        if let Some(reason) = &line.struck {
            pen.put("<span class=\"why\">", &tr!("Struck out: {reason}", reason), "</span>");
        }
        pen.put("</td><td class=\"who\">", &line.by, "</td></tr>\n");
    }
}

/// The end of the table and of the file.
pub(super) fn end(pen: &mut Pen) {
    pen.put("</tbody></table>\n<p>", words!("End of the record."), "</p>\n</section>\n</body>\n</html>\n");
}
