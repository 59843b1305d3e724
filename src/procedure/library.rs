//! The procedures that come with the app: data files, read once.

use std::sync::OnceLock;

use crate::procedure::Procedure;
use crate::record::from_json;

/// Mating an aft fuselage to a forward frame.
pub const MATE_AFT_FUSELAGE: &str = "mate-aft-fuselage";

const FILES: [(&str, &str); 1] = [(MATE_AFT_FUSELAGE, include_str!("library/mate-aft-fuselage.json"))];

/// A built-in procedure by its id.
#[must_use]
pub fn procedure(id: &str) -> Option<&'static Procedure> {
    static READ: OnceLock<Vec<Procedure>> = OnceLock::new();
    READ.get_or_init(|| FILES.iter().filter_map(|(_, text)| from_json(text).ok()).collect())
        .iter()
        .find(|procedure| procedure.id == id)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::procedure::{Formula, LeverKind, StepKind};

    fn all() -> Vec<Procedure> {
        FILES
            .iter()
            .map(|(id, text)| serde_json::from_str(text).unwrap_or_else(|error| panic!("{id}: {error}")))
            .collect()
    }

    #[test]
    fn every_file_reads_and_is_found_by_its_id() {
        for (id, _) in FILES {
            assert_eq!(procedure(id).expect("found").id, id);
        }
    }

    /// Everything that a file names is there: steps, checks, adjusters, slots, roles, items of the specification.
    #[test]
    fn nothing_dangles() {
        for procedure in all() {
            let keys: BTreeSet<&str> = procedure.specification.iter().map(|item| item.key.as_str()).collect();
            let roles: BTreeSet<&str> = procedure.roles.iter().map(|role| role.role.as_str()).collect();
            let steps = procedure.laid_out();
            let paths: BTreeSet<&str> = steps.iter().map(|(path, _, _)| path.as_str()).collect();
            assert_eq!(paths.len(), steps.len(), "{}: two steps share a path", procedure.id);
            let mut slots_seen = BTreeSet::new();
            for (path, _, step) in &steps {
                if let Some(condition) = &step.only_if {
                    assert!(keys.contains(condition.key.as_str()), "{path}: condition on {}", condition.key);
                }
                match &step.kind {
                    StepKind::Instrument(role) => assert!(roles.contains(role.as_str()), "{path}: role {role}"),
                    StepKind::Count { expected, .. } => assert!(keys.contains(expected.as_str()), "{path}: {expected}"),
                    StepKind::Measure { check, slots, .. } => {
                        let check = procedure.check(check).unwrap_or_else(|| panic!("{path}: check {check}"));
                        for slot in slots {
                            assert!(roles.contains(slot.role.as_str()), "{path}: role {}", slot.role);
                            assert!(slot.repeats > 0, "{path}: {} is never read", slot.id);
                            let near = slot.near.as_deref();
                            assert!(near.is_none_or(|key| keys.contains(key)), "{path}: near {near:?}");
                            if let Some(partner) = &slot.partner {
                                let other = slots.iter().find(|other| other.id == *partner);
                                let back = other.and_then(|other| other.partner.as_ref());
                                assert_eq!(back, Some(&slot.id), "{path}: {partner} is a partner back");
                            }
                            slots_seen.insert(slot.id.clone());
                        }
                        let has = |id: &String| slots.iter().any(|slot| slot.id == *id);
                        match &check.formula {
                            Formula::Balance { plus, minus, .. } => {
                                assert!(plus.iter().chain(minus).all(has), "{path}: {:?}", check.formula);
                            }
                            Formula::Largest { slots } => assert!(slots.iter().all(has), "{path}: {slots:?}"),
                            Formula::Agreement { with } => {
                                assert!(with.iter().all(|path| paths.contains(path.as_str())), "{path}: {with:?}");
                            }
                        }
                    }
                    StepKind::Confirm | StepKind::Hold { .. } => {}
                    StepKind::Pass { .. } => panic!("{path}: an unknown pass was left over"),
                }
            }
            for check in &procedure.checks {
                let judged = check.judged_by.as_deref();
                assert!(judged.is_none_or(|key| keys.contains(key)), "{}: {judged:?}", check.id);
                for adjuster in &check.adjusters {
                    assert!(procedure.adjuster(adjuster).is_some(), "{}: adjuster {adjuster}", check.id);
                }
            }
            for adjuster in &procedure.adjusters {
                for check in &adjuster.disturbs {
                    assert!(procedure.check(check).is_some(), "{}: disturbs {check}", adjuster.id);
                }
                if let LeverKind::Joint { gaps, limit, offset, .. } = &adjuster.lever {
                    assert!(gaps.iter().all(|slot| slots_seen.contains(slot)), "{}: {gaps:?}", adjuster.id);
                    assert!(keys.contains(limit.as_str()) && keys.contains(offset.as_str()), "{}", adjuster.id);
                }
            }
        }
    }
}
