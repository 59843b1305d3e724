//! The service worker: what makes the app open with no network, and how a new version comes in without disturbing a
//! step.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;

use super::js;
use crate::language::words;

/// How far the app is kept on the phone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WorkerState {
    /// This browser has no service workers (or the page came over plain HTTP): the app needs the network.
    Unsupported,
    /// First visit: the app's files are being kept.
    Installing,
    /// The app opens with no network from now on.
    ReadyOffline,
    /// A new version is kept too and waits for [`apply_update`].
    UpdateReady,
    /// The files could not be kept; the app needs the network.
    Failed(String),
}

/// A new version is looked for at most this often, in milliseconds.
const CHECK_EVERY: f64 = 3_600_000.0;

type OnState = Rc<dyn Fn(WorkerState)>;

thread_local! {
    static REGISTRATION: RefCell<Option<JsValue>> = const { RefCell::new(None) };
    static LAST_CHECK: Cell<f64> = const { Cell::new(f64::NEG_INFINITY) };
    /// The user said "update now": the next change of worker reloads the page, once.
    static ACCEPTED: Cell<bool> = const { Cell::new(false) };
}

/// Registers `sw.js`, which stands beside the page's base address, and reports how it goes. Call it once, after the
/// first render. A new version is looked for when the app comes back to the front.
pub fn register(on_state: impl Fn(WorkerState) + 'static) {
    let on_state: OnState = only_changes(on_state);
    let Some(container) = js::navigator("serviceWorker") else { return on_state(WorkerState::Unsupported) };
    js::on(&container, "controllerchange", |_| {
        if ACCEPTED.replace(false) {
            reload();
        }
    });
    let document = js::global("document").unwrap_or(JsValue::UNDEFINED);
    js::on(&document, "visibilitychange", |_| check_for_update());
    spawn_local(async move {
        match start(&container).await {
            Ok(registration) => {
                LAST_CHECK.set(js_sys::Date::now());
                REGISTRATION.replace(Some(registration.clone()));
                watch(&registration, on_state);
            }
            // With no network and an earlier visit the worker is at work all the same.
            Err(_) if js::get(&container, "controller").is_some() => on_state(WorkerState::ReadyOffline),
            Err(thrown) => on_state(WorkerState::Failed(js::line_of(&thrown))),
        }
    });
}

/// Lets the waiting version take over and reloads the page when it has. Call it only when the user said so and
/// everything is stored. Says whether there was a version waiting.
pub fn apply_update() -> bool {
    let Some(waiting) = REGISTRATION.with_borrow(|kept| js::get(kept.as_ref()?, "waiting")) else { return false };
    ACCEPTED.set(true);
    js::call(&waiting, "postMessage", &[&JsValue::from_str("skip-waiting")]).is_ok()
}

/// Looks for a new version if the app is in front and the last look is an hour ago.
pub fn check_for_update() {
    let now = js_sys::Date::now();
    if !js::visible() || now - LAST_CHECK.get() < CHECK_EVERY {
        return;
    }
    if let Some(registration) = REGISTRATION.with_borrow(Clone::clone) {
        LAST_CHECK.set(now);
        js::call_and_forget(&registration, "update", &[]);
    }
}

/// A worker may be followed twice, once found at the start and once announced; each state is reported once.
fn only_changes(on_state: impl Fn(WorkerState) + 'static) -> OnState {
    let last = RefCell::new(None);
    Rc::new(move |state: WorkerState| {
        if last.replace(Some(state.clone())).as_ref() != Some(&state) {
            on_state(state);
        }
    })
}

async fn start(container: &JsValue) -> Result<JsValue, JsValue> {
    let script = JsValue::from_str(&js::beside("sw.js").ok_or("no base address")?);
    let options = js::object(&[("updateViaCache", JsValue::from_str("none"))]);
    js::call_async(container, "register", &[&script, &options]).await
}

/// Reports where the registration stands now, and everything that comes after.
fn watch(registration: &JsValue, on_state: OnState) {
    let active = js::get(registration, "active").is_some();
    if active && js::get(registration, "waiting").is_some() {
        on_state(WorkerState::UpdateReady);
    } else if active {
        on_state(WorkerState::ReadyOffline);
    } else {
        on_state(WorkerState::Installing);
    }
    for stage in ["installing", "waiting"] {
        if let Some(worker) = js::get(registration, stage) {
            follow(&worker, active, Rc::clone(&on_state));
        }
    }
    let found_on = registration.clone();
    js::on(registration, "updatefound", move |_| {
        if let Some(worker) = js::get(&found_on, "installing") {
            follow(&worker, js::get(&found_on, "active").is_some(), Rc::clone(&on_state));
        }
    });
}

/// Follows one worker through its life. `update` says that another version was active before it.
fn follow(worker: &JsValue, update: bool, on_state: OnState) {
    js::on(worker, "statechange", move |event| {
        let state = js::get(&event, "target").and_then(|worker| js::text(&worker, "state")).unwrap_or_default();
        match (state.as_str(), update) {
            ("installed", true) => on_state(WorkerState::UpdateReady),
            ("activated", _) => on_state(WorkerState::ReadyOffline),
            ("redundant", false) => {
                on_state(WorkerState::Failed(
                    words!("the files of the app could not be kept on this phone").to_owned(),
                ));
            }
            _ => {}
        }
    });
}

fn reload() {
    if let Some(window) = web_sys::window() {
        drop(window.location().reload());
    }
}
