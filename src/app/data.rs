//! What pages derive from the ledger: memos over the library's folds.

use leptos::prelude::*;

use super::browser::clock;
use super::shop::Shop;
use crate::procedure::{Precedent, Procedure, Run, Words, Work, aircraft, in_use};
use crate::record::{Airframe, AirframeId, RunId};

/// An airframe; `None` while the record is being read, or when it is not there.
pub(crate) fn airframe(id: AirframeId) -> Memo<Option<Airframe>> {
    let shop = Shop::here();
    Memo::new(move |_| shop.ledger.with(|ledger| ledger.airframe(id)))
}

/// The version of a procedure that an airframe is at.
pub(crate) fn procedure_of(id: AirframeId, procedure: String) -> Memo<Option<&'static Procedure>> {
    let airframe = airframe(id);
    let changed =
        |one: Option<&Option<&'static Procedure>>, other: Option<&Option<&'static Procedure>>| match (one, other) {
            (Some(Some(one)), Some(Some(other))) => !std::ptr::eq(*one, *other),
            (Some(None), Some(None)) => false,
            _ => true,
        };
    Memo::new_with_compare(move |_| airframe.with(|airframe| in_use(airframe.as_ref()?, &procedure)), changed)
}

/// The latest run of a procedure on an airframe.
pub(crate) fn run_of(airframe: Memo<Option<Airframe>>, procedure: &'static Procedure) -> Memo<Option<Run>> {
    folded(airframe, procedure, None)
}

/// One run of a procedure on an airframe.
pub(crate) fn one_run(
    airframe: Memo<Option<Airframe>>,
    procedure: &'static Procedure,
    run: RunId,
) -> Memo<Option<Run>> {
    folded(airframe, procedure, Some(run))
}

fn folded(airframe: Memo<Option<Airframe>>, procedure: &'static Procedure, run: Option<RunId>) -> Memo<Option<Run>> {
    let shop = Shop::here();
    Memo::new(move |_| {
        let airframe = airframe.get()?;
        let run = run.or_else(|| airframe.latest_run(&procedure.id).map(|started| started.run))?;
        shop.ledger.with(|ledger| {
            let precedent = Precedent::of(procedure, ledger, &airframe);
            let entries = ledger.of_run(airframe.id, run);
            let begun = clock::elapsed();
            let folded = Run::fold_after(procedure, &airframe, run, &entries, precedent);
            shop.folded_in.set_value(clock::elapsed() - begun);
            Some(folded)
        })
    })
}

/// A step of the latest run of a procedure: the run, the step's path and what it is called.
pub(crate) fn step_of(
    id: AirframeId,
    procedure: &'static Procedure,
    step: String,
) -> Memo<Option<(RunId, String, String)>> {
    let run = run_of(airframe(id), procedure);
    Memo::new(move |_| {
        run.with(|run| {
            run.as_ref().and_then(|run| run.step(&step).map(|found| (run.id, step.clone(), Words::step_title(found))))
        })
    })
}

/// Every procedure that applies to an airframe, and how far it has come.
pub(crate) fn works_of(airframe: Memo<Option<Airframe>>) -> Memo<Vec<Work>> {
    let shop = Shop::here();
    Memo::new(move |_| {
        let Some(airframe) = airframe.get() else { return Vec::new() };
        shop.ledger.with(|ledger| aircraft(&airframe, ledger))
    })
}
