//! Calls into the platform that cannot throw through the app: every property and method is looked up at run time, so
//! that one that is missing comes back as `None` or as an `Err`.

use crate::language::words;
use js_sys::{Array, Function, Object, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// A property of `target`; `None` when it is missing, null, undefined, or reading it throws.
pub(super) fn get(target: &JsValue, key: &str) -> Option<JsValue> {
    let value = Reflect::get(target, &JsValue::from_str(key)).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// A property of `target` that is a string, as [`get`] reads it.
pub(super) fn text(target: &JsValue, key: &str) -> Option<String> {
    get(target, key)?.as_string()
}

/// A property of the global object (the window): `navigator`, `document`, a constructor.
pub(super) fn global(key: &str) -> Option<JsValue> {
    get(&js_sys::global(), key)
}

/// A property of `navigator`.
pub(super) fn navigator(key: &str) -> Option<JsValue> {
    get(&global("navigator")?, key)
}

/// The element with this id.
pub(super) fn element(id: &str) -> Option<JsValue> {
    Some(web_sys::window()?.document()?.get_element_by_id(id)?.unchecked_into())
}

/// The address of a file beside the app's base.
pub(super) fn beside(name: &str) -> Option<String> {
    let base = text(&global("document")?, "baseURI")?;
    Some(web_sys::Url::new_with_base(name, &base).ok()?.href())
}

/// Calls `target.method(...arguments)`.
///
/// # Errors
/// What the call threw, or a `TypeError` when there is no such method.
pub(super) fn call(target: &JsValue, method: &str, arguments: &[&JsValue]) -> Result<JsValue, JsValue> {
    let function = get(target, method)
        .and_then(|found| found.dyn_into::<Function>().ok())
        .ok_or_else(|| JsValue::from(js_sys::TypeError::new(&format!("{method} is not available"))))?;
    Reflect::apply(&function, target, &list(arguments))
}

/// Calls `target.method(...arguments)` and waits for the promise that it returns.
///
/// # Errors
/// What the call threw or the promise was rejected with.
pub(super) async fn call_async(target: &JsValue, method: &str, arguments: &[&JsValue]) -> Result<JsValue, JsValue> {
    settled(&call(target, method, arguments)?).await
}

/// `new Constructor(...arguments)` of a class found on the global object.
///
/// # Errors
/// What the constructor threw, or a `TypeError` when there is no such class.
pub(super) fn construct(class: &str, arguments: &[&JsValue]) -> Result<JsValue, JsValue> {
    let constructor = global(class)
        .and_then(|found| found.dyn_into::<Function>().ok())
        .ok_or_else(|| JsValue::from(js_sys::TypeError::new(&format!("{class} is not available"))))?;
    Reflect::construct(&constructor, &list(arguments))
}

/// Waits for `value` if it is a promise; anything else is handed back at once.
///
/// # Errors
/// What the promise was rejected with.
pub(super) async fn settled(value: &JsValue) -> Result<JsValue, JsValue> {
    JsFuture::from(Promise::resolve(value)).await
}

/// Calls a method whose outcome does not matter, and swallows its promise's rejection too.
pub(super) fn call_and_forget(target: &JsValue, method: &str, arguments: &[&JsValue]) {
    if let Ok(promise) = call(target, method, arguments) {
        spawn_local(async move { drop(settled(&promise).await) });
    }
}

/// Sets a property; one that cannot be set stays as it was.
pub(super) fn set(target: &JsValue, key: &str, value: &JsValue) {
    drop(Reflect::set(target, &JsValue::from_str(key), value));
}

/// A plain object with these properties.
pub(super) fn object(properties: &[(&str, JsValue)]) -> JsValue {
    let object = Object::new();
    for (key, value) in properties {
        set(&object, key, value);
    }
    object.into()
}

/// An array of these values.
pub(super) fn list(values: &[&JsValue]) -> Array {
    values.iter().copied().collect()
}

/// Listens for an event as long as the page lives.
pub(super) fn on(target: &JsValue, event: &str, handler: impl FnMut(JsValue) + 'static) {
    let handler = Closure::<dyn FnMut(JsValue)>::new(handler).into_js_value();
    drop(call(target, "addEventListener", &[&JsValue::from_str(event), &handler]));
}

/// The same, heard before anything inside `target` hears of it.
pub(super) fn on_the_way_down(target: &JsValue, event: &str, handler: impl FnMut(JsValue) + 'static) {
    let handler = Closure::<dyn FnMut(JsValue)>::new(handler).into_js_value();
    drop(call(target, "addEventListener", &[&JsValue::from_str(event), &handler, &JsValue::TRUE]));
}

/// An event listener that is taken off when this is dropped.
pub(super) struct Listening {
    target: JsValue,
    event: JsValue,
    handler: Closure<dyn FnMut(JsValue)>,
}

impl Listening {
    /// Listens for `event` on `target` until the value returned is dropped.
    pub(super) fn new(target: &JsValue, event: &str, handler: impl FnMut(JsValue) + 'static) -> Self {
        let handler = Closure::<dyn FnMut(JsValue)>::new(handler);
        let event = JsValue::from_str(event);
        drop(call(target, "addEventListener", &[&event, handler.as_ref()]));
        Self { target: target.clone(), event, handler }
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        drop(call(&self.target, "removeEventListener", &[&self.event, self.handler.as_ref()]));
    }
}

/// Runs `task` once, after `milliseconds`.
pub(super) fn after(milliseconds: u32, task: impl FnOnce() + 'static) {
    let task = Closure::once_into_js(task);
    drop(call(&js_sys::global(), "setTimeout", &[&task, &JsValue::from(milliseconds)]));
}

/// The language that the app is shown in, as the document says (BCP 47); the phone's own form of it where the two agree: "en-GB" for "en".
pub(super) fn language() -> String {
    let root = global("document").and_then(|document| get(&document, "documentElement"));
    let shown =
        root.and_then(|root| text(&root, "lang")).filter(|lang| !lang.is_empty()).unwrap_or_else(|| "en".to_owned());
    let phone = navigator("language").and_then(|phone| phone.as_string()).unwrap_or_default();
    if phone.split('-').next() == shown.split('-').next() { phone } else { shown }
}

/// Whether the page was touched since it opened: until then a browser lets no page sound. True where it does not say.
pub(super) fn touched() -> bool {
    let activation = navigator("userActivation").and_then(|activation| get(&activation, "hasBeenActive"));
    activation.is_none_or(|touched| touched.is_truthy())
}

/// The page is in front of the user now (and not in a tab behind another, or behind a locked screen).
pub(super) fn visible() -> bool {
    global("document").and_then(|document| text(&document, "visibilityState")).is_none_or(|state| state == "visible")
}

/// The name of what was thrown (`AbortError`, `QuotaExceededError`), empty when it has none.
pub(super) fn name_of(thrown: &JsValue) -> String {
    text(thrown, "name").unwrap_or_default()
}

/// What was thrown as one line for a log or a message.
pub(super) fn line_of(thrown: &JsValue) -> String {
    let name = name_of(thrown);
    match text(thrown, "message").or_else(|| thrown.as_string()).filter(|message| !message.is_empty()) {
        Some(message) if name.is_empty() => message,
        Some(message) => format!("{name}: {message}"),
        None if name.is_empty() => words!("no reason given").to_owned(),
        None => name,
    }
}
