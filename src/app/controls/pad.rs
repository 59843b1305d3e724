//! The entry pad: large keys, a strip of fractions that follows the tape, the sign as a physical question.

use leptos::prelude::*;

use super::{button, button_when, latch, para, row, says};
use crate::app::live::{changing, live, tap};
use crate::app::shop::Shop;
use crate::app::widgets::TapePicture;
use crate::procedure::{Ask, Slot};
use crate::quantity::{Key, Pad, Quantity};
use crate::record::Instrument;

/// What is on the pad when "keep" is pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct PadEntry {
    /// The digits.
    pub(crate) text: String,
    /// The answer to the physical question was the negative one.
    pub(crate) negative: bool,
}

/// The pad for one slot. The half-typed reading is kept at every key and shown again after a restart.
#[component]
pub(crate) fn PadPanel(
    /// What is read.
    what: Slot,
    /// What it is read with.
    instrument: Instrument,
    /// Under which the half-typed reading is kept.
    draft_key: String,
    /// Takes the entry, or says why not.
    on_keep: Callback<PadEntry>,
    /// What was refused.
    refusal: RwSignal<String>,
) -> impl IntoView {
    let shop = Shop::here();
    let (unit, step) = (instrument.unit, instrument.step);
    let (sign, text) = split_draft(&shop.draft(&draft_key).unwrap_or_default());
    let pad = RwSignal::new(Pad::restored(&text, unit, step));
    let negative = RwSignal::new(sign);
    let asks = what.ask.is_some();
    let draft = StoredValue::new(draft_key);
    let note = move || {
        let sign = match negative.get_untracked() {
            None => "",
            Some(false) => "+",
            Some(true) => "-",
        };
        shop.put_draft(draft.get_value(), format!("{sign}{}", pad.with_untracked(Pad::text)));
    };
    let press = Callback::new(move |key: Key| {
        refusal.set(String::new());
        pad.update(|pad| pad.press(key));
        note();
    });
    let answer = Callback::new(move |value: bool| {
        refusal.set(String::new());
        negative.set(Some(value));
        note();
    });
    let quantity = Memo::new(move |_| pad.with(|pad| pad.quantity(step)));
    let zero =
        Memo::new(move |_| quantity.with(|quantity| quantity.as_ref().is_some_and(|quantity| quantity.value == 0.0)));
    let keep = tap(move |_| {
        if asks
            && !zero.get_untracked()
            && negative.with_untracked(Option::is_none)
            && !pad.with_untracked(Pad::is_empty)
        {
            refusal.set("Answer the question first: it gives the number its sign.".to_owned());
            return;
        }
        let negative = negative.get_untracked().unwrap_or(false);
        on_keep.run(PadEntry { text: pad.with_untracked(Pad::text), negative });
    });
    let shown = move || {
        let sign = if asks && negative.get() == Some(true) && !zero.get() { "\u{2212}" } else { "" };
        pad.with(|pad| if pad.is_empty() { "–".to_owned() } else { format!("{sign}{}", pad.text()) })
    };
    let spoken = move || {
        quantity.get().map_or_else(String::new, |quantity| signed(quantity, asks && negative.get() == Some(true)).say())
    };
    let fractions = pad.with_untracked(Pad::fractions);
    let tape = move || quantity.get().map(|quantity| view! { <TapePicture value=quantity.value step=step unit=unit/> });
    let filled = move || pad.with(|pad| !pad.is_empty());
    let class = changing(move || if filled() { "reading-now" } else { "reading-now empty" });
    view! {
        <div class="pad-panel">
            <output id="reading" class=class><span>{live(shown)}</span><small>{unit.symbol()}</small></output>
            <p id="spoken" class="spoken" aria-live="polite">{live(spoken)}</p>
            {live(tape)}
            {what.ask.map(|ask| sign_question(ask, negative, answer))}
            {says("refusal", "refusal", "alert", live(move || refusal.get()))}
            {keys(pad, press, fractions)}
            {button_when("keep", "Keep it", filled, keep)}
        </div>
    }
}

/// The physical question, as two large buttons.
fn sign_question(ask: Ask, negative: RwSignal<Option<bool>>, answer: Callback<bool>) -> AnyView {
    let button = move |id: &str, value: bool, words: String| {
        latch(id.to_owned(), "sign", words, move || negative.get() == Some(value), tap(move |_| answer.run(value)))
    };
    let buttons = vec![button("sign-plus", false, ask.plus), button("sign-minus", true, ask.minus)];
    let label = ask.question.clone();
    view! {
        <div class="sign-question" role="group" aria-label=label>{para("", ask.question)}{row(buttons)}</div>
    }
    .into_any()
}

/// Digits, fractions or a point, and the two ways to take back.
fn keys(pad: RwSignal<Pad>, press: Callback<Key>, fractions: bool) -> AnyView {
    const EIGHTHS: [&str; 8] = ["0", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
    let key = move |id: &str, label: String, key: Key| button(id, "key", label, tap(move |_| press.run(key)));
    let fraction = move |id: String, label: String, key: Key, down: fn(&Pad, u8) -> bool, part: u8| {
        latch(id, "key fraction", label, move || pad.with(|pad| down(pad, part)), tap(move |_| press.run(key)))
    };
    let mut digits: Vec<AnyView> = [7, 8, 9, 4, 5, 6, 1, 2, 3]
        .map(|digit| key(&format!("key-{digit}"), digit.to_string(), Key::Digit(digit)))
        .into();
    let clear = key("key-clear", "Clear".to_owned(), Key::Clear);
    let mut beside = Vec::new();
    if fractions {
        digits.push(clear);
        let eighths: Vec<AnyView> = (0..8_u8)
            .zip(EIGHTHS)
            .map(|(eighths, label)| {
                let down = |pad: &Pad, eighths| pad.eighths() == Some(eighths);
                fraction(format!("eighth-{eighths}"), label.to_owned(), Key::Eighths(eighths), down, eighths)
            })
            .collect();
        let small: Vec<AnyView> = pad
            .with_untracked(Pad::small_keys)
            .into_iter()
            .map(|part| fraction(format!("plus-{part}"), format!("+1/{part}"), Key::Plus(part), Pad::is_down, part))
            .collect();
        beside.push(
            view! { <div class="fractions" role="group" aria-label="Eighths of an inch">{eighths}</div> }.into_any(),
        );
        beside.push(
            view! { <div class="small-keys" role="group" aria-label="And a part of an eighth">{small}</div> }
                .into_any(),
        );
    } else {
        digits.push(key("key-point", ".".to_owned(), Key::Point));
        beside.push(clear);
    }
    digits.push(key("key-0", "0".to_owned(), Key::Digit(0)));
    let back = tap(move |_| press.run(Key::Back));
    digits.push(
        view! { <button id="key-back" type="button" class="key" aria-label="Take the last one back" on:click=back>"⌫"</button> }
            .into_any(),
    );
    let class = if fractions { "keyboard" } else { "keyboard decimal" };
    view! { <div class=class><div class="keys" role="group" aria-label="Digits">{digits}</div>{beside}</div> }
        .into_any()
}

/// A draft is the sign's answer, if given, then the pad's text.
fn split_draft(draft: &str) -> (Option<bool>, String) {
    match draft.chars().next() {
        Some('+') => (Some(false), draft[1..].to_owned()),
        Some('-') => (Some(true), draft[1..].to_owned()),
        _ => (None, draft.to_owned()),
    }
}

fn signed(quantity: Quantity, negative: bool) -> Quantity {
    if negative { Quantity::new(-quantity.value, quantity.unit, quantity.step) } else { quantity }
}
