//! What people said, showed and asked: of a run, and of the airframe at large.

use super::pen::Pen;
use super::{Printed, who_when};
use crate::language::{tr, words};
use crate::procedure::counts;
use crate::record::{Body, Entry, Photo, RunId, photo_not_here, role_words};

/// What was said of a run.
pub(super) fn about_run(page: &Printed<'_>, run: RunId, pen: &mut Pen) {
    let own = page.ledger.own_of_run(page.airframe.id, run);
    all(page, own.filter(|entry| entry.about().is_some()).collect(), pen);
}

/// What was said of the airframe and of no run, and the numbers from the manual.
pub(super) fn at_large(page: &Printed<'_>, pen: &mut Pen) {
    pen.put("<section>\n<h2>", words!("The airframe at large"), "</h2>\n");
    instruments(page, pen);
    let entries = page.ledger.in_force(page.airframe.id);
    all(page, entries.into_iter().filter(|entry| entry.about().is_some() && entry.run().is_none()).collect(), pen);
    pen.markup("</section>\n");
}

fn instruments(page: &Printed<'_>, pen: &mut Pen) {
    let mut all = page.airframe.instruments.all().peekable();
    if all.peek().is_none() {
        return;
    }
    pen.put("<h3>", words!("Instruments"), "</h3>\n<table>");
    pen.columns(&[words!("Used as"), words!("Instrument"), words!("Last checked")]);
    for (role, instrument) in all {
        let of = |number| crate::quantity::print(number, instrument.unit, 0.0);
        let checked = instrument.checked.map_or_else(|| words!("nobody said").to_owned(), crate::record::day_text);
        pen.put("<tr><td>", role_words(role), "</td>").put("<td>", &instrument.name, "");
        let (step, accuracy) = (of(instrument.step), of(instrument.accuracy));
        let words = tr!("reads to {step}, good to {accuracy}", step, accuracy);
        pen.put("<small>", &words, "</small></td>").put("<td>", &checked, "</td></tr>\n");
    }
    pen.markup("</tbody></table>\n");
}

fn all(page: &Printed<'_>, entries: Vec<&Entry>, pen: &mut Pen) {
    if entries.is_empty() {
        return;
    }
    pen.put("<h3>", words!("What was said, shown and asked"), "</h3>\n");
    for entry in entries {
        // A remark that answers a question stands under it.
        let under = matches!(&entry.body, Body::RemarkMade(remark) if remark.answers.is_some_and(|of| asked(page, of)));
        if !under {
            one(page, entry, pen);
        }
    }
}

/// Whether an entry is a question that still stands.
fn asked(page: &Printed<'_>, entry: crate::record::EntryId) -> bool {
    let strike = page.ledger.struck(page.airframe.id).get(entry);
    strike.is_none() && page.ledger.get(entry).is_some_and(|entry| matches!(entry.body, Body::QuestionAsked(_)))
}

fn one(page: &Printed<'_>, entry: &Entry, pen: &mut Pen) {
    if let Body::PhotoAttached { photo, caption, .. } = &entry.body {
        return figure(page, entry, photo, caption, pen);
    }
    pen.put("<div class=\"said\"><p>", page.what(entry.id), "</p>");
    pen.put("<p class=\"small\">", &who_when(&entry.by, entry), "</p>");
    if let Body::DeviationRaised(deviation) = &entry.body {
        let rows = [
            (words!("Found"), &deviation.found),
            (words!("Limit"), &deviation.limit),
            (words!("Reason"), &deviation.reason),
            (words!("Asked"), &deviation.asked),
        ];
        pen.markup("<dl>");
        for (name, words) in rows {
            pen.put("<dt>", name, "</dt>").put("<dd>", words, "</dd>");
        }
        pen.markup("</dl>");
    }
    let mut answered = false;
    for answer in page.answers(entry.id) {
        // Nobody answers what they raised themselves.
        if matches!(&answer.body, Body::DeviationAnswered(given) if !counts(given, entry)) {
            continue;
        }
        answered = true;
        match &answer.body {
            Body::DeviationAnswered(given) => {
                let person = who_when(&given.name, answer);
                let verdict = if given.accepted {
                    tr!("Accepted by {person}:", person)
                } else {
                    tr!("Not accepted by {person}:", person)
                };
                pen.put("<p>", &verdict, "</p>");
                pen.put("<blockquote>", &given.answer, "</blockquote>");
            }
            _ => {
                pen.put("<blockquote>", page.what(answer.id), "</blockquote>");
                pen.put("<p class=\"small\">", &who_when(&answer.by, answer), "</p>");
            }
        }
    }
    let waits = matches!(entry.body, Body::DeviationRaised(_) | Body::QuestionAsked(_) | Body::ItemOpened(_));
    if waits && !answered {
        pen.put("<p><b>", words!("Open."), "</b></p>");
    }
    pen.markup("</div>\n");
}

fn figure(page: &Printed<'_>, entry: &Entry, photo: &Photo, caption: &str, pen: &mut Pen) {
    pen.markup("<figure>");
    if page.have.contains(&photo.digest) {
        pen.put("<img alt=\"", Photo::words(caption), "\" width=\"").text(&photo.width.to_string());
        pen.put("\" height=\"", &photo.height.to_string(), "\" src=\"data:image/jpeg;base64,");
        pen.photo(photo.digest).markup("\"/>");
    } else {
        pen.put("<p class=\"notice\">", photo_not_here(), "</p>");
    }
    pen.put("<figcaption>", page.what(entry.id), "<br/>").text(&who_when(&entry.by, entry));
    pen.put("<br/>SHA-256 ", &photo.digest.to_string(), "</figcaption></figure>\n");
}
