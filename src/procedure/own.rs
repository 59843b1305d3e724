//! The procedures of one airframe: those that come with the app, its own versions in their place, and what its runs began with.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::procedure::{Procedure, built_in_ids, procedure, read_procedure};
use crate::record::{Airframe, StartedRun};

/// A procedure file that the record holds, read once and kept as long as the app runs: there are as many as somebody wrote.
/// `None` when it does not read or does not hold together.
fn read_once(file: &Arc<str>) -> Option<&'static Procedure> {
    static READ: Mutex<BTreeMap<Arc<str>, Option<&'static Procedure>>> = Mutex::new(BTreeMap::new());
    let mut read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = read.get(file) {
        return *known;
    }
    let found = read_procedure(file).ok().map(|read| match procedure(&read.id) {
        Some(same) if *same == read => same,
        _ => &*Box::leak(Box::new(read)),
    });
    read.insert(file.clone(), found);
    found
}

/// A procedure that is being written, held as long as the app runs, so that a page can show it as it shows the others.
#[must_use]
pub fn held(draft: &Procedure) -> &'static Procedure {
    static HELD: Mutex<Vec<&'static Procedure>> = Mutex::new(Vec::new());
    let mut held = HELD.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(same) = held.iter().find(|known| **known == draft) {
        return same;
    }
    let new: &'static Procedure = Box::leak(Box::new(draft.clone()));
    held.push(new);
    new
}

/// The procedure that a run began with; where its record holds no file of it, the one that comes with the app. `None` when the file that it
/// holds does not read.
#[must_use]
pub fn of_run(started: &StartedRun) -> Option<&'static Procedure> {
    match &started.file {
        Some(file) => read_once(file).filter(|kept| kept.id == started.procedure),
        None => procedure(&started.procedure),
    }
}

/// The version of a procedure with which a run on the airframe would begin now: its own last one, else the one that comes with the app.
#[must_use]
pub fn newest(airframe: &Airframe, id: &str) -> Option<&'static Procedure> {
    own(airframe).filter(|own| own.id == id).last().or_else(|| procedure(id))
}

/// The version of a procedure that the airframe is at: its latest run's, else the newest.
#[must_use]
pub fn in_use(airframe: &Airframe, id: &str) -> Option<&'static Procedure> {
    airframe.latest_run(id).and_then(of_run).or_else(|| newest(airframe, id))
}

/// Every procedure of the airframe in the version that it is at: those that come with the app in their order, then its own.
#[must_use]
pub fn all_in_use(airframe: &Airframe) -> Vec<&'static Procedure> {
    let mut ids: Vec<&str> = built_in_ids().collect();
    let begun = airframe.runs.iter().map(|started| &started.procedure);
    for id in own(airframe).map(|own| &own.id).chain(begun) {
        if !ids.contains(&id.as_str()) {
            ids.push(id);
        }
    }
    ids.into_iter().filter_map(|id| in_use(airframe, id)).collect()
}

/// The version that the next change of a procedure gets on the airframe: above all that it knows. 1 for a new one.
#[must_use]
pub fn next_version(airframe: &Airframe, id: &str) -> u32 {
    let kept = airframe.procedures.iter().filter(|own| own.procedure == id).map(|own| own.version);
    let begun = airframe.runs.iter().filter(|started| started.procedure == id).map(|started| started.version);
    let known = kept.chain(begun).chain(procedure(id).map(|built_in| built_in.version));
    known.max().unwrap_or(0).saturating_add(1)
}

/// How many of the airframe's own procedures this version of the app cannot read. They stay in the record.
#[must_use]
pub fn unreadable(airframe: &Airframe) -> usize {
    airframe.procedures.iter().filter(|own| read_once(&own.file).is_none()).count()
}

/// The airframe's own versions that can be read, oldest first.
fn own(airframe: &Airframe) -> impl Iterator<Item = &'static Procedure> {
    airframe.procedures.iter().filter_map(|own| read_once(&own.file).filter(|read| read.id == own.procedure))
}
