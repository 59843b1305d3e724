//! A run: one step per screen.

mod actions;
mod aloud;
mod back;
mod clicker;
mod far;
mod flash;
mod helper;
mod hold;
mod holes;
mod judged;
mod measure;
mod said;
mod simple;
mod turning;
mod views;

pub(crate) use helper::helper;
pub(super) use judged::verdict_panel;
pub(super) use said::remark;

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;

use super::missing;
use super::people::hands;
use super::undo::undo;
use crate::app::address::{self, Address, Page};
use crate::app::browser::wake::{KeepLit, Wake};
use crate::app::controls::{guide, link, list, para, part, row, says};
use crate::app::data::{self, run_of};
use crate::app::frame::head_with;
use crate::app::live::{Busy, changing, live, put_back};
use crate::app::shop::Shop;
use crate::app::widgets::alone;
use crate::language::{self, tr, words};
use crate::procedure::{
    Face, Procedure, ProposedMove, Run, State, StepState, Words, equipped, fill, fresh_move, shown_run,
};
use crate::record::{Airframe, AirframeId, EntryId};
use crate::sketch::step_sketch;

/// What the parts of a run's screen share.
#[derive(Clone, Copy)]
struct Screen {
    procedure: &'static Procedure,
    airframe: Memo<Option<Airframe>>,
    run: Memo<Option<Run>>,
    /// The step's path, as the address says.
    path: Memo<String>,
    step: Memo<Option<StepState>>,
    /// Measure once more though nothing was moved.
    again: RwSignal<bool>,
    /// Who reads blind.
    reader: RwSignal<Option<String>>,
    /// A reading that is about to be struck out.
    striking: RwSignal<Option<EntryId>>,
    /// What is left to move of a correction that was begun: the other side of a joint.
    pending: RwSignal<Vec<ProposedMove>>,
    /// A move is being written down.
    moving: Busy,
    face: Memo<Option<Face>>,
    /// Other ways to see the step.
    views: views::Views,
    /// Shown to whoever writes the procedure: nothing can be entered, and steps lead to steps of this page.
    written: Option<StoredValue<String>>,
}

impl Screen {
    fn open(id: AirframeId, procedure: &'static Procedure) -> Self {
        let airframe = data::airframe(id);
        let here = address::here();
        let path = Memo::new(move |_| here.with(Address::step));
        let screen = Self::of(procedure, airframe, run_of(airframe, procedure), path, None);
        screen.go_to_current(here);
        screen
    }

    fn of(
        procedure: &'static Procedure,
        airframe: Memo<Option<Airframe>>,
        run: Memo<Option<Run>>,
        path: Memo<String>,
        written: Option<StoredValue<String>>,
    ) -> Self {
        let step = Memo::new(move |_| run.with(|run| run.as_ref()?.step(&path.get()).cloned()));
        let again = RwSignal::new(false);
        let reader = RwSignal::new(None);
        let pending = RwSignal::new(Vec::new());
        let striking = RwSignal::new(None);
        // Another step: what was asked of the last one is forgotten.
        Effect::new(move |_| {
            path.with(|_| ());
            put_back(again, false);
            put_back(reader, None);
            put_back(pending, Vec::new());
            put_back(striking, None);
        });
        let face = Memo::new(move |_| {
            run.with(|run| {
                let run = run.as_ref()?;
                step.with(|step| Some(Face::of(run, step.as_ref()?, again.get(), reader.get().as_deref())))
            })
        });
        let (views, moving) = (views::Views::new(), Busy::new());
        Self { procedure, airframe, run, path, step, again, reader, pending, striking, moving, face, views, written }
    }

