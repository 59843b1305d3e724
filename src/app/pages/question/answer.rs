//! Answering: a remark on the step or on one of its readings, a move that is proposed, a word on a deviation; and the file that takes
//! them back.

use std::sync::Arc;

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::send_back;
use crate::app::controls::{button, button_when, number_field, numbered_choice_of, para, part, row, says, text_field};
use crate::app::live::{Busy, live, tap};
use crate::app::shop::Shop;
use crate::language::{self, tr, words};
use crate::quantity::Unit;
use crate::record::{Airframe, AirframeId, Body, DeviationAnswer, EntryId, MAX_TEXT, MovedAdjuster, Remark};
use crate::report::{Asked, Movable, answer_to, movables, raw_readings, unanswered};

/// Everything that whoever is asked can do.
pub(super) fn answer(airframe: &Airframe, asked: &Arc<Asked>) -> AnyView {
    let name = RwSignal::new(Shop::here().settings.with_untracked(|settings| settings.name.clone()));
    let unnamed = name.with_untracked(|name| name.trim().is_empty());
    let who = unnamed.then(|| text_field("answers", "Your name", "It stands beside what you say.", name));
    view! {
        {who}
        {deviations(asked, name)}
        {remark_form(airframe, asked, name)}
        {send_back(airframe, asked)}
    }
}

/// Keeps what was said, by its name. The name is that of who is at the phone from here on, where the phone did not know any.
async fn keep(shop: Shop, airframe: AirframeId, body: Body, name: String) -> bool {
    if shop.settings.with_untracked(|settings| settings.name.trim().is_empty()) {
        shop.settings.update(|settings| settings.name.clone_from(&name));
    }
    shop.keep_by(airframe, vec![body], name).await.is_ok()
}

/// The texts and choices of a remark.
#[derive(Clone, Copy)]
struct Draft {
    text: RwSignal<String>,
    /// The reading that it is about; empty for the step.
    about: RwSignal<String>,
    /// The place of the proposed move among those that can be made; empty for none.
    way: RwSignal<String>,
    amount: RwSignal<String>,
}

fn remark_form(airframe: &Airframe, asked: &Arc<Asked>, name: RwSignal<String>) -> AnyView {
    let (shop, asked) = (Shop::here(), Arc::clone(asked));
    let new = || RwSignal::new(String::new());
    let draft = Draft { text: new(), about: new(), way: new(), amount: new() };
    let (refusal, busy) = (new(), Busy::new());
    let ways = Arc::new(movables(&asked, airframe));
    let about = about_choice(shop, &asked, draft.about);
    let way = way_choice(&ways, draft);
    let put = tap(move |_| {
        let proposes = match proposal(&asked, &ways, draft) {
            Ok(proposes) => proposes,
            Err(words) => return refusal.set(words),
        };
        refusal.set(String::new());
        if !busy.begin() {
            return;
        }
        let mut about = asked.about();
        about.entry = draft.about.get_untracked().parse::<EntryId>().ok();
        let text = draft.text.get_untracked().trim().to_owned();
        let (airframe, answers) = (asked.airframe, Some(asked.question));
        let name = name.get_untracked().trim().to_owned();
        spawn_local(async move {
            let kept = keep(shop, airframe, Body::RemarkMade(Remark { about, answers, text, proposes }), name).await;
            busy.end();
            if kept {
                for field in [draft.text, draft.about, draft.way, draft.amount] {
                    field.try_set(String::new());
                }
            }
        });
    });
    let ready = move || {
        name.with(|name| !name.trim().is_empty())
            && draft.text.with(|text| !text.trim().is_empty() && text.len() <= MAX_TEXT)
    };
    part(
        "Your remark",
        vec![
            text_field("remark", "Your remark", "The microphone of your phone's keyboard works here too.", draft.text),
            view! { {about} },
            way,
            says("remark-refusal", "refusal", "alert", live(move || refusal.get())),
            button_when("keep-remark", "Keep the remark", ready, put),
        ],
    )
}

