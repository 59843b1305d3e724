//! The entry pad: large keys, a strip of fractions that follows the tape, the sign as a physical question.

use crate::app::prelude::*;

use super::said::{Spoken, others, said_field};
use super::talk::{Ears, talk};
use super::{button, button_when, group, latch, para, row, says};
use crate::app::browser::{ahead, tone};
use crate::app::live::{changing, live, tap};
use crate::app::shop::Shop;
use crate::app::widgets::tape_at;
use crate::language::{self, tr, words};
use crate::procedure::{Ask, AskedNumber, Slot};
use crate::quantity::{
    Command, Dimension, Key, Pad, Quantity, Unit, decimal_mark, nearness, parse, print, print_number, stepped,
};
use crate::record::Instrument;

/// What stands behind a pad, beside its slot and its instrument.
#[derive(Clone)]
pub(crate) struct PadWork {
    /// Under which the half-typed reading is kept.
    pub(crate) draft_key: String,
    /// What the reading is expected to be, in the instrument's unit: ranks what was said.
    pub(crate) expected: Option<f64>,
    /// From when on something else than this pad comes first when the app is opened again, in milliseconds since 1970: 0 where this pad
    /// never does, none where it always does.
    pub(crate) until: Option<i64>,
    /// What an empty pad is stepped from, with its sign; none while somebody reads blind.
    pub(crate) about: Option<f64>,
    /// Takes the number, or says why not.
    pub(crate) on_keep: Callback<Quantity>,
    /// What was refused.
    pub(crate) refusal: RwSignal<String>,
    /// Something was typed, said or answered anew.
    pub(crate) on_touch: Callback<()>,
    /// What stands on the pad, with its unit; empty while nothing does.
    pub(crate) typed: RwSignal<String>,
    /// Says words aloud, where the person wants to hear them.
    pub(crate) on_say: Callback<String>,
    /// What a spoken command does that the pad does not do by itself.
    pub(crate) on_command: Callback<Command>,
}

/// The pad for one slot. The half-typed reading is kept at every key and shown again after a restart.
/// `what` is read with `instrument`; `work` is what stands behind it.
pub(crate) fn pad_panel(what: Slot, instrument: Instrument, work: PadWork) -> AnyView {
    untrack(move || panel(what, &instrument, work))
}

