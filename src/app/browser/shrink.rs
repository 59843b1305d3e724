//! A picture that was chosen, made small enough to keep: in a worker, or on the page where there is none that can.

use js_sys::{Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::File;

use super::js;
use crate::record::{MAX_PICTURE, PICTURE_HEAD, Photo, PhotoError, picture_size, within};

/// A worker that has not answered in this many milliseconds is ended.
const PATIENCE: u32 = 60_000;

/// The photo that a file is kept as, and its bytes. The file is measured before it is decoded.
///
/// # Errors
/// Why it cannot be kept.
pub async fn shrink(file: &File) -> Result<(Photo, Vec<u8>), PhotoError> {
    within(file.size() as u64, MAX_PICTURE)?;
    let unreadable = |_| PhotoError::Unreadable;
    let head = js::call(file, "slice", &[&0.into(), &(PICTURE_HEAD as f64).into()]).map_err(unreadable)?;
    let head = js::call_async(&head, "arrayBuffer", &[]).await.map_err(unreadable)?;
    picture_size(&Uint8Array::new(&head).to_vec())?;
    drop(head);
    let small = match in_worker(file).await {
        Ok(None) => return Err(PhotoError::Unreadable),
        Ok(Some(small)) => small,
        Err(_) => on_page(file).await.map_err(unreadable)?,
    };
    Photo::of(&small)
}

fn script() -> Result<JsValue, JsValue> {
    Ok(js::beside("photo.js").ok_or("no base address")?.into())
}

fn bytes(answer: JsValue) -> Result<Vec<u8>, JsValue> {
    Ok(answer.dyn_into::<Uint8Array>()?.to_vec())
}

/// `None` when it took too long: the page would take as long, and stand still.
async fn in_worker(file: &File) -> Result<Option<Vec<u8>>, JsValue> {
    let worker = js::construct("Worker", &[&script()?])?;
    let mut listening = Vec::new();
    let answered = Promise::new(&mut |answer, failed| {
        js::after(PATIENCE, {
            let answer = answer.clone();
            move || drop(answer.call0(&JsValue::NULL))
        });
        listening.push(js::Listening::new(&worker, "message", move |event| {
            drop(answer.call1(&JsValue::NULL, &js::get(&event, "data").unwrap_or(JsValue::NULL)));
        }));
        listening.push(js::Listening::new(&worker, "error", move |event| {
            drop(failed.call1(&JsValue::NULL, &event));
        }));
    });
    js::call(&worker, "postMessage", &[file])?;
    let answer = js::settled(&answered).await;
    drop(listening);
    drop(js::call(&worker, "terminate", &[]));
    let answer = answer?;
    if answer.is_undefined() { Ok(None) } else { bytes(answer).map(Some) }
}

async fn on_page(file: &File) -> Result<Vec<u8>, JsValue> {
    if js::global("trammelSmall").is_none() {
        let document = web_sys::window().and_then(|window| window.document()).ok_or("no document")?;
        let element = document.create_element("script")?;
        let loaded = Promise::new(&mut |done, failed| {
            drop(js::call(&element, "addEventListener", &[&"load".into(), &done]));
            drop(js::call(&element, "addEventListener", &[&"error".into(), &failed]));
        });
        element.set_attribute("src", &script()?.as_string().unwrap_or_default())?;
        document.body().ok_or("no body")?.append_child(&element)?;
        js::settled(&loaded).await?;
    }
    bytes(js::call_async(&js_sys::global(), "trammelSmall", &[file]).await?)
}
