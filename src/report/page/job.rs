//! One run of a procedure: what was asked for, what was found, with what, by whom, and who signed.

use super::pen::Pen;
use super::{Printed, said, who_when};
use crate::language::{tr, words};
use crate::procedure::{CheckResult, Hold, Procedure, Run, State, StepKind, StepState, Words, fill, of_run};
use crate::record::{Body, RunId};
use crate::sketch::{step_sketch, verdict_mark};

pub(super) fn job(page: &Printed<'_>, place: usize, pen: &mut Pen) {
    let started = &page.airframe.runs[place];
    pen.markup("<section>\n");
    let begun = page
        .ledger
        .own_of_run(page.airframe.id, started.run)
        .find(|entry| matches!(entry.body, Body::RunStarted { .. }));
    if let Some(procedure) = of_run(started) {
        let entries = page.ledger.of_run(page.airframe.id, started.run);
        let run = Run::without_advice(procedure, &page.airframe, started.run, &entries);
        pen.put("<h2>", &procedure.title, "</h2>\n");
        if let Some(sketch) = pictured(page, procedure, &run) {
            pen.sketch("picture", &sketch);
        }
        let later = page.airframe.runs[place + 1..].iter().any(|later| later.procedure == started.procedure);
        let version = started.version;
        let version = match begun.map(|entry| who_when(&entry.by, entry)) {
            Some(person) => tr!("Version {version}, begun by {person}.", version, person),
            None => tr!("Version {version}.", version),
        };
        let steps = tr!("{done} of {steps} steps done.", done = run.done(), steps = run.steps.len());
        pen.put("<p>", &version, " ").text(&steps);
        if later {
            pen.put(" ", words!("It was begun anew later: that run counts."), "");
        }
        pen.markup("</p>\n");
        if let Some(step) = run.current.map(|current| &run.steps[current]) {
            pen.put("<p>", &tr!("Open: {step}.", step = Words::step_title(step)), "</p>\n");
        }
        pen.put("<p class=\"small\">", &procedure.purpose, "</p>\n");
        checks(page, procedure, &run, pen);
        holds(page, &run, pen);
        others(page, &run, pen);
    } else {
        pen.put("<h2>", &started.procedure, "</h2>\n");
        let unknown =
            words!("This version of the app does not know the procedure. What was done stands among all entries.");
        pen.put("<p>", unknown, "</p>\n");
    }
    moves(page, started.run, pen);
    said::about_run(page, started.run, pen);
    pen.markup("</section>\n");
}

/// The drawing of the first step that was measured and has one.
fn pictured(page: &Printed<'_>, procedure: &Procedure, run: &Run) -> Option<crate::sketch::Sketch> {
    let measured = |step: &&StepState| matches!(step.step.kind, StepKind::Measure { .. }) && step.result().is_some();
    run.steps.iter().filter(measured).find_map(|step| step_sketch(procedure, &page.airframe, run, step, None))
}

fn checks(page: &Printed<'_>, procedure: &Procedure, run: &Run, pen: &mut Pen) {
    let measured = run.steps.iter().filter(|step| matches!(step.step.kind, StepKind::Measure { .. }));
    let mut open = Vec::new();
    let mut any = false;
    for step in measured {
        let StepKind::Measure { check, slots, .. } = &step.step.kind else { continue };
        if step.attempts.is_empty() && step.result().is_none() {
            open.push(Words::step_title(step));
            continue;
        }
        if !std::mem::replace(&mut any, true) {
            let asked = words!("The sheet asks for");
            pen.markup("<table>").columns(&[
                words!("Check"),
                asked,
                words!("Found"),
                words!("Verdict"),
                words!("Read by, with"),
            ]);
        }
        pen.put("<tr><td>", &Words::step_title(step), "</td>");
        let key = procedure.check(check).and_then(|check| check.judged_by.as_deref());
        let item = key.and_then(|key| page.airframe.specification.item(key));
        match item {
            Some(item) => {
                pen.put("<td>", &Words::tolerance(&item.value), "").put("<small>", &item.source, "</small></td>");
            }
            None => drop(pen.put("<td>", words!("no number on the sheet"), "</td>")),
        }
        pen.markup("<td class=\"found\">");
        found(step, slots, pen);
        pen.markup("</td><td class=\"verdict\">");
        verdict(step, pen);
        pen.markup("</td><td class=\"who\">");
        readers(page, step, pen);
        pen.markup("</td></tr>\n");
    }
    if any {
        pen.markup("</tbody></table>\n");
    }
    if !open.is_empty() {
        let words = tr!("Not measured yet: {steps}.", steps = open.join("; "));
        pen.put("<p class=\"small\">", &words, "</p>\n");
    }
}