    /// An address without a step goes to the step that is open.
    fn go_to_current(self, here: Memo<Address>) {
        let navigate = use_navigate();
        Effect::new(move |_| {
            // Another page's address has no step either: this one is just being left then.
            if !here.with(|here| matches!(here, Address::Of(_, Page::Run(_, step)) if step.is_empty())) {
                return;
            }
            let target = self.run.with(|run| {
                let run = run.as_ref()?;
                let place = run.current.unwrap_or(run.steps.len().saturating_sub(1));
                run.steps.get(place).map(|step| step.path.clone())
            });
            if let (Some(step), Some(airframe)) = (target, self.airframe.get_untracked()) {
                let options = NavigateOptions { replace: true, ..Default::default() };
                navigate(&Address::Of(airframe.id, Page::Run(self.procedure.id.clone(), step)).route(), options);
            }
        });
    }

    fn address(self, step: &str) -> String {
        self.airframe
            .with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))
            .map_or(Address::Hangar, |id| {
                let page = self.written.map_or_else(
                    || Page::Run(self.procedure.id.clone(), step.to_owned()),
                    |name| Page::Write(name.get_value(), format!("{SHOWN}/{step}")),
                );
                Address::Of(id, page)
            })
            .path()
    }
}

/// The page.
pub(crate) fn run(id: AirframeId, procedure: &'static Procedure) -> AnyView {
    let screen = Screen::open(id, procedure);
    let there = Memo::new(move |_| screen.step.with(Option::is_some));
    let gate = back::Gate::open(screen);
    let shown = move || match (there.get(), gate.asks()) {
        (false, _) => missing(),
        (true, Some(found)) => back::panel(screen, gate, found),
        (true, None) => step_screen(screen),
    };
    view! { {live(shown)} }
}

/// The part of a procedure's address under which it is shown to its writer; the step stands behind it, after a slash.
pub(crate) const SHOWN: &str = "shown";

/// A procedure that is being written, as the builder will see it: the step of `path`, with nothing read yet and every hold point passed.
/// `name`: what it is called in addresses.
pub(crate) fn shown(
    id: AirframeId,
    procedure: &'static Procedure,
    name: StoredValue<String>,
    path: Memo<String>,
) -> AnyView {
    let here = data::airframe(id);
    let airframe = Memo::new(move |_| here.with(|airframe| Some(equipped(airframe.as_ref()?, procedure))));
    let run = Memo::new(move |_| airframe.with(|airframe| Some(shown_run(procedure, airframe.as_ref()?))));
    let first = Memo::new(move |_| {
        let path = path.get();
        let none = || run.with(|run| run.as_ref()?.steps.first().map(|step| step.path.clone())).unwrap_or_default();
        if path.is_empty() { none() } else { path }
    });
    let screen = Screen::of(procedure, airframe, run, first, Some(name));
    let there = Memo::new(move |_| screen.step.with(Option::is_some));
    view! { {live(move || if there.get() { step_screen(screen) } else { missing() })} }
}

fn step_screen(screen: Screen) -> AnyView {
    // By the address alone: the head takes the focus when the title is told, and an entry must not move it from where hands are.
    let title = Signal::derive(move || {
        screen.path.track();
        screen.step.with_untracked(|step| step.as_ref().map(|step| step.step.title.clone()).unwrap_or_default())
    });
    let up = screen.airframe.with_untracked(|airframe| {
        airframe.as_ref().map(|airframe| {
            let (page, title) = screen.written.map_or_else(
                || (Page::Work(screen.procedure.id.clone()), screen.procedure.title.clone()),
                |name| (Page::Write(name.get_value(), String::new()), words!("Back to writing").to_owned()),
            );
            (Address::Of(airframe.id, page).path(), title)
        })
    });
    let path = changing(move || screen.step.with(|step| step.as_ref().map(|step| step.path.clone())));
    let state = changing(move || screen.step.with(|step| step.as_ref().map(|step| state_key(step.state))));
    let shop = Shop::here();
    let folded_in = changing(move || {
        screen.run.track();
        shop.folded_in.get_value().to_string()
    });
    let phone = if screen.written.is_some() { ().into_any() } else { hands(screen.airframe) };
    let hands = move || {
        let left = screen.pending.get();
        if left.is_empty() {
            screen.face.get().map(|face| face_view(screen, face))
        } else {
            Some(judged::rest(screen, left))
        }
    };
    // What was left of a correction that is taken back is worked out anew.
    let left = Callback::new(move |()| screen.pending.set(Vec::new()));
    let measured = changing(move || {
        screen.face.with(|face| matches!(face, Some(Face::Read { .. } | Face::Judged)).then_some("true"))
    });
    view! {
        <main class="run" data-fold-ms=folded_in data-step=path data-state=state data-measured=measured>
            {head_with(title, up.unwrap_or_default(), phone)}
            {says("step-count", "step-count", "", live(move || place_words(screen)))}
            <fieldset class="run-body" disabled=screen.written.is_some()>
                <div class="run-words">{instructions(screen)}{said::said(screen)}</div>
                <div class="run-drawing">{drawing(screen)}</div>
                <div class="run-readings">{measure::readings(screen)}</div>
                <div class="run-hands">{live(move || taken_back(screen, left))}{live(hands)}{next(screen)}</div>
            </fieldset>
            {screen.written.is_none().then(|| aloud::aloud(screen))}
            {ways(screen)}
            {screen.written.is_none().then(|| {
                clicker::listen();
                awake()
            })}
            {screen.written.is_none().then(turning::turning)}
            {far::far(screen)}
            {flash::flash(screen)}
        </main>
    }
}

