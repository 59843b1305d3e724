//! Where the cone sits by every fresh reading together, and how the readings agree.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::undo::undo;
use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::clock;
use crate::app::controls::{button, group, link, list, named, para, part, row, says};
use crate::app::data::{self, run_of};
use crate::app::frame::still_head;
use crate::app::live::{Busy, changing, live, tap};
use crate::app::shop::Shop;
use crate::app::widgets::{beside, mark_of};
use crate::language::tr;
use crate::metrology::Mark;
use crate::procedure::{
    AtGate, Drift, Fit, FittedCheck, FittedReading, Procedure, ProposedMove, Run, Together, WhatIf, drift, fit,
    fresh_move,
};
use crate::record::{AirframeId, Body, MovedAdjuster};
use crate::sketch::seat_sketches;

/// The page.
pub(crate) fn place(id: AirframeId, procedure: &'static Procedure) -> AnyView {
    let airframe = data::airframe(id);
    let (run, busy) = (run_of(airframe, procedure), Busy::new());
    with_airframe(airframe, move |_| {
        // How long the adjustment took, for the measurement of it (`cargo xtask bench alignment`).
        let took = RwSignal::new(0.0_f64);
        let face = move || {
            let Some((airframe, now)) = airframe.get().zip(run.get()) else {
                return para("lead", "Nothing was begun yet.");
            };
            let begun = clock::elapsed();
            let found = fit(procedure, &airframe, &now);
            took.set(clock::elapsed() - begun);
            match found {
                Err(why) => named("no-place", "lead", why.to_string()),
                Ok(found) => {
                    let drawn = seat_sketches(procedure, &airframe, &found.checks);
                    vec![beside(&drawn), sits(Work { airframe: id, run, busy }, found)].into_any()
                }
            }
        };
        let done = Callback::new(|()| ());
        let taken_back = move || Some(undo(id, run.with(|run| fresh_move(procedure, run.as_ref()?))?, done));
        let gates = move || run.with(|run| across_the_gates(procedure, run.as_ref()));
        view! {
            <main class="place" data-solve-ms=changing(move || took.get().to_string())>
                {still_head("Where it sits", (Address::Of(id, Page::Work(procedure.id.clone())).path(), procedure.title.clone()))}
                {live(taken_back)}
                {live(face)}
                {live(gates)}
                {link("to-run", "plain", Address::Of(id, Page::Run(procedure.id.clone(), String::new())).path(), "Back to the work")}
            </main>
        }
    })
}

/// Where a move that was made is written down.
#[derive(Clone, Copy)]
struct Work {
    airframe: AirframeId,
    run: Memo<Option<Run>>,
    busy: Busy,
}

impl Work {
    /// Records a move as made, at the step that is open.
    fn moved(self, proposed: &ProposedMove) {
        let here = self.run.with_untracked(|run| {
            let run = run.as_ref()?;
            let step = run.steps.get(run.current.unwrap_or(run.steps.len().saturating_sub(1)))?;
            Some((run.id, step.path.clone()))
        });
        let Some((run, step)) = here else { return };
        if !self.busy.begin() {
            return;
        }
        let (adjuster, amount) = (proposed.adjuster.clone(), proposed.amount.clone());
        let body = Body::AdjusterMoved(MovedAdjuster { run, step, adjuster, amount });
        let shop = Shop::here();
        spawn_local(async move {
            let _ = shop.keep(self.airframe, vec![body]).await;
            self.busy.end();
        });
    }
}

fn sits(work: Work, found: Fit) -> AnyView {
    let Fit { checks, readings, suspects, next, moves } = found;
    let checks = checks.into_iter().map(check).collect::<Vec<_>>();
    let rows = readings.into_iter().map(reading).collect::<Vec<_>>();
    view! {
        {para("hint", "All readings since the last move, adjusted together. Shaded: where it may lie. A reading that the others contradict is named and left out.")}
        {(!suspects.is_empty()).then(|| view! { <section id="suspects" class="notice trouble" role="alert">{list("", suspects)}</section> })}
        {checks}
        {next.map(|words| named("next-reading", "notice", words))}
        {what_to_move(work, &moves)}
        {what_if(moves.what_if)}
        {part("The readings", vec![view! { <ul id="fitted" class="fitted">{rows}</ul> }])}
    }
}

