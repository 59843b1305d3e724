//! The rigging specification: numbers copied out of the manual.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::controls::{Text, numbered_choice_of, para, says, text_field};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::live;
use crate::app::shop::Shop;
use crate::language::{self, tr, words};
use crate::procedure::{Procedure, SpecDraft, SpecForm, SpecItem, draft_of, specify};
use crate::quantity::{Dimension, Unit};
use crate::record::{Airframe, AirframeId, Body, SpecValue, Units};

/// The fields of one item.
#[derive(Clone, Copy)]
struct Fields {
    item: &'static SpecItem,
    units: Units,
    typed: Typed,
    source: RwSignal<String>,
    refusal: RwSignal<String>,
}

impl Fields {
    fn of(item: &'static SpecItem, airframe: &Airframe) -> Self {
        let kept = airframe.specification.item(&item.key);
        let draft = kept.map(|kept| draft_of(item, &kept.value)).unwrap_or_default();
        Self {
            item,
            units: airframe.details.units,
            typed: Typed::of(draft),
            source: RwSignal::new(kept.map(|kept| kept.source.clone()).unwrap_or_default()),
            refusal: RwSignal::new(String::new()),
        }
    }

    /// What to keep of this item, if it changed; an error is said beside it and counted.
    fn changed(self, now: &Airframe, page: &str) -> Result<Option<Body>, ()> {
        self.refusal.set(String::new());
        let value = specify(self.item, &self.typed.draft(), now.details.units)
            .map_err(|error| self.refusal.set(error.to_string()))?;
        let own = self.source.get_untracked().trim().to_owned();
        let source = if own.is_empty() { page.to_owned() } else { own };
        let unchanged = match now.specification.item(&self.item.key) {
            None => value == SpecValue::default(),
            Some(kept) => kept.value == value && kept.source == source,
        };
        if unchanged {
            return Ok(None);
        }
        self.source.set(source.clone());
        Ok(Some(Body::SpecificationSet { key: self.item.key.clone(), value, source }))
    }
}

/// The page: every item that the procedure needs, on one long sheet.
pub(crate) fn specification(id: AirframeId, procedure: &'static Procedure) -> AnyView {
    let shop = Shop::here();
    with_airframe(data::airframe(id), move |airframe| sheet(shop, procedure, &airframe))
}

fn sheet(shop: Shop, procedure: &'static Procedure, airframe: &Airframe) -> AnyView {
    let id = airframe.id;
    let fields: Vec<Fields> = procedure.specification.iter().map(|item| Fields::of(item, airframe)).collect();
    let choices: Vec<(&'static str, RwSignal<String>)> = fields
        .iter()
        .filter(|fields| fields.item.form == SpecForm::Choice)
        .map(|fields| (fields.item.key.as_str(), fields.typed.words))
        .collect();
    let source = RwSignal::new(String::new());
    let said = RwSignal::new(String::new());
    let items: Vec<AnyView> = fields.iter().map(|fields| item_when_asked(*fields, &choices)).collect();
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        save(shop, id, &fields, source.get_untracked().trim(), said);
    };
    view! {
        <main class="specification">
            {still_head("Rigging specification", (Address::Of(id, Page::Work(procedure.id.clone())).path(), procedure.title.clone()))}
            {para("", tr!("Copy these from the kit's manual, in {units}. What is left blank is recorded and not judged.", units = length_words(airframe.details.units)))}
            <form on:submit=save>
                {text_field("source", "Page and revision", "For every item below that has none of its own.", source)}
                {items}
                {says("saved", "", "status", live(move || said.get()))}
                <button id="save-specification" class="primary" type="submit">"Keep these numbers"</button>
            </form>
        </main>
    }
}

fn save(shop: Shop, id: AirframeId, fields: &[Fields], page: &str, said: RwSignal<String>) {
    let Some(now) = shop.ledger.with_untracked(|ledger| ledger.airframe(id)) else { return };
    let mut bodies = Vec::new();
    let mut refused = 0;
    for fields in fields {
        match fields.changed(&now, page) {
            Ok(body) => bodies.extend(body),
            Err(()) => refused += 1,
        }
    }
    let count = bodies.len();
    spawn_local(async move {
        let kept = count == 0 || shop.keep(id, bodies).await.is_ok();
        let mut words = if kept {
            tr!("{n} items kept." | "{n} items kept." % count)
        } else {
            words!("Nothing was kept.").to_owned()
        };
        if refused > 0 {
            words.push(' ');
            words.push_str(&tr!("{count} could not be read: see the marks above.", count = refused));
        }
        said.try_set(words);
    });
}

