//! Press to talk with the recogniser that this person taught: the microphone is open from the press until the answer.

use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;

use super::talk::{State, Talk};
use crate::app::browser::clock;
use crate::app::browser::ear::{Ear, Event};
use crate::app::prelude::*;
use crate::app::taught;
use crate::procedure::{AskedNumber, Deaf};
use crate::quantity::Unit;
use crate::quantity::taught::{answers, readings};

impl Talk {
    /// Listens with what was taught; fetches the recogniser and opens the microphone first, where they are not there yet.
    pub(super) fn hark(self, state: State) {
        let turn = self.turn.get_value();
        spawn_local(async move {
            let opened = self.opened().await;
            // The page may have been left, or the button pressed again meanwhile.
            if self.turn.try_get_value() != Some(turn) {
                return;
            }
            match opened {
                Ok(ear) => {
                    ear.listen();
                    self.state.set(state);
                }
                Err(why) => {
                    self.state.set(State::Still);
                    self.tell(&why.to_string(), || ());
                }
            }
        });
    }

    async fn opened(self) -> Result<Rc<Ear>, Deaf> {
        let ear = match self.own.try_get_value().flatten() {
            Some(ear) => ear,
            None => {
                let bytes = taught::read(self.shop).await;
                if bytes.is_empty() {
                    return Err(Deaf::NotTaught);
                }
                let ear = Rc::new(Ear::open(&bytes).await?);
                if ear.unreadable {
                    return Err(Deaf::NotTaught);
                }
                self.own.try_set_value(Some(Rc::clone(&ear)));
                ear
            }
        };
        if !ear.hears() {
            ear.hear(move |event| self.on_sound(event)).await?;
        }
        Ok(ear)
    }

    fn on_sound(self, event: Event) {
        if !self.state.try_get_untracked().is_some_and(State::listens) {
            return;
        }
        match event {
            Event::Began => self.hearing.set("…".to_owned()),
            // The recogniser is still being called.
            Event::Ended => clock::soon(move || self.recognised()),
            Event::Level(..) => {}
        }
    }

    /// Ends the utterance by hand.
    pub(super) fn let_go(self, ear: &Ear) {
        if ear.stop() {
            self.recognised();
        } else {
            self.unheard();
        }
    }

    fn recognised(self) {
        let Some(ear) = self.own.try_get_value().flatten() else { return };
        let Some(state) = self.state.try_get_untracked().filter(|state| state.listens()) else { return };
        let words = self.ears.with_value(|ears| match (state, &ears.asked) {
            (State::Hears, Some(asked)) => readings(finest(asked)),
            _ => answers(),
        });
        match ear.recognise(&words) {
            Some(heard) => {
                self.hearing.set(heard.ways.first().cloned().unwrap_or_default());
                self.understood(&heard);
            }
            None => self.unheard(),
        }
    }

    fn unheard(self) {
        let answering = self.state.get_untracked() == State::Answers;
        self.end();
        if !answering {
            self.tell(&Deaf::Silence.to_string(), || ());
        }
    }
}

/// The finest part of the inch that the tool shows; none for a decimal scale.
fn finest(asked: &AskedNumber) -> Option<u32> {
    let parts = (1.0 / asked.step).round();
    let tape = asked.unit == Unit::Inch && (1.0..=64.0).contains(&parts) && asked.step * parts == 1.0;
    (tape && (parts as u32).is_power_of_two()).then_some(parts as u32)
}
