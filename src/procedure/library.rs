//! The procedures that come with the app: data files, read once.

use std::sync::OnceLock;

use super::worded;
use crate::language::{self, Language};
use crate::procedure::{Procedure, SpecItem};
use crate::record::from_json;

/// Mating an aft fuselage to a forward frame.
pub const MATE_AFT_FUSELAGE: &str = "mate-aft-fuselage";

/// Files by the ids of their procedures.
macro_rules! files {
    ($($id:literal),+ $(,)?) => {
        &[$(($id, include_str!(concat!("library/", $id, ".json")))),+]
    };
}

/// In the order in which an aircraft is usually rigged.
const FILES: &[(&str, &str)] = files![
    "accept-instruments",
    "level-jig",
    "establish-datum",
    "qualify-points",
    "mate-aft-fuselage",
    "fuselage-twist",
    "wing-dihedral",
    "wing-sweep",
    "wing-incidence",
    "wing-washout",
    "lift-struts",
    "cantilever-wing",
    "tailplane",
    "fin",
    "main-gear",
    "third-wheel-fit",
    "thrust-line",
    "control-surfaces",
    "control-neutral",
    "control-travel",
    "flaps",
    "cable-tension",
    "propeller-track",
    "drilling",
    "riveting",
    "symmetry",
    "weighing",
];

/// Each is read when it is first asked for: all of them are half a megabyte, and a screen needs one.
static READ: [OnceLock<Option<Procedure>>; FILES.len()] = [const { OnceLock::new() }; FILES.len()];

fn read(place: usize) -> Option<&'static Procedure> {
    READ[place].get_or_init(|| from_json(FILES[place].1).ok().map(in_language)).as_ref()
}

/// The built-in procedures, in the order in which an aircraft is usually rigged. Whoever goes through them has them all read.
pub fn procedures() -> impl Iterator<Item = &'static Procedure> {
    (0..FILES.len()).filter_map(read)
}

/// Their ids, in the same order.
pub fn built_in_ids() -> impl Iterator<Item = &'static str> {
    FILES.iter().map(|(id, _)| *id)
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
    built_in_ids().position(|known| known == id).and_then(read)
}

/// What everybody reads before anything else: the cautions of [`MATE_AFT_FUSELAGE`], in a file of their own, so that whoever shows them need not
/// read procedures.
#[must_use]
pub fn cautions() -> Vec<String> {
    let cautions: Vec<String> = serde_json::from_str(include_str!("cautions.json")).unwrap_or_default();
    cautions.iter().map(|caution| language::of_file(caution)).collect()
}

/// Every item that the built-in procedures ask of the specification, each once, in their order.
pub fn sheet_items() -> impl Iterator<Item = &'static SpecItem> {
    let mut seen: Vec<&str> = Vec::new();
    procedures().flat_map(|procedure| &procedure.specification).filter(move |item| {
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
    fn the_first_cautions_are_those_of_the_mating() {
        let mating = procedure(MATE_AFT_FUSELAGE).unwrap();
        assert!(!cautions().is_empty());
        assert_eq!(cautions(), mating.cautions);
    }

    #[test]
    fn every_file_reads_and_nothing_dangles() {
        assert_eq!(procedures().count(), FILES.len(), "a file does not read");
        for (procedure, id) in procedures().zip(built_in_ids()) {
            assert_eq!(procedure.id, id, "a file goes by the id of its procedure");
        }
        for (_, text) in FILES {
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
            assert_eq!(procedures().filter(|other| other.id == procedure.id).count(), 1, "{}", procedure.id);
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
