//! The file that goes to whom is asked, or back: made before it is sent, so that its size is known and a tap sends it at once.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::browser::share;
use crate::app::controls::{button_when, part, says, tick};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::record::{Digest, EntryId, Photo};
use crate::report::{RecordFile, with_photos};

/// What a file is made of, and how it is called.
pub(super) struct Parcel {
    /// The part's heading.
    pub(super) heading: &'static str,
    /// The button's id and label.
    pub(super) button: (&'static str, &'static str),
    /// The file's name.
    pub(super) name: String,
    /// Its entries as the ledger has them now.
    pub(super) entries: Box<dyn Fn() -> Option<RecordFile> + Send>,
    /// Photos that may go with it, the newest first.
    pub(super) photos: Vec<(EntryId, Photo, String)>,
}

/// The part of a page that makes the file and sends it.
pub(super) fn sending(parcel: Parcel) -> AnyView {
    let Parcel { heading, button: (id, label), name, entries, photos } = parcel;
    let shop = Shop::here();
    let said = RwSignal::new(String::new());
    let made = RwSignal::new(None::<(String, usize, usize)>);
    let chosen: Vec<(Digest, RwSignal<bool>)> =
        photos.iter().map(|(_, photo, _)| (photo.digest, RwSignal::new(true))).collect();
    let ticks: Vec<AnyView> =
        photos.iter().zip(&chosen).map(|(photo, (_, marked))| photo_tick(photo, *marked)).collect();
    // A later choice overtakes an earlier one that is still being made into a file.
    let turn = StoredValue::new(0_u32);
    Effect::new(move |_| {
        let wanted: Vec<Digest> = chosen.iter().filter(|(_, marked)| marked.get()).map(|(digest, _)| *digest).collect();
        let Some(file) = entries() else { return };
        turn.update_value(|turn| *turn += 1);
        let mine = turn.get_value();
        made.set(None);
        spawn_local(async move {
            let count = wanted.len();
            let (files, missing) = read(shop, wanted).await;
            let (text, left) = with_photos(file, files);
            if turn.try_get_value() == Some(mine) {
                made.try_set(Some((text, count - missing - left, left + missing)));
            }
        });
    });
    let words = move || made.with(|made| made.as_ref().map(|(text, with, left)| size_words(text.len(), *with, *left)));
    let send = tap(move |_| {
        let Some((text, ..)) = made.get_untracked() else { return };
        let name = name.clone();
        spawn_local(async move {
            let sent = share::share_file(&name, "application/json", text.as_bytes()).await;
            said.try_set(share::outcome(&name, sent));
        });
    });
    part(
        heading,
        vec![
            view! { {ticks} },
            says("parcel", "hint", "", live(words)),
            button_when(id, label, move || made.with(Option::is_some), send),
            says("sent", "", "status", live(move || said.get())),
        ],
    )
}

fn photo_tick((entry, photo, caption): &(EntryId, Photo, String), marked: RwSignal<bool>) -> AnyView {
    let words = format!("Photo: {}\n{}", Photo::words(caption), photo.size_words());
    tick(format!("with-{entry}"), words, marked)
}

/// The files of photos, and how many of them are not on this phone.
async fn read(shop: Shop, wanted: Vec<Digest>) -> (Vec<(Digest, Vec<u8>)>, usize) {
    let count = wanted.len();
    let mut files = Vec::new();
    let Some(db) = shop.db() else { return (files, count) };
    for digest in wanted {
        if let Ok(Some(bytes)) = db.photo(digest).await {
            files.push((digest, bytes));
        }
    }
    let missing = count - files.len();
    (files, missing)
}

fn size_words(bytes: usize, with: usize, left: usize) -> String {
    let photos = |count: usize| if count == 1 { "1 photo".to_owned() } else { format!("{count} photos") };
    let mut words = format!("The file has {}.{} MB", bytes / 1_000_000, bytes / 100_000 % 10);
    if with > 0 {
        words.push_str(&format!(", with {}", photos(with)));
    }
    words.push('.');
    if left > 0 {
        words.push_str(&format!(
            " {} left out: no room under 5 MB, or not on this phone. What is said of them is in the file.",
            photos(left)
        ));
    }
    words
}