/// The way to take back the move that this step's last readings went stale by; above the pad, far from the ways on.
fn taken_back(screen: Screen, done: Callback<()>) -> Option<AnyView> {
    let id = screen.airframe.with_untracked(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
    let fresh = screen.run.with(|run| fresh_move(screen.procedure, run.as_ref()?))?;
    let stale = screen.step.with(|step| step.as_ref()?.attempt()?.stale);
    (stale == Some(fresh.entry)).then(|| undo(id, fresh, done))
}

const fn state_key(state: State) -> &'static str {
    match state {
        State::Open => "to-do",
        State::Done => "done",
        State::Stale => "stale",
        State::Blocked => "blocked",
    }
}

fn face_view(screen: Screen, face: Face) -> AnyView {
    match face {
        Face::Blocked(hold) => simple::blocked(screen, hold),
        Face::Confirm => simple::confirm(screen),
        Face::Instrument(role) => simple::accept_instrument(screen, role),
        Face::HandOver => measure::hand_over(screen),
        Face::Read { slot, repeat, attempt } => measure::read(screen, slot, repeat, attempt),
        Face::Judged => judged::judged(screen),
        Face::Count { what, expected } => simple::count(screen, &what, &expected),
        Face::Holes { what, reasons } => holes::holes(screen, what, reasons),
        Face::Hold { statement } => hold::hold_point(screen, statement),
    }
}

/// Where in the procedure this is, and at which gate.
fn place_words(screen: Screen) -> Option<String> {
    let step = screen.step.get()?;
    screen.run.with(|run| {
        let run = run.as_ref()?;
        let place = run.place(&step.path)? + 1;
        let (count, state) = (run.steps.len(), Words::state(step.state));
        Some(match &step.gate {
            None => tr!("Step {place} of {count} · {state}", place, count, state),
            Some(gate) => {
                tr!("Step {place} of {count} · {gate} · {state}", place, count, gate = language::of_gate(gate), state)
            }
        })
    })
}

/// What to do, and what could hurt.
fn instructions(screen: Screen) -> AnyView {
    let filled = Memo::new(move |_| {
        let step = screen.step.get()?;
        let airframe = screen.airframe.get()?;
        let fill = |text: &String| fill(text, &airframe.specification);
        let texts: Vec<String> = step.step.text.iter().map(fill).collect();
        let cautions: Vec<String> = step.step.cautions.iter().map(fill).collect();
        let first = screen.run.with(|run| run.as_ref()?.steps.first().map(|first| first.path == step.path));
        Some((texts, cautions, first.unwrap_or_default()))
    });
    let words = move || {
        let (texts, mut cautions, first) = filled.get()?;
        let mut all: Vec<AnyView> = texts.into_iter().map(|text| para("", text)).collect();
        if first {
            cautions.extend(screen.procedure.cautions.iter().cloned());
        }
        if !cautions.is_empty() {
            all.push(list("step-cautions", cautions));
        }
        if first {
            all.push(part("At hand", vec![list("", screen.procedure.tools.clone())]));
        }
        Some(all)
    };
    view! { {live(words)} }
}

