//! One writer among the app's tabs, by a Web Lock that the writing tab holds for as long as it lives.
//!
//! Two writers would lose nothing (the record is a set of entries, kept by id), but each would show a run that the
//! other has moved on.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::{Function, Promise};
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_futures::spawn_local;

use super::{ids, js, tabs};

const LOCK: &str = "trammel-writer";
/// A writing tab that has not handed over in this many milliseconds is asleep, and loses the lock.
const PATIENCE: u32 = 1_500;

thread_local! {
    static THIS_TAB: RefCell<Option<Rc<Tab>>> = const { RefCell::new(None) };
}

struct Tab {
    name: String,
    locks: JsValue,
    on_change: Box<dyn Fn(bool)>,
    reported: Cell<Option<bool>>,
    /// Gives the lock back; there while this tab writes.
    give_back: RefCell<Option<Function>>,
    /// Takes this tab out of the queue; there while it waits.
    leave_queue: RefCell<Option<JsValue>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Ask {
    /// Have the lock now or not at all.
    IfFree,
    /// Stand in the queue for it.
    Wait,
    /// Take it from the tab that has it.
    Steal,
}

/// Tries to be the tab that writes. `on_change` hears at once whether this tab writes, and again whenever that changes:
/// `true` when the lock comes to it, `false` when another tab takes over. Where the browser has no Web Locks every tab
/// writes. Call it once.
pub fn hold_writer_lock(on_change: impl Fn(bool) + 'static) {
    let Some(locks) = js::navigator("locks") else { return on_change(true) };
    let tab = Rc::new(Tab {
        name: ids::new().to_string(),
        locks,
        on_change: Box::new(on_change),
        reported: Cell::new(None),
        give_back: RefCell::new(None),
        leave_queue: RefCell::new(None),
    });
    let hearing = Rc::clone(&tab);
    tabs::hear_release(move |to| hearing.make_way(&to));
    THIS_TAB.replace(Some(Rc::clone(&tab)));
    tab.ask(Ask::IfFree);
}

/// "Write here instead": asks the writing tab to hand over to this one, and takes the lock if it does not answer. The
/// change is heard by the callback of [`hold_writer_lock`].
pub fn ask_for_writer() {
    let Some(tab) = THIS_TAB.with_borrow(Clone::clone) else { return };
    tabs::post_release(&tab.name);
    js::after(PATIENCE, move || {
        if tab.give_back.borrow().is_none() {
            tab.leave();
            tab.ask(Ask::Steal);
        }
    });
}

impl Tab {
    fn report(&self, writes: bool) {
        if self.reported.replace(Some(writes)) != Some(writes) {
            (self.on_change)(writes);
        }
    }

    /// Another tab wants to write: whoever writes gives the lock back, whoever waits goes behind that tab.
    fn make_way(self: &Rc<Self>, to: &str) {
        if to == self.name {
            return;
        }
        self.report(false);
        self.leave();
        if let Some(give_back) = self.give_back.take() {
            drop(give_back.call0(&JsValue::NULL));
        }
        self.ask(Ask::Wait);
    }

    fn leave(&self) {
        if let Some(controller) = self.leave_queue.take() {
            drop(js::call(&controller, "abort", &[]));
        }
    }

    fn ask(self: &Rc<Self>, ask: Ask) {
        let mut options = vec![("mode", JsValue::from_str("exclusive"))];
        match ask {
            Ask::IfFree => options.push(("ifAvailable", JsValue::TRUE)),
            Ask::Steal => options.push(("steal", JsValue::TRUE)),
            Ask::Wait => {
                if let Ok(controller) = js::construct("AbortController", &[]) {
                    options.extend(js::get(&controller, "signal").map(|signal| ("signal", signal)));
                    self.leave_queue.replace(Some(controller));
                }
            }
        }
        let granted = Rc::new(Cell::new(false));
        let (tab, got_it) = (Rc::clone(self), Rc::clone(&granted));
        let hold = Closure::once_into_js(move |lock: JsValue| -> JsValue {
            if lock.is_null() {
                tab.report(false);
                tab.ask(Ask::Wait);
                return JsValue::UNDEFINED;
            }
            got_it.set(true);
            tab.leave_queue.take();
            tab.hold()
        });
        let request = js::call(&self.locks, "request", &[&JsValue::from_str(LOCK), &js::object(&options), &hold]);
        let tab = Rc::clone(self);
        spawn_local(async move {
            let ended = match request {
                Ok(request) => js::settled(&request).await,
                Err(thrown) => Err(thrown),
            };
            match ended {
                // Another tab took the lock while this one slept.
                Err(_) if granted.get() => {
                    tab.give_back.take();
                    tab.report(false);
                    tab.ask(Ask::Wait);
                }
                // The browser has locks but gives none to this page.
                Err(thrown) if js::name_of(&thrown) != "AbortError" => tab.report(true),
                _ => {}
            }
        });
    }

    /// Holds the lock: a promise that is kept when the lock is given back.
    fn hold(&self) -> JsValue {
        let mut give_back = None;
        let held = Promise::new(&mut |resolve, _| give_back = Some(resolve));
        self.give_back.replace(give_back);
        self.report(true);
        held.into()
    }
}
