//! Answering: a remark on the step or on one of its readings, a move that is proposed, a word on a deviation; and the file that takes
//! them back.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::{at_step, raw, send_back};
use crate::app::controls::{
    button, button_when, named, number_field, numbered_choice_of, para, part, row, says, text_field,
};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::procedure::StepKind;
use crate::record::{Airframe, AirframeId, Body, DeviationAnswer, EntryId, MAX_TEXT, MovedAdjuster, Remark};
use crate::report::{Asked, Movable, movables, unanswered};

/// Everything that whoever is asked can do.
pub(super) fn answer(airframe: &Airframe, asked: StoredValue<Asked>) -> AnyView {
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

fn remark_form(airframe: &Airframe, asked: StoredValue<Asked>, name: RwSignal<String>) -> AnyView {
    let shop = Shop::here();
    let new = || RwSignal::new(String::new());
    let draft = Draft { text: new(), about: new(), way: new(), amount: new() };
    let (refusal, busy) = (RwSignal::new(String::new()), StoredValue::new(false));
    let kind = asked.with_value(|asked| {
        let laid_out = asked.procedure.laid_out();
        laid_out.into_iter().find(|(path, ..)| *path == asked.step).map(|(_, _, step)| step.kind)
    });
    let ways = asked.with_value(|asked| movables(asked.procedure, airframe, &kind.unwrap_or(StepKind::Confirm)));
    let ways = StoredValue::new(ways);
    let put = tap(move |_| {
        if busy.get_value() {
            return;
        }
        let proposes = match proposal(asked, ways, draft) {
            Ok(proposes) => proposes,
            Err(words) => return refusal.set(words),
        };
        refusal.set(String::new());
        busy.set_value(true);
        let (airframe, body) = asked.with_value(|asked| {
            let mut about = asked.about();
            about.entry = draft.about.get_untracked().parse::<EntryId>().ok();
            let text = draft.text.get_untracked().trim().to_owned();
            (asked.airframe, Body::RemarkMade(Remark { about, answers: Some(asked.question), text, proposes }))
        });
        let name = name.get_untracked().trim().to_owned();
        spawn_local(async move {
            let kept = keep(shop, airframe, body, name).await;
            busy.try_set_value(false);
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
            live(move || about_choice(asked, draft.about)).into_any(),
            way_choice(ways, draft),
            says("remark-refusal", "refusal", "alert", live(move || refusal.get())),
            button_when("keep-remark", "Keep the remark", ready, put),
        ],
    )
}

fn about_choice(asked: StoredValue<Asked>, about: RwSignal<String>) -> Option<AnyView> {
    let rows = at_step(asked, raw).get();
    let readings: Vec<(String, String)> = rows
        .into_iter()
        .filter(|row| row.line.struck.is_none())
        .map(|row| (row.line.entry.to_string(), row.line.what))
        .collect();
    (!readings.is_empty()).then(|| {
        let mut options = vec![(String::new(), "the step".to_owned())];
        options.extend(readings);
        numbered_choice_of("about", "What is it about?", about, options)
    })
}

fn way_choice(ways: StoredValue<Vec<Movable>>, draft: Draft) -> AnyView {
    if ways.with_value(Vec::is_empty) {
        return ().into_any();
    }
    let mut options = vec![(String::new(), "none".to_owned())];
    ways.with_value(|ways| {
        options.extend(ways.iter().enumerate().map(|(place, way)| (place.to_string(), way.label.clone())));
    });
    let amount = move || {
        let place: usize = draft.way.get().parse().ok()?;
        let unit = ways.with_value(|ways| ways.get(place).map(|way| way.unit))?;
        let label = if unit == crate::quantity::Unit::One {
            "By how many turns".to_owned()
        } else {
            format!("By how much ({})", unit.symbol())
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
fn proposal(
    asked: StoredValue<Asked>,
    ways: StoredValue<Vec<Movable>>,
    draft: Draft,
) -> Result<Option<MovedAdjuster>, String> {
    let Ok(place) = draft.way.get_untracked().parse::<usize>() else { return Ok(None) };
    let typed = draft.amount.get_untracked();
    let proposed = |way: &Movable| asked.with_value(|asked| way.by(&typed, asked.run, &asked.step));
    ways.with_value(|ways| ways.get(place).map(proposed)).transpose()
}

/// Deviations of the step that nobody has answered.
fn deviations(asked: StoredValue<Asked>, name: RwSignal<String>) -> AnyView {
    let open = at_step(asked, |ledger, asked| unanswered(ledger, asked.airframe, asked.run, &asked.step));
    let id = asked.with_value(|asked| asked.airframe);
    let one = move |(deviation, words): (EntryId, String)| deviation_form(id, deviation, words, name);
    let forms = move || {
        let open = open.get();
        (!open.is_empty()).then(|| part("To be accepted or not", open.into_iter().map(one).collect()))
    };
    view! { {live(forms)} }
}

fn deviation_form(airframe: AirframeId, deviation: EntryId, words: String, name: RwSignal<String>) -> AnyView {
    let (answer, refusal) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let (shop, busy) = (Shop::here(), StoredValue::new(false));
    let say = move |accepted: bool| {
        tap(move |_| {
            let (name, answer) = (name.get_untracked().trim().to_owned(), answer.get_untracked().trim().to_owned());
            if name.is_empty() || answer.is_empty() || answer.len() > MAX_TEXT {
                return refusal.set("Your name and your reason stand beside the answer: write both.".to_owned());
            }
            if busy.get_value() {
                return;
            }
            busy.set_value(true);
            let answered = DeviationAnswer { deviation, accepted, name: name.clone(), answer };
            spawn_local(async move {
                keep(shop, airframe, Body::DeviationAnswered(answered), name).await;
                busy.try_set_value(false);
            });
        })
    };
    view! {
        <section class="notice deviation">
            {named("", "", words)}
            {text_field("deviation-answer", "Your answer", "Word for word as it is to stand in the record.", answer)}
            {says("", "refusal", "alert", live(move || refusal.get()))}
            {row(vec![
                button("refuse-deviation", "plain", "It may not stand", say(false)),
                button("accept-deviation", "plain", "It may stand", say(true)),
            ])}
        </section>
    }
}