/// The fewest and smallest moves that bring every check in, and what the checks then read.
fn what_to_move(work: Work, together: &Together) -> AnyView {
    let Together { moves, after, blocked, .. } = together;
    let orders = moves.iter().map(|proposed| {
        let made = {
            let proposed = proposed.clone();
            tap(move |_| work.moved(&proposed))
        };
        view! { <li>{para("order", proposed.order.clone())}{button("", "primary moved", "Moved exactly that", made)}</li> }
    });
    let orders = orders.collect::<Vec<_>>();
    let nothing = orders.is_empty() && blocked.is_empty();
    let inside = vec![
        view! { <div id="blocked">{(!blocked.is_empty()).then(|| list("notice trouble", blocked.clone()))}</div> },
        if nothing { named("nothing-to-move", "lead", "Nothing has to be moved.") } else { ().into_any() },
        (!nothing && !orders.is_empty())
            .then(|| view! { <section id="together" class="orders"><ol>{orders}</ol></section> })
            .into_any(),
        para("hint", if nothing { "" } else { "All checks should then read:" }),
        list("", if nothing { Vec::new() } else { after.clone() }),
    ];
    part("What to move, all checks together", inside)
}

/// The builder's own proposal, by large keys: what every check would read.
fn what_if(state: WhatIf) -> AnyView {
    let state = StoredValue::new(state);
    let adjusters = state.with_value(WhatIf::adjusters);
    let steps = RwSignal::new(vec![0_i32; adjusters.len()]);
    let rows = adjusters.into_iter().enumerate().map(|(place, (key, title))| {
        let by = move |by: i32| tap(move |_| steps.update(|steps| steps[place] += by));
        let order = move || state.with_value(|state| state.order(place, steps.with(|steps| steps[place])));
        let keys = [(-4, "\u{2212}4"), (-1, "\u{2212}1"), (1, "+1"), (4, "+4")];
        let keys = keys.map(|(amount, label)| button(format!("try-{key}-{amount}"), "key", label, by(amount)));
        let label = title.clone();
        view! {
            <div class="try" role="group" aria-label=label>
                {para("row-title", title)}
                {says("", "", "", live(order))}
                {row(keys.into())}
            </div>
        }
    });
    let mut rows = rows.collect::<Vec<_>>();
    // There from the start, so that no key slides away from under the thumb at the first step.
    let forecast = move || match state.with_value(|state| state.forecast(&steps.get())) {
        Ok(forecast) => list("", forecast),
        Err(why) => para("notice trouble", why),
    };
    let clear = tap(move |_| steps.update(|steps| steps.fill(0)));
    rows.push(button("try-none", "plain", "Back to none", clear));
    let tries = group("tries", rows);
    let forecast = view! { <div id="forecast" role="status">{live(forecast)}</div> };
    let hint = "In the steps that each can be set by. Nothing is written down here.";
    part("What if", vec![para("hint", hint), group("what-if", vec![forecast, tries])])
}

/// The checks at every gate that was passed; nothing before the second.
fn across_the_gates(procedure: &Procedure, run: Option<&Run>) -> AnyView {
    let rows = run.map(|run| drift(procedure, run)).unwrap_or_default();
    if rows.is_empty() {
        return ().into_any();
    }
    let hint = "What the work before each gate did, as it was first read there. Look into a large change before the next hole.";
    let mut inside = vec![para("hint", hint)];
    for Drift { title, gates, .. } in rows {
        inside.push(para("gates-of", title));
        inside.push(group("gates", gates.into_iter().map(at_gate).collect()));
    }
    part("Across the gates", inside)
}

fn at_gate(at: AtGate) -> AnyView {
    let AtGate { words: label, mark, change, large } = at;
    let mut inside = vec![para("", label.clone())];
    if let Some((mark, verdict)) = mark {
        inside.push(mark_of(mark, verdict, label));
    }
    inside.push(para(if large { "hint large" } else { "hint" }, change));
    group("gate", inside)
}

fn check(check: FittedCheck) -> AnyView {
    let FittedCheck { check, title, estimate, limits, verdict, words } = check;
    let label = tr!("{title}: {words}", title, words);
    view! {
        <section class="fitted-check" data-check=check data-value=estimate.value.to_string()>
            <h2>{title}</h2>
            {para("lead", words)}
            {mark_of(Mark::of(estimate, limits), verdict, label)}
        </section>
    }
}

fn reading(row: FittedReading) -> AnyView {
    let FittedReading { title, read, words, .. } = row;
    let read = if read.is_empty() { String::new() } else { format!(" {read}") };
    view! { <li><b>{title}{read}</b>" "{words}</li> }
}
