//! A map of holes: laid out in rows, each hole marked by a tap.

use crate::app::prelude::*;

use super::Screen;
use crate::app::controls::{button, button_when, choice_of, group, named, numbered_choice_of, para, says, text_field};
use crate::app::live::{changing, live, tap};
use crate::language::{tr, words};
use crate::procedure::{HoleMap, HoleState, HoleTool, not_bad, place_words, rows_of, rows_words};
use crate::record::{Body, EntryId, HoleMark, HolePlace, LaidOutHoles, MarkedHole};

/// What the parts of the map share.
#[derive(Clone, Copy)]
struct Sheet {
    screen: Screen,
    /// Laying it out anew.
    anew: RwSignal<bool>,
    /// What a tap says: done, bad, clear.
    tool: RwSignal<String>,
    /// What is wrong with the next one that is marked bad.
    why: RwSignal<String>,
    /// The bad one that is being put right, by the entry that says that it is bad.
    chosen: RwSignal<Option<EntryId>>,
    refusal: RwSignal<String>,
}

/// The map's screen.
pub(super) fn holes(screen: Screen, what: String, reasons: Vec<String>) -> AnyView {
    let sheet = Sheet {
        screen,
        anew: RwSignal::new(false),
        tool: RwSignal::new("done".to_owned()),
        why: RwSignal::new(String::new()),
        chosen: RwSignal::new(None),
        refusal: RwSignal::new(String::new()),
    };
    // Marks change more often than the rows: the buttons stay where they are, and the one that was tapped keeps the focus.
    let rows = Memo::new(move |_| sheet.map(|map| rows_words(map.rows())));
    let ask = live(move || sheet.map(|map| map.ask(&what)));
    let face = move || match rows.with(|rows| rows_of(rows)) {
        Ok(rows) if !sheet.anew.get() => marking(sheet, &rows, reasons.clone()),
        _ => lay_out(sheet),
    };
    group("hole-map", vec![says("hole-ask", "lead", "", ask), live(face).into_any()])
}

impl Sheet {
    /// Asks the map as it is now; told again when it changes.
    fn map<T>(self, ask: impl FnOnce(&HoleMap) -> T) -> T {
        self.screen.step.with(|step| match step {
            Some(step) => ask(&step.holes),
            None => ask(&HoleMap::default()),
        })
    }

    /// The bad hole that is being put right.
    fn chosen(self) -> Option<HolePlace> {
        let chosen = self.chosen.get()?;
        self.map(|map| map.bad().find(|(_, _, entry)| *entry == chosen).map(|(at, _, _)| at))
    }

    /// Keeps what is said of some holes, in one batch.
    fn mark(self, marks: Vec<(HolePlace, HoleMark, String)>) {
        let Some((run, step)) = self.screen.here() else { return };
        let body = |(HolePlace { row, hole }, mark, note)| {
            Body::HoleMarked(MarkedHole { run, step: step.clone(), row, hole, mark, note })
        };
        let bodies: Vec<Body> = marks.into_iter().map(body).collect();
        if !bodies.is_empty() {
            self.screen.keep_all(bodies, None, Box::new(|_| ()));
        }
    }

    fn tapped(self, at: HolePlace) {
        let tool = match self.tool.get_untracked().as_str() {
            "bad" => HoleTool::Bad,
            "clear" => HoleTool::Clear,
            _ => HoleTool::Done,
        };
        let said = untrack(|| self.map(|map| map.tap(tool, at, &self.why.get())));
        self.refusal.set(said.as_ref().err().cloned().unwrap_or_default());
        if let Ok(Some((mark, note))) = said {
            self.mark(vec![(at, mark, note)]);
        }
    }
}

/// How many holes each row has.
fn lay_out(sheet: Sheet) -> AnyView {
    let before = sheet.screen.here().and_then(|(_, path)| {
        sheet.screen.run.with_untracked(|run| run.as_ref().map(|run| rows_words(run.rows_to_begin(&path))))
    });
    let text = RwSignal::new(before.unwrap_or_default());
    let refusal = RwSignal::new(String::new());
    let keep = tap(move |_| match (rows_of(&text.get_untracked()), sheet.screen.here()) {
        (Ok(rows), Some((run, step))) => {
            refusal.set(String::new());
            let laid = Body::HolesLaidOut(LaidOutHoles { run, step, rows });
            sheet.screen.keep(laid, None, move |kept| {
                if kept {
                    sheet.anew.try_set(false);
                }
            });
        }
        (Err(error), _) => refusal.set(error.to_string()),
        (Ok(_), None) => {}
    });
    view! {
        {text_field("rows", "How many in each row", "Row after row, from one end of the part, with spaces between: 12 12 8. Number them so on the part too.", text)}
        {says("", "refusal", "alert", live(move || refusal.get()))}
        {button("lay-out", "primary", "Lay out the map", keep)}
    }
}

