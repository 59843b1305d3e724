//! Something that lies over the page until it is put away: the browser keeps the keyboard and the screen reader inside it, ends it at
//! the escape key, and puts the focus back where it was.

use wasm_bindgen::JsValue;

use super::js;

/// Opens the `dialog` element with this id, once it is on the page. A browser that knows no such thing shows it all the same.
pub fn open(id: &'static str) {
    js::after(0, move || {
        if let Some(dialog) = js::element(id)
            && js::call(&dialog, "showModal", &[]).is_err()
        {
            js::set(&dialog, "open", &JsValue::TRUE);
        }
    });
}

/// Closes it; its `close` event follows. Whether there is such an event to come.
pub fn close(id: &str) -> bool {
    js::element(id).is_some_and(|dialog| js::call(&dialog, "close", &[]).is_ok())
}
