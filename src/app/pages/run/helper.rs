//! The helper's screen: the same phone handed over, or a second one with the airframe's record. It shows what the helper does and
//! nothing that was read, and takes a number from whoever reads blind.

use crate::app::prelude::*;

use super::views::Views;
use super::{Screen, measure};
use crate::app::address::{self, Address, Page};
use crate::app::browser::focus;
use crate::app::controls::{PadWork, button, button_when, link, list, named, pad_panel, para, part, row, who_field};
use crate::app::data::{self, run_of};
use crate::app::frame::still_head;
use crate::app::live::{changing, live, tap};
use crate::app::pages::{missing, people::everybody};
use crate::app::widgets::alone;
use crate::language::tr;
use crate::procedure::{
    Face, HelperCard, HelperReading, Procedure, ReadBlind, Words, cannot_be, handed_back, helper_cards, look_once_more,
    read_blind, shown_run,
};
use crate::quantity::{Command, Quantity};
use crate::record::AirframeId;
use crate::sketch::step_sketch;

/// The helper's part of the run.
#[derive(Clone, Copy)]
struct Helping {
    screen: Screen,
    id: AirframeId,
    /// The run was begun on this phone: a number can be entered.
    begun: Memo<bool>,
    cards: Memo<Vec<HelperCard>>,
    /// Which of the cards is shown.
    place: RwSignal<usize>,
    /// Who reads, once they said so.
    reader: RwSignal<String>,
}

/// The page.
pub(crate) fn helper(id: AirframeId, procedure: &'static Procedure) -> AnyView {
    let airframe = data::airframe(id);
    let folded = run_of(airframe, procedure);
    let run = Memo::new(move |_| {
        let airframe = airframe.get()?;
        Some(folded.get().unwrap_or_else(|| shown_run(procedure, &airframe)))
    });
    let here = address::here();
    let path = Memo::new(move |_| {
        let named = here.with(Address::step);
        let open = || {
            run.with(|run| {
                let run = run.as_ref()?;
                run.steps.get(run.current.unwrap_or_default()).map(|step| step.path.clone())
            })
        };
        if named.is_empty() { open().unwrap_or_default() } else { named }
    });
    let screen = Screen::of(procedure, airframe, run, path, None);
    let screen = Screen { views: Views::handed(), ..screen };
    let cards = Memo::new(move |_| {
        let cards = screen
            .step
            .with(|step| airframe.with(|airframe| Some(helper_cards(procedure, airframe.as_ref()?, step.as_ref()?))));
        cards.unwrap_or_default()
    });
    let helping = Helping {
        screen,
        id,
        begun: Memo::new(move |_| folded.with(Option::is_some)),
        cards,
        place: RwSignal::new(0),
        reader: RwSignal::new(String::new()),
    };
    helping.follow();
    let there = Memo::new(move |_| screen.step.with(Option::is_some));
    let shown = Memo::new(move |_| path.get());
    view! {
        {live(move || {
            shown.track();
            if there.get() { page(helping) } else { missing() }
        })}
    }
}

impl Helping {
    /// Shows the card of what is to be read next, at every step and after every reading.
    fn follow(self) {
        Effect::new(move |_| {
            let next = self.screen.step.with(|step| {
                let step = step.as_ref()?;
                let face = self.screen.run.with(|run| Some(Face::of(run.as_ref()?, step, false, Some("?"))))?;
                let Face::Read { slot, .. } = face else { return None };
                self.cards.with(|cards| {
                    cards.iter().position(|card| card.reading.as_ref().is_some_and(|reading| reading.slot == slot.id))
                })
            });
            self.place.set(next.unwrap_or_default());
        });
    }

    fn card(self) -> Option<HelperCard> {
        self.cards.with(|cards| cards.get(self.place.get()).cloned())
    }

    /// What can be entered now by somebody.
    fn next(self) -> Option<ReadBlind> {
        let by = self.reader.get();
        if by.is_empty() || !self.begun.get() {
            return None;
        }
        let (airframe, step) = (self.screen.airframe.get()?, self.screen.step.get()?);
        self.screen.run.with(|run| read_blind(self.screen.procedure, &airframe, run.as_ref()?, &step, &by))
    }