fn panel(what: Slot, instrument: &Instrument, work: PadWork) -> AnyView {
    let shop = Shop::here();
    let PadWork { draft_key, expected, about, until, on_keep, refusal, on_touch, typed, on_say, on_command } = work;
    let (unit, step) = (instrument.unit, instrument.step);
    let kept = shop.draft(&draft_key).unwrap_or_default();
    let (sign, text) = split_draft(&kept);
    let pictured = StoredValue::new_local(Some(ahead::Pictured::new(&draft_key, until, &kept)));
    on_cleanup(move || drop(pictured.try_update_value(Option::take)));
    let ahead = ahead::hits(&draft_key, &kept);
    let pad = RwSignal::new(Pad::restored(&text, unit, step));
    let spoken = RwSignal::new(text.strip_prefix(SAID).and_then(|words| Spoken::of(words, unit, step, expected)));
    let listening = RwSignal::new(spoken.with_untracked(Option::is_some));
    let negative = RwSignal::new(sign);
    let asks = what.ask.is_some();
    let draft = StoredValue::new(draft_key);
    let note = move || {
        refusal.set(String::new());
        on_touch.run(());
        let sign = match negative.get_untracked() {
            None => "",
            Some(false) => "+",
            Some(true) => "-",
        };
        let said = spoken.with_untracked(|spoken| spoken.as_ref().map(|spoken| format!("{SAID}{}", spoken.words)));
        let text = said.unwrap_or_else(|| pad.with_untracked(Pad::text));
        let text = format!("{sign}{text}");
        pictured.with_value(|pictured| pictured.iter().for_each(|pictured| pictured.note(&text)));
        shop.put_draft(draft.get_value(), text);
    };
    // What is said takes the place of what was typed, and a minus that was said answers the question.
    Effect::new(move |before: Option<bool>| {
        let said = spoken.with(|spoken| spoken.as_ref().map(|spoken| spoken.quantity().value));
        if let Some(value) = said {
            pad.update(|pad| pad.press(Key::Clear));
            if asks && value < 0.0 {
                negative.set(Some(true));
            }
        }
        if said.is_some() || before == Some(true) {
            note();
        }
        said.is_some()
    });
    let press = Callback::new(move |key: Key| {
        spoken.set(None);
        pad.update(|pad| pad.press(key));
        note();
    });
    let answer = Callback::new(move |value: bool| {
        negative.set(Some(value));
        note();
    });
    super::typing::listen(press, asks.then_some(answer));
    match ahead {
        Some(hits) => hits.into_iter().for_each(|key| press.run(key)),
        None => refusal
            .set(words!("What was typed while the app opened was for another reading, and is not taken.").to_owned()),
    }
    // Without its sign where the question gives it.
    let quantity = Memo::new(move |_| {
        let said = spoken.with(|spoken| spoken.as_ref().map(|spoken| spoken.quantity().clone()));
        let said = said.map(|said| if asks { said.unsigned() } else { said });
        said.or_else(|| pad.with(|pad| pad.quantity(step)))
    });
    let filled = move || spoken.with(Option::is_some) || pad.with(|pad| !pad.is_empty());
    let signed = move || quantity.get().map(|quantity| quantity.signed(asks && negative.get() == Some(true)));
    let move_by = Callback::new(move |up: bool| {
        let now = signed().map(|quantity| quantity.value);
        if let Some(next) = stepped(now, about, step, up, asks) {
            spoken.set(None);
            pad.update(|pad| pad.put(next, step));
            if let Some(sought) = about {
                tone::approach(nearness(next, sought, step));
            }
            if asks && next != 0.0 {
                negative.set(Some(next < 0.0));
            }
            note();
        }
    });
    let keep = move || {
        let found = match quantity.get_untracked() {
            Some(quantity) => Ok(quantity),
            None => parse(&pad.with_untracked(Pad::text), unit, step),
        };
        match found {
            Err(error) => refusal.set(error.to_string()),
            Ok(found) if asks && found.value != 0.0 && negative.with_untracked(Option::is_none) => {
                refusal.set(words!("Answer the question first: it gives the number its sign.").to_owned());
            }
            Ok(found) if !asks && found.value < 0.0 => refusal.set(words!("This reading has no minus.").to_owned()),
            Ok(found) => {
                let minus = asks && negative.get_untracked() == Some(true);
                let said = spoken.with_untracked(Option::is_some);
                on_keep.run(if said { found.signed(minus) } else { found.answered(minus) });
            }
        }
    };
    let words = move || {
        let quantity = signed()?;
        Some(spoken.with(|spoken| spoken.as_ref().map_or_else(|| quantity.say(), |spoken| spoken.read_back(&quantity))))
    };
    let command = Callback::new(move |command: Command| match command {
        Command::Keep => keep(),
        Command::Again if filled() => on_say.run(untrack(words).unwrap_or_default()),
        Command::Strike | Command::No if filled() => press.run(Key::Clear),
        Command::Rest => listening.set(false),
        other => on_command.run(other),
    });
    let shown = move || {
        if let Some(said) = signed().filter(|_| spoken.with(Option::is_some)) {
            return print_number(said.value, said.unit, said.step);
        }
        let zero = quantity.with(|quantity| quantity.as_ref().is_none_or(|quantity| quantity.value == 0.0));
        let sign = if asks && negative.get() == Some(true) && !zero { "\u{2212}" } else { "" };
        pad.with(|pad| if pad.is_empty() { "\u{2013}".to_owned() } else { format!("{sign}{}", pad.shown()) })
    };
    Effect::new(move |_| typed.set(if filled() { unit.behind(&shown()) } else { String::new() }));
    let beside = move || signed().and_then(|quantity| quantity.beside()).unwrap_or_default();
    let fractions = pad.with_untracked(Pad::fractions);
    let tape = move || quantity.get().map(|quantity| tape_at(quantity.value, step, unit));
    let taped = unit.dimension() == Dimension::Length;
    let room = if taped { "said-room and-tape" } else { "said-room" };
    let words_or_refusal =
        changing(move || if refusal.with(String::is_empty) { "said-line" } else { "said-line refused" });
    let class = changing(move || if filled() { "reading-now" } else { "reading-now empty" });
    let field = move || listening.get().then(|| said_field(unit, step, expected, spoken, command));
    let ears = Ears {
        asked: Some(AskedNumber { unit, step, expected, ask: what.ask.clone() }),
        on_reading: Callback::new(move |(readings, sure)| {
            let heard = Spoken::heard(readings, sure);
            // At once: it is read back with its sign before any effect has run.
            if asks && heard.as_ref().is_some_and(|heard| heard.quantity().value < 0.0) {
                negative.set(Some(true));
            }
            spoken.set(heard);
        }),
        on_sign: answer,
        on_command: command,
        waiting: Signal::derive(move || signed().filter(|_| spoken.with(Option::is_some))),
        unsigned: Signal::derive(move || asks && negative.get().is_none()),
    };
    let listen = latch(
        "listen".to_owned(),
        "plain",
        "Say it",
        move || listening.get(),
        tap(move |_| listening.update(|on| *on = !*on)),
    );
    view! {
        <div class="pad-panel">
            // What comes and goes above the keys has its room from the start: a key stays under the thumb.
            <div class=room>{says("beside", "spoken", "", live(beside))}{live(tape)}</div>
            {others(spoken)}
            {live(field)}
            <div class="dock">
                // Not told at every key: the number is told when it is kept.
                <output id="reading" class=class aria-label="The number" aria-live="off"><span>{live(shown)}</span><small>{unit.symbol().to_owned()}</small></output>
                <div class=words_or_refusal>
                    {says("spoken", "spoken", "", live(words))}
                    {says("refusal", "refusal", "alert", live(move || refusal.get()))}
                </div>
                {what.ask.map(|ask| sign_question(ask, negative, answer))}
                {keys(pad, press, fractions, steppers(move_by, unit, step))}
                {button_when("keep", "Keep it", filled, tap(move |_| keep()))}
            </div>
            {listen}
            {talk(ears)}
        </div>
    }
}

