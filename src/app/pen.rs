//! How pages are drawn: [`view!`] reads the lines that the framework's macro of this name would, and guides a [`Pen`].

use std::borrow::Cow;

use leptos::ev::Event;
use leptos::prelude::Owner;
use send_wrapper::SendWrapper;
use wasm_bindgen::{JsCast, JsValue};

use super::element::{AnyView, Element, IntoAny};
use crate::language;

/// What an attribute or a property says; without words it is left away, or off.
pub(crate) enum Said {
    Still(Option<String>),
    Changing(Box<dyn FnMut() -> Option<String> + Send>),
}

/// The attributes that a person reads or hears: a literal in one of them is looked up in the catalogue, as a text is. The stylesheet
/// shows `data-head` beside a cell where a table has no room for its head.
const READ: [&str; 5] = ["alt", "aria-label", "data-head", "placeholder", "title"];

/// What an attribute can be given.
pub(crate) trait Words {
    /// As words, of a literal or made; none leaves the attribute away.
    fn words(self) -> Option<Cow<'static, str>>;
}

impl Words for String {
    fn words(self) -> Option<Cow<'static, str>> {
        Some(Cow::Owned(self))
    }
}

impl Words for &'static str {
    fn words(self) -> Option<Cow<'static, str>> {
        Some(Cow::Borrowed(self))
    }
}

impl Words for bool {
    fn words(self) -> Option<Cow<'static, str>> {
        self.then_some(Cow::Borrowed(""))
    }
}

impl<T: Words> Words for Option<T> {
    fn words(self) -> Option<Cow<'static, str>> {
        self.and_then(Words::words)
    }
}

/// What `name` says of such words.
fn spoken(name: &'static str, words: Option<Cow<'static, str>>) -> Option<String> {
    Some(match words? {
        Cow::Borrowed(ours) if READ.contains(&name) => language::ours(ours).to_owned(),
        words => words.into_owned(),
    })
}

/// What can be said by an attribute: words, or what makes them anew.
pub(crate) trait Saying {
    /// As what the attribute `name` says.
    fn said(self, name: &'static str) -> Said;
}

impl<T: Words> Saying for T {
    #[inline(never)]
    fn said(self, name: &'static str) -> Said {
        Said::Still(spoken(name, self.words()))
    }
}

impl<T: Words + 'static> Saying for Box<dyn FnMut() -> T + Send> {
    fn said(mut self, name: &'static str) -> Said {
        Said::Changing(Box::new(move || spoken(name, self().words())))
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
    pub(crate) fn say(&mut self, name: &'static str, said: impl Saying) {
        self.said(name, said.said(name));
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
    pub(crate) fn put(&mut self, part: impl IntoAny) {
        self.place(part.into_any());
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
            self.place(element.into());
        }
    }

    /// What was drawn.
    #[inline(never)]
    pub(crate) fn done(mut self) -> AnyView {
        match self.roots.pop() {
            Some(only) if self.roots.is_empty() => only,
            last => {
                self.roots.extend(last);
                IntoAny::into_any(self.roots)
            }
        }
    }
}

/// Elements, written as the framework's macro of this name has them: tags, attributes, `prop:` for properties, `on:` for events,
/// `on:…:target` for the events of fields, texts in quotes, everything else in braces. The name in an end tag is for the reader.
macro_rules! view {
    ($($lines:tt)*) => {{
        let mut pen = $crate::app::pen::Pen::default();
        $crate::app::pen::lines!(pen $($lines)*);
        pen.done()
    }};
}

macro_rules! lines {
    ($pen:ident) => {};
    ($pen:ident < / $tag:ident > $($rest:tt)*) => {
        $pen.close();
        $crate::app::pen::lines!($pen $($rest)*);
    };
    ($pen:ident < $tag:ident $($rest:tt)*) => {
        $pen.open(stringify!($tag));
        $crate::app::pen::attributes!($pen $($rest)*);
    };
    ($pen:ident $text:literal $($rest:tt)*) => {
        $pen.put($text);
        $crate::app::pen::lines!($pen $($rest)*);
    };
    ($pen:ident {$($part:tt)*} $($rest:tt)*) => {
        $pen.put($($part)*);
        $crate::app::pen::lines!($pen $($rest)*);
    };
}

macro_rules! attributes {
    ($pen:ident > $($rest:tt)*) => { $crate::app::pen::lines!($pen $($rest)*); };
    ($pen:ident / > $($rest:tt)*) => {
        $pen.close();
        $crate::app::pen::lines!($pen $($rest)*);
    };
    ($pen:ident on : click = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (on::<::leptos::ev::MouseEvent>) ("click") [] $($rest)*);
    };
    ($pen:ident on : submit = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (on::<::leptos::ev::SubmitEvent>) ("submit") [] $($rest)*);
    };
    ($pen:ident on : $event:ident : target = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (on_entry) (stringify!($event)) [] $($rest)*);
    };
    ($pen:ident on : $event:ident = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (on::<::leptos::ev::Event>) (stringify!($event)) [] $($rest)*);
    };
    ($pen:ident prop : $name:ident = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (say) (concat!(".", stringify!($name))) [] $($rest)*);
    };
    ($pen:ident $one:ident $(- $more:ident)* = $($rest:tt)*) => {
        $crate::app::pen::value!($pen (say) (concat!(stringify!($one) $(, "-", stringify!($more))*)) [] $($rest)*);
    };
}

/// Reads an attribute's value up to where the next one, or the end of the tag, is seen.
macro_rules! value {
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] > $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::lines!($pen $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] / > $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $pen.close();
        $crate::app::pen::lines!($pen $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] on : $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::attributes!($pen on : $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] prop : $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::attributes!($pen prop : $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::attributes!($pen $one = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident - $two:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::attributes!($pen $one - $two = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)+] $one:ident - $two:ident - $three:ident = $($rest:tt)*) => {
        $pen.$($call)*($name, $($value)+);
        $crate::app::pen::attributes!($pen $one - $two - $three = $($rest)*);
    };
    ($pen:ident ($($call:tt)*) ($name:expr) [$($value:tt)*] $next:tt $($rest:tt)*) => {
        $crate::app::pen::value!($pen ($($call)*) ($name) [$($value)* $next] $($rest)*);
    };
}

pub(crate) use {attributes, lines, value, view};