    fn address(self, step: &str) -> String {
        Address::Of(self.id, Page::Helper(self.screen.procedure.id.clone(), step.to_owned())).path()
    }
}

fn page(helping: Helping) -> AnyView {
    let screen = helping.screen;
    let title = screen.step.with_untracked(|step| step.as_ref().map(Words::step_title)).unwrap_or_default();
    let back =
        move || Address::Of(helping.id, Page::Run(screen.procedure.id.clone(), screen.path.get_untracked())).path();
    let place = move || helping.card().map(where_view);
    let how = move || helping.card().map(how_view);
    let picture = move || {
        let airframe = screen.airframe.get()?;
        let card = helping.card()?;
        // Of a run in which nothing was read: what was read would lead the eye.
        let run = shown_run(screen.procedure, &airframe);
        let step = screen.path.with(|path| run.step(path).cloned())?;
        let slot = card.reading.map(|reading| reading.slot);
        step_sketch(screen.procedure, &airframe, &run, &step, slot.as_deref()).map(|sketch| alone(&sketch))
    };
    let step = changing(move || screen.path.get());
    view! {
        <main class="run helper" data-step=step>
            {still_head(title, (back(), "Hand it back".to_owned()))}
            <div class="helper-body">
                <div class="helper-where">{live(place)}</div>
                <div class="helper-hands">{live(picture)}{entering(helping)}</div>
                <div class="helper-how">{live(how)}</div>
            </div>
            {ways(helping)}
            {link("hand-back", "primary", back(), "Hand it back")}
        </main>
    }
}

/// What to hold and where, or what is done.
fn where_view(card: HelperCard) -> AnyView {
    let reading = card.reading.map(|HelperReading { slot, title, hold, place, .. }| {
        view! {
            <h2 id="helper-slot" data-slot=slot>{title}</h2>
            {part("Hold", vec![para("helper-large", hold), para("helper-large", place)])}
        }
    });
    let cautions = (!card.cautions.is_empty()).then(|| list("step-cautions", card.cautions));
    let texts: Vec<AnyView> = card.text.into_iter().map(|text| para("helper-large", text)).collect();
    view! { {reading}{texts}{cautions} }
}

/// Where to look, and how to call the number out.
fn how_view(card: HelperCard) -> Option<AnyView> {
    let HelperReading { look, call, .. } = card.reading?;
    let how = [
        part("Where to look", vec![para("helper-large", look)]),
        part("Call it out", vec![list("helper-large", call)]),
    ];
    Some(Vec::from(how).into_any())
}

/// Typing the number in, for a helper who holds the phone.
fn entering(helping: Helping) -> AnyView {
    let (name, asked) = (RwSignal::new(String::new()), RwSignal::new(false));
    let given = move || name.with(|name| !name.trim().is_empty());
    let next = Memo::new(move |_| helping.next());
    let known = move || {
        helping.screen.face.with(|face| matches!(face, Some(Face::Read { .. } | Face::HandOver))) && helping.begun.get()
    };
    let entered = StoredValue::new(false);
    let form = move || {
        if let Some(next) = next.get() {
            entered.set_value(true);
            return Some(entry(helping, next));
        }
        if !known() {
            return entered.get_value().then(|| named("handed-back", "lead", handed_back()));
        }
        if !asked.get() {
            let ask = tap(move |_| asked.set(true));
            return Some(button("helper-types", "plain", "I type the number in myself", ask));
        }
        let begin = tap(move |_| helping.reader.set(name.get_untracked().trim().to_owned()));
        let hint = "You read alone: no number that was read before is shown here.";
        Some(view! {
            {who_field("reader", "Your name", hint, everybody(helping.screen.airframe), name)}
            {button_when("begin-reading", "Begin to read", given, begin)}
        })
    };
    view! { {live(form)} }
}

