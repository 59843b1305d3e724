//! Writing and changing a procedure: its outline, its parts, how it will look, and the keeping of it.

mod outline;
mod part;

pub(super) use part::one_of;

use crate::app::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use wasm_bindgen_futures::spawn_local;

use super::run::{SHOWN, shown};
use super::{missing, with_airframe};
use crate::app::address::{Address, Page};
use crate::app::data;
use crate::app::live::{Busy, live};
use crate::app::shop::Shop;
use crate::procedure::writing::{self, Part};
use crate::procedure::{Procedure, held, newest, next_version, write_procedure};
use crate::record::{Airframe, AirframeId, Body, from_json};

/// What a procedure that has no name yet is called in addresses.
pub(crate) const NEW: &str = "new";

/// What the parts of the page share.
#[derive(Clone, Copy)]
struct Desk {
    shop: Shop,
    airframe: AirframeId,
    /// What the procedure is called in addresses: its id, or [`NEW`].
    name: StoredValue<String>,
    draft: RwSignal<Procedure>,
    /// Something was written since it was last kept.
    touched: RwSignal<bool>,
}

impl Desk {
    fn open(airframe: &Airframe, name: String) -> Option<Self> {
        let shop = Shop::here();
        let own = Desk::draft_key(airframe.id, &name);
        let kept = shop.draft(&own).and_then(|text| from_json::<Procedure>(&text).ok());
        let touched = RwSignal::new(kept.is_some());
        let begun = || if name == NEW { Some(writing::blank()) } else { newest(airframe, &name).cloned() };
        let draft = RwSignal::new(kept.or_else(begun)?);
        Some(Self { shop, airframe: airframe.id, name: StoredValue::new(name), draft, touched })
    }

    fn draft_key(airframe: AirframeId, name: &str) -> String {
        format!("write/{airframe}/{name}")
    }

    /// Changes the draft, and keeps it as it is now: a phone that dies here loses nothing.
    fn change<T>(self, change: impl FnOnce(&mut Procedure) -> T) -> T {
        let mut draft = self.draft.get_untracked();
        let outcome = change(&mut draft);
        let text = write_procedure(&draft);
        self.draft.set(draft);
        self.touched.set(true);
        self.shop.put_draft(self.name.with_value(|name| Self::draft_key(self.airframe, name)), text);
        outcome
    }

    /// Forgets the draft.
    fn clear(self) {
        self.shop.put_draft(self.name.with_value(|name| Self::draft_key(self.airframe, name)), String::new());
    }

    /// The address of a part.
    fn address(self, part: &str) -> Address {
        Address::Of(self.airframe, Page::Write(self.name.get_value(), part.to_owned()))
    }

    /// Where the page was come from: the procedure's page, or the airframe's.
    fn origin(self) -> Address {
        let name = self.name.get_value();
        Address::Of(self.airframe, if name == NEW { Page::Overview } else { Page::Work(name) })
    }

    /// Keeps the draft as the procedure's next version, and goes to its page.
    fn keep(self) -> impl FnMut() {
        let (navigate, busy) = (use_navigate(), Busy::new());
        move || {
            let Some(airframe) = self.shop.ledger.with_untracked(|ledger| ledger.airframe(self.airframe)) else {
                return;
            };
            if !busy.begin() {
                return;
            }
            let mut procedure = self.draft.get_untracked();
            if self.name.with_value(|name| name == NEW) {
                procedure.id = writing::free_id(&airframe, &procedure.title);
            }
            procedure.version = next_version(&airframe, &procedure.id);
            let (id, version) = (procedure.id.clone(), procedure.version);
            let body = Body::ProcedureKept { procedure: id.clone(), version, file: write_procedure(&procedure).into() };
            let navigate = navigate.clone();
            spawn_local(async move {
                let kept = self.shop.keep(self.airframe, vec![body]).await;
                busy.end();
                if kept.is_ok() {
                    self.clear();
                    navigate(&Address::Of(self.airframe, Page::Work(id)).route(), NavigateOptions::default());
                }
            });
        }
    }
}

/// The page.
pub(crate) fn write(id: AirframeId, name: String, here: Memo<Address>) -> AnyView {
    with_airframe(data::airframe(id), move |airframe| {
        Desk::open(&airframe, name.clone()).map_or_else(missing, |desk| {
            // Within one view of the page only the step of what is shown changes.
            let part = move || here.with(Address::step);
            let step_of = |part: &str| {
                let step = part.strip_prefix(SHOWN)?;
                Some(step.strip_prefix('/').unwrap_or(step).to_owned())
            };
            let at = Memo::new(move |_| {
                let part = part();
                if step_of(&part).is_some() { SHOWN.to_owned() } else { part }
            });
            let step = Memo::new(move |_| step_of(&part()).unwrap_or_default());
            let page = move || match at.get().as_str() {
                "" => outline::outline(desk),
                SHOWN => shown(id, held(&desk.draft.get_untracked()), desk.name, step),
                part => part.parse::<Part>().map_or_else(|()| missing(), |part| part::part(desk, part)),
            };
            view! { {live(page)} }
        })
    })
}
