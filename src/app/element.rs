//! Every element of the app is of one type. The framework's own `view!` makes a type of every tag and compiles the way to build,
//! change and take away each of them; the [`view!`] here reads the same lines and calls a [`Pen`], whose code is there once.

use leptos::ev::Event;
use leptos::prelude::*;
use leptos::reactive::effect::RenderEffect;
use leptos::tachys::html::attribute::any_attribute::AnyAttribute;
use leptos::tachys::hydration::Cursor;
use leptos::tachys::renderer::{RemoveEventHandler, Rndr, types};
use leptos::tachys::view::{Mountable, Position, PositionState, Render, RenderHtml};
use send_wrapper::SendWrapper;
use wasm_bindgen::{JsCast, JsValue};

/// What stands between an element's tags.
pub(crate) trait Inside {
    /// It, with its type forgotten.
    fn any(self) -> AnyView;
}

impl Inside for AnyView {
    fn any(self) -> AnyView {
        self
    }
}

impl Inside for String {
    #[inline(never)]
    fn any(self) -> AnyView {
        self.into_any()
    }
}

impl Inside for &str {
    #[inline(never)]
    fn any(self) -> AnyView {
        self.to_owned().any()
    }
}

impl Inside for Vec<AnyView> {
    #[inline(never)]
    fn any(self) -> AnyView {
        self.into_any()
    }
}

impl<T: Inside> Inside for Option<T> {
    fn any(self) -> AnyView {
        self.map_or_else(nothing, Inside::any)
    }
}

impl<T: Inside + 'static> Inside for Box<dyn FnMut() -> T + Send> {
    fn any(mut self) -> AnyView {
        let part: Box<dyn FnMut() -> AnyView + Send> = Box::new(move || self().any());
        part.into_any()
    }
}

#[inline(never)]
fn nothing() -> AnyView {
    ().into_any()
}

/// What an attribute or a property says; without words it is left away, or off.
pub(crate) enum Said {
    Still(Option<String>),
    Changing(Box<dyn FnMut() -> Option<String> + Send>),
}

/// What an attribute can be given.
pub(crate) trait Words {
    /// As words; none leaves the attribute away.
    fn words(self) -> Option<String>;
}

impl Words for String {
    fn words(self) -> Option<String> {
        Some(self)
    }
}

impl Words for &str {
    fn words(self) -> Option<String> {
        Some(self.to_owned())
    }
}

impl Words for bool {
    fn words(self) -> Option<String> {
        self.then(String::new)
    }
}

impl<T: Words> Words for Option<T> {
    fn words(self) -> Option<String> {
        self.and_then(Words::words)
    }
}

impl<T: Words> From<T> for Said {
    #[inline(never)]
    fn from(words: T) -> Self {
        Self::Still(words.words())
    }
}

impl<T: Words + 'static> From<Box<dyn FnMut() -> T + Send>> for Said {
    fn from(mut words: Box<dyn FnMut() -> T + Send>) -> Self {
        Self::Changing(Box::new(move || words().words()))
    }
}

type Handler = SendWrapper<Box<dyn FnMut(JsValue)>>;

