//! The instruments of an airframe: their state, and the reversal check in two readings.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::clock;
use crate::app::controls::{
    PadWork, button, choice_of, instrument_form, list, named, number_field, pad_panel, para, part, row, says,
};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::procedure::{
    LongPull, applies_to, instrument_now, instrument_words, procedures, reversal_slots, reversal_words,
};
use crate::quantity::Quantity;
use crate::record::{Airframe, AirframeId, Body, Instrument, InstrumentKind, Reversal, Units};

/// What is being done on the page.
#[derive(Clone, Debug, PartialEq)]
enum Doing {
    /// Looking.
    Nothing,
    /// An instrument is described, for a role.
    Describing(String, InstrumentKind),
    /// A kind is chosen for one more.
    Choosing,
    /// An instrument is turned end for end.
    Turning(String),
    /// What heat, pull and sag do to a long distance.
    Correcting,
}

/// The page.
pub(crate) fn instruments(id: AirframeId) -> AnyView {
    let airframe = data::airframe(id);
    with_airframe(airframe, move |first| {
        let doing = RwSignal::new(Doing::Nothing);
        let face = move || {
            let airframe = airframe.get().unwrap_or_else(|| first.clone());
            match doing.get() {
                Doing::Nothing => all(&airframe, doing),
                Doing::Choosing => choose(doing),
                Doing::Describing(role, kind) => form(&airframe, role, kind, doing),
                Doing::Turning(role) => turn(&airframe, role, doing),
                Doing::Correcting => long_pull(airframe.details.units, doing),
            }
        };
        let model =
            airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.details.model.clone()));
        view! {
            <main class="instruments">
                {still_head("Instruments", (Address::Of(id, Page::Overview).path(), model.unwrap_or_default()))}
                {live(face)}
            </main>
        }
    })
}

/// The roles of the work, and whatever else was accepted.
fn roles(airframe: &Airframe) -> Vec<(String, InstrumentKind)> {
    let mut roles: Vec<(String, InstrumentKind)> = Vec::new();
    for role in procedures().filter(|found| applies_to(found, airframe)).flat_map(|found| &found.roles) {
        if !roles.iter().any(|(known, _)| *known == role.role) {
            roles.push((role.role.clone(), role.kind));
        }
    }
    for (role, instrument) in airframe.instruments.all() {
        if !roles.iter().any(|(known, _)| known == role) {
            roles.push((role.to_owned(), instrument.kind));
        }
    }
    roles
}

fn all(airframe: &Airframe, doing: RwSignal<Doing>) -> AnyView {
    let today = clock::now().date_naive();
    let parts = roles(airframe).into_iter().map(|(role, kind)| {
        let now = instrument_now(airframe, &role);
        let mut inside: Vec<AnyView> = match &now {
            None => vec![para("", "None accepted yet.")],
            Some(instrument) => {
                let mut words = vec![para("lead", instrument.name.clone())];
                words.extend(instrument_words(instrument, today).into_iter().map(|words| para("", words)));
                words
            }
        };
        if let (Some(instrument), Some(reversal)) = (&now, airframe.instruments.reversal(&role)) {
            inside.extend(reversal_words(reversal, instrument).into_iter().map(|words| para("zero-error", words)));
        }
        let describe = {
            let role = role.clone();
            let label = if now.is_some() { "Change it or take another" } else { "Accept one" };
            let begin = tap(move |_| doing.set(Doing::Describing(role.clone(), kind)));
            button(format!("describe-{}", kind.key()), "plain", label, begin)
        };
        let mut ways = vec![describe];
        if now.is_some() && kind.reverses() {
            let begin = tap(move |_| doing.set(Doing::Turning(role.clone())));
            ways.push(button(format!("turn-{}", kind.key()), "plain", "Turn it end for end", begin));
        }
        if kind == InstrumentKind::Tape {
            let begin = tap(move |_| doing.set(Doing::Correcting));
            ways.push(button("long-pull", "plain", "Heat, pull and sag", begin));
        }
        inside.push(row(ways));
        part(kind.title(), inside)
    });
    let parts = parts.collect::<Vec<_>>();
    view! {
        {para("hint", "What each one is now goes into every reading taken with it.")}
        {parts}
        {button("another", "plain", "Another instrument", tap(move |_| doing.set(Doing::Choosing)))}
    }
}

fn choose(doing: RwSignal<Doing>) -> AnyView {
    let kinds = InstrumentKind::ALL.map(|kind| {
        let begin = tap(move |_| doing.set(Doing::Describing(kind.key().to_owned(), kind)));
        button(format!("kind-{}", kind.key()), "plain", kind.title(), begin)
    });
    part("What is it?", kinds.into_iter().chain([leave(doing)]).collect())
}

fn leave(doing: RwSignal<Doing>) -> AnyView {
    button("leave", "plain", "Leave it", tap(move |_| doing.set(Doing::Nothing)))
}

fn form(airframe: &Airframe, role: String, kind: InstrumentKind, doing: RwSignal<Doing>) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let now = airframe.instruments.get(&role).map(|(instrument, _)| instrument);
    let accept = Callback::new(move |instrument: Instrument| {
        let role = role.clone();
        spawn_local(async move {
            if shop.keep(id, vec![Body::InstrumentAccepted { role, instrument }]).await.is_ok() {
                doing.try_set(Doing::Nothing);
            }
        });
    });
    vec![instrument_form(kind, airframe.details.units, now, accept), leave(doing)].into_any()
}

