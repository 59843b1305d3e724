//! What pages are made of. Every part of a page is of one type, and every element too: the framework's own views make a type of
//! each, and the way to build, change and take away each type is compiled anew. Here it is there once.

use leptos::reactive::effect::RenderEffect;
use leptos::tachys::html::attribute::any_attribute::AnyAttribute;
use leptos::tachys::hydration::Cursor;
use leptos::tachys::renderer::{RemoveEventHandler, Rndr, types};
use leptos::tachys::view::{Mountable, Position, PositionState, Render, RenderHtml};
use send_wrapper::SendWrapper;
use wasm_bindgen::{JsCast, JsValue};

use super::pen::Said;
use crate::language;

/// The framework's part of a page whose type is forgotten.
type Framed = leptos::prelude::AnyView;

/// A part of a page, before it is on the page.
pub(crate) struct AnyView(Box<Part>);

enum Part {
    Nothing,
    Text(String),
    Element(Element),
    Many(Vec<AnyView>),
    Changing(Box<dyn FnMut() -> AnyView + Send>),
    Framed(Framed),
}

/// What can stand on a page.
pub(crate) trait IntoAny {
    /// It as a part of a page.
    fn into_any(self) -> AnyView;
}

impl IntoAny for AnyView {
    fn into_any(self) -> AnyView {
        self
    }
}

impl IntoAny for () {
    #[inline(never)]
    fn into_any(self) -> AnyView {
        AnyView(Box::new(Part::Nothing))
    }
}

impl IntoAny for String {
    #[inline(never)]
    fn into_any(self) -> AnyView {
        AnyView(Box::new(Part::Text(self)))
    }
}

/// A literal of ours, in the language that is spoken.
impl IntoAny for &'static str {
    #[inline(never)]
    fn into_any(self) -> AnyView {
        IntoAny::into_any(language::ours(self).to_owned())
    }
}

impl IntoAny for Vec<AnyView> {
    #[inline(never)]
    fn into_any(self) -> AnyView {
        AnyView(Box::new(Part::Many(self)))
    }
}

impl<T: IntoAny> IntoAny for Option<T> {
    fn into_any(self) -> AnyView {
        self.map_or_else(|| IntoAny::into_any(()), IntoAny::into_any)
    }
}

impl<T: IntoAny + 'static> IntoAny for Box<dyn FnMut() -> T + Send> {
    fn into_any(mut self) -> AnyView {
        AnyView(Box::new(Part::Changing(Box::new(move || self().into_any()))))
    }
}

impl From<Element> for AnyView {
    fn from(element: Element) -> Self {
        Self(Box::new(Part::Element(element)))
    }
}

/// A part that the framework draws by itself.
pub(crate) fn framed(part: impl RenderHtml) -> AnyView {
    AnyView(Box::new(Part::Framed(leptos::prelude::IntoAny::into_any(part))))
}

/// What an element does at an event.
pub(super) type Handler = SendWrapper<Box<dyn FnMut(JsValue)>>;

