//! The bench: one quantity from what is typed. Nothing is kept.

use crate::app::prelude::*;

use super::nowhere;
use crate::app::address::Address;
use crate::app::controls::{choice_of, group, para, part, text_field};
use crate::app::frame::{hangar, still_head};
use crate::app::live::live;
use crate::language::words;
use crate::procedure::{BenchAnswer, BenchEntry, bench_answer, bench_kinds, bench_label, bench_purpose};
use crate::quantity::Dimension;
use crate::record::Units;
use crate::rigging::{Given, Reckoning, reckoning, reckonings};

/// The list of what can be reckoned.
pub(crate) fn bench() -> AnyView {
    let groups = reckonings().chunk_by(|one, next| one.group == next.group);
    let parts = groups.filter_map(|members| Some(part(members.first()?.group, vec![links(members)])));
    view! {
        <main class="bench">
            {still_head("Bench", hangar())}
            {para("", bench_purpose())}
            {parts.collect::<Vec<_>>()}
        </main>
    }
}

fn links(members: &'static [Reckoning]) -> AnyView {
    let items = members.iter().map(|member| {
        let there = Address::BenchOf(member.id.to_owned()).path();
        view! { <li><a href=there class="plain">{member.title}</a></li> }
    });
    view! { <ul class="airframes">{items.collect::<Vec<_>>()}</ul> }
}

/// The form of one reckoning.
pub(crate) fn bench_of(id: &str) -> AnyView {
    reckoning(id).map_or_else(nowhere, form)
}

#[derive(Clone, Copy)]
struct Field {
    given: &'static Given,
    number: RwSignal<String>,
    give_or_take: RwSignal<String>,
}

fn form(reckoning: &'static Reckoning) -> AnyView {
    let fields: Vec<Field> = reckoning
        .given
        .iter()
        .map(|given| Field { given, number: RwSignal::default(), give_or_take: RwSignal::default() })
        .collect();
    let units = RwSignal::new("in".to_owned());
    let kind = RwSignal::new("0".to_owned());
    let chosen = Memo::new(move |_| {
        let place = kind.with(|kind| kind.parse::<usize>().unwrap_or(0));
        let units = if units.with(|units| units == "mm") { Units::Millimetres } else { Units::Inches };
        (units, bench_kinds().get(place).map_or(Dimension::Length, |(dimension, _)| *dimension))
    });
    let answer = {
        let fields = fields.clone();
        Memo::new(move |_| {
            let (units, kind) = chosen.get();
            let typed = fields
                .iter()
                .map(|field| BenchEntry { number: field.number.get(), give_or_take: field.give_or_take.get() });
            bench_answer(reckoning, units, kind, &typed.collect::<Vec<_>>())
        })
    };
    let inputs = move || fields.iter().map(|field| inputs(*field, chosen.get())).collect::<Vec<_>>();
    let any = reckoning.given.iter().any(|given| given.dimension.is_none());
    let kinds = any.then(|| {
        let options =
            bench_kinds().into_iter().enumerate().map(|(place, (_, words))| (place.to_string(), words.to_owned()));
        choice_of("kind", "What is compared", kind, options.collect())
    });
    let up = (Address::Bench.path(), words!("Bench").to_owned());
    view! {
        <main class="bench">
            {still_head(reckoning.title, up)}
            {para("", bench_purpose())}
            {choice_of("units", "Units", units, vec![("in".into(), words!("inches").into()), ("mm".into(), words!("millimetres").into())])}
            {kinds}
            {live(inputs)}
            <section id="answer" class="notice" aria-live="polite">{live(move || answered(answer.get()))}</section>
        </main>
    }
}

fn inputs(field: Field, (units, kind): (Units, Dimension)) -> AnyView {
    let id = format!("given-{}", field.given.id);
    let label = bench_label(*field.given, units, kind);
    group(
        "bench-given",
        vec![
            text_field(&id, &label, "", field.number),
            text_field(&format!("{id}-give-or-take"), "Give or take, if known", "", field.give_or_take),
        ],
    )
}

fn answered(answer: BenchAnswer) -> AnyView {
    match answer {
        BenchAnswer::Waiting(words) => para("", words),
        BenchAnswer::Refused(words) => para("refusal", words),
        BenchAnswer::Found { value, uncertainty, meaning } => {
            group("", vec![para("bench-value", value), para("", meaning), para("hint", uncertainty)])
        }
    }
}