/// The drawing beside the step, from the airframe's own dimensions.
fn drawing(screen: Screen) -> AnyView {
    let sketch = Memo::new(move |_| {
        let (airframe, run, step) = (screen.airframe.get()?, screen.run.get()?, screen.step.get()?);
        let face = screen.face.get()?;
        let slot = match &face {
            Face::Read { slot, .. } => Some(slot.id.as_str()),
            _ => None,
        };
        step_sketch(screen.procedure, &airframe, &run, &step, slot)
    });
    view! { {live(move || sketch.with(|sketch| sketch.as_ref().map(alone)))} }
}

/// The next thing to do, once this one is done: right below what was done, under the thumb.
fn next(screen: Screen) -> AnyView {
    let next = move || {
        screen.run.with(|run| {
            let run = run.as_ref()?;
            let Some(current) = run.current.and_then(|place| run.steps.get(place)) else {
                return Some(para("lead", "Every step is done."));
            };
            let elsewhere = screen
                .step
                .with(|step| step.as_ref().is_some_and(|step| step.path != current.path && step.state != State::Open));
            let title = tr!("Next: {title}", title = Words::step_title(current));
            elsewhere.then(|| link("next", "primary", screen.address(&current.path), title))
        })
    };
    view! { {live(next)} }
}

/// The neighbours, and what can be said of this step.
fn ways(screen: Screen) -> AnyView {
    let neighbours = move || {
        let (step, face) = (screen.step.get()?, screen.face.get()?);
        if face.hides(&step) {
            return None;
        }
        screen.run.with(|run| {
            let run = run.as_ref()?;
            let place = run.place(&step.path)?;
            let way = |id: &'static str, place: Option<usize>, words: fn(String) -> String| {
                let step = run.steps.get(place?)?;
                Some(link(id, "plain", screen.address(&step.path), words(Words::step_title(step))))
            };
            let before = way("previous-step", place.checked_sub(1), |title| format!("‹ {title}"));
            let after = way("following-step", place.checked_add(1), |title| format!("{title} ›"));
            Some(row(before.into_iter().chain(after).collect()))
        })
    };
    let notes = move || {
        let step = screen.step.get()?;
        let id = screen.airframe.with(|airframe| airframe.as_ref().map(|airframe| airframe.id))?;
        let (of, path) = (screen.procedure.id.clone(), step.path);
        let notes = Address::Of(id, Page::Notes(of.clone(), path.clone())).path();
        let ask = Address::Of(id, Page::Ask(of, path)).path();
        screen.written.is_none().then(|| {
            let said = [link("notes", "plain", notes, "Notes and photos"), link("ask", "plain", ask, "Ask a mentor")];
            row(said.into_iter().chain([guide("step/")]).collect())
        })
    };
    view! { <nav class="ways" aria-label="Steps">{live(neighbours)}{views::ways(screen)}{live(notes)}</nav> }
}

/// Keeps the screen lit while a run is open, and says when it cannot.
fn awake() -> AnyView {
    let state = RwSignal::new(None::<&'static str>);
    let lit = KeepLit::start(move |wake| {
        state.try_set(match wake {
            Wake::Refused(_) | Wake::Unsupported => {
                Some("The phone may switch its screen off here: set its own time-out longer.")
            }
            Wake::Held | Wake::Released => None,
        });
    });
    // Kept as long as the page stands.
    let lit = StoredValue::new_local(Some(lit));
    on_cleanup(move || {
        lit.try_update_value(Option::take);
    });
    says("awake", "hint", "", live(move || state.get()))
}
