//! What happens when the app's code panics: the page is dead from then on, so plain script takes over.

use wasm_bindgen::JsValue;

use super::js;

/// Installs the hook: it logs the panic and calls `trammelRescue(message)`, a plain function of the page that needs
/// nothing of this app and offers a reload and the stored records. A stop that is no panic (the stack or the memory is used up) is not seen here.
pub fn install() {
    std::panic::set_hook(Box::new(|panic| {
        let message = JsValue::from_str(&panic.to_string());
        if let Some(console) = js::global("console") {
            drop(js::call(&console, "error", &[&message]));
        }
        drop(js::call(&js_sys::global(), "trammelRescue", &[&message]));
    }));
}
