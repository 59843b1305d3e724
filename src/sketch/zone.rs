//! The parts of the aircraft that procedures belong to, and how far the work on each has come.

use crate::language::later::words;
use crate::language::ours;
use crate::procedure::{Progress, Work};

/// A part of the picture of the whole aircraft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Zone {
    Instruments,
    Jig,
    Datum,
    Aft,
    Wings,
    Struts,
    Flaps,
    Controls,
    Cables,
    Tailplane,
    Fin,
    MainGear,
    ThirdWheel,
    Engine,
    Propeller,
    Holes,
    Trammel,
    Weighing,
}

/// Every zone: its name in English, and the procedures that are done on it.
pub(super) const ZONES: [(Zone, &str, &[&str]); 18] = [
    (Zone::Instruments, words!("Instruments"), &["accept-instruments"]),
    (Zone::Jig, words!("Jig"), &["level-jig"]),
    (Zone::Datum, words!("Datum"), &["establish-datum", "qualify-points"]),
    (Zone::Aft, words!("Aft fuselage"), &["mate-aft-fuselage", "fuselage-twist"]),
    (
        Zone::Wings,
        words!("Wings"),
        &["wing-dihedral", "wing-sweep", "wing-incidence", "wing-washout", "cantilever-wing"],
    ),
    (Zone::Struts, words!("Struts"), &["lift-struts"]),
    (Zone::Flaps, words!("Flaps"), &["flaps"]),
    (Zone::Controls, words!("Controls"), &["control-surfaces", "control-neutral", "control-travel"]),
    (Zone::Cables, words!("Cables"), &["cable-tension"]),
    (Zone::Tailplane, words!("Tailplane"), &["tailplane"]),
    (Zone::Fin, words!("Fin"), &["fin"]),
    (Zone::MainGear, words!("Main gear"), &["main-gear"]),
    (Zone::ThirdWheel, words!("Third wheel"), &["third-wheel-fit"]),
    (Zone::Engine, words!("Engine"), &["thrust-line"]),
    (Zone::Propeller, words!("Propeller"), &["propeller-track"]),
    (Zone::Holes, words!("Holes, rivets"), &["drilling", "riveting"]),
    (Zone::Trammel, words!("Trammel"), &["symmetry"]),
    (Zone::Weighing, words!("Weighing"), &["weighing"]),
];

/// How far each zone has come; a zone on which nothing applies to this airframe is left out.
pub(super) fn states(works: &[Work]) -> Vec<(Zone, &'static str, Progress)> {
    ZONES
        .iter()
        .filter_map(|(zone, name, procedures)| {
            let there = works.iter().filter(|work| procedures.contains(&work.procedure.id.as_str()));
            Some((*zone, ours(name), together(&there.map(|work| work.progress).collect::<Vec<_>>())?))
        })
        .collect()
}

/// Several procedures as one: stale as soon as one is, done when all are, under way once anything is begun.
pub(super) fn together(progress: &[Progress]) -> Option<Progress> {
    let any = |wanted| progress.contains(&wanted);
    Some(if progress.is_empty() {
        return None;
    } else if any(Progress::Stale) {
        Progress::Stale
    } else if progress.iter().all(|progress| *progress == Progress::Done) {
        Progress::Done
    } else if any(Progress::UnderWay) || any(Progress::Done) {
        Progress::UnderWay
    } else if any(Progress::NotStarted) {
        Progress::NotStarted
    } else {
        Progress::Waits
    })
}
