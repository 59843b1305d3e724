//! The way to a WebDAV folder: one `fetch` for each request, to the address that was typed and nowhere else.

use core::cell::{Cell, RefCell};
use core::future::Future;
use std::rc::Rc;

use js_sys::{Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

use super::js;
use crate::folder::{Answer, Dropped, Method, Request, Wire};

/// How long an exchange may take, in milliseconds: half a minute, and a minute more for each megabyte that is sent.
const PATIENCE: usize = 30_000;
const BYTES_A_MILLISECOND: usize = 17;

/// A folder, and who asks.
#[derive(Clone, Debug)]
pub struct Dav {
    /// The address, a slash at its end.
    pub address: String,
    /// The header field `Authorization`, empty for none.
    pub authorization: String,
    /// The way to give up.
    pub stop: Stop,
}

/// Gives up what is under way. A clone is another handle on the same.
#[derive(Clone, Debug, Default)]
pub struct Stop {
    given_up: Rc<Cell<bool>>,
    running: Rc<RefCell<Option<JsValue>>>,
}

impl Stop {
    /// Ends the exchange that runs, and every later one at once.
    pub fn now(&self) {
        self.given_up.set(true);
        if let Some(running) = self.running.take() {
            drop(js::call(&running, "abort", &[]));
        }
    }
}

impl Dav {
    async fn exchange(&self, request: &Request<'_>) -> Result<Answer, JsValue> {
        if self.stop.given_up.get() {
            return Err(JsValue::NULL);
        }
        let text = |text: &str| JsValue::from_str(text);
        let headers: Vec<(&str, JsValue)> = request.headers.iter().map(|(name, value)| (*name, text(value))).collect();
        let headers = js::object(&headers);
        if !self.authorization.is_empty() {
            js_sys::Reflect::set(&headers, &text("Authorization"), &text(&self.authorization))?;
        }
        let stop = js::construct("AbortController", &[])?;
        let mut options = vec![
            ("method", text(request.method.word())),
            ("headers", headers),
            // Never the browser's own: no cookies, no password that it keeps, no other host than the one that was typed.
            ("credentials", text("omit")),
            ("redirect", text("error")),
            ("cache", text("no-store")),
            ("referrerPolicy", text("no-referrer")),
            ("signal", js::get(&stop, "signal").unwrap_or_default()),
        ];
        if matches!(request.method, Method::Put | Method::List) {
            options.push(("body", Uint8Array::from(request.body).into()));
        }
        self.stop.running.replace(Some(stop.clone()));
        let (done, stopping) = (Rc::new(Cell::new(false)), stop.clone());
        let late = Rc::clone(&done);
        let patience = PATIENCE + request.body.len() / BYTES_A_MILLISECOND;
        js::after(u32::try_from(patience).unwrap_or(u32::MAX), move || {
            if !late.get() {
                drop(js::call(&stopping, "abort", &[]));
            }
        });
        let address = text(&format!("{}{}", self.address, request.path));
        let answered = async {
            let answer = js::call_async(&js_sys::global(), "fetch", &[&address, &js::object(&options)]).await?;
            read(&answer, request.at_most).await
        };
        let outcome = answered.await;
        done.set(true);
        if outcome.is_err() {
            drop(js::call(&stop, "abort", &[]));
        }
        outcome
    }
}

/// The whole of an answer, if it is not longer than it may be.
async fn read(answer: &JsValue, at_most: usize) -> Result<Answer, JsValue> {
    let headers = js::get(answer, "headers").unwrap_or_default();
    let field = |name: &str| js::call(&headers, "get", &[&JsValue::from_str(name)]).ok()?.as_string();
    let mut body = Vec::new();
    if let Some(stream) = js::get(answer, "body") {
        let reader = js::call(&stream, "getReader", &[])?;
        while let Some(piece) = js::get(&js::call_async(&reader, "read", &[]).await?, "value") {
            let piece = piece.dyn_into::<Uint8Array>()?;
            if body.len() + piece.length() as usize > at_most {
                return Err(JsValue::NULL);
            }
            let start = body.len();
            body.resize(start + piece.length() as usize, 0);
            piece.copy_to(&mut body[start..]);
        }
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "three digits")]
    let status = js::get(answer, "status").and_then(|status| status.as_f64()).unwrap_or_default() as u16;
    Ok(Answer {
        status,
        etag: field("ETag"),
        retry_after: field("Retry-After").and_then(|seconds| seconds.parse().ok()),
        body,
    })
}

impl Wire for Dav {
    async fn send(&self, request: &Request<'_>) -> Result<Answer, Dropped> {
        self.exchange(request).await.map_err(|_| Dropped)
    }

    fn pause(&self, millis: u32) -> impl Future<Output = ()> {
        let waited = Promise::new(&mut |done, _| {
            js::after(millis, move || drop(done.call0(&JsValue::NULL)));
        });
        let given_up = self.stop.given_up.get();
        async move {
            if !given_up {
                drop(JsFuture::from(waited).await);
            }
        }
    }

    fn chance(&self) -> f64 {
        js_sys::Math::random()
    }
}

/// The device says that it has a network. One that says so may be wrong; one that says no is right.
#[must_use]
pub fn online() -> bool {
    js::navigator("onLine").is_none_or(|online| online.is_truthy())
}

/// Runs `handler` whenever the device says that its network came or went, as long as the page lives.
pub fn listen(handler: impl Fn(bool) + 'static) {
    let handler = Rc::new(handler);
    for event in ["online", "offline"] {
        let handler = Rc::clone(&handler);
        js::on(&js_sys::global(), event, move |_| handler(online()));
    }
}
