//! The program comes in parts (docs/decisions/0027): what opens the app and shows the hangar comes first and whole; the pages of the work, and all
//! others, are two parts of their own, fetched when the first page of theirs is asked for.
//!
//! The splitter makes a function of another part `async`: it waits until that part is there, then calls. Once it is there a call is ready
//! at once.

#![allow(
    unsafe_code,
    reason = "a function of another part of the program is one that is linked to: the splitter's macro declares it"
)]

use core::future::Future;
use core::pin::{Pin, pin};
use core::task::{Context, Poll, Waker};

use wasm_bindgen_futures::spawn_local;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use crate::app::prelude::*;

use super::address::{Address, Page};
use super::browser::{ahead, settings::start_anew};
use super::controls::{button, named, para};
use super::live::{live, tap};
use super::opening::{self, Opened};
use super::sending::Sending;
use super::shop::Shop;
use super::{data, pages};
use crate::language::words;
use crate::procedure::{Procedure, examples};
use crate::record::{AirframeId, Body, SpecValue};

/// Takes a record file in, all of it or nothing.
///
/// # Errors
/// Why nothing was taken in, in words.
pub(crate) async fn take_in(shop: Shop, file: web_sys::File) -> Result<Opened, String> {
    taking_in(shop, file).await.map_err(|_| unfetched_words().to_owned())?.await
}

/// What the record of an invented airframe begins with, by its place among them.
///
/// # Errors
/// Why it is not there, in words.
pub(crate) async fn example(place: usize) -> Result<Vec<Body>, String> {
    making_example(place).await.map_err(|_| unfetched_words().to_owned())
}

/// Brings the record and the folder into step.
///
/// # Errors
/// Why that could not be begun, in words. What became of it is the folder's to say.
pub(crate) async fn bring_into_step(sending: Sending, shop: Shop) -> Result<(), String> {
    let work = stepping(sending, shop).await.map_err(|_| unfetched_words().to_owned())?;
    work.await;
    Ok(())
}

/// The id of what stands in place of a page whose part is being fetched.
const FETCHING: &str = "opening";

type Drawn = Result<AnyView, SplitLoaderError>;

/// The page of an address; `here` is the address as it changes while the page stays.
pub(crate) fn page_of(page: Address, here: Memo<Address>) -> AnyView {
    match page {
        Address::Hangar => pages::hangar(),
        Address::Unknown => pages::nowhere(),
        Address::Of(
            id,
            page @ (Page::Overview
            | Page::Work(_)
            | Page::Specification(_)
            | Page::Instruments
            | Page::Place(_)
            | Page::Helper(..)
            | Page::Run(..)),
        ) => fetched(move || work(id, page.clone()), work_fetched),
        page => fetched(move || paper(page.clone(), here), paper_fetched),
    }
}

/// Draws at once what is there; else fetches its part of the program, and draws then.
fn fetched<D, F>(draw: impl Fn() -> D + Send + 'static, fetch: impl Fn() -> F + Send + 'static) -> AnyView
where
    D: Future<Output = Drawn>,
    F: Future<Output = Result<(), SplitLoaderError>> + 'static,
{
    let came = RwSignal::new(0_u32);
    let failed = RwSignal::new(false);
    let page = move || {
        came.track();
        if failed.get() {
            return unfetched();
        }
        if let Poll::Ready(Ok(page)) = pin!(draw()).poll(&mut Context::from_waker(Waker::noop())) {
            return page;
        }
        let fetching = fetch();
        spawn_local(async move {
            match fetching.await {
                Ok(()) => drop(came.try_update(|count| *count += 1)),
                Err(_) => drop(failed.try_set(true)),
            }
        });
        named(FETCHING, "hint", "Opening…")
    };
    live(page).into_any()
}

/// The picture of the pad goes, unless what is to take its place is being fetched.
pub(crate) fn leave_picture() {
    if document().get_element_by_id(FETCHING).is_none() {
        ahead::leave();
    }
}

fn unfetched_words() -> &'static str {
    words!("This part of the app is not on the phone yet, and could not be fetched. With a network it can.")
}