/// An element before it is on the page. The name of a property begins with a point.
pub(super) struct Element {
    pub(super) tag: &'static str,
    pub(super) said: Vec<(&'static str, Said)>,
    pub(super) heard: Vec<(&'static str, Handler)>,
    pub(super) inside: Vec<AnyView>,
}

/// A part on the page.
pub(crate) enum Shown {
    /// Words; without them, the mark of a place where something may come.
    Leaf(types::Node, Option<String>),
    Element(Box<ShownElement>),
    /// And the mark of their end.
    Many(Vec<Shown>, types::Node),
    Changing(RenderEffect<Shown>),
    Framed(<Framed as Render>::State),
}

pub(crate) struct ShownElement {
    node: types::Element,
    tag: &'static str,
    said: Vec<(&'static str, Kept)>,
    heard: Vec<(&'static str, RemoveEventHandler<types::Element>)>,
    inside: Vec<Shown>,
}

enum Kept {
    Still(Option<String>),
    Changing { _until_dropped: RenderEffect<Option<String>> },
}

fn say(node: &types::Element, name: &str, words: Option<&str>) {
    match (name.strip_prefix('.'), words) {
        (Some("checked"), words) => Rndr::set_property(node, "checked", &JsValue::from_bool(words.is_some())),
        (Some(property), words) => Rndr::set_property(node, property, &JsValue::from_str(words.unwrap_or_default())),
        (None, Some(words)) => Rndr::set_attribute(node, name, words),
        (None, None) => Rndr::remove_attribute(node, name),
    }
}

fn keep(node: &types::Element, name: &'static str, said: Said, before: Option<&Kept>) -> Kept {
    match said {
        Said::Still(words) => {
            let same = match before {
                Some(Kept::Still(before)) => *before == words,
                Some(Kept::Changing { .. }) => false,
                None => words.is_none(),
            };
            if !same {
                say(node, name, words.as_deref());
            }
            Kept::Still(words)
        }
        Said::Changing(mut words) => {
            let node = node.clone();
            let effect = RenderEffect::new(move |before: Option<Option<String>>| {
                let now = words();
                if before.as_ref() != Some(&now) {
                    say(&node, name, now.as_deref());
                }
                now
            });
            Kept::Changing { _until_dropped: effect }
        }
    }
}

fn listen(
    node: &types::Element,
    heard: Vec<(&'static str, Handler)>,
) -> Vec<(&'static str, RemoveEventHandler<types::Element>)> {
    heard.into_iter().map(|(event, handler)| (event, Rndr::add_event_listener(node, event, handler.take()))).collect()
}

fn mark() -> types::Node {
    Rndr::create_placeholder().into()
}

fn build_element(element: Element) -> ShownElement {
    let space = matches!(element.tag, "svg" | "path" | "text").then_some("http://www.w3.org/2000/svg");
    let node = Rndr::create_element(element.tag, space);
    let said = element.said.into_iter().map(|(name, said)| (name, keep(&node, name, said, None))).collect();
    let heard = listen(&node, element.heard);
    let inside = element.inside.into_iter().map(|part| built_in(part, &node)).collect();
    ShownElement { node, tag: element.tag, said, heard, inside }
}

fn built_in(part: AnyView, node: &types::Element) -> Shown {
    let mut part = part.build();
    part.mount(node, None);
    part
}

/// An element that is made alike is changed where it stands, so that it keeps the focus; any other takes its place.
fn rebuild_element(element: Element, shown: &mut ShownElement) {
    let alike = element.tag == shown.tag
        && element.inside.len() == shown.inside.len()
        && element.said.iter().map(|(name, _)| name).eq(shown.said.iter().map(|(name, _)| name))
        && element.heard.iter().map(|(event, _)| event).eq(shown.heard.iter().map(|(event, _)| event));
    if !alike {
        let new = build_element(element);
        if let Some(parent) = Rndr::get_parent(&shown.node) {
            drop(parent.replace_child(&new.node, &shown.node));
        }
        *shown = new;
        return;
    }
    for ((name, said), (_, kept)) in element.said.into_iter().zip(&mut shown.said) {
        *kept = keep(&shown.node, name, said, Some(kept));
    }
    shown.heard = listen(&shown.node, element.heard);
    for (part, there) in element.inside.into_iter().zip(&mut shown.inside) {
        part.rebuild(there);
    }
}

fn rebuild_many(parts: Vec<AnyView>, shown: &mut Vec<Shown>, end: &types::Node) {
    for mut gone in shown.drain(parts.len().min(shown.len())..) {
        gone.unmount();
    }
    let there = shown.len();
    for (place, part) in parts.into_iter().enumerate() {
        if place < there {
            part.rebuild(&mut shown[place]);
        } else {
            let mut new = part.build();
            before(end, &mut new);
            shown.push(new);
        }
    }
}

impl Render for AnyView {
    type State = Shown;

    fn build(self) -> Shown {
        match *self.0 {
            Part::Nothing => Shown::Leaf(mark(), None),
            Part::Text(words) => Shown::Leaf(Rndr::create_text_node(&words).into(), Some(words)),
            Part::Element(element) => Shown::Element(Box::new(build_element(element))),
            Part::Many(parts) => Shown::Many(parts.into_iter().map(Render::build).collect(), mark()),
            Part::Changing(mut part) => Shown::Changing(RenderEffect::new(move |before: Option<Shown>| {
                let now = part();
                match before {
                    Some(mut shown) => {
                        now.rebuild(&mut shown);
                        shown
                    }
                    None => now.build(),
                }
            })),
            Part::Framed(part) => Shown::Framed(part.build()),
        }
    }

    fn rebuild(self, shown: &mut Shown) {
        match (*self.0, &mut *shown) {
            (Part::Nothing, Shown::Leaf(_, None)) => {}
            (Part::Text(words), Shown::Leaf(node, Some(before))) => {
                if *before != words {
                    node.set_node_value(Some(&words));
                    *before = words;
                }
            }
            (Part::Element(element), Shown::Element(shown)) => rebuild_element(element, shown),
            (Part::Many(parts), Shown::Many(shown, end)) => rebuild_many(parts, shown, end),
            (Part::Framed(part), Shown::Framed(shown)) => part.rebuild(shown),
            (part, _) => {
                let mut new = Self(Box::new(part)).build();
                shown.insert_before_this(&mut new);
                shown.unmount();
                *shown = new;
            }
        }
    }
}

leptos::tachys::no_attrs!(AnyView);

impl RenderHtml for AnyView {
    type AsyncOutput = Self;
    type Owned = Self;
    const MIN_LENGTH: usize = 0;

    fn dry_resolve(&mut self) {}

    async fn resolve(self) -> Self {
        self
    }

    // Pages are drawn in the browser alone: there is no server to write them, and none to take over from.
    fn to_html_with_buf(self, _: &mut String, _: &mut Position, _: bool, _: bool, _: Vec<AnyAttribute>) {}

    fn hydrate<const FROM_SERVER: bool>(self, _: &Cursor, _: &PositionState) -> Shown {
        self.build()
    }

    fn into_owned(self) -> Self {
        self
    }
}

fn before(node: &types::Node, child: &mut dyn Mountable) -> bool {
    let parent = Rndr::get_parent(node).and_then(|parent| parent.dyn_into::<types::Element>().ok());
    parent.is_some_and(|parent| {
        child.mount(&parent, Some(node));
        true
    })
}

impl Mountable for Shown {
    fn unmount(&mut self) {
        match self {
            Self::Leaf(node, _) => Rndr::remove(node),
            Self::Element(element) => Rndr::remove(&element.node),
            Self::Many(parts, end) => {
                parts.iter_mut().for_each(Mountable::unmount);
                Rndr::remove(end);
            }
            Self::Changing(part) => part.unmount(),
            Self::Framed(part) => part.unmount(),
        }
    }

    fn mount(&mut self, parent: &types::Element, marker: Option<&types::Node>) {
        match self {
            Self::Leaf(node, _) => Rndr::insert_node(parent, node, marker),
            Self::Element(element) => Rndr::insert_node(parent, &element.node, marker),
            Self::Many(parts, end) => {
                parts.iter_mut().for_each(|part| part.mount(parent, marker));
                Rndr::insert_node(parent, end, marker);
            }
            Self::Changing(part) => part.mount(parent, marker),
            Self::Framed(part) => part.mount(parent, marker),
        }
    }

    fn insert_before_this(&self, child: &mut dyn Mountable) -> bool {
        match self {
            Self::Leaf(node, _) => before(node, child),
            Self::Element(element) => before(&element.node, child),
            Self::Many(parts, end) => match parts.first() {
                Some(first) => first.insert_before_this(child),
                None => before(end, child),
            },
            Self::Changing(part) => part.insert_before_this(child),
            Self::Framed(part) => part.insert_before_this(child),
        }
    }

    fn elements(&self) -> Vec<types::Element> {
        Vec::new()
    }
}
