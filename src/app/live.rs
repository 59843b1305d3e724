//! Closures of one type. The framework compiles its machinery anew for every closure type that a view holds; boxed, all of them
//! share one copy, which is worth a fifth of the download.

use std::mem;

use crate::app::prelude::*;

/// A part of a view that changes by itself.
pub(crate) type Live = Box<dyn FnMut() -> AnyView + Send>;

/// Draws `part` again whenever a signal that it read has changed.
pub(crate) fn live<V: IntoAny + 'static>(mut part: impl FnMut() -> V + Send + 'static) -> Live {
    Box::new(move || part().into_any())
}

/// An attribute's value that changes by itself.
pub(crate) fn changing<T: 'static>(value: impl FnMut() -> T + Send + 'static) -> Box<dyn FnMut() -> T + Send> {
    Box::new(value)
}

/// Sets a signal that says something else: what stands by it is not drawn anew for nothing.
pub(crate) fn put_back<T: PartialEq + Send + Sync + 'static>(signal: RwSignal<T>, value: T) {
    if signal.with_untracked(|now| *now != value) {
        signal.set(value);
    }
}

/// One thing at a time: whoever hits again while the first is being kept begins no second.
#[derive(Clone, Copy)]
pub(crate) struct Busy(StoredValue<bool>);

impl Busy {
    pub(crate) fn new() -> Self {
        Self(StoredValue::new(false))
    }

    /// Whether something may begin; it has begun then, until its [end](Self::end).
    pub(crate) fn begin(self) -> bool {
        self.0.try_update_value(|busy| !mem::replace(busy, true)) == Some(true)
    }

    /// What was begun has ended; the page may be gone meanwhile.
    pub(crate) fn end(self) {
        self.0.try_set_value(false);
    }
}

/// What a tap does.
pub(crate) type Tap = Box<dyn FnMut(leptos::ev::MouseEvent)>;

/// What a tap does.
pub(crate) fn tap(action: impl FnMut(leptos::ev::MouseEvent) + 'static) -> Tap {
    Box::new(action)
}
