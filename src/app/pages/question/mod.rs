//! A question on one page: what is asked, the drawing, the raw readings, what is worked out from them, and what was said. On the phone
//! that asked it can be sent from here; on any other it is answered here.

mod answer;
mod file;

use std::sync::Arc;

use crate::app::prelude::*;

use super::notes::thumbnail;
use super::run::{remark, verdict_panel};
use super::{missing, with_airframe};
use crate::app::address::{Address, Page};
use crate::app::controls::{named, para, part, says};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::live;
use crate::app::shop::Shop;
use crate::app::widgets::alone;
use crate::language::tr;
use crate::procedure::{Run, StepState, Words};
use crate::record::{Airframe, AirframeId, EntryId, Integrity};
use crate::report::{
    Asked, RawReading, answer as answer_file, extract, not_sent, photos_about, question_name, raw_readings, remarks,
};
use crate::sketch::step_sketch;
pub(crate) use answer::answered;
use file::{Parcel, sending};

/// The page.
pub(crate) fn question(id: AirframeId, question: EntryId) -> AnyView {
    with_airframe(data::airframe(id), move |airframe| {
        let asked = Shop::here().ledger.with_untracked(|ledger| {
            let device = ledger.get(question)?.device;
            Asked::of(ledger, question).filter(|asked| asked.airframe == id).map(|asked| (asked, device))
        });
        let own = Shop::here().settings.with_untracked(|settings| settings.device);
        match asked {
            Some((asked, device)) => page(&airframe, &Arc::new(asked), device == own),
            None => missing(),
        }
    })
}

fn page(airframe: &Airframe, asked: &Arc<Asked>, own: bool) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let now = data::airframe(id);
    let Asked { procedure, run, step, text, who, .. } = (**asked).clone();
    let run = data::one_run(now, procedure, run);
    let title = run.with_untracked(|run| run.as_ref()?.step(&step).map(Words::step_title)).unwrap_or_default();
    let back = Address::Of(id, Page::Run(procedure.id.clone(), step.clone())).path();
    let of_step = move |show: &dyn Fn(&Airframe, &Run, &StepState) -> Option<AnyView>| {
        let (airframe, run) = (now.get()?, run.get()?);
        let step = run.step(&step).cloned()?;
        show(&airframe, &run, &step)
    };
    let of_drawing = of_step.clone();
    let drawing = move || {
        of_drawing(&|airframe, run, step| step_sketch(procedure, airframe, run, step, None).as_ref().map(alone))
    };
    let verdict = move || {
        of_step(&|airframe, _, step| step.result().map(|result| verdict_panel(procedure, Some(airframe), step, result)))
    };
    // Where it was asked the record is whole, and following its chains is the record page's.
    let gaps =
        move || if own { String::new() } else { shop.ledger.with(|ledger| not_sent(&Integrity::of(ledger, id))) };
    let (send, answer) =
        if own { (Some(send(airframe, asked)), None) } else { (None, Some(answer::answer(airframe, asked))) };
    view! {
        <main class="question-page">
            {still_head("Question", (back, title))}
            {para("entry-when", who)}
            {named("question-text", "lead", text)}
            {says("extract", "hint", "", live(gaps))}
            {send}
            <div class="question-drawing">{live(drawing)}</div>
            {live(verdict)}
            {readings(asked)}
            {photos(asked)}
            {so_far(asked)}
            {answer}
        </main>
    }
}

/// The readings as they were taken: by whom, when, with what.
fn readings(asked: &Arc<Asked>) -> AnyView {
    let (shop, asked) = (Shop::here(), Arc::clone(asked));
    let one = |(RawReading { line, with }, place): (RawReading, usize)| {
        let class = if line.struck.is_some() { "entry struck" } else { "entry" };
        view! {
            <li class=class>
                {para("entry-when", format!("{} · {}", line.when, line.by))}
                {para("entry-what", format!("{place}. {}", line.what))}
                {(!with.is_empty()).then(|| para("hint", with))}
                {line.struck.map(|reason| para("entry-struck", tr!("Struck out: {reason}", reason)))}
            </li>
        }
    };
    let list = live(move || {
        let rows = shop.ledger.with(|ledger| raw_readings(ledger, asked.airframe, asked.run, &asked.step));
        if rows.is_empty() {
            return para("", "Nothing was read at this step.");
        }
        let rows: Vec<AnyView> = rows.into_iter().zip(1..).map(one).collect();
        view! { <ol id="raw" class="entries">{rows}</ol> }
    });
    part("Readings, as they were taken", vec![view! { {list} }])
}

fn photos(asked: &Arc<Asked>) -> AnyView {
    let found = Shop::here().ledger.with_untracked(|ledger| photos_about(ledger, asked.airframe, &asked.about()));
    let shown: Vec<AnyView> = found.into_iter().filter_map(|(entry, ..)| thumbnail(asked.airframe, entry)).collect();
    view! { <div class="thumbnails">{shown}</div> }
}

/// What was said of the step by whoever was asked.
fn so_far(asked: &Arc<Asked>) -> AnyView {
    let (shop, asked) = (Shop::here(), Arc::clone(asked));
    let list = live(move || {
        let said = shop.ledger.with(|ledger| remarks(ledger, asked.airframe, asked.run, &asked.step));
        if said.is_empty() {
            return para("", "No answer yet.");
        }
        let said: Vec<AnyView> = said.into_iter().map(|said| remark(said, None)).collect();
        view! { <div id="remarks">{said}</div> }
    });
    part("What was said", vec![view! { {list} }])
}

/// The question's file, on the phone that asked.
fn send(airframe: &Airframe, asked: &Arc<Asked>) -> AnyView {
    let (shop, question) = (Shop::here(), asked.question);
    let (name, photos) = shop.ledger.with_untracked(|ledger| {
        let name = ledger.get(question).map(|entry| question_name(airframe, entry, "question"));
        (name.unwrap_or_default(), photos_about(ledger, asked.airframe, &asked.about()))
    });
    sending(Parcel {
        heading: "Send the question",
        button: "send-question",
        name,
        entries: Box::new(move || shop.ledger.with(|ledger| extract(ledger, question))),
        photos,
    })
}

/// The file that goes back.
fn send_back(airframe: &Airframe, asked: &Arc<Asked>) -> AnyView {
    let (shop, question) = (Shop::here(), asked.question);
    let device = shop.settings.with_untracked(|settings| settings.device);
    let (name, photos) = shop.ledger.with_untracked(|ledger| {
        let name = ledger.get(question).map(|entry| question_name(airframe, entry, "answer"));
        let mut photos = photos_about(ledger, asked.airframe, &asked.about());
        photos.retain(|(entry, ..)| ledger.get(*entry).is_some_and(|entry| entry.device == device));
        (name.unwrap_or_default(), photos)
    });
    sending(Parcel {
        heading: "Send the answer back",
        button: "send-answer",
        name,
        entries: Box::new(move || shop.ledger.with(|ledger| answer_file(ledger, question, device))),
        photos,
    })
}
