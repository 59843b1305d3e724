//! Teaching the phone one's own words, so that it hears without a network and without anybody else.

use crate::app::prelude::*;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::Address;
use crate::app::browser::clock;
use crate::app::browser::ear::{Ear, Event};
use crate::app::controls::{button, group, named, para, part, row, says};
use crate::app::frame::still_head;
use crate::app::live::{changing, live, tap};
use crate::app::shop::Shop;
use crate::app::taught;
use crate::hearing;
use crate::language::{ours, tr};
use crate::procedure::{Deaf, NextTake, TAKES, next_take, take_words, taught_words};
use crate::quantity::taught::{PHRASES, TAUGHT, phrase, word as taught_word};

#[derive(Clone, Copy)]
struct Lesson {
    shop: Shop,
    ear: StoredValue<Option<Rc<Ear>>, LocalStorage>,
    /// How many takes there are of each word.
    takes: RwSignal<Vec<u32>>,
    /// How many whole readings were said.
    phrases: RwSignal<usize>,
    /// The microphone is open and a word is waited for.
    hears: RwSignal<bool>,
    /// The recogniser is on its way.
    opening: RwSignal<bool>,
    answer: RwSignal<String>,
    /// Decibels below full scale: now, and when nobody speaks.
    level: RwSignal<(f64, f64)>,
    /// Whether everything is to be forgotten is being asked.
    asks: RwSignal<bool>,
    /// What was forgotten, to be had back.
    before: RwSignal<Option<(Vec<u8>, usize)>>,
}

/// The page.
pub(crate) fn teach() -> AnyView {
    let shop = Shop::here();
    let said = shop.settings.with_untracked(|settings| settings.sound.phrases);
    let lesson = Lesson {
        shop,
        ear: StoredValue::new_local(None),
        takes: RwSignal::new(vec![0; TAUGHT.len()]),
        phrases: RwSignal::new(said),
        hears: RwSignal::new(false),
        opening: RwSignal::new(true),
        answer: RwSignal::new(String::new()),
        level: RwSignal::new((-100.0, -100.0)),
        asks: RwSignal::new(false),
        before: RwSignal::new(None),
    };
    on_cleanup(move || {
        lesson.ear.try_update_value(|ear| drop(ear.take()));
    });
    // The storage may be opening still.
    Effect::new(move |_| {
        if !shop.ready.get() {
            return;
        }
        spawn_local(async move {
            let bytes = taught::read(shop).await;
            if !bytes.is_empty() && lesson.ear.try_with_value(Option::is_none) == Some(true) {
                lesson.load(bytes).await;
            }
            lesson.opening.try_set(false);
        });
    });
    let up = (Address::Settings.path(), ours("Settings").to_owned());
    let intro = "Say each word as you say it at work: close to the phone, with the noise that there is. It takes about two minutes. Stop \
                 when you like, and go on another time. Nothing of it leaves this phone.";
    let far = live(move || lesson.takes.with(|takes| taught_words(takes, lesson.said())));
    view! {
        <main class="teach">
            {still_head("Teach your voice", up)}
            {para("", intro)}
            {says("taught", "lead", "", far)}
            {live(move || word(lesson))}
            {says("take-answer", "take-answer", "status", live(move || lesson.answer.get()))}
            {live(move || meters(lesson))}
            {live(move || keys(lesson))}
            {live(move || words(lesson))}
        </main>
    }
}

/// What to say, as large as it goes.
fn word(lesson: Lesson) -> Option<AnyView> {
    if !lesson.hears.get() {
        return None;
    }
    Some(match lesson.next() {
        Some(NextTake::Word(place, take)) => {
            let all = TAKES;
            group(
                "teach-word",
                vec![named("word", "word", taught_word(place)), para("hint", tr!("{take} of {all}", take, all))],
            )
        }
        Some(NextTake::Phrase(place)) => group(
            "teach-word",
            vec![named("word", "word", phrase(place)), para("hint", "In one go, as you would read it out.")],
        ),
        None => para("lead", "Everything is taught."),
    })
}

fn meters(lesson: Lesson) -> Option<AnyView> {
    let bar = move |id: &'static str, label: &'static str, of: fn((f64, f64)) -> f64| {
        let value = changing(move || of(lesson.level.get()).round().to_string());
        view! { <label class="level" for=id>{label}<meter id=id min="-100" max="0" value=value></meter></label> }
    };
    let both = || vec![bar("level", "Your voice", |(now, _)| now), bar("noise", "The noise", |(_, noise)| noise)];
    lesson.hears.get().then(|| row(both()))
}

fn keys(lesson: Lesson) -> AnyView {
    if lesson.opening.get() {
        return para("hint", "Getting ready…");
    }
    if lesson.hears.get() {
        return button("teach-stop", "primary", "Stop", tap(move |_| lesson.stop()));
    }
    if lesson.next().is_none() {
        return para("lead", "Everything is taught.");
    }
    let begun = lesson.takes.with(|takes| takes.iter().any(|&takes| takes > 0));
    let label = if begun { "Go on" } else { "Begin" };
    button("teach-begin", "primary", label, tap(move |_| lesson.begin(None)))
}

