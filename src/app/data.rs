//! What pages derive from the ledger: memos over the library's folds.

use leptos::prelude::*;

use super::shop::Shop;
use crate::procedure::{MATE_AFT_FUSELAGE, Precedent, Procedure, Run, procedure};
use crate::record::{Airframe, AirframeId, RunId};

/// An airframe; `None` while the record is being read, or when it is not there.
pub(crate) fn airframe(id: AirframeId) -> Memo<Option<Airframe>> {
    let shop = Shop::here();
    Memo::new(move |_| shop.ledger.with(|ledger| ledger.airframe(id)))
}

/// The mating procedure.
pub(crate) fn mating() -> &'static Procedure {
    procedure(MATE_AFT_FUSELAGE).unwrap_or_else(|| unreachable!("the built-in file is read in the tests"))
}

/// The latest run of the mating procedure on an airframe.
pub(crate) fn run_of(airframe: Memo<Option<Airframe>>) -> Memo<Option<Run>> {
    let shop = Shop::here();
    Memo::new(move |_| {
        let airframe = airframe.get()?;
        let run = airframe.latest_run(MATE_AFT_FUSELAGE)?.run;
        Some(fold(shop, &airframe, run))
    })
}

fn fold(shop: Shop, airframe: &Airframe, run: RunId) -> Run {
    shop.ledger.with(|ledger| {
        let precedent = Precedent::of(mating(), ledger, airframe);
        Run::fold_after(mating(), airframe, run, &ledger.in_force(airframe.id), precedent)
    })
}