/// What a tap says, the rows, the counts, and the bad ones.
fn marking(sheet: Sheet, rows: &[u32], reasons: Vec<String>) -> AnyView {
    let Sheet { tool, why, .. } = sheet;
    let tools = [("done", words!("Done")), ("bad", words!("Bad")), ("clear", words!("Clear"))];
    let tools = tools.map(|(key, label)| (key.to_owned(), label.to_owned())).to_vec();
    let bad = Memo::new(move |_| tool.with(|tool| tool == "bad"));
    let reason = move || {
        why.set(String::new());
        let options = reasons.iter().map(|reason| (reason.clone(), reason.clone())).collect();
        (bad.get() && !reasons.is_empty()).then(|| numbered_choice_of("why", "What is wrong with it", why, options))
    };
    let counts = live(move || sheet.map(HoleMap::counts));
    let sum = move || sheet.map(HoleMap::sum).map(|words| named("hole-sum", "notice trouble", words));
    let lines = (1..).zip(rows).map(|(number, length)| line(sheet, number, *length)).collect::<Vec<_>>();
    let choice = choice_of("tool", "A tap says", tool, tools);
    let refusal = says("hole-refusal", "refusal", "alert", live(move || sheet.refusal.get()));
    let parts = vec![
        group("hole-tools", vec![choice, refusal]),
        live(reason).into_any(),
        group("hole-rows", lines),
        says("hole-counts", "lead", "", counts),
        live(sum).into_any(),
        open_items(sheet),
        button("lay-out-anew", "plain", "Change the rows", tap(move |_| sheet.anew.set(true))),
    ];
    parts.into_any()
}

/// One row: its holes, and the way to say that all the rest of it is done.
fn line(sheet: Sheet, number: u32, length: u32) -> AnyView {
    let each = (1..=length).map(|hole| hole_button(sheet, HolePlace { row: number, hole })).collect::<Vec<_>>();
    let to_go = Memo::new(move |_| sheet.map(|map| !map.rest_of_row(number).is_empty()));
    let all = move || {
        let done = tap(move |_| {
            let rest = untrack(|| sheet.map(|map| map.rest_of_row(number)));
            sheet.mark(rest.into_iter().map(|at| (at, HoleMark::Done, String::new())).collect());
        });
        let words = tr!("All the rest of row {number} done", number);
        to_go.get().then(|| button(format!("row-{number}-done"), "plain", words, done))
    };
    let name = tr!("Row {number}", number);
    let title = para("row-title", name.clone());
    let inside = vec![group("hole-row-head", vec![title, live(all).into_any()]), group("hole-line", each)];
    view! { <div class="hole-row" role="group" aria-label=name>{inside}</div> }
}

/// A hole: its number, and how it stands by shape, letter and name.
fn hole_button(sheet: Sheet, at: HolePlace) -> AnyView {
    let state = move || sheet.map(|map| map.state(at));
    view! {
        <button id=format!("hole-{}-{}", at.row, at.hole) type="button" class="hole" data-hole=changing(move || key(state()))
            aria-label=changing(move || sheet.map(|map| map.label(at))) on:click=tap(move |_| sheet.tapped(at))>
            {at.hole.to_string()}<small>{changing(move || state().letter())}</small>
        </button>
    }
}

const fn key(state: HoleState) -> &'static str {
    match state {
        HoleState::ToGo => "to-go",
        HoleState::Done => "done",
        HoleState::Bad => "bad",
        HoleState::PutRight => "put-right",
    }
}

/// The bad ones: each is chosen to say how it was put right, or that it was not bad.
fn open_items(sheet: Sheet) -> AnyView {
    let note = RwSignal::new(String::new());
    let list = move || {
        let items = sheet.map(|map| {
            let item = |(at, _, entry): (HolePlace, &str, EntryId)| {
                let choose = tap(move |_| {
                    note.set(String::new());
                    sheet.chosen.set(Some(entry));
                });
                view! { <li>{button(format!("bad-{}-{}", at.row, at.hole), "plain", map.label(at), choose)}</li> }
            };
            map.bad().map(item).collect::<Vec<_>>()
        });
        let words =
            "Bad ones keep every later hold point shut. Ask the kit's support. Choose one to say how it was put right.";
        (!items.is_empty())
            .then(|| view! { {para("notice trouble", words)}<ul id="bad-holes" class="missing">{items}</ul> })
    };
    // Another mark does not draw the form anew under somebody who types.
    let named = Memo::new(move |_| sheet.chosen().map(place_words).unwrap_or_default());
    let form = move || named.with(|named| (!named.is_empty()).then(|| put_right(sheet, named, note)));
    view! { {live(list)}{live(form)} }
}

/// How a bad one was put right, or that it was not bad.
fn put_right(sheet: Sheet, named: &str, note: RwSignal<String>) -> AnyView {
    let answer = tap(move |_| {
        if let Some(at) = untrack(|| sheet.chosen()) {
            sheet.refusal.set(String::new());
            sheet.mark(vec![(at, HoleMark::Answered, note.get_untracked().trim().to_owned())]);
        }
    });
    let strike = tap(move |_| {
        if let Some(entry) = sheet.chosen.get_untracked() {
            sheet.refusal.set(String::new());
            sheet.screen.keep(Body::Struck { entry, reason: not_bad().to_owned() }, None, |_| ());
        }
    });
    let field = text_field(
        "answer-note",
        tr!("How {hole} was put right", hole = named),
        "What was done, and who said so: replaced, next size by the support's answer of today.",
        note,
    );
    let ready = move || note.with(|note| !note.trim().is_empty());
    let answer = button_when("keep-answer", "Put right", ready, answer);
    group("orders", vec![field, answer, button("not-bad", "plain", not_bad(), strike)])
}
