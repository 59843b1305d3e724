//! Press to talk: one very large button, what is heard while it is heard, and the read-back. What was heard waits for "keep it".

use crate::app::prelude::*;

use super::leave::{Leave, leave_to_listen};
use super::says;
use std::rc::Rc;

use crate::app::browser::dictate::{self, Dictation, Heard, Manner};
use crate::app::browser::ear::Ear;
use crate::app::browser::headset::Headset;
use crate::app::browser::{clock, haptics, voice};
use crate::app::live::{changing, live, tap};
use crate::app::shop::Shop;
use crate::app::sound::Listening;
use crate::procedure::{AskedNumber, Deaf, Meaning, Utterance, phrases, read_back, understand};
use crate::quantity::{Command, Quantity};

/// What becomes of what is heard.
#[derive(Clone)]
pub(crate) struct Ears {
    /// The number that is asked for; without one only commands are heard.
    pub(crate) asked: Option<AskedNumber>,
    /// Shows a number that was heard, and what else it may have been; and whether it need not be asked about.
    pub(crate) on_reading: Callback<(Vec<Quantity>, bool)>,
    /// The physical question was answered.
    pub(crate) on_sign: Callback<bool>,
    /// A command.
    pub(crate) on_command: Callback<Command>,
    /// The number that was heard, signed as it stands on the screen, while it is not kept yet.
    pub(crate) waiting: Signal<Option<Quantity>>,
    /// Nothing gave the number its sign yet.
    pub(crate) unsigned: Signal<bool>,
}

/// What the button is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum State {
    /// Nothing.
    Still,
    /// It listens.
    Hears,
    /// It reads back.
    ReadsBack,
    /// It listens for the answer to what it read back.
    Answers,
}

impl State {
    const fn key(self) -> &'static str {
        match self {
            Self::Still => "still",
            Self::Hears => "hears",
            Self::ReadsBack => "reads-back",
            Self::Answers => "answers",
        }
    }

    pub(super) const fn listens(self) -> bool {
        matches!(self, Self::Hears | Self::Answers)
    }
}

#[derive(Clone, Copy)]
pub(super) struct Talk {
    pub(super) shop: Shop,
    pub(super) ears: StoredValue<Ears>,
    pub(super) state: RwSignal<State>,
    /// What is heard so far.
    pub(super) hearing: RwSignal<String>,
    trouble: RwSignal<String>,
    ear: StoredValue<Option<Dictation>, LocalStorage>,
    /// What was heard so far of this listening, while it may change.
    heard: StoredValue<Utterance>,
    /// Whether the browser listens on the phone only; asked once for each press.
    local: StoredValue<bool>,
    leave: StoredValue<Option<Leave>>,
    /// Goes up with every listening: what an earlier one still says is not heard.
    pub(super) turn: StoredValue<u32>,
    way: Listening,
    /// The part of the page that the button belongs to: what is heard acts there, as a tap does.
    owner: StoredValue<Option<Owner>>,
    /// The recogniser that was taught, once it was opened.
    pub(super) own: StoredValue<Option<Rc<Ear>>, LocalStorage>,
}

/// The button, where there is anything that listens.
pub(crate) fn talk(ears: Ears) -> AnyView {
    let shop = Shop::here();
    let way = shop.settings.with_untracked(|settings| settings.sound.listening);
    let there = match way {
        Listening::Keyboard => false,
        Listening::Browser => dictate::hears(),
        Listening::Taught => true,
    };
    if !there {
        return ().into_any();
    }
    let talk = Talk {
        shop,
        ears: StoredValue::new(ears),
        state: RwSignal::new(State::Still),
        hearing: RwSignal::new(String::new()),
        trouble: RwSignal::new(String::new()),
        ear: StoredValue::new_local(None),
        heard: StoredValue::new(Utterance::default()),
        local: StoredValue::new(true),
        leave: StoredValue::new(None),
        turn: StoredValue::new(0),
        way,
        owner: StoredValue::new(Owner::current()),
        own: StoredValue::new_local(None),
    };
    let begin = Callback::new(move |local: bool| {
        talk.local.set_value(local);
        talk.listen(State::Hears, true);
    });
    let leave = Leave::new(shop, begin);
    talk.leave.set_value(Some(leave));
    let headset = StoredValue::new_local(Headset::listen(move || talk.press()));
    on_cleanup(move || {
        headset.try_update_value(|headset| drop(headset.take()));
        talk.ear.try_update_value(|ear| drop(ear.take()));
        talk.own.try_update_value(|own| drop(own.take()));
    });
    // The microphone is open from the press to the answer, and no longer.
    Effect::new(move |_| {
        if talk.state.get() == State::Still
            && let Some(own) = talk.own.get_value()
        {
            own.close();
        }
    });
    let label = move || match talk.state.get() {
        State::Still => "Press and speak",
        State::Hears => "Listening",
        State::ReadsBack => "Listen",
        State::Answers => "Keep it?",
    };
    let state = changing(move || talk.state.get().key());
    let down = changing(move || if talk.state.get().listens() { "true" } else { "false" });
    let press = tap(move |_| talk.press());
    view! {
        <section class="talk-panel" data-hearing=state>
            {leave_to_listen(leave)}
            {says("hearing", "hearing", "", live(move || talk.hearing.get()))}
            {says("deaf", "refusal", "alert", live(move || talk.trouble.get()))}
            <button id="talk" type="button" class="talk" aria-pressed=down on:click=press>{live(label)}</button>
        </section>
    }
}