/// Said in place of the page.
fn unfetched() -> AnyView {
    ahead::leave();
    view! {
        <main id="unfetched" role="alert">
            {para("notice trouble", unfetched_words().to_owned())}
            {button("fetch-again", "plain", "Try again", tap(move |_| start_anew()))}
        </main>
    }
}

type OfProcedure = Box<dyn Fn(AirframeId, &'static Procedure) -> AnyView + Send>;

/// A page about a procedure in the version that the airframe is at, when there is one.
fn of_procedure(id: AirframeId, procedure: String, page: OfProcedure) -> AnyView {
    let found = data::procedure_of(id, procedure);
    view! { {live(move || found.get().map_or_else(pages::missing, |procedure| page(id, procedure)))} }
}

/// What is under way in another part.
type Work<T> = Pin<Box<dyn Future<Output = T>>>;

#[wasm_split(paper, fallible)]
fn taking_in(shop: Shop, file: web_sys::File) -> Result<Work<Result<Opened, String>>, SplitLoaderError> {
    Ok(Box::pin(opening::take_in(shop, file)))
}

#[wasm_split(paper, fallible)]
fn stepping(sending: Sending, shop: Shop) -> Result<Work<()>, SplitLoaderError> {
    Ok(Box::pin(sending.step_with_folder(shop)))
}

#[wasm_split(work, fallible)]
fn making_example(place: usize) -> Result<Vec<Body>, SplitLoaderError> {
    let Some(example) = examples().get(place) else { return Ok(Vec::new()) };
    let made = Body::AirframeMade { details: example.details.clone() };
    let set = |(key, value): &(String, SpecValue)| Body::SpecificationSet {
        key: key.clone(),
        value: value.clone(),
        source: example.source.clone(),
    };
    Ok(core::iter::once(made).chain(example.specification.iter().map(set)).collect())
}

/// The pages of the work on an airframe.
#[wasm_split(work, fallible, preload(work_fetched))]
fn work(id: AirframeId, page: Page) -> Drawn {
    Ok(match page {
        Page::Overview => pages::airframe(id),
        Page::Work(procedure) => of_procedure(id, procedure, Box::new(pages::work)),
        Page::Specification(procedure) => of_procedure(id, procedure, Box::new(pages::specification)),
        Page::Instruments => pages::instruments(id),
        Page::Place(procedure) => of_procedure(id, procedure, Box::new(pages::place)),
        Page::Helper(procedure, _) => of_procedure(id, procedure, Box::new(pages::helper)),
        Page::Run(procedure, _) => of_procedure(id, procedure, Box::new(pages::run)),
        _ => pages::nowhere(),
    })
}

/// Every other page.
#[wasm_split(paper, fallible, preload(paper_fetched))]
fn paper(page: Address, here: Memo<Address>) -> Drawn {
    Ok(match page {
        Address::Settings => pages::settings(),
        Address::Folder => pages::folder(),
        Address::Teach => pages::teach(),
        Address::NewAirframe => pages::new_airframe(),
        Address::Desk => pages::desk(),
        Address::Bench => pages::bench(),
        Address::BenchOf(id) => pages::bench_of(&id),
        Address::Of(id, page) => paper_of(id, page, here),
        Address::Hangar | Address::Unknown => pages::nowhere(),
    })
}

fn paper_of(id: AirframeId, page: Page, here: Memo<Address>) -> AnyView {
    match page {
        Page::Write(procedure, _) => pages::write(id, procedure, here),
        Page::WholeSpecification => pages::whole_specification(id),
        Page::Reread(of) if of.is_empty() => pages::reread(id, None),
        Page::Reread(of) => of_procedure(id, of, Box::new(|id, procedure| pages::reread(id, Some(procedure)))),
        Page::People => pages::people(id),
        Page::Record => pages::record(id),
        Page::Send => pages::send(id),
        Page::Todo => pages::todo(id),
        Page::Time => pages::time(id),
        Page::Photo(entry) => pages::photo(id, entry),
        Page::Question(entry) => pages::question(id, entry),
        Page::Ask(of, step) => {
            of_procedure(id, of, Box::new(move |id, procedure| pages::ask(id, procedure, step.clone())))
        }
        Page::Notes(of, step) => {
            of_procedure(id, of, Box::new(move |id, procedure| pages::notes(id, procedure, step.clone())))
        }
        _ => pages::nowhere(),
    }
}