/// The reversal check: two readings, then what they say, then kept. What was typed stays with the pad until the check is kept.
fn turn(airframe: &Airframe, role: String, doing: RwSignal<Doing>) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let Some(instrument) = airframe.instruments.get(&role).map(|(instrument, _)| instrument.clone()) else {
        return leave(doing);
    };
    let [first, turned] = reversal_slots(&role);
    let key = format!("{id}/reversal/{role}");
    let read: [RwSignal<Option<Quantity>>; 2] = [RwSignal::new(None), RwSignal::new(None)];
    let refusal = RwSignal::new(String::new());
    let face = move || {
        let (one, two) = (read[0].get(), read[1].get());
        let (place, slot) = match (one, two) {
            (Some(first), Some(turned)) => {
                let reversal = Reversal { first, turned };
                return found(shop, id, role.clone(), &instrument, reversal, key.clone(), doing);
            }
            (None, _) => (0, first.clone()),
            (Some(_), None) => (1, turned.clone()),
        };
        let on_keep = Callback::new(move |quantity: Quantity| read[place].set(Some(quantity)));
        let (on_touch, on_command) = (Callback::new(|()| ()), Callback::new(|_| ()));
        let draft_key = format!("{key}/{place}");
        let typed = RwSignal::new(String::new());
        let say = move |words| shop.settings.with_untracked(|settings| settings.sound).say(vec![words], || ());
        let on_say = Callback::new(say);
        let work = PadWork {
            draft_key,
            expected: None,
            about: None,
            until: Some(0),
            on_keep,
            refusal,
            on_touch,
            typed,
            on_say,
            on_command,
        };
        let (title, words) =
            (tr!("{number} of 2: {title}", number = place + 1, title = slot.title), slot.place.clone());
        view! {
            <h2 id="slot-title" data-slot=slot.id.clone()>{title}</h2>
            {para("place", words)}
            {pad_panel(slot, instrument.clone(), work)}
        }
    };
    view! { {live(face)}{leave(doing)} }
}

fn found(
    shop: Shop,
    id: AirframeId,
    role: String,
    instrument: &Instrument,
    reversal: Reversal,
    key: String,
    doing: RwSignal<Doing>,
) -> AnyView {
    let words = reversal_words(&reversal, instrument);
    let keep = tap(move |_| {
        let body = Body::InstrumentReversed { role: role.clone(), reversal: reversal.clone() };
        let key = key.clone();
        spawn_local(async move {
            if shop.keep(id, vec![body]).await.is_ok() {
                for place in 0..2 {
                    shop.put_draft(format!("{key}/{place}"), String::new());
                }
                doing.try_set(Doing::Nothing);
            }
        });
    });
    let mut all: Vec<AnyView> = vec![named("zero-found", "lead", words.join(" "))];
    all.push(button("keep-reversal", "primary", "Keep this check", keep));
    all.into_any()
}

/// What heat, pull, sag and slope do to a long distance: asked for, and applied to nothing by itself.
fn long_pull(units: Units, doing: RwSignal<Doing>) -> AnyView {
    let (warmth, force) = LongPull::units(units);
    let [distance, tolerance, temperature, pull, height] = [(); 5].map(|()| RwSignal::new(String::new()));
    let material = RwSignal::new("aluminium".to_owned());
    let hangs = RwSignal::new("flat".to_owned());
    let found = RwSignal::new(Vec::<String>::new());
    let refusal = RwSignal::new(String::new());
    let work = tap(move |_| {
        let draft = LongPull {
            distance: distance.get_untracked(),
            tolerance: tolerance.get_untracked(),
            temperature: temperature.get_untracked(),
            material: material.get_untracked(),
            pull: pull.get_untracked(),
            hangs: hangs.get_untracked(),
            height: height.get_untracked(),
        };
        match draft.sentences(units) {
            Ok(sentences) => {
                refusal.set(String::new());
                found.set(sentences);
            }
            Err(error) => refusal.set(error.to_string()),
        }
    });
    let length = units.length().symbol();
    let lying =
        vec![("flat".to_owned(), words!("Lies flat").to_owned()), ("free".to_owned(), words!("Hangs free").to_owned())];
    let result = move || found.with(|found| (!found.is_empty()).then(|| list("found", found.clone())));
    view! {
        <h2>"A long distance by tape"</h2>
        {para("hint", "For a steel tape of 25 by 0.11 mm. What comes out is for you to weigh: no reading is changed.")}
        {number_field("pull-distance", tr!("The tape reads ({unit})", unit = length), "", "decimal", distance)}
        {number_field("pull-tolerance", tr!("It may be off by ({unit})", unit = length), "", "decimal", tolerance)}
        {number_field("pull-temperature", tr!("Temperature of tape and airframe ({unit})", unit = warmth.symbol()), "", "decimal", temperature)}
        {choice_of("pull-material", "The airframe there is of", material, LongPull::materials())}
        {choice_of("pull-hangs", "The blade", hangs, lying)}
        {number_field("pull-force", tr!("Pull ({unit})", unit = force.symbol()), "Blank: the standard 50 N.", "decimal", pull)}
        {number_field("pull-height", tr!("One end is higher by ({unit})", unit = length), "Where the level distance is wanted.", "decimal", height)}
        {says("pull-refusal", "refusal", "alert", live(move || refusal.get()))}
        <div id="pull-found" role="status">{live(result)}</div>
        {button("work-out", "primary", "Work it out", work)}
        {leave(doing)}
    }
}