/// An element before it is on the page. The name of a property begins with a point.
struct Element {
    tag: &'static str,
    said: Vec<(&'static str, Said)>,
    heard: Vec<(&'static str, Handler)>,
    inside: Vec<AnyView>,
}

/// An element on the page.
pub(crate) struct Shown {
    node: types::Element,
    tag: &'static str,
    said: Vec<(&'static str, Kept)>,
    heard: Vec<(&'static str, RemoveEventHandler<types::Element>)>,
    inside: Vec<AnyViewState>,
}

type AnyViewState = <AnyView as Render>::State;

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

impl Render for Element {
    type State = Shown;

    fn build(self) -> Shown {
        let space = matches!(self.tag, "svg" | "path" | "text").then_some("http://www.w3.org/2000/svg");
        let node = Rndr::create_element(self.tag, space);
        let said = self.said.into_iter().map(|(name, said)| (name, keep(&node, name, said, None))).collect();
        let heard = listen(&node, self.heard);
        let inside = self
            .inside
            .into_iter()
            .map(|part| {
                let mut part = part.build();
                part.mount(&node, None);
                part
            })
            .collect();
        Shown { node, tag: self.tag, said, heard, inside }
    }

    /// An element that is made alike is changed where it stands, so that it keeps the focus; any other takes its place.
    fn rebuild(self, shown: &mut Shown) {
        let alike = self.tag == shown.tag
            && self.inside.len() == shown.inside.len()
            && self.said.iter().map(|(name, _)| name).eq(shown.said.iter().map(|(name, _)| name))
            && self.heard.iter().map(|(event, _)| event).eq(shown.heard.iter().map(|(event, _)| event));
        if !alike {
            let mut new = self.build();
            shown.insert_before_this(&mut new);
            shown.unmount();
            *shown = new;
            return;
        }
        for ((name, said), (_, kept)) in self.said.into_iter().zip(&mut shown.said) {
            *kept = keep(&shown.node, name, said, Some(kept));
        }
        shown.heard = listen(&shown.node, self.heard);
        for (part, there) in self.inside.into_iter().zip(&mut shown.inside) {
            part.rebuild(there);
        }
    }
}

leptos::tachys::no_attrs!(Element);

impl RenderHtml for Element {
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

impl Mountable for Shown {
    fn unmount(&mut self) {
        Rndr::remove(&self.node);
    }

    fn mount(&mut self, parent: &types::Element, marker: Option<&types::Node>) {
        Rndr::insert_node(parent, &self.node, marker);
    }

    fn insert_before_this(&self, child: &mut dyn Mountable) -> bool {
        let parent = Rndr::get_parent(&self.node).and_then(|parent| parent.dyn_into::<types::Element>().ok());
        parent.is_some_and(|parent| {
            child.mount(&parent, Some(&self.node));
            true
        })
    }

    fn elements(&self) -> Vec<types::Element> {
        vec![self.node.clone()]
    }
}

/// The field that an event came from.
pub(crate) struct Entry(Event);

impl Entry {
    /// A field of whatever kind: each has a value, and is marked or not.
    pub(crate) fn target(&self) -> web_sys::HtmlInputElement {
        self.0.target().unwrap_or_else(|| JsValue::UNDEFINED.unchecked_into()).unchecked_into()
    }
}

/// Draws elements in the order in which they are written down. [`view!`] guides it.
#[derive(Default)]
pub(crate) struct Pen {
    open: Vec<Element>,
    roots: Vec<AnyView>,
}

impl Pen {
    /// Begins an element.
    #[inline(never)]
    pub(crate) fn open(&mut self, tag: &'static str) {
        self.open.push(Element { tag, said: Vec::new(), heard: Vec::new(), inside: Vec::new() });
    }

    /// Gives the element an attribute, or a property when the name begins with a point.
    #[inline(never)]
    pub(crate) fn say(&mut self, name: &'static str, said: impl Into<Said>) {
        self.said(name, said.into());
    }

    #[inline(never)]
    fn said(&mut self, name: &'static str, said: Said) {
        if let Some(element) = self.open.last_mut() {
            element.said.push((name, said));
        }
    }

    /// What the element does at an event.
    pub(crate) fn on<E: JsCast>(&mut self, event: &'static str, mut action: impl FnMut(E) + 'static) {
        self.hear(event, Box::new(move |event| action(event.unchecked_into())));
    }

    /// What a field does with what is entered.
    pub(crate) fn on_entry(&mut self, event: &'static str, mut action: impl FnMut(Entry) + 'static) {
        self.hear(event, Box::new(move |event| action(Entry(event.unchecked_into()))));
    }

    #[inline(never)]
    fn hear(&mut self, event: &'static str, mut action: Box<dyn FnMut(JsValue)>) {
        let owner = Owner::current().unwrap_or_default();
        let action = move |event: JsValue| {
            #[cfg(debug_assertions)]
            let _zone = leptos::reactive::diagnostics::SpecialNonReactiveZone::enter();
            owner.with(|| action(event));
        };
        if let Some(element) = self.open.last_mut() {
            element.heard.push((event, SendWrapper::new(Box::new(action))));
        }
    }

    /// Puts something into the element that is open.
    #[inline(never)]
    pub(crate) fn put(&mut self, part: impl Inside) {
        self.place(part.any());
    }

    #[inline(never)]
    fn place(&mut self, part: AnyView) {
        match self.open.last_mut() {
            Some(element) => element.inside.push(part),
            None => self.roots.push(part),
        }
    }

    /// Ends the element.
    #[inline(never)]
    pub(crate) fn close(&mut self) {
        if let Some(element) = self.open.pop() {
            self.place(element.into_any());
        }
    }

    /// What was drawn.
    #[inline(never)]
    pub(crate) fn done(mut self) -> AnyView {
        match self.roots.pop() {
            Some(only) if self.roots.is_empty() => only,
            last => {
                self.roots.extend(last);
                self.roots.into_any()
            }
        }
    }
}

/// Elements, written as the framework's macro of this name has them: tags, attributes, `prop:` for properties, `on:` for events,
/// `on:…:target` for the events of fields, texts in quotes, everything else in braces. The name in an end tag is for the reader.
macro_rules! view {
    ($($lines:tt)*) => {{
        let mut pen = $crate::app::element::Pen::default();
        $crate::app::element::lines!(pen $($lines)*);
        pen.done()
    }};
}

macro_rules! lines {
    ($pen:ident) => {};
    ($pen:ident < / $tag:ident > $($rest:tt)*) => {
        $pen.close();
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident < TextField $($rest:tt)*) => { $crate::app::element::component!($pen [TextField] $($rest)*); };
    ($pen:ident < Choice $($rest:tt)*) => { $crate::app::element::component!($pen [Choice] $($rest)*); };
    ($pen:ident < PadPanel $($rest:tt)*) => { $crate::app::element::component!($pen [PadPanel] $($rest)*); };
    ($pen:ident < VerdictMark $($rest:tt)*) => { $crate::app::element::component!($pen [VerdictMark] $($rest)*); };
    ($pen:ident < AttemptsChart $($rest:tt)*) => { $crate::app::element::component!($pen [AttemptsChart] $($rest)*); };
    ($pen:ident < TapePicture $($rest:tt)*) => { $crate::app::element::component!($pen [TapePicture] $($rest)*); };
    ($pen:ident < $tag:ident $($rest:tt)*) => {
        $pen.open(stringify!($tag));
        $crate::app::element::attributes!($pen $($rest)*);
    };
    ($pen:ident $text:literal $($rest:tt)*) => {
        $pen.put($text);
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident {$($part:tt)*} $($rest:tt)*) => {
        $pen.put($($part)*);
        $crate::app::element::lines!($pen $($rest)*);
    };
}

macro_rules! component {
    ($pen:ident [$($line:tt)*] / > $($rest:tt)*) => {
        $pen.put(::leptos::prelude::IntoAny::into_any(::leptos::view! { <$($line)* /> }));
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident [$($line:tt)*] $next:tt $($rest:tt)*) => {
        $crate::app::element::component!($pen [$($line)* $next] $($rest)*);
    };
}

macro_rules! attributes {
    ($pen:ident > $($rest:tt)*) => { $crate::app::element::lines!($pen $($rest)*); };
    ($pen:ident / > $($rest:tt)*) => {
        $pen.close();
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident on : click = $($rest:tt)*) => {
        $crate::app::element::value!($pen (on::<::leptos::ev::MouseEvent>) ("click") [] $($rest)*);
    };
    ($pen:ident on : submit = $($rest:tt)*) => {
        $crate::app::element::value!($pen (on::<::leptos::ev::SubmitEvent>) ("submit") [] $($rest)*);
    };
    ($pen:ident on : $event:ident : target = $($rest:tt)*) => {
        $crate::app::element::value!($pen (on_entry) (stringify!($event)) [] $($rest)*);
    };
    ($pen:ident on : $event:ident = $($rest:tt)*) => {
        $crate::app::element::value!($pen (on::<::leptos::ev::Event>) (stringify!($event)) [] $($rest)*);
    };
    ($pen:ident prop : $name:ident = $($rest:tt)*) => {
        $crate::app::element::value!($pen (say) (concat!(".", stringify!($name))) [] $($rest)*);
    };
    ($pen:ident $one:ident $(- $more:ident)* = $($rest:tt)*) => {
        $crate::app::element::value!($pen (say) (concat!(stringify!($one) $(, "-", stringify!($more))*)) [] $($rest)*);
    };
}

/// Reads an attribute's value up to where the next one, or the end of the tag, is seen.
macro_rules! value {
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] > $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] / > $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $pen.close();
        $crate::app::element::lines!($pen $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] on : $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::attributes!($pen on : $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] prop : $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::attributes!($pen prop : $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::attributes!($pen $one = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident - $two:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::attributes!($pen $one - $two = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident - $two:ident - $three:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::element::attributes!($pen $one - $two - $three = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)*] $next:tt $($rest:tt)*) => {
        $crate::app::element::value!($pen ($($call)*) ($name) [$($value)* $next] $($rest)*);
    };
}

pub(crate) use {attributes, component, lines, value, view};