/// The step or one of its readings; nothing to choose where nothing was read.
fn about_choice(shop: Shop, asked: &Asked, about: RwSignal<String>) -> Option<AnyView> {
    let rows = shop.ledger.with_untracked(|ledger| raw_readings(ledger, asked.airframe, asked.run, &asked.step));
    let mut options = vec![(String::new(), words!("the step").to_owned())];
    for (row, place) in rows.into_iter().zip(1..) {
        if row.line.struck.is_none() {
            options.push((row.line.entry.to_string(), format!("{place}. {}", row.line.what)));
        }
    }
    (options.len() > 1).then(|| numbered_choice_of("about", "What is it about?", about, options))
}

fn way_choice(ways: &Arc<Vec<Movable>>, draft: Draft) -> AnyView {
    if ways.is_empty() {
        return ().into_any();
    }
    let mut options = vec![(String::new(), words!("none").to_owned())];
    options.extend(ways.iter().enumerate().map(|(place, way)| (place.to_string(), way.label.clone())));
    let ways = Arc::clone(ways);
    let amount = move || {
        let unit = ways.get(draft.way.get().parse::<usize>().ok()?)?.unit;
        let label = if unit == Unit::One {
            words!("By how many turns").to_owned()
        } else {
            tr!("By how much ({unit})", unit = unit.symbol())
        };
        Some(number_field("amount", &label, "", "decimal", draft.amount))
    };
    view! {
        {numbered_choice_of("move", "Do you propose a move?", draft.way, options)}
        {live(amount)}
        {para("hint", "A proposal moves nothing. Whoever stands at the airframe moves it and says so.")}
    }
}

/// The move that is proposed, if one is.
fn proposal(asked: &Asked, ways: &[Movable], draft: Draft) -> Result<Option<MovedAdjuster>, String> {
    let place = draft.way.get_untracked().parse::<usize>().ok();
    let Some(way) = place.and_then(|place| ways.get(place)) else { return Ok(None) };
    way.by(&draft.amount.get_untracked(), asked.run, &asked.step).map(Some)
}

/// Deviations of the step that nobody has answered.
fn deviations(asked: &Arc<Asked>, name: RwSignal<String>) -> Option<AnyView> {
    let shop = Shop::here();
    let open = shop.ledger.with_untracked(|ledger| unanswered(ledger, asked.airframe, asked.run, &asked.step));
    let id = asked.airframe;
    let forms: Vec<AnyView> =
        open.into_iter().map(|(deviation, words)| deviation_form(shop, id, deviation, words, name)).collect();
    (!forms.is_empty()).then(|| part("To be accepted or not", forms))
}

/// The answer to a deviation by who gave it, as they were typed; `None`, and why in `refusal`, where it is none.
pub(crate) fn answered(
    deviation: EntryId,
    accepted: bool,
    (name, answer): (RwSignal<String>, RwSignal<String>),
    refusal: RwSignal<String>,
    shop: Shop,
) -> Option<DeviationAnswer> {
    let given = shop.ledger.with_untracked(|ledger| {
        answer_to(ledger, deviation, accepted, &name.read_untracked(), &answer.read_untracked())
    });
    given.map_err(|words| refusal.set(language::ours(words).to_owned())).ok()
}

fn deviation_form(
    shop: Shop,
    airframe: AirframeId,
    deviation: EntryId,
    words: String,
    name: RwSignal<String>,
) -> AnyView {
    let (answer, refusal) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let (busy, done) = (Busy::new(), RwSignal::new(false));
    let say = Callback::new(move |accepted: bool| {
        let Some(answered) = answered(deviation, accepted, (name, answer), refusal, shop) else { return };
        if !busy.begin() {
            return;
        }
        let name = answered.name.clone();
        spawn_local(async move {
            let kept = keep(shop, airframe, Body::DeviationAnswered(answered), name).await;
            busy.end();
            done.try_set(kept);
        });
    });
    let form = live(move || {
        if done.get() {
            return para("", "Answered. It goes back with the file below.");
        }
        view! {
            {text_field("deviation-answer", "Your answer", "Word for word as it is to stand in the record.", answer)}
            {says("", "refusal", "alert", live(move || refusal.get()))}
            {row(vec![
                button("refuse-deviation", "plain", "It may not stand", tap(move |_| say.run(false))),
                button("accept-deviation", "plain", "It may stand", tap(move |_| say.run(true))),
            ])}
        }
    });
    view! { <section class="notice deviation">{para("", words)}{form}</section> }
}
