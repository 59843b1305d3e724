//! What a run's screen adds to the record.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::Screen;
use crate::app::browser::{focus, haptics, tone};
use crate::app::shop::Shop;
use crate::metrology::Verdict;
use crate::procedure::{ProposedMove, StepKind, told, told_kept};
use crate::quantity::{Command, Quantity};
use crate::record::{Body, Instrument, MovedAdjuster, Reading, RunId, StepPath};

impl Screen {
    /// The run and the step that are on the screen.
    pub(super) fn here(self) -> Option<(RunId, StepPath)> {
        let run = self.run.with_untracked(|run| run.as_ref().map(|run| run.id))?;
        let step = self.step.with_untracked(|step| step.as_ref().map(|step| step.path.clone()))?;
        Some((run, step))
    }

    /// Adds one entry that needs nothing but the run and the step.
    pub(super) fn put(self, body: impl FnOnce(RunId, StepPath) -> Body) {
        let Some((run, step)) = self.here() else { return };
        self.keep(body(run, step), None, |_| ());
    }

    /// Keeps an entry; `after` is told whether it is stored.
    pub(super) fn keep(self, body: Body, by: Option<String>, after: impl FnOnce(bool) + 'static) {
        self.keep_all(vec![body], by, Box::new(after));
    }

    /// Keeps entries in one batch: all of them or none.
    pub(super) fn keep_all(self, bodies: Vec<Body>, by: Option<String>, after: Box<dyn FnOnce(bool)>) {
        let shop = Shop::here();
        let Some(airframe) = self.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))
        else {
            return;
        };
        spawn_local(async move {
            let kept = match by {
                None => shop.keep(airframe, bodies).await,
                Some(by) => shop.keep_by(airframe, bodies, by).await,
            };
            if kept.is_ok() {
                haptics::vibrate(haptics::TAP);
            }
            after(kept.is_ok());
        });
    }

    /// Keeps a reading; when it is the last of its set, the verdict is heard and felt. `asked` is what the pad asked before,
    /// where it asked; `after` is told whether it is stored.
    pub(super) fn take(
        self,
        slot: String,
        value: Quantity,
        instrument: Instrument,
        asked: Option<String>,
        after: impl FnOnce(bool) + 'static,
    ) {
        let Some((run, step)) = self.here() else { return };
        let shop = Shop::here();
        let read = value.clone();
        let body = Body::ReadingTaken(Reading { run, step, slot, value, instrument, asked });
        let by = self.reader.get_untracked().or_else(|| self.begun_by());
        self.keep(body, by, move |kept| {
            after(kept);
            if kept {
                self.again.try_set(false);
                self.sound();
                let all = || self.step.try_with_untracked(|step| Some(told(step.as_ref()?, &read))).flatten();
                let words = if self.views.handed { Some(told_kept(&read)) } else { all() };
                shop.tell(&words.unwrap_or_default());
            }
        });
    }

    /// Who began the blind reading that is on the screen, after a restart.
    fn begun_by(self) -> Option<String> {
        self.step.with_untracked(|step| {
            let step = step.as_ref()?;
            let blind = matches!(step.step.kind, StepKind::Measure { blind: true, .. });
            blind.then(|| step.begun()?.readings.first().map(|reading| reading.by.clone()))?
        })
    }

    /// Records a move as made; `left` is what remains of its correction.
    pub(super) fn moved(self, adjuster: String, amount: Quantity, left: Vec<ProposedMove>) {
        let Some((run, step)) = self.here() else { return };
        if !self.moving.begin() {
            return;
        }
        let body = Body::AdjusterMoved(MovedAdjuster { run, step, adjuster, amount });
        self.keep(body, None, move |kept| {
            self.moving.end();
            if kept {
                self.pending.try_set(left);
            }
        });
    }

    /// Does what was said, where the pad does not do it by itself.
    pub(super) fn command(self, command: Command) {
        match command {
            Command::Next => focus::tap("following-step"),
            Command::Back => focus::tap("previous-step"),
            Command::Strike => {
                let last = self.step.with_untracked(|step| Some(step.as_ref()?.begun()?.readings.last()?.entry));
                self.striking.set(last);
            }
            Command::Again => self.say_again(),
            Command::Done => focus::tap("done"),
            Command::Yes | Command::No | Command::Keep | Command::Listen | Command::Rest => {}
        }
    }

    /// Lets the verdict of the step be seen, heard and felt; on the helper's screen there is none.
    fn sound(self) {
        if self.views.handed {
            return;
        }
        self.views.show(self.procedure, self.step);
        let verdict = self.step.try_with_untracked(|step| {
            let step = step.as_ref()?;
            let complete = step.attempt().is_some_and(|attempt| attempt.complete);
            complete.then(|| step.result().map(|result| result.verdict))?
        });
        match verdict.flatten() {
            Some(Verdict::In) => {
                tone::play(tone::Tone::In);
                haptics::vibrate(haptics::IN);
            }
            Some(Verdict::Out(_)) => {
                tone::play(tone::Tone::Out);
                haptics::vibrate(haptics::OUT);
            }
            Some(Verdict::CantTell) => {
                tone::play(tone::Tone::CantTell);
                haptics::vibrate(haptics::CANT_TELL);
            }
            Some(Verdict::NotJudged) | None => {}
        }
    }
}