/// What is taught, each word to be taught anew; and the way to forget everything.
fn words(lesson: Lesson) -> Option<AnyView> {
    let takes = lesson.takes.get();
    if lesson.hears.get() {
        return None;
    }
    if takes.iter().all(|&takes| takes == 0) {
        let back = tap(move |_| lesson.have_back());
        return lesson.before.with(Option::is_some).then(|| button("have-back", "plain", "Have it back", back));
    }
    let known = TAUGHT.iter().zip(takes).enumerate().filter(|(_, (_, takes))| *takes > 0);
    let rows = known.map(|(place, _)| {
        let word = taught_word(place);
        button(
            format!("anew-{place}"),
            "plain",
            tr!("Teach “{word}” anew", word),
            tap(move |_| lesson.begin(Some(place))),
        )
    });
    let mut all: Vec<AnyView> = vec![row(rows.collect())];
    all.push(if lesson.asks.get() {
        let ways = row(vec![
            button("", "plain", "Leave it", tap(move |_| lesson.asks.set(false))),
            button("forget-yes", "plain", "Forget everything", tap(move |_| lesson.forget())),
        ]);
        group(
            "notice",
            vec![para("", "Every word is to be forgotten. You can have it back as long as this page is open."), ways],
        )
    } else {
        button("forget-all", "plain", "Forget everything", tap(move |_| lesson.asks.set(true)))
    });
    Some(part("What is taught", all))
}

impl Lesson {
    /// How many whole readings were said, and how many there are.
    fn said(self) -> (usize, usize) {
        (self.phrases.get(), PHRASES.len())
    }

    fn next(self) -> Option<NextTake> {
        self.takes.with(|takes| next_take(takes, self.said()))
    }

    /// Reads what was taught; the microphone stays shut.
    async fn load(self, bytes: Vec<u8>) {
        match Ear::open(&bytes).await {
            Ok(ear) => {
                if ear.unreadable {
                    self.answer
                        .try_set(ours("What was taught before cannot be read. It has to be taught anew.").to_owned());
                }
                self.count(&ear);
                self.ear.try_set_value(Some(Rc::new(ear)));
            }
            Err(why) => drop(self.answer.try_set(why.to_string())),
        }
    }

    /// Opens the recogniser and the microphone; `anew` is a word to forget first.
    fn begin(self, anew: Option<usize>) {
        self.opening.set(true);
        self.answer.set(String::new());
        spawn_local(async move {
            let opened = self.open(anew).await;
            if self.opening.try_set(false).is_some() {
                return;
            }
            match opened {
                Ok(()) => self.hears.set(true),
                Err(why) => self.answer.set(why.to_string()),
            }
        });
    }

    async fn open(self, anew: Option<usize>) -> Result<(), Deaf> {
        let ear = match self.ear.try_get_value().flatten() {
            Some(ear) => ear,
            None => {
                let ear = Rc::new(Ear::open(&taught::read(self.shop).await).await?);
                self.ear.try_set_value(Some(Rc::clone(&ear)));
                ear
            }
        };
        if let Some(place) = anew {
            ear.forget(taught_word(place));
        }
        self.count(&ear);
        ear.hear(move |event| self.on(event)).await?;
        ear.listen();
        Ok(())
    }

    fn count(self, ear: &Ear) {
        self.takes.try_set((0..TAUGHT.len()).map(|place| ear.takes(taught_word(place))).collect());
    }

    fn on(self, event: Event) {
        match event {
            Event::Level(now, noise) => drop(self.level.try_set((now, noise))),
            Event::Began => {}
            // The recogniser is still being called.
            Event::Ended => clock::soon(move || self.taken()),
        }
    }

    /// A take was heard.
    fn taken(self) {
        let Some(ear) = self.ear.try_get_value().flatten().filter(|ear| ear.hears()) else { return };
        let next = untrack(move || self.next());
        let (answer, like) = match next {
            None => return self.stop(),
            Some(NextTake::Phrase(place)) => (ear.teach_phrase(&phrase(place)), String::new()),
            Some(NextTake::Word(place, _)) => match ear.teach(taught_word(place)) {
                hearing::Lesson::Accepted => (hearing::Lesson::Accepted, ear.closest()),
                refused => (refused, String::new()),
            },
        };
        if answer == hearing::Lesson::Accepted {
            if let Some(NextTake::Phrase(place)) = next {
                self.tell_phrases(place + 1);
            }
            self.count(&ear);
            taught::keep(self.shop, ear.export());
        }
        self.answer.set(if like.is_empty() {
            take_words(answer).to_owned()
        } else {
            tr!("Good, though it sounds much like “{like}”. Make the two as different as you can.", like)
        });
        if untrack(move || self.next()).is_none() {
            return self.stop();
        }
        ear.listen();
    }

    fn tell_phrases(self, said: usize) {
        self.phrases.set(said);
        self.shop.settings.update(|settings| settings.sound.phrases = said);
    }

    fn stop(self) {
        if let Some(ear) = self.ear.get_value() {
            ear.close();
        }
        self.hears.set(false);
    }

    fn forget(self) {
        let Some(ear) = self.ear.get_value() else { return };
        self.before.set(Some((ear.export(), self.phrases.get_untracked())));
        self.ear.set_value(None);
        self.asks.set(false);
        self.tell_phrases(0);
        self.takes.set(vec![0; TAUGHT.len()]);
        taught::keep(self.shop, Vec::new());
    }

    fn have_back(self) {
        let Some((bytes, phrases)) = self.before.get_untracked() else { return };
        self.before.set(None);
        self.tell_phrases(phrases);
        taught::keep(self.shop, bytes.clone());
        spawn_local(self.load(bytes));
    }
}