impl Talk {
    fn press(self) {
        let Some(state) = self.state.try_get_untracked() else { return };
        if let Some(own) = self.own.get_value().filter(|_| state.listens()) {
            return self.let_go(&own);
        }
        if state.listens() {
            return self.ear.with_value(|ear| {
                if let Some(ear) = ear {
                    ear.stop();
                }
            });
        }
        voice::hush();
        self.end();
        self.trouble.set(String::new());
        match self.leave.get_value() {
            Some(leave) if self.way == Listening::Browser => leave.ask(),
            _ => self.listen(State::Hears, false),
        }
    }

    /// Begins to listen, with the phrases that may be said, where the recogniser takes them.
    fn listen(self, state: State, with_phrases: bool) {
        self.stop();
        self.heard.set_value(Utterance::default());
        self.hearing.set(String::new());
        if self.way == Listening::Taught {
            return self.hark(state);
        }
        let phrases = if with_phrases { self.ears.with_value(|ears| phrases(ears.asked.as_ref())) } else { Vec::new() };
        let manner = Manner { local: self.local.get_value(), on_and_on: false, phrases };
        let turn = self.turn.get_value();
        let on = move |heard: Heard| {
            // The page may have been left, or something else is listened to by now.
            if self.turn.try_get_value() == Some(turn) {
                self.on(heard);
            }
        };
        let begun = Dictation::start(&manner, on);
        if begun.is_none() {
            self.state.set(State::Still);
            return self.tell(&Deaf::WouldNot.to_string(), || ());
        }
        haptics::vibrate(haptics::TAP);
        self.state.set(state);
        self.ear.set_value(begun);
    }

    fn on(self, heard: Heard) {
        match heard {
            Heard::Words { heard, last } => {
                self.hearing.set(heard.ways.first().cloned().unwrap_or_default());
                if last {
                    self.understood(&heard);
                } else {
                    self.heard.set_value(heard);
                }
            }
            Heard::Refused(Deaf::Phrases) => self.listen(self.state.get_untracked(), false),
            // An answer that does not come needs no words: the number waits on the screen.
            Heard::Refused(Deaf::Silence) if self.state.get_untracked() == State::Answers => self.end(),
            Heard::Refused(why) => {
                self.end();
                self.tell(&why.to_string(), || ());
            }
            Heard::Ended => self.ended(),
        }
    }

    /// It ended by itself: what it had not made its last word is no more than a guess.
    fn ended(self) {
        let (heard, answering) = (self.heard.get_value(), self.state.get_untracked() == State::Answers);
        if !heard.ways.is_empty() {
            return self.understood(&Utterance { sure: false, ..heard });
        }
        self.end();
        if !answering {
            self.tell(&Deaf::Silence.to_string(), || ());
        }
    }

    pub(super) fn end(self) {
        self.stop();
        self.state.set(State::Still);
    }

    /// Lets the recogniser go: at once, and its listeners once they have returned.
    fn stop(self) {
        self.turn.update_value(|turn| *turn += 1);
        if let Some(ear) = self.ear.try_update_value(Option::take).flatten() {
            ear.abort();
            clock::soon(move || drop(ear));
        }
    }

    pub(super) fn understood(self, heard: &Utterance) {
        match self.owner.get_value() {
            Some(owner) => owner.with(|| self.act(heard)),
            None => self.act(heard),
        }
    }

    fn act(self, heard: &Utterance) {
        let answering = self.state.get_untracked() == State::Answers;
        self.end();
        let ears = self.ears.get_value();
        match understand(heard, ears.asked.as_ref()) {
            Meaning::Reading { readings, sure } => {
                self.trouble.set(String::new());
                ears.on_reading.run((readings.clone(), sure));
                self.read_back(&readings, sure);
            }
            Meaning::Sign(negative) => {
                ears.on_sign.run(negative);
                self.read_back(&[], true);
            }
            Meaning::Command(Command::Again) if self.waiting().is_some() => self.read_back(&[], true),
            Meaning::Command(Command::Yes) if self.waiting().is_some() => ears.on_command.run(Command::Keep),
            Meaning::Command(Command::Yes) => {}
            Meaning::Command(command) => ears.on_command.run(command),
            Meaning::Nothing(why) => {
                self.tell(&why, move || {
                    if answering {
                        self.answer();
                    }
                });
            }
        }
    }

    fn waiting(self) -> Option<Quantity> {
        self.ears.try_with_value(|ears| ears.waiting.get_untracked()).flatten()
    }

    /// Reads back what waits, signed as it stands on the screen, and listens for the answer. `readings`: what else it may have been stands
    /// behind the first.
    fn read_back(self, readings: &[Quantity], sure: bool) {
        let Some(first) = self.waiting() else { return };
        let others = readings.iter().skip(1).cloned();
        let readings: Vec<Quantity> = std::iter::once(first).chain(others).collect();
        let words = self.ears.with_value(|ears| {
            let ask = ears.asked.as_ref().and_then(|asked| asked.ask.as_ref());
            read_back(&readings, sure, ask.filter(|_| ears.unsigned.get_untracked()))
        });
        self.state.set(State::ReadsBack);
        if let Some(own) = self.own.get_value() {
            own.deafen(true);
        }
        self.say(words, move || self.answer());
    }

    /// Listens for the answer to what was read back, as long as it waits.
    fn answer(self) {
        match self.waiting() {
            Some(_) if self.state.try_get_untracked().is_some() => self.listen(State::Answers, true),
            _ => drop(self.state.try_set(State::Still)),
        }
    }

    /// Shows what is wrong, and says it.
    pub(super) fn tell(self, words: &str, done: impl FnOnce() + 'static) {
        self.trouble.set(words.to_owned());
        self.say(vec![words.to_owned()], done);
    }

    fn say(self, words: Vec<String>, done: impl FnOnce() + 'static) {
        self.shop.settings.with_untracked(|settings| settings.sound).say(words, done);
    }
}