/// The value with its uncertainty, each reading of the set that counts, and what earlier sets came to.
fn found(step: &StepState, slots: &[crate::procedure::Slot], pen: &mut Pen) {
    match step.result() {
        Some(result) => {
            pen.text(&Words::value(result));
            if result.estimate.u > 0.0 {
                pen.put("<small>", &Words::uncertainty(result), "</small>");
            }
        }
        None => drop(pen.text(words!("not complete"))),
    }
    for slot in slots {
        let read: Vec<String> = step
            .attempt()
            .into_iter()
            .flat_map(|attempt| attempt.of(&slot.id))
            .map(|reading| reading.value.print())
            .collect();
        if !read.is_empty() {
            let words = tr!("{reading}: {values}", reading = slot.title, values = read.join(", "));
            pen.put("<small>", &words, "</small>");
        }
    }
    let before = step.results.iter().rev().skip(1).rev().flatten();
    let words = |result: &CheckResult| {
        let (value, verdict) = (Words::value(result), Words::verdict(result.verdict));
        tr!("{value} ({verdict})", value, verdict)
    };
    let before: Vec<String> = before.map(words).collect();
    if !before.is_empty() {
        pen.put("<small>", &tr!("Before: {values}", values = before.join(", ")), "</small>");
    }
}

fn verdict(step: &StepState, pen: &mut Pen) {
    let Some(result) = step.result() else { return };
    let words = Words::verdict(result.verdict);
    pen.sketch("mark", &verdict_mark(result.mark, result.verdict, words.to_owned())).text(words);
    if let Some(accepted) = step.accepted_words() {
        pen.put("<small>", &accepted, "</small>");
    }
    let stale = step.attempt().is_some_and(|attempt| attempt.stale.is_some());
    if stale || step.state == State::Stale {
        pen.put("<small>", words!("stale: something was moved since"), "</small>");
    }
}

/// Who read the set that counts, when, and with what, each once.
fn readers(page: &Printed<'_>, step: &StepState, pen: &mut Pen) {
    let Some(attempt) = step.attempt() else { return };
    let (mut by, mut with) = (Vec::new(), Vec::new());
    for reading in &attempt.readings {
        let who = page.by_when(reading.entry);
        let instrument = &reading.instrument;
        if !by.contains(&who) {
            by.push(who);
        }
        if !with.contains(&instrument.name) {
            with.push(instrument.name.clone());
        }
    }
    pen.text(&by.join("; ")).put("<small>", &with.join(", "), "</small>");
}

fn holds(page: &Printed<'_>, run: &Run, pen: &mut Pen) {
    let mut holds = run.steps.iter().filter(|step| step.hold.is_some()).peekable();
    if holds.peek().is_none() {
        return;
    }
    pen.put("<h3>", words!("Hold points"), "</h3>\n<table>");
    pen.columns(&[words!("Hold point"), words!("State"), words!("Signed by")]);
    for step in holds {
        pen.put("<tr><td>", &Words::step_title(step), "");
        if let StepKind::Hold { statement, .. } = &step.step.kind {
            pen.put("<small>\u{201c}", &fill(statement, &page.airframe.specification), "\u{201d}</small>");
        }
        let state = match step.hold {
            Some(Hold::Signed | Hold::Spent) => words!("signed"),
            Some(Hold::Ready(_)) => words!("may be signed"),
            Some(Hold::Void(_)) => words!("signed; since then something went missing"),
            Some(Hold::Shut(_)) | None => words!("shut"),
        };
        pen.put("</td><td class=\"state\">", state, "</td><td>");
        if let Some((name, entry)) = &step.by {
            if let Some(entry) = page.ledger.get(*entry) {
                pen.text(&who_when(name, entry));
                if let Body::HoldSigned { drawn: Some(drawn), .. } = &entry.body {
                    pen.drawn(drawn);
                }
            }
        } else {
            pen.text(words!("nobody"));
        }
        pen.markup("</td></tr>\n");
    }
    pen.markup("</tbody></table>\n");
}

/// Steps that are done, counted or marked.
fn others(page: &Printed<'_>, run: &Run, pen: &mut Pen) {
    let other = |step: &&StepState| !matches!(step.step.kind, StepKind::Measure { .. } | StepKind::Hold { .. });
    pen.put("<h3>", words!("Other steps"), "</h3>\n<table><tbody>\n");
    for step in run.steps.iter().filter(other) {
        pen.put("<tr><td>", &Words::step_title(step), "");
        if let Some((good, bad)) = step.counted {
            pen.put("<small>", &tr!("{good} good, {bad} bad", good, bad), "</small>");
        }
        if step.holes.begun() {
            pen.put("<small>", &step.holes.counts(), "</small>");
        }
        pen.put("</td><td class=\"state\">", Words::state(step.state), "</td><td class=\"who\">");
        if let Some((_, entry)) = &step.by {
            pen.text(&page.by_when(*entry));
        }
        pen.markup("</td></tr>\n");
    }
    pen.markup("</tbody></table>\n");
}

fn moves(page: &Printed<'_>, run: RunId, pen: &mut Pen) {
    let own = page.ledger.own_of_run(page.airframe.id, run);
    let mut moves = own.filter(|entry| matches!(entry.body, Body::AdjusterMoved(_))).peekable();
    if moves.peek().is_none() {
        return;
    }
    pen.put("<h3>", words!("What was moved"), "</h3>\n<table><tbody>\n");
    for entry in moves {
        pen.put("<tr><td>", page.what(entry.id), "</td>").put(
            "<td class=\"who\">",
            &who_when(&entry.by, entry),
            "</td></tr>\n",
        );
    }
    pen.markup("</tbody></table>\n");
}