/// Before the words of a draft that was said.
const SAID: char = '~';

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
}

/// One step of the instrument down, and up; nothing where the step is not known.
fn steppers(move_by: Callback<bool>, unit: Unit, step: f64) -> Vec<AnyView> {
    if step <= 0.0 {
        return Vec::new();
    }
    let size = print(step, unit, step);
    let key = |id: &'static str, up: bool, sign: &'static str, name: String| {
        let tapped = tap(move |_| move_by.run(up));
        view! { <button id=id type="button" class="key step" aria-label=name on:click=tapped>{sign}</button> }
    };
    vec![
        key("step-down", false, "\u{25bc}", tr!("One step down, {size}", size)),
        key("step-up", true, "\u{25b2}", tr!("One step up, {size}", size)),
    ]
}

/// Digits, fractions or a point, the steps, and the two ways to take back: one sign, next to the digits; all of it, far from what keeps.
fn keys(pad: RwSignal<Pad>, press: Callback<Key>, fractions: bool, steps: Vec<AnyView>) -> AnyView {
    const EIGHTHS: [&str; 8] = ["0", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
    let key = move |id: &str, label: String, key: Key| button(id, "key", label, tap(move |_| press.run(key)));
    let fraction = move |id: String, label: String, key: Key, down: fn(&Pad, u8) -> bool, part: u8| {
        latch(id, "key fraction", label, move || pad.with(|pad| down(pad, part)), tap(move |_| press.run(key)))
    };
    let mut digits: Vec<AnyView> = [7, 8, 9, 4, 5, 6, 1, 2, 3]
        .map(|digit| key(&format!("key-{digit}"), digit.to_string(), Key::Digit(digit)))
        .into();
    let clear = key("key-clear", words!("Clear").to_owned(), Key::Clear);
    let zero = key("key-0", "0".to_owned(), Key::Digit(0));
    let back = tap(move |_| press.run(Key::Back));
    let back = view! { <button id="key-back" type="button" class="key" aria-label="Take the last one back" on:click=back>"⌫"</button> };
    let mut beside = Vec::new();
    if fractions {
        digits.extend([clear, zero, back]);
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
        beside.push(view! { <div class="fractions" role="group" aria-label="Eighths of an inch">{eighths}</div> });
        let small = view! { <div class="small-keys" role="group" aria-label="And a part of an eighth">{small}</div> };
        let steps = view! { <div class="steps" role="group" aria-label="One step up or down">{steps}</div> };
        beside.push(group("last-keys", vec![steps, small]));
    } else {
        digits.extend([key("key-point", decimal_mark(language::current()).to_string(), Key::Point), zero, back]);
        let mut inside = vec![clear];
        inside.extend(steps.into_iter().rev());
        beside.push(view! { <div class="steps" role="group" aria-label="One step up or down">{inside}</div> });
    }
    let class = if fractions { "keyboard" } else { "keyboard decimal" };
    view! { <div class=class><div class="keys" role="group" aria-label="Digits">{digits}</div>{beside}</div> }
}

/// A draft is the sign's answer, if given, then the pad's text.
fn split_draft(draft: &str) -> (Option<bool>, String) {
    match draft.chars().next() {
        Some('+') => (Some(false), draft[1..].to_owned()),
        Some('-') => (Some(true), draft[1..].to_owned()),
        _ => (None, draft.to_owned()),
    }
}
