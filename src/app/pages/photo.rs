//! One photo as large as the phone; or, of a reading, the form for a photo of it.

use crate::app::prelude::*;

use super::notes::{attached, form, shown, thumbnail};
use super::{missing, with_airframe};
use crate::app::address::{Address, Page};
use crate::app::controls::{named, para};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::live;
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::record::{About, Airframe, AirframeId, Body, EntryId, Reading};
use crate::report::{Line, lines};

/// The page.
pub(crate) fn photo(id: AirframeId, entry: EntryId) -> AnyView {
    with_airframe(data::airframe(id), move |airframe| {
        let shop = Shop::here();
        let about = shop.ledger.with_untracked(|ledger| match &ledger.get(entry)?.body {
            Body::PhotoAttached { about, .. } => Some(about.clone()),
            Body::ReadingTaken(Reading { run, step, .. }) => {
                Some(About { run: Some(*run), step: Some(step.clone()), entry: Some(entry) })
            }
            _ => None,
        });
        let line = shop.ledger.with_untracked(|ledger| lines(ledger, id).into_iter().find(|line| line.entry == entry));
        match (about, line) {
            (Some(about), Some(line)) if attached(entry).is_some() => whole(&airframe, &about, line),
            (Some(about), Some(line)) => of_reading(&airframe, about, line),
            _ => missing(),
        }
    })
}

/// Where a step of a run is: on its page, or on that of its notes.
fn place(airframe: &Airframe, about: &About, page: fn(String, String) -> Page) -> Option<String> {
    let run = about.run?;
    let started = airframe.runs.iter().find(|started| started.run == run)?;
    Some(Address::Of(airframe.id, page(started.procedure.clone(), about.step.clone()?)).path())
}

fn whole(airframe: &Airframe, about: &About, line: Line) -> AnyView {
    let up = place(airframe, about, Page::Notes).map_or_else(
        || (Address::Of(airframe.id, Page::Record).path(), words!("Record").to_owned()),
        |notes| (notes, words!("Notes").to_owned()),
    );
    let entry = line.entry;
    let picture = attached(entry).map(|(photo, caption)| {
        view! {
            <div class="photo-whole">{shown(entry, &photo, &caption)}</div>
            {para("hint", photo.size_words())}
        }
    });
    view! {
        <main class="photo-page">
            {still_head("Photo", up)}
            {picture}
            {named("photo-words", "entry-what", line.what)}
            {para("entry-when", format!("{} · {}", line.when, line.by))}
            {line.struck.map(|reason| para("entry-struck", tr!("Struck out: {reason}", reason)))}
        </main>
    }
}

fn of_reading(airframe: &Airframe, about: About, line: Line) -> AnyView {
    let (shop, id, entry) = (Shop::here(), airframe.id, line.entry);
    let up = place(airframe, &about, Page::Run)
        .map(|step| (step, words!("Back to the step").to_owned()))
        .unwrap_or_default();
    let photos = Memo::new(move |_| {
        shop.ledger.with(|ledger| {
            let photos = ledger
                .in_force(id)
                .into_iter()
                .filter(|kept| matches!(&kept.body, Body::PhotoAttached { about, .. } if about.entry == Some(entry)));
            photos.map(|kept| kept.id).collect::<Vec<_>>()
        })
    });
    let list = live(move || photos.get().into_iter().filter_map(|kept| thumbnail(id, kept)).collect::<Vec<_>>());
    view! {
        <main class="photo-page">
            {still_head("Photo of a reading", up)}
            {named("photo-words", "lead", line.what)}
            <div class="thumbnails">{list}</div>
            {form(id, about)}
        </main>
    }
}
