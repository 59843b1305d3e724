//! Whether the browser may listen: asked before the first time that the voice may leave the phone.

use crate::app::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::{button, para, row};
use crate::app::browser::dictate::{self, Service};
use crate::app::live::{live, tap};
use crate::app::shop::Shop;

/// What has to be asked before the browser listens.
#[derive(Clone, Copy)]
pub(crate) struct Leave {
    shop: Shop,
    asks: RwSignal<Option<Service>>,
    fetching: RwSignal<bool>,
    /// Begins to listen: whether on the phone only.
    begin: Callback<bool>,
}

impl Leave {
    /// `begin` is called, with whether to listen on the phone only, once it may be.
    pub(crate) fn new(shop: Shop, begin: Callback<bool>) -> Self {
        Self { shop, asks: RwSignal::new(None), fetching: RwSignal::new(false), begin }
    }

    /// Begins where that needs no question, and asks where it does.
    pub(crate) fn ask(self) {
        self.asks.set(None);
        spawn_local(async move {
            let service = dictate::service().await;
            let agreed = self.shop.settings.with_untracked(|settings| settings.voice);
            // The page may have been left meanwhile.
            if self.asks.is_disposed() {
                return;
            }
            match service {
                Service::Here => self.begin.run(true),
                Service::Network if agreed => self.begin.run(false),
                Service::Fetchable | Service::Network | Service::None => self.asks.set(Some(service)),
            }
        });
    }

    fn agree(self) {
        self.shop.settings.update(|settings| settings.voice = true);
        self.asks.set(None);
        self.begin.run(false);
    }

    fn fetch(self) {
        self.fetching.set(true);
        spawn_local(async move {
            let fetched = dictate::fetch().await;
            if self.asks.is_disposed() {
                return;
            }
            self.fetching.set(false);
            self.asks.set((!fetched).then_some(Service::Network));
            if fetched {
                self.begin.run(true);
            }
        });
    }
}

/// The question, while there is one.
pub(crate) fn leave_to_listen(leave: Leave) -> AnyView {
    let asks = move || {
        let (service, fetching) = (leave.asks.get()?, leave.fetching.get());
        let away = button("", "plain", "Leave it", tap(move |_| leave.asks.set(None)));
        let (words, ways) = match service {
            _ if fetching => ("The browser is fetching its recogniser…", vec![away]),
            Service::None => ("This browser has no recogniser.", vec![away]),
            Service::Fetchable => {
                let fetch = button("voice-fetch", "plain", "Fetch it", tap(move |_| leave.fetch()));
                (
                    "The browser can listen on this phone, once it has fetched its recogniser over the network.",
                    vec![away, fetch],
                )
            }
            Service::Here | Service::Network => {
                let agreed = button("voice-agreed", "plain", "Speak", tap(move |_| leave.agree()));
                let words = "Your browser may send your voice to its maker to turn it into text. The app itself sends nothing. \
                             Speak all the same?";
                (words, vec![away, agreed])
            }
        };
        Some(view! { <section id="voice-asks" class="notice">{para("", words)}{row(ways)}</section> })
    };
    view! { {live(asks)} }
}
