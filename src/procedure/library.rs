//! The procedures that come with the app: data files, read once.

use std::sync::OnceLock;

use super::worded;
use crate::language::{self, Language};
use crate::procedure::{Procedure, SpecItem};
use crate::record::from_json;

/// Mating an aft fuselage to a forward frame.
pub const MATE_AFT_FUSELAGE: &str = "mate-aft-fuselage";

/// In the order in which an aircraft is usually rigged.
const FILES: &[&str] = &[
    include_str!("library/accept-instruments.json"),
    include_str!("library/level-jig.json"),
    include_str!("library/establish-datum.json"),
    include_str!("library/qualify-points.json"),
    include_str!("library/mate-aft-fuselage.json"),
    include_str!("library/fuselage-twist.json"),
    include_str!("library/wing-dihedral.json"),
    include_str!("library/wing-sweep.json"),
    include_str!("library/wing-incidence.json"),
    include_str!("library/wing-washout.json"),
    include_str!("library/lift-struts.json"),
    include_str!("library/cantilever-wing.json"),
    include_str!("library/tailplane.json"),
    include_str!("library/fin.json"),
    include_str!("library/main-gear.json"),
    include_str!("library/third-wheel-fit.json"),
    include_str!("library/thrust-line.json"),
    include_str!("library/control-surfaces.json"),
    include_str!("library/control-neutral.json"),
    include_str!("library/control-travel.json"),
    include_str!("library/flaps.json"),
    include_str!("library/cable-tension.json"),
    include_str!("library/propeller-track.json"),
    include_str!("library/drilling.json"),
    include_str!("library/riveting.json"),
    include_str!("library/symmetry.json"),
    include_str!("library/weighing.json"),
];

/// The built-in procedures, in the order in which an aircraft is usually rigged.
#[must_use]
pub fn procedures() -> &'static [Procedure] {
    static READ: OnceLock<Vec<Procedure>> = OnceLock::new();
    READ.get_or_init(|| FILES.iter().filter_map(|text| from_json(text).ok().map(in_language)).collect())
}

/// A procedure's words in the language that is spoken; its keys, ids and numbers stay.
fn in_language(mut procedure: Procedure) -> Procedure {
    if language::current() != Language::English {
        worded::each_text(&mut procedure, &mut |text| *text = language::of_file(text));
    }
    procedure
}

/// A built-in procedure by its id.
#[must_use]
pub fn procedure(id: &str) -> Option<&'static Procedure> {
    procedures().iter().find(|procedure| procedure.id == id)
}

/// Every item that the built-in procedures ask of the specification, each once, in their order.
pub fn sheet_items() -> impl Iterator<Item = &'static SpecItem> {
    let mut seen: Vec<&str> = Vec::new();
    procedures().iter().flat_map(|procedure| &procedure.specification).filter(move |item| {
        let new = !seen.contains(&item.key.as_str());
        if new {
            seen.push(&item.key);
        }
        new
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::procedure::faults;

    #[test]
    fn every_file_reads_and_nothing_dangles() {
        assert_eq!(procedures().len(), FILES.len(), "a file does not read");
        for text in FILES {
            let procedure: Procedure = serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}"));
            let found: Vec<String> = faults(&procedure).iter().map(ToString::to_string).collect();
            assert!(found.is_empty(), "{}: {found:#?}", procedure.id);
        }
    }

    /// Keys of the specification belong to the airframe: whoever asks for one asks for the same thing.
    #[test]
    fn one_key_is_one_item() {
        let mut known: BTreeMap<&str, (&str, &SpecItem)> = BTreeMap::new();
        for procedure in procedures() {
            for item in &procedure.specification {
                let (first, same) = known.entry(&item.key).or_insert((&procedure.id, item));
                assert_eq!(*same, item, "{} and {first}", procedure.id);
            }
        }
    }

    /// What a procedure says of another one is true.
    #[test]
    fn procedures_know_each_other() {
        for procedure in procedures() {
            assert_eq!(procedures().iter().filter(|other| other.id == procedure.id).count(), 1, "{}", procedure.id);
            for needed in &procedure.needs {
                assert!(super::procedure(needed).is_some(), "{}: needs {needed}", procedure.id);
            }
            for disturbed in procedure.adjusters.iter().flat_map(|adjuster| &adjuster.disturbs) {
                let Some((other, check)) = disturbed.split_once('/') else { continue };
                let known = super::procedure(other).is_some_and(|other| other.check(check).is_some());
                assert!(known, "{}: disturbs {disturbed}", procedure.id);
            }
        }
    }
}
