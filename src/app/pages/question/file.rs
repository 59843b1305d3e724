//! The file that goes to whom is asked, or back: made before it is sent, so that its size is known and a tap sends it at once.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::browser::share;
use crate::app::controls::{button_when, part, says, tick};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;
use crate::language::tr;
use crate::record::{Digest, EntryId, Photo};
use crate::report::{RecordFile, size_words, with_photos};

/// What a file is made of, and how it is called.
pub(super) struct Parcel {
    /// The part's heading, and what the button says.
    pub(super) heading: &'static str,
    /// The button's id.
    pub(super) button: &'static str,
    /// The file's name.
    pub(super) name: String,
    /// Its entries as the ledger has them now.
    pub(super) entries: Box<dyn Fn() -> Option<RecordFile> + Send>,
    /// Photos that may go with it, the newest first.
    pub(super) photos: Vec<(EntryId, Photo, String)>,
}

/// The part of a page that makes the file and sends it.
pub(super) fn sending(parcel: Parcel) -> AnyView {
    let Parcel { heading, button, name, entries, photos } = parcel;
    let shop = Shop::here();
    let new = || RwSignal::new(String::new());
    // The file, empty while it is being made; what is said of it; what became of it.
    let (made, words, said) = (new(), new(), new());
    let chosen: Vec<(Digest, RwSignal<bool>)> =
        photos.iter().map(|(_, photo, _)| (photo.digest, RwSignal::new(true))).collect();
    let ticks: Vec<AnyView> =
        photos.iter().zip(&chosen).map(|(photo, (_, marked))| photo_tick(photo, *marked)).collect();
    // A later choice overtakes an earlier one that is still being made into a file.
    let turn = StoredValue::new(0_usize);
    // What is in it.
    let inside = StoredValue::new(None::<(Vec<EntryId>, Vec<Digest>)>);
    Effect::new(move |_| {
        let wanted: Vec<Digest> = chosen.iter().filter(|(_, marked)| marked.get()).map(|(digest, _)| *digest).collect();
        let Some(file) = entries() else { return };
        turn.update_value(|turn| *turn += 1);
        let mine = turn.get_value();
        made.set(String::new());
        spawn_local(async move {
            let count = wanted.len();
            let ids: Vec<EntryId> = file.entries.iter().map(|entry| entry.id).collect();
            let files = read(shop, wanted).await;
            let missing = count - files.len();
            let digests: Vec<Digest> = files.iter().map(|(digest, _)| *digest).collect();
            let (text, left) = with_photos(file, files);
            if turn.try_get_value() == Some(mine) {
                words.try_set(size_words(text.len(), count - missing - left, left + missing));
                inside.try_set_value(Some((ids, if left == 0 { digests } else { Vec::new() })));
                made.try_set(text);
            }
        });
    });
    let send = tap(move |_| {
        let (name, text) = (name.clone(), made.get_untracked());
        spawn_local(async move {
            let sent = shop.sending.send(shop, &name, "application/json", text.as_bytes()).await;
            if sent.as_ref().is_ok_and(|sent| sent.left())
                && let Some((entries, photos)) = inside.get_value()
            {
                shop.note_file(entries, photos).await;
            }
            said.try_set(share::outcome(&name, sent));
        });
    });
    part(
        heading,
        vec![
            view! { {ticks} },
            says("parcel", "hint", "", live(move || words.get())),
            button_when(button, heading, move || made.with(|made| !made.is_empty()), send),
            says("sent", "", "status", live(move || said.get())),
        ],
    )
}

fn photo_tick((entry, photo, caption): &(EntryId, Photo, String), marked: RwSignal<bool>) -> AnyView {
    let words = tr!("Photo: {caption}\n{size}", caption = Photo::words(caption), size = photo.size_words());
    tick(format!("with-{entry}"), words, marked)
}

/// The files of those photos that are on this phone.
async fn read(shop: Shop, wanted: Vec<Digest>) -> Vec<(Digest, Vec<u8>)> {
    let mut files = Vec::new();
    let Some(db) = shop.db() else { return files };
    for digest in wanted {
        if let Ok(Some(bytes)) = db.photo(digest).await {
            files.push((digest, bytes));
        }
    }
    files
}