/// An item, while the choice that it belongs to is made.
fn item_when_asked(fields: Fields, choices: &[(&'static str, RwSignal<String>)]) -> AnyView {
    let Some(condition) = &fields.item.only_if else { return item_view(fields) };
    let choice = choices.iter().find(|(key, _)| *key == condition.key).map(|(_, words)| *words);
    let asked = Memo::new(move |_| choice.is_some_and(|words| words.with(|words| *words == condition.is)));
    view! { {live(move || asked.get().then(|| item_view(fields)))} }
}

fn item_view(fields: Fields) -> AnyView {
    let item = fields.item;
    let key = &item.key;
    let source = format!("spec-{key}-source");
    view! {
        <section id=format!("spec-{key}") class="spec-item">
            <h2>{item.title.clone()}</h2>
            {para("hint", item.help.clone())}
            {inputs(item, fields.units, "spec", fields.typed)}
            {text_field(&source, "Its own page, if another", "", fields.source)}
            {says("", "refusal", "alert", live(move || fields.refusal.get()))}
        </section>
    }
}

/// The texts of an item's fields while they are typed.
#[derive(Clone, Copy)]
pub(super) struct Typed {
    pub(super) number: RwSignal<String>,
    pub(super) tolerance: RwSignal<String>,
    pub(super) words: RwSignal<String>,
}

impl Typed {
    pub(super) fn of(draft: SpecDraft) -> Self {
        let SpecDraft { number, tolerance, words } = draft;
        Self { number: RwSignal::new(number), tolerance: RwSignal::new(tolerance), words: RwSignal::new(words) }
    }

    pub(super) fn draft(self) -> SpecDraft {
        SpecDraft {
            number: self.number.get_untracked(),
            tolerance: self.tolerance.get_untracked(),
            words: self.words.get_untracked(),
        }
    }
}

/// The fields that an item is typed into; their ids are `first-key-number` and so on.
pub(super) fn inputs(item: &'static SpecItem, units: Units, first: &str, typed: Typed) -> Vec<AnyView> {
    let id = |part: &str| format!("{first}-{}-{part}", item.key);
    let field = |part: &str, label: Text, value| text_field(&id(part), label, "", value);
    let number = |label: Text| field("number", label, typed.number);
    let tolerance = |label: Text| field("tolerance", label, typed.tolerance);
    // A length's unit stands at the head of the page.
    let in_unit = |label: &'static str| match item.of {
        Dimension::Length | Dimension::Count => label.into(),
        _ => Text::from(format!("{}, {}", language::ours(label), item.unit(units).symbol())),
    };
    match item.form {
        SpecForm::TolerancedAngle => {
            vec![number("Nominal, degrees".into()), tolerance("Plus or minus, degrees".into())]
        }
        SpecForm::TolerancedLength => vec![number("Nominal".into()), tolerance("Plus or minus".into())],
        SpecForm::Toleranced => vec![number(in_unit("Nominal")), tolerance(in_unit("Plus or minus"))],
        SpecForm::EqualWithin => vec![tolerance(in_unit("Equal within"))],
        SpecForm::AtMost => vec![number(in_unit("At most"))],
        SpecForm::AtLeast => vec![number(in_unit("At least"))],
        SpecForm::Range => vec![number(in_unit("At least")), tolerance(in_unit("At most"))],
        SpecForm::Amount => vec![number(in_unit("Number"))],
        SpecForm::Chart => vec![field("words", "Temperature = tension; temperature = tension".into(), typed.words)],
        SpecForm::Length => vec![number("Length".into())],
        SpecForm::Angle => vec![number("Degrees".into())],
        SpecForm::Count => vec![number("How many".into())],
        SpecForm::Words => vec![field("words", "As the manual says".into(), typed.words)],
        SpecForm::Choice => {
            let options = item.options.iter().map(|option| (option.clone(), language::of_file(option))).collect();
            let name = id("option");
            vec![numbered_choice_of(&name, &item.title, typed.words, options)]
        }
    }
}

/// What lengths are typed in.
pub(super) fn length_words(units: Units) -> &'static str {
    if units.length() == Unit::Inch { words!("inches (fractions or decimals)") } else { words!("millimetres") }
}