fn entry(helping: Helping, next: ReadBlind) -> AnyView {
    let screen = helping.screen;
    let refusal = RwSignal::new(String::new());
    let doubted = RwSignal::new(None::<Quantity>);
    let (slot, instrument) = (next.slot.clone(), next.instrument.clone());
    let draft_key = measure::draft_key(screen, &slot, next.repeat, next.attempt);
    let stored = measure::taking(screen, &slot, &instrument, &draft_key);
    let take = Callback::new(move |(value, asked): (Quantity, Option<String>)| {
        screen.reader.set(Some(helping.reader.get_untracked()));
        stored.run((value, asked));
    });
    let looked = RwSignal::new(None::<f64>);
    let on_keep = {
        let next = next.clone();
        Callback::new(move |value: Quantity| {
            doubted.set(None);
            let refused = screen
                .airframe
                .with_untracked(|airframe| airframe.as_ref().is_some_and(|airframe| next.refuses(&value, airframe)));
            let before = looked.get_untracked() == Some(value.value);
            if refused {
                refusal.set(cannot_be().to_owned());
            } else if before {
                take.run((value, Some(look_once_more().to_owned())));
            } else if next.doubts(&value) {
                looked.set(Some(value.value));
                doubted.set(Some(value));
                // Whoever keeps by keyboard reads the question before anything is pressed again.
                focus::focus_after_frame("doubt-words");
            } else {
                take.run((value, None));
            }
        })
    };
    let doubt = move || {
        let value = doubted.get()?;
        let number = value.print();
        let label = tr!("It is what I read: {number}", number);
        let keep = tap(move |_| take.run((value.clone(), Some(look_once_more().to_owned()))));
        Some(view! {
            <section id="doubt" class="notice" role="alertdialog" aria-labelledby="doubt-words">
                {named("doubt-words", "lead", look_once_more())}
                {button("as-read", "plain", label, keep)}
                {button("look-again", "plain", "Let me look again", tap(move |_| doubted.set(None)))}
            </section>
        })
    };
    let on_command = Callback::new(|_: Command| ());
    let on_touch = Callback::new(move |()| doubted.set(None));
    let typed = screen.views.typed;
    let count = (slot.repeats > 1).then(|| para("hint", format!("{}/{}", next.repeat, slot.repeats)));
    let repeat = next.repeat.to_string();
    let on_say = Callback::new(move |words: String| screen.say(&words));
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
    view! {
        <section id="helper-entry" data-slot=slot.id.clone() data-repeat=repeat>
            {count}
            {live(doubt)}
            {pad_panel(slot, instrument, work)}
        </section>
    }
}

/// A way back or on, as the ways of a step have them.
fn turned(by: isize, title: &str) -> String {
    if by < 0 { format!("‹ {title}") } else { format!("{title} ›") }
}

/// From card to card, and from step to step.
fn ways(helping: Helping) -> AnyView {
    let screen = helping.screen;
    let step_beside = move |by: isize| {
        screen.run.with(|run| {
            let run = run.as_ref()?;
            let place = run.place(&screen.path.get())?.checked_add_signed(by)?;
            run.steps.get(place).map(|step| (step.path.clone(), Words::step_title(step)))
        })
    };
    let way = move |id: &'static str, by: isize| {
        let card = helping.place.get().checked_add_signed(by).filter(|place| *place < helping.cards.with(Vec::len));
        if let Some(card) = card {
            let title = helping
                .cards
                .with(|cards| cards[card].reading.as_ref().map(|reading| reading.title.clone()).unwrap_or_default());
            return Some(button(id, "plain", turned(by, &title), tap(move |_| helping.place.set(card))));
        }
        let (path, title) = step_beside(by)?;
        Some(link(id, "plain", helping.address(&path), turned(by, &title)))
    };
    let ways = move || {
        row([("helper-before", -1), ("helper-after", 1)].into_iter().filter_map(|(id, by)| way(id, by)).collect())
    };
    view! { <nav class="ways" aria-label="Steps">{live(ways)}</nav> }
}
