//! Sending a record on: what is to be sent is chosen, the file is made, and a tap hands it over.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::with_airframe;
use crate::app::address::{Address, Page};
use crate::app::browser::share;
use crate::app::controls::{button_when, choice_of, named, para, says};
use crate::app::data;
use crate::app::frame::still_head;
use crate::app::live::{live, tap};
use crate::app::parcel::{Made, Unmade, make};
use crate::app::shop::Shop;
use crate::language::{self, words};
use crate::record::{Airframe, AirframeId};
use crate::report::{Parcel, backup_words, made_words, making_words, photos_of};

/// The page.
pub(crate) fn send(id: AirframeId) -> AnyView {
    with_airframe(data::airframe(id), page)
}

fn page(airframe: Airframe) -> AnyView {
    let (shop, id) = (Shop::here(), airframe.id);
    let (words, photos) = shop.ledger.with_untracked(|ledger| {
        let photos = photos_of(ledger, &[id]);
        (backup_words(std::slice::from_ref(&airframe), ledger.of(id).count(), &photos), photos)
    });
    let offered = Parcel::ALL.into_iter().filter(|parcel| *parcel != Parcel::Whole || !photos.is_empty());
    let options = offered.map(|parcel| (parcel.key().to_owned(), language::ours(parcel.title()).to_owned())).collect();
    let chosen = RwSignal::new(String::new());
    let parcel = move || chosen.with(|key| Parcel::ALL.into_iter().find(|parcel| parcel.key() == key));
    view! {
        <main class="send">
            {still_head("Send", (Address::Of(id, Page::Overview).path(), airframe.details.model.clone()))}
            {named("about", "", words)}
            {choice_of("send", "What do you want to send?", chosen, options)}
            {says("send-hint", "hint", "", live(move || parcel().map_or("", Parcel::hint)))}
            {sending(Some(airframe), Box::new(parcel))}
            {para("hint", "Nothing leaves this phone until you send it.")}
        </main>
    }
}

/// Makes the file that is wanted, says how far it is, and sends it at a tap: browsers open the share sheet only straight from one.
pub(super) fn sending(airframe: Option<Airframe>, wanted: Box<dyn Fn() -> Option<Parcel> + Send>) -> AnyView {
    let shop = Shop::here();
    let (words, said) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let ready = RwSignal::new(false);
    let made = StoredValue::new_local(None::<Made>);
    // A later choice overtakes an earlier one that is still being made into a file.
    let turn = StoredValue::new(0_usize);
    Effect::new(move |_| {
        let parcel = wanted();
        turn.update_value(|turn| *turn += 1);
        let mine = turn.get_value();
        ready.set(false);
        said.set(String::new());
        words.set(String::new());
        let Some(parcel) = parcel else { return };
        words.set(words!("Making the file…").to_owned());
        let airframe = airframe.clone();
        spawn_local(async move {
            let go_on = move |done, of| {
                let wanted = turn.try_get_value() == Some(mine);
                if wanted {
                    words.try_set(making_words(done, of));
                }
                wanted
            };
            let file = make(shop, airframe, parcel, &go_on).await;
            if turn.try_get_value() != Some(mine) {
                return;
            }
            match file {
                Ok(file) => {
                    words.try_set(made_words(&file.name, file.file.bytes(), file.photos, file.left));
                    made.try_set_value(Some(file));
                    ready.try_set(true);
                }
                Err(Unmade::Unreadable) => {
                    let why = "A photo cannot be read from this phone's storage. No file was made: try again, or send the \
                               record without photos.";
                    words.try_set(language::ours(why).to_owned());
                }
                Err(Unmade::Unwanted) => {}
            }
        });
    });
    let send = tap(move |_| {
        let Some(file) = made.get_value() else { return };
        spawn_local(async move {
            let sent = shop.sending.send_parts(shop, &file.name, file.mime, &file.file, &file.sent).await;
            said.try_set(share::outcome(&file.name, sent));
        });
    });
    view! {
        {says("parcel", "", "status", live(move || words.get()))}
        {button_when("send-it", "Send it", move || ready.get(), send)}
        {says("sent", "", "status", live(move || said.get()))}
    }
}
