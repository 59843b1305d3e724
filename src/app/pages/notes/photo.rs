//! Photos: the form that takes one, and how they are shown.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::address::{Address, Page};
use crate::app::browser::photos::{Picture, when_near};
use crate::app::browser::{pick, shrink};
use crate::app::controls::{button_when, para, part, row, says, text_field};
use crate::app::live::{changing, live, tap};
use crate::app::shop::Shop;
use crate::language::{tr, words};
use crate::record::{About, AirframeId, Body, EntryId, Photo, photo_not_here};

/// A photo that was chosen and is not kept yet.
struct Taken {
    photo: Photo,
    file: Vec<u8>,
    picture: Option<Picture>,
}

/// The form: a photo is chosen, looked at, and kept.
pub(crate) fn form(airframe: AirframeId, about: About) -> AnyView {
    let shop = Shop::here();
    let said = RwSignal::new(String::new());
    let caption = RwSignal::new(String::new());
    let taken = RwSignal::new(None::<Taken>);
    // Which choice is the last: a large photo is made smaller while another is chosen.
    let turn = StoredValue::new(0_u32);
    let choose = move |event: leptos::ev::Event| {
        let Some(file) = pick::chosen(&event) else { return };
        taken.set(None);
        turn.update_value(|turn| *turn += 1);
        let mine = turn.get_value();
        said.set(words!("Making the picture smaller…").to_owned());
        spawn_local(async move {
            let shrunk = shrink::shrink(&file).await;
            if turn.try_get_value() != Some(mine) {
                return;
            }
            match shrunk {
                Ok((photo, file)) => {
                    let size = photo.size_words();
                    let picture = Picture::of(&file);
                    if taken.try_set(Some(Taken { photo, file, picture })).is_none() {
                        said.try_set(tr!("Can the display be read? {size}. Not kept yet.", size));
                    }
                }
                Err(refused) => drop(said.try_set(refused.to_string())),
            }
        });
    };
    let input = |id: &'static str, label: &'static str, capture: Option<&'static str>| {
        view! {
            <label class="plain file">
                {label}
                <input id=id type="file" accept="image/*" capture=capture on:change=choose/>
            </label>
        }
    };
    let address = Memo::new(move |_| {
        taken.with(|taken| taken.as_ref().and_then(|taken| Some(taken.picture.as_ref()?.address.clone())))
    });
    let preview = live(move || {
        let picture = |address: String| view! { <img id="photo-taken" class="photo-taken" src=address alt="The photo just taken"/> };
        address.get().map(picture)
    });
    let keep = tap(move |_| {
        let Some(chosen) = taken.try_update(Option::take).flatten() else { return };
        let (about, digest) = (about.clone(), chosen.photo.digest);
        let words = caption.get_untracked().trim().to_owned();
        let body = Body::PhotoAttached { about, photo: chosen.photo.clone(), caption: words };
        said.set(words!("Keeping it…").to_owned());
        spawn_local(async move {
            match shop.keep_with_photo(airframe, body, (digest, chosen.file.clone())).await {
                Ok(_) => {
                    said.try_set(words!("Kept.").to_owned());
                    caption.try_set(String::new());
                }
                Err(error) => {
                    said.try_set(error.to_string());
                    taken.try_update(|now| {
                        now.get_or_insert(chosen);
                    });
                }
            }
        });
    });
    part(
        "Photo",
        vec![
            para(
                "",
                "Have the instrument's display readable, and enough of the airframe in view to tell which side it is.",
            ),
            row(vec![
                input("photo-camera", "Take a photo", Some("environment")),
                input("photo-file", "Choose one taken before", None),
            ]),
            says("photo-said", "", "status", live(move || said.get())),
            view! { {preview} },
            text_field("caption", "What it shows, and on which side", "", caption),
            button_when("keep-photo", "Keep the photo", move || taken.with(Option::is_some), keep),
        ],
    )
}

/// The photo that an entry attached, in small and leading to the whole; nothing when the entry is of another kind.
pub(crate) fn thumbnail(airframe: AirframeId, entry: EntryId) -> Option<AnyView> {
    let (photo, caption) = attached(entry)?;
    let address = Address::Of(airframe, Page::Photo(entry)).path();
    Some(view! { <a class="thumbnail" href=address>{shown(entry, &photo, &caption)}</a> })
}

/// The photo that an entry attached, and its caption.
pub(crate) fn attached(entry: EntryId) -> Option<(Photo, String)> {
    Shop::here().ledger.with_untracked(|ledger| match &ledger.get(entry)?.body {
        Body::PhotoAttached { photo, caption, .. } => Some((photo.clone(), caption.clone())),
        _ => None,
    })
}

/// A photo. Its file is read when it comes near what is seen of the page, and let go with the page.
pub(crate) fn shown(entry: EntryId, photo: &Photo, caption: &str) -> AnyView {
    let shop = Shop::here();
    let (digest, words) = (photo.digest, Photo::words(caption).to_owned());
    // Not looked for yet; then the picture, or none when its file is not here.
    let found = RwSignal::new(None::<Option<Picture>>);
    let id = format!("photo-{entry}");
    when_near(id.clone(), move || {
        spawn_local(async move {
            let file = match shop.db() {
                Some(db) => db.photo(digest).await.ok().flatten(),
                None => None,
            };
            found.try_set(Some(file.and_then(|file| Picture::of(&file))));
        });
    });
    let (width, height) = (photo.width.to_string(), photo.height.to_string());
    let address = changing(move || found.with(|found| Some(found.as_ref()?.as_ref()?.address.clone())));
    let gone = Memo::new(move |_| found.with(|found| matches!(found, Some(None))));
    let missing = live(move || gone.get().then(|| view! { <span class="photo-gone">{photo_not_here()}</span> }));
    let hidden = changing(move || gone.get());
    view! {
        <img id=id class="photo" src=address alt=words width=width height=height decoding="async" hidden=hidden/>
        {missing}
    }
}
