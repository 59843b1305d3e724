//! A question on one page: what is asked, the drawing, the raw readings, what is worked out from them, and what was said. On the phone
//! that asked it can be sent from here; on any other it is answered here.

mod answer;
mod file;

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
use crate::procedure::{Run, StepState, Words};
use crate::record::{Airframe, AirframeId, EntryId, Integrity, Ledger};
use crate::report::{
    Asked, RawReading, answer as answer_file, extract, not_sent, photos_about, question_name, raw_readings, remarks,
};
use crate::sketch::step_sketch;
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
            Some((asked, device)) => page(&airframe, StoredValue::new(asked), device == own),
            None => missing(),
        }
    })
}

fn page(airframe: &Airframe, asked: StoredValue<Asked>, own: bool) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let now = data::airframe(id);
    let Asked { procedure, run, step, text, who, .. } = asked.get_value();
    let run = data::one_run(now, procedure, run);
    let title = run.with_untracked(|run| run.as_ref()?.step(&step).map(Words::step_title)).unwrap_or_default();
    let back = Address::Of(id, Page::Run(procedure.id.clone(), step)).path();
    let of_step = move |show: &dyn Fn(&Airframe, &Run, &StepState) -> Option<AnyView>| {
        let (airframe, run) = (now.get()?, run.get()?);
        let step = asked.with_value(|asked| run.step(&asked.step).cloned())?;
        show(&airframe, &run, &step)
    };
    let drawing =
        move || of_step(&|airframe, run, step| step_sketch(procedure, airframe, run, step, None).as_ref().map(alone));
    let verdict = move || {
        of_step(&|airframe, _, step| step.result().map(|result| verdict_panel(procedure, Some(airframe), step, result)))
    };
    let gaps = move || shop.ledger.with(|ledger| not_sent(&Integrity::of(ledger, id)));
    let hands = if own { send(airframe, asked) } else { answer::answer(airframe, asked) };
    view! {
        <main class="question-page">
            {still_head("Question", (back, title))}
            {para("entry-when", who)}
            {named("question-text", "lead", text)}
            {says("extract", "hint", "", live(gaps))}
            <div class="question-drawing">{live(drawing)}</div>
            {live(verdict)}
            {readings(asked)}
            {photos(asked)}
            {so_far(asked)}
            {hands}
        </main>
    }
}

/// Something that is read off the ledger for the question's step.
fn at_step<T>(asked: StoredValue<Asked>, read: fn(&Ledger, &Asked) -> T) -> Memo<T>
where
    T: PartialEq + Send + Sync + 'static,
{
    let shop = Shop::here();
    Memo::new(move |_| shop.ledger.with(|ledger| asked.with_value(|asked| read(ledger, asked))))
}

fn raw(ledger: &Ledger, asked: &Asked) -> Vec<RawReading> {
    raw_readings(ledger, asked.airframe, asked.run, &asked.step)
}

/// The readings as they were taken: by whom, when, with what.
fn readings(asked: StoredValue<Asked>) -> AnyView {
    let rows = at_step(asked, raw);
    let one = |RawReading { line, with }: RawReading| {
        let class = if line.struck.is_some() { "entry struck" } else { "entry" };
        view! {
            <li class=class>
                {para("entry-when", format!("{} · {}", line.when, line.by))}
                {para("entry-what", line.what)}
                {para("hint", with)}
                {line.struck.map(|reason| para("entry-struck", format!("Struck out: {reason}")))}
            </li>
        }
    };
    let none = live(move || rows.with(Vec::is_empty).then(|| para("", "Nothing was read at this step.")));
    let list = live(move || rows.get().into_iter().map(one).collect::<Vec<_>>());
    part("Readings, as they were taken", vec![view! { {none}<ol id="raw" class="entries">{list}</ol> }])
}

fn photos(asked: StoredValue<Asked>) -> AnyView {
    let id = asked.with_value(|asked| asked.airframe);
    let found = at_step(asked, |ledger, asked| {
        photos_about(ledger, asked.airframe, &asked.about()).into_iter().map(|(entry, ..)| entry).collect::<Vec<_>>()
    });
    let shown = live(move || found.get().into_iter().filter_map(|entry| thumbnail(id, entry)).collect::<Vec<_>>());
    view! { <div class="thumbnails">{shown}</div> }
}

/// What was said of the step by whoever was asked.
fn so_far(asked: StoredValue<Asked>) -> AnyView {
    let found = at_step(asked, |ledger, asked| remarks(ledger, asked.airframe, asked.run, &asked.step));
    let none = live(move || found.with(Vec::is_empty).then(|| para("", "No answer yet.")));
    let list = live(move || found.get().into_iter().map(|said| remark(said, None)).collect::<Vec<_>>());
    part("What was said", vec![view! { {none}<div id="remarks">{list}</div> }])
}

/// The question's file, on the phone that asked.
fn send(airframe: &Airframe, asked: StoredValue<Asked>) -> AnyView {
    parcel(
        airframe,
        asked,
        "Send the question",
        ("send-question", "Send the question"),
        "question",
        |ledger, asked, _| extract(ledger, asked.question),
    )
}

/// A file of the question or its answer, and its photos.
fn parcel(
    airframe: &Airframe,
    asked: StoredValue<Asked>,
    heading: &'static str,
    button: (&'static str, &'static str),
    what: &str,
    entries: fn(&Ledger, &Asked, uuid::Uuid) -> Option<crate::report::RecordFile>,
) -> AnyView {
    let shop = Shop::here();
    let device = shop.settings.with_untracked(|settings| settings.device);
    let (name, photos) = shop.ledger.with_untracked(|ledger| {
        asked.with_value(|asked| {
            let name = ledger.get(asked.question).map(|entry| question_name(airframe, entry, what));
            let mut photos = photos_about(ledger, asked.airframe, &asked.about());
            if what == "answer" {
                photos.retain(|(entry, ..)| ledger.get(*entry).is_some_and(|entry| entry.device == device));
            }
            (name.unwrap_or_default(), photos)
        })
    });
    let entries = Box::new(move || shop.ledger.with(|ledger| asked.with_value(|asked| entries(ledger, asked, device))));
    sending(Parcel { heading, button, name, entries, photos })
}

/// The file that goes back.
fn send_back(airframe: &Airframe, asked: StoredValue<Asked>) -> AnyView {
    parcel(
        airframe,
        asked,
        "Send the answer back",
        ("send-answer", "Send the answer back"),
        "answer",
        |ledger, asked, device| answer_file(ledger, asked.question, device),
    )
}
