//! The head of the file and the title page.

use super::pen::Pen;
use super::style::{POLICY, STYLE};
use super::{Printed, who_when};
use crate::language::{self, tr, words};
use crate::metrology::{Beyond, Estimate, Limits, Mark, Verdict};
use crate::procedure::{Words, aircraft};
use crate::quantity::Unit;
use crate::report::Wholeness;
use crate::report::left::open_entries;
use crate::sketch::verdict_mark;

pub(super) fn head(page: &Printed<'_>, pen: &mut Pen) {
    let details = &page.airframe.details;
    pen.markup("<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"")
        .markup(language::current().code());
    pen.markup("\">\n<head>\n<meta charset=\"utf-8\"/>\n");
    pen.markup("<meta http-equiv=\"Content-Security-Policy\" content=\"").markup(POLICY).markup("\"/>\n");
    pen.markup("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n");
    let airframe = format!("{} {}", details.model, details.serial);
    pen.put("<title>", &tr!("Record of {airframe}", airframe), "</title>\n");
    pen.markup("<style>").markup(STYLE).markup("</style>\n</head>\n<body>\n");
}

pub(super) fn title(page: &Printed<'_>, pen: &mut Pen) {
    let details = &page.airframe.details;
    pen.put("<section class=\"first\">\n<p>", words!("Record of the building of"), "</p>\n");
    pen.put("<h1>", &details.model, "</h1>\n");
    if details.invented {
        let notice = words!("Invented example. Its numbers belong to no real aircraft: never build to them.");
        pen.put("<p class=\"notice\">", notice, "</p>\n");
    }
    pen.markup("<dl>");
    let newest = page.lines.last().map(|line| line.when.as_str()).unwrap_or_default();
    for (name, words) in [
        (words!("Serial"), details.serial.as_str()),
        (words!("Builder"), &details.builder),
        (words!("Manual and revision"), &details.manual),
        (words!("Newest entry"), newest),
    ] {
        if !words.is_empty() {
            pen.put("<dt>", name, "</dt>").put("<dd>", words, "</dd>\n");
        }
    }
    for person in &page.airframe.people {
        pen.put("<dt>", person.role.title(), "</dt>").put("<dd>", &person.name, "</dd>\n");
    }
    pen.markup("</dl>\n");
    whole(page, pen);
    left(page, pen);
    contents(page, pen);
    legend(pen);
    let notice = words!(
        "This page says what was measured and written down, by whom and when. It approves nothing. The kit's manual, the local rules \
         and licensed people come first."
    );
    pen.put("<p class=\"notice\">", notice, "</p>\n</section>\n");
}

/// Whether the record is as it was written.
fn whole(page: &Printed<'_>, pen: &mut Pen) {
    let found = Wholeness::of(page.ledger, page.airframe.id, &page.checked, None);
    pen.put("<h3>", words!("Is this all, and as it was written?"), "</h3>\n");
    pen.put("<p class=\"lead\">", &found.lead, "</p>\n");
    if !found.places.is_empty() {
        pen.markup("<table><tbody>\n");
        for (entry, wrong) in &found.places {
            pen.put("<tr><td>", &page.by_when(*entry), "</td>");
            pen.put("<td>", page.what(*entry), "").put("<small>", wrong, "</small></td></tr>\n");
        }
        pen.markup("</tbody></table>\n");
    }
    for words in &found.said {
        pen.put("<p>", words, "</p>\n");
    }
    for key in &found.keys {
        pen.put("<p class=\"small\">", key, "</p>\n");
    }
}

/// What is left to do or to answer.
fn left(page: &Printed<'_>, pen: &mut Pen) {
    let open = open_entries(page.ledger, page.airframe.id);
    pen.put("<h3>", &tr!("Open items: {number}", number = open.len()), "</h3>\n");
    if !open.is_empty() {
        pen.markup("<table><tbody>\n");
        for entry in open {
            pen.put("<tr><td>", page.what(entry.id), "</td>").put(
                "<td class=\"who\">",
                &who_when(&entry.by, entry),
                "</td></tr>\n",
            );
        }
        pen.markup("</tbody></table>\n");
    }
}

/// Every procedure and how far it has come.
fn contents(page: &Printed<'_>, pen: &mut Pen) {
    pen.put("<h3>", words!("Procedures"), "</h3>\n<table>");
    pen.columns(&[words!("Procedure"), words!("How far it has come")]);
    for work in aircraft(&page.airframe, page.ledger).into_iter().filter(|work| work.run.is_some()) {
        pen.put("<tr><td>", &work.procedure.title, "</td>").put("<td>", &work.words(), "</td></tr>\n");
    }
    pen.markup("</tbody></table>\n");
}

/// What the mark of a verdict says.
fn legend(pen: &mut Pen) {
    let limits = Limits { lower: Some(-1.0), upper: Some(1.0), unit: Unit::Millimetre };
    let of = |value, limits| Mark::of(Estimate::new(value, 0.15, Unit::Millimetre), limits);
    let rows = [
        (
            of(0.2, Some(limits)),
            Verdict::In,
            words!("Inside both limits (the posts) by more than the uncertainty (the bar's width)."),
        ),
        (of(1.6, Some(limits)), Verdict::Out(Beyond::High), words!("Beyond a limit by more than the uncertainty.")),
        (of(1.0, Some(limits)), Verdict::CantTell, words!("A limit lies inside the uncertainty.")),
        (of(0.0, None), Verdict::NotJudged, words!("No tolerance was given: recorded only.")),
    ];
    pen.put("<h3>", words!("How verdicts are marked"), "</h3>\n<table class=\"legend\"><tbody>\n");
    for (mark, verdict, words) in rows {
        pen.markup("<tr><td>").sketch("mark", &verdict_mark(mark, verdict, Words::verdict(verdict).to_owned()));
        pen.put("</td><td><b>", Words::verdict(verdict), "</b> ").put("", words, "</td></tr>\n");
    }
    let small = words!("An uncertainty is expanded, for about 95 % (JCGM 100:2008). Left and right are the pilot's.");
    pen.put("</tbody></table>\n<p class=\"small\">", small, "</p>\n");
}
