//! The head of the file and the title page.

use super::pen::Pen;
use super::style::{POLICY, STYLE};
use super::{Printed, who_when};
use crate::metrology::{Beyond, Estimate, Limits, Mark, Verdict};
use crate::procedure::{Words, aircraft};
use crate::quantity::Unit;
use crate::record::Body;
use crate::report::Wholeness;
use crate::sketch::verdict_mark;

pub(super) fn head(page: &Printed<'_>, pen: &mut Pen) {
    let details = &page.airframe.details;
    pen.markup("<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n");
    pen.markup("<meta http-equiv=\"Content-Security-Policy\" content=\"").markup(POLICY).markup("\"/>\n");
    pen.markup("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n");
    pen.put("<title>Record of ", &details.model, "").put(" ", &details.serial, "</title>\n");
    pen.markup("<style>").markup(STYLE).markup("</style>\n</head>\n<body>\n");
}

pub(super) fn title(page: &Printed<'_>, pen: &mut Pen) {
    let details = &page.airframe.details;
    pen.markup("<section class=\"first\">\n<p>Record of the building of</p>\n");
    pen.put("<h1>", &details.model, "</h1>\n");
    if details.invented {
        pen.markup(
            "<p class=\"notice\">Invented example. Its numbers belong to no real aircraft: never build to them.</p>\n",
        );
    }
    pen.markup("<dl>");
    let newest = page.lines.last().map(|line| line.when.as_str()).unwrap_or_default();
    for (name, words) in [
        ("Serial", details.serial.as_str()),
        ("Builder", &details.builder),
        ("Manual and revision", &details.manual),
        ("Newest entry", newest),
    ] {
        if !words.is_empty() {
            pen.markup("<dt>").markup(name).put("</dt><dd>", words, "</dd>\n");
        }
    }
    for person in &page.airframe.people {
        pen.put("<dt>", &capital(person.role.word()), "</dt>").put("<dd>", &person.name, "</dd>\n");
    }
    pen.markup("</dl>\n");
    whole(page, pen);
    left(page, pen);
    contents(page, pen);
    legend(pen);
    pen.markup("<p class=\"notice\">This page says what was measured and written down, by whom and when. It approves nothing. The \
                kit's manual, the local rules and licensed people come first.</p>\n</section>\n");
}

/// A word with a large first letter.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_ascii_uppercase().to_string() + letters.as_str()).unwrap_or_default()
}

/// Whether the record is as it was written.
fn whole(page: &Printed<'_>, pen: &mut Pen) {
    let found = Wholeness::of(page.ledger, page.airframe.id, &page.checked, None);
    pen.markup("<h3>Is this all, and as it was written?</h3>\n").put("<p class=\"lead\">", &found.lead, "</p>\n");
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
    let open = page.ledger.in_force(page.airframe.id).into_iter().filter(|entry| {
        matches!(entry.body, Body::ItemOpened(_) | Body::DeviationRaised(_) | Body::QuestionAsked(_))
            && page.answers(entry.id).next().is_none()
    });
    let open: Vec<_> = open.collect();
    pen.put("<h3>Open items: ", &open.len().to_string(), "</h3>\n");
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
    pen.markup(
        "<h3>Procedures</h3>\n<table><thead><tr><th>Procedure</th><th>How far it has come</th></tr></thead><tbody>\n",
    );
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
            "Inside both limits (the posts) by more than the uncertainty (the bar's width).",
        ),
        (of(1.6, Some(limits)), Verdict::Out(Beyond::High), "Beyond a limit by more than the uncertainty."),
        (of(1.0, Some(limits)), Verdict::CantTell, "A limit lies inside the uncertainty."),
        (of(0.0, None), Verdict::NotJudged, "No tolerance was given: recorded only."),
    ];
    pen.markup("<h3>How verdicts are marked</h3>\n<table class=\"legend\"><tbody>\n");
    for (mark, verdict, words) in rows {
        pen.markup("<tr><td>").sketch("mark", &verdict_mark(mark, verdict, Words::verdict(verdict).to_owned()));
        pen.put("</td><td><b>", Words::verdict(verdict), "</b> ").markup(words).markup("</td></tr>\n");
    }
    pen.markup("</tbody></table>\n<p class=\"small\">An uncertainty is expanded, for about 95 % (JCGM 100:2008). Left and right are the \
                pilot's.</p>\n");
}
