//! What a procedure consists of, in the order in which a page lists it; and where a fault is.

use super::{Kind, Part, StepAt};
use crate::language::{self, tr, words};
use crate::procedure::{Place, Procedure, Step, StepKind};

/// Parts of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its heading.
    pub heading: String,
    /// What belongs here.
    pub hint: &'static str,
    /// What can be added here.
    pub adds: Kind,
    /// The parts and what they are called.
    pub parts: Vec<(Part, String)>,
}

/// Every list of a procedure: numbers, instruments, checks, adjusters, groups with the steps of each, steps.
#[must_use]
pub fn outline(procedure: &Procedure) -> Vec<Section> {
    let list = |heading: &str, hint, adds, parts: Vec<(Part, String)>| Section {
        heading: heading.to_owned(),
        hint,
        adds,
        parts,
    };
    let numbered = |titles: Vec<String>, part: fn(usize) -> Part| {
        titles.into_iter().enumerate().map(|(place, title)| (part(place), title)).collect::<Vec<_>>()
    };
    let titles = |titles: Vec<&String>| titles.into_iter().cloned().collect::<Vec<_>>();
    let steps = |steps: &[Step], group: Option<usize>| {
        let one = |(place, step): (usize, &Step)| (Part::Step(StepAt { group, place }), title_of(step));
        steps.iter().enumerate().map(one).collect::<Vec<_>>()
    };
    let mut sections = vec![
        list(
            words!("Instruments"),
            words!("What readings are taken with."),
            Kind::Instrument,
            numbered(titles(procedure.roles.iter().map(|role| &role.title).collect()), Part::Instrument),
        ),
        list(
            words!("Numbers from the manual"),
            words!(
                "What each airframe's own manual says: limits, distances, choices. Their values are never part of a procedure."
            ),
            Kind::Number,
            numbered(titles(procedure.specification.iter().map(|item| &item.title).collect()), Part::Number),
        ),
        list(
            words!("What is judged"),
            words!("Quantities that are worked out from readings."),
            Kind::Check,
            numbered(titles(procedure.checks.iter().map(|check| &check.title).collect()), Part::Check),
        ),
        list(
            words!("What may be moved"),
            words!("Supports, shims, rods, turnbuckles."),
            Kind::Adjuster,
            numbered(titles(procedure.adjusters.iter().map(|adjuster| &adjuster.title).collect()), Part::Adjuster),
        ),
        list(
            words!("Groups of steps"),
            words!("Steps that are done again as a whole at several gates: set, clamped, drilled."),
            Kind::Group,
            numbered(titles(procedure.passes.iter().map(|pass| &pass.id).collect()), Part::Group),
        ),
    ];
    for (place, pass) in procedure.passes.iter().enumerate() {
        sections.push(list(
            &tr!("Steps of the group \u{201c}{group}\u{201d}", group = pass.id),
            "",
            Kind::Step(Some(place)),
            steps(&pass.steps, Some(place)),
        ));
    }
    sections.push(list(
        words!("Steps"),
        words!("One screen each, in the order of the work."),
        Kind::Step(None),
        steps(&procedure.steps, None),
    ));
    sections
}

/// The readings of a step, as a section; `None` for a step that is not measured.
#[must_use]
pub fn readings_of(procedure: &Procedure, at: StepAt) -> Option<Section> {
    let one = |(place, slot): (usize, &crate::procedure::Slot)| (Part::Reading(at, place), slot.title.clone());
    Some(Section {
        heading: words!("Readings").to_owned(),
        hint: words!("The numbers that are read at this step, in their order."),
        adds: Kind::Reading(at),
        parts: at.slots(procedure)?.iter().enumerate().map(one).collect(),
    })
}

fn title_of(step: &Step) -> String {
    match &step.kind {
        StepKind::Pass { gate, of } if step.title.is_empty() => {
            tr!("{step}, {gate}", step = of, gate = language::of_file(gate))
        }
        _ => step.title.clone(),
    }
}

/// What is at a place that has a fault, and what it is called.
#[must_use]
pub fn part_of(procedure: &Procedure, place: &Place) -> (Part, String) {
    let whole = || (Part::About, words!("The procedure").to_owned());
    let named = |part: Part, title: &str| (part, title.to_owned());
    let found = match place {
        Place::Whole(_) => None,
        Place::Number(key) => find(&procedure.specification, |item| item.key == *key)
            .map(|(place, item)| named(Part::Number(place), &item.title)),
        Place::Check(id) => find(&procedure.checks, |check| check.id == *id)
            .map(|(place, check)| named(Part::Check(place), &check.title)),
        Place::Adjuster(id) => find(&procedure.adjusters, |adjuster| adjuster.id == *id)
            .map(|(place, adjuster)| named(Part::Adjuster(place), &adjuster.title)),
        Place::Step(path) => step_at(procedure, path),
    };
    found.map_or_else(whole, |(part, title)| {
        let title = if title.is_empty() { words!("Without a title").to_owned() } else { title };
        (part, title)
    })
}

fn find<T>(list: &[T], is: impl Fn(&T) -> bool) -> Option<(usize, &T)> {
    list.iter().enumerate().find(|(_, one)| is(one))
}

/// The step of a path: the procedure's own, or the one of a group that a gate repeats.
fn step_at(procedure: &Procedure, path: &str) -> Option<(Part, String)> {
    if let Some((place, step)) = find(&procedure.steps, |step| step.id == path) {
        return Some((Part::Step(StepAt { group: None, place }), title_of(step)));
    }
    let (at_gate, id) = path.split_once('/')?;
    let group = procedure.steps.iter().find_map(|step| match &step.kind {
        StepKind::Pass { gate, of } if gate == at_gate => procedure.passes.iter().position(|pass| pass.id == *of),
        _ => None,
    })?;
    let (place, step) = find(&procedure.passes[group].steps, |step| step.id == id)?;
    Some((Part::Step(StepAt { group: Some(group), place }), title_of(step)))
}
