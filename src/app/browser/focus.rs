//! Where the keyboard and the screen reader are, and what the window is called, after a change of page.

use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use web_sys::HtmlElement;

use super::js;

/// Moves the focus to the element with this id in the next frame, when what is being drawn now is in the page. An
/// element that takes no focus by itself (a heading) is made to take it from here, but not from the tab key.
pub fn focus_after_frame(id: &str) {
    let id = String::from(id);
    let task = Closure::once_into_js(move |_time: JsValue| focus(&id));
    drop(js::call(&js_sys::global(), "requestAnimationFrame", &[&task]));
}

fn focus(id: &str) {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else { return };
    let Some(element) = document.get_element_by_id(id).and_then(|found| found.dyn_into::<HtmlElement>().ok()) else {
        return;
    };
    drop(element.focus());
    if document.active_element().as_ref() != Some(&element) {
        element.set_tab_index(-1);
        drop(element.focus());
    }
}

/// Taps the element with this id, as a finger would; nothing when it is not there.
pub fn tap(id: &str) {
    let element = web_sys::window().and_then(|window| window.document()?.get_element_by_id(id));
    if let Some(element) = element.and_then(|found| found.dyn_into::<HtmlElement>().ok()) {
        element.click();
    }
}

/// Taps the first element that one of these selectors finds, in their order; false when none is there.
pub fn tap_first(selectors: &[&str]) -> bool {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else { return false };
    let found = selectors.iter().find_map(|selector| document.query_selector(selector).ok().flatten());
    let element = found.and_then(|found| found.dyn_into::<HtmlElement>().ok());
    if let Some(element) = &element {
        element.click();
    }
    element.is_some()
}

/// Sets the title of the page, which screen readers announce and the task switcher shows.
pub fn title(text: &str) {
    if let Some(document) = web_sys::window().and_then(|window| window.document()) {
        document.set_title(text);
    }
}
