//! All of a procedure that is being written: its lists, what is to be mended, and the keeping of it.

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;

use super::{Desk, NEW, SHOWN};
use crate::app::controls::{button, button_when, link, named, para, part, row, says, text_field};
use crate::app::frame::head;
use crate::app::live::{live, tap};
use crate::language::{self, tr, words};
use crate::procedure::faults;
use crate::procedure::writing::{self, Choosable, FieldForm, Kind, Part, Section, numbers_of_the_sheet, part_of};
use crate::record::InstrumentKind;

/// The page of the whole procedure.
pub(super) fn outline(desk: Desk) -> AnyView {
    let title = move || {
        let title = desk.draft.with(|draft| draft.title.clone());
        if title.is_empty() { words!("Write a procedure").to_owned() } else { title }
    };
    let up = if desk.name.with_value(|name| name == NEW) { words!("Airframe") } else { words!("Procedure") };
    let about = desk.address(&Part::About.to_string()).path();
    let sections: Vec<AnyView> =
        desk.draft.with_untracked(writing::outline).into_iter().map(|section| section_view(desk, section)).collect();
    view! {
        <main class="write">
            {head(Signal::derive(title), (desk.origin().path(), up.to_owned()))}
            {para("", "Nothing typed here is lost: it stays on this phone until you keep it as a version or throw it away.")}
            {link("write-about", "plain", about, "Title, purpose, tools, cautions")}
            {sections}
            {part("To be mended", vec![view! { {live(move || to_mend(desk))} }])}
            {ending(desk)}
        </main>
    }
}

/// One list, and how to add to it.
pub(super) fn section_view(desk: Desk, section: Section) -> AnyView {
    let lines = section
        .parts
        .into_iter()
        .map(|(part, title)| {
            let title = if title.is_empty() { words!("Without a title").to_owned() } else { title };
            view! { <li>{link_to(desk, part, title)}</li> }
        })
        .collect::<Vec<_>>();
    let hint = (!section.hint.is_empty()).then(|| para("hint", section.hint));
    part(section.heading, vec![view! { {hint}<ol class="written">{lines}</ol> }, adder(desk, section.adds)])
}

fn link_to(desk: Desk, part: Part, title: String) -> AnyView {
    let (id, there) = (format!("part-{part}"), desk.address(&part.to_string()).path());
    view! { <a id=id class="plain" href=there>{title}</a> }
}

/// The way to add one: by its title, or by what there is to choose from.
fn adder(desk: Desk, kind: Kind) -> AnyView {
    let (name, label) = match kind {
        Kind::Number => ("number".to_owned(), words!("Another number")),
        Kind::Instrument => ("instrument".to_owned(), words!("Another instrument")),
        Kind::Check => ("check".to_owned(), words!("Another quantity")),
        Kind::Adjuster => ("adjuster".to_owned(), words!("Another thing to move")),
        Kind::Group => ("group".to_owned(), words!("Another group")),
        Kind::Step(None) => ("step".to_owned(), words!("Another step")),
        Kind::Step(Some(group)) => (format!("step-of-{group}"), words!("Another step")),
        Kind::Reading(_) => ("reading".to_owned(), words!("Another reading")),
    };
    let chosen = RwSignal::new(String::new());
    let typed = RwSignal::new(String::new());
    let options: Vec<Choosable> = match kind {
        Kind::Instrument => InstrumentKind::ALL
            .iter()
            .map(|kind| (kind.key().to_owned(), language::ours(kind.title()).to_owned()))
            .collect(),
        Kind::Number => {
            let known = desk.draft.with_untracked(numbers_of_the_sheet);
            let known = known.into_iter().map(|item| (item.key.clone(), item.title.clone()));
            std::iter::once((String::new(), words!("A new one, by the title below").to_owned())).chain(known).collect()
        }
        _ => Vec::new(),
    };
    if let (Kind::Instrument, Some((first, _))) = (kind, options.first()) {
        chosen.set(first.clone());
    }
    let navigate = use_navigate();
    let add = tap(move |_| {
        let chosen = chosen.get_untracked();
        let title = if chosen.is_empty() { typed.get_untracked() } else { chosen };
        if title.trim().is_empty() {
            return;
        }
        let part = desk.change(|draft| writing::add(draft, kind, &title));
        navigate(&desk.address(&part.to_string()).route(), NavigateOptions::default());
    });
    let choice =
        (!options.is_empty()).then(|| super::part::one_of(format!("add-{name}-of"), label.to_owned(), options, chosen));
    let title = (kind != Kind::Instrument).then(|| {
        let label =
            if kind == Kind::Number { words!("Its title").to_owned() } else { tr!("{what}: its title", what = label) };
        text_field(&format!("add-{name}-title"), &label, "", typed)
    });
    view! { <div class="adder">{choice}{title}{button(format!("add-{name}"), "plain", "Add", add)}</div> }
}

/// What does not hold together yet, each with the way to where it is.
fn to_mend(desk: Desk) -> AnyView {
    desk.draft.with(|draft| {
        let found = faults(draft);
        if found.is_empty() {
            return named("no-faults", "", "Nothing: it can be kept.");
        }
        let lines = found
            .iter()
            .map(|fault| {
                let (part, title) = part_of(draft, &fault.place);
                let there = desk.address(&part.to_string()).path();
                view! { <li><a href=there>{title}</a>": " {fault.what.clone()}"."</li> }
            })
            .collect::<Vec<_>>();
        view! { <ul id="faults" class="faults">{lines}</ul> }
    })
}

/// Looking at it, keeping it, throwing the draft away.
fn ending(desk: Desk) -> AnyView {
    let whole = Memo::new(move |_| desk.draft.with(|draft| faults(draft).is_empty()));
    let steps = move || {
        let there = desk.address(SHOWN).path();
        let some = desk.draft.with(|draft| !draft.laid_out().is_empty());
        some.then(|| link("show", "plain", there.clone(), "See it as the builder will"))
    };
    let mut keep = desk.keep();
    let keep = tap(move |_| keep());
    let asking = RwSignal::new(false);
    let navigate = use_navigate();
    let gone = Callback::new(move |()| {
        desk.clear();
        navigate(&desk.origin().route(), NavigateOptions::default());
    });
    let throw = move || {
        if !desk.touched.get() {
            return ().into_any();
        }
        if !asking.get() {
            return button("throw-away", "plain", "Throw this draft away…", tap(move |_| asking.set(true)));
        }
        row(vec![
            button("", "plain", "Leave it", tap(move |_| asking.set(false))),
            button("throw-away-now", "plain", "Throw it away", tap(move |_| gone.run(()))),
        ])
    };
    let after = "Runs that were begun stay on the version that they began with.";
    view! {
        {live(steps)}
        {button_when("keep-procedure", "Keep it as the next version", move || whole.get(), keep)}
        {says("", "hint", "", live(move || if whole.get() { after } else { "It can be kept once nothing is to be mended." }))}
        {live(throw)}
    }
}

/// Whether a field's list is so long that it is folded up.
pub(super) fn folded(form: &FieldForm) -> bool {
    matches!(form, FieldForm::Any(options) if options.len() > 8)
}
