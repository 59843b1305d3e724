//! What a field can choose from: the parts that the procedure has, by key and title.

use crate::language::{self, later, tr};
use crate::procedure::{
    ChartAt, Input, MeanOf, Procedure, SlotOf, SpecForm, SpecItem, StepKind, procedures, sheet_items,
};
use crate::quantity::Dimension;
use crate::rigging::{Reckoning, reckonings};

use super::cell::Named;
use super::{Part, StepAt};

/// A key and what it is called.
pub type Choosable = (String, String);

/// Everything that a field can choose from.
#[derive(Default)]
pub(super) struct Known {
    pub(super) items: Vec<Choosable>,
    /// Items that are a number of things.
    pub(super) counts: Vec<Choosable>,
    /// Items with a chart.
    charts: Vec<Choosable>,
    /// Choices and what they can be, as conditions.
    pub(super) conditions: Vec<Choosable>,
    pub(super) roles: Vec<Choosable>,
    pub(super) checks: Vec<Choosable>,
    /// Checks of other procedures, as `procedure/check`.
    pub(super) elsewhere: Vec<Choosable>,
    pub(super) adjusters: Vec<Choosable>,
    pub(super) groups: Vec<Choosable>,
    /// Measuring steps by their path.
    pub(super) measured: Vec<Choosable>,
    /// Other procedures.
    pub(super) procedures: Vec<Choosable>,
    /// The readings of the steps that measure the check in hand, or of the step in hand; the reading in hand left out.
    pub(super) readings: Vec<Choosable>,
}

impl Known {
    pub(super) fn of(procedure: &Procedure, part: Part) -> Self {
        let items = &procedure.specification;
        let named = |item: &&SpecItem| (item.key.clone(), titled(&item.title, &item.key));
        let of_form = |form: SpecForm| items.iter().filter(move |item| item.form == form);
        let condition = |item: &SpecItem| {
            let one = |option: &String| {
                (
                    format!("{}={option}", item.key),
                    tr!("{item}: {option}", item = item.title, option = language::of_file(option)),
                )
            };
            item.options.iter().map(one).collect::<Vec<_>>()
        };
        let steps = procedure.laid_out();
        let measured = steps.iter().filter(|(_, _, step)| matches!(step.kind, StepKind::Measure { .. }));
        let others = || procedures().filter(|other| other.id != procedure.id);
        let elsewhere = others().flat_map(|other| {
            let one = |check: &crate::procedure::Check| {
                (
                    format!("{}/{}", other.id, check.id),
                    tr!("{procedure}: {check}", procedure = other.title, check = check.title),
                )
            };
            other.checks.iter().map(one)
        });
        Self {
            items: items.iter().map(|item| named(&item)).collect(),
            counts: of_form(SpecForm::Count).map(|item| named(&item)).collect(),
            charts: of_form(SpecForm::Chart).map(|item| named(&item)).collect(),
            conditions: of_form(SpecForm::Choice).flat_map(condition).collect(),
            roles: procedure.roles.iter().map(|role| (role.role.clone(), titled(&role.title, &role.role))).collect(),
            checks: procedure.checks.iter().map(|check| (check.id.clone(), titled(&check.title, &check.id))).collect(),
            elsewhere: elsewhere.collect(),
            adjusters: procedure
                .adjusters
                .iter()
                .map(|adjuster| (adjuster.id.clone(), titled(&adjuster.title, &adjuster.id)))
                .collect(),
            groups: procedure.passes.iter().map(|pass| (pass.id.clone(), pass.id.clone())).collect(),
            measured: measured
                .map(|(path, gate, step)| {
                    let title = titled(&step.title, path);
                    (
                        path.clone(),
                        gate.as_ref().map_or_else(
                            || title.clone(),
                            |gate| tr!("{step}, {gate}", step = title, gate = language::of_file(gate)),
                        ),
                    )
                })
                .collect(),
            procedures: others().map(|other| (other.id.clone(), other.title.clone())).collect(),
            readings: readings(procedure, part),
        }
    }

    /// Where an input of a closed form can come from: readings first, then numbers of the manual, other checks, charts.
    pub(super) fn sources(&self, check: &str) -> Vec<(Input, String)> {
        let mut sources: Vec<(Input, String)> = Vec::new();
        let reading = |(key, title): &Choosable| (Input::Slot(key.clone()), tr!("Reading: {reading}", reading = title));
        sources.extend(self.readings.iter().map(reading));
        for (place, (one, first)) in self.readings.iter().enumerate() {
            for (other, second) in &self.readings[place + 1..] {
                for turned in [true, false] {
                    let mean = MeanOf { of: vec![one.clone(), other.clone()], turned };
                    let words = if turned {
                        tr!("Mean of {first} and {second}, the instrument turned end for end in between", first, second)
                    } else {
                        tr!("Mean of {first} and {second}, held the same way", first, second)
                    };
                    sources.push((Input::Mean(mean), words));
                }
            }
        }
        sources.extend(
            self.items.iter().map(|(key, title)| (Input::Sheet(key.clone()), tr!("Manual: {item}", item = title))),
        );
        let others = self.checks.iter().filter(|(key, _)| key != check);
        sources
            .extend(others.map(|(key, title)| (Input::Check(key.clone()), tr!("Worked out: {check}", check = title))));
        for (sheet, chart) in &self.charts {
            for (slot, reading) in &self.readings {
                let at = SlotOf { slot: slot.clone() };
                let input = Input::Chart(ChartAt { sheet: sheet.clone(), at });
                sources.push((input, tr!("{chart}, at {reading}", chart, reading)));
            }
        }
        sources
    }
}

/// The readings that a part can name.
fn readings(procedure: &Procedure, part: Part) -> Vec<Choosable> {
    let mut found: Vec<Choosable> = Vec::new();
    match part {
        Part::Check(place) => {
            let Some(check) = procedure.checks.get(place) else { return found };
            let own = procedure.steps.iter().chain(procedure.passes.iter().flat_map(|pass| &pass.steps));
            for step in own {
                let StepKind::Measure { check: measured, slots, .. } = &step.kind else { continue };
                for slot in slots.iter().filter(|_| *measured == check.id) {
                    if !found.iter().any(|(key, _)| *key == slot.id) {
                        found.push((slot.id.clone(), titled(&slot.title, &slot.id)));
                    }
                }
            }
        }
        Part::Reading(at, place) => {
            let slots = StepAt::slots(at, procedure).into_iter().flatten().enumerate();
            found.extend(
                slots
                    .filter(|(other, _)| *other != place)
                    .map(|(_, slot)| (slot.id.clone(), titled(&slot.title, &slot.id))),
            );
        }
        _ => {}
    }
    found
}

fn titled(title: &str, key: &str) -> String {
    if title.is_empty() { format!("({key})") } else { title.to_owned() }
}

/// Numbers that the sheet of an airframe has already, which a procedure that is being written may ask for too; without those that it
/// asks for.
#[must_use]
pub fn numbers_of_the_sheet(procedure: &Procedure) -> Vec<&'static SpecItem> {
    sheet_items().filter(|item| procedure.item(&item.key).is_none()).collect()
}

/// What stands before the id of a closed form among the ways to work something out.
pub(super) const FORM: &str = "form:";

/// The closed forms, by the heading that they stand under.
pub(super) fn forms() -> Vec<Choosable> {
    let one = |form: &Reckoning| {
        (format!("{FORM}{}", form.id), tr!("{group}: {title}", group = form.group, title = form.title))
    };
    reckonings().iter().map(one).collect()
}

/// Quantities, in words.
pub(super) const QUANTITIES: [Named<Dimension>; 8] = [
    (Dimension::Length, "length", later::words!("Length")),
    (Dimension::Angle, "angle", later::words!("Angle")),
    (Dimension::Count, "count", later::words!("A plain number")),
    (Dimension::Mass, "mass", later::words!("Mass")),
    (Dimension::Force, "force", later::words!("Force")),
    (Dimension::Temperature, "temperature", later::words!("Temperature")),
    (Dimension::Torque, "torque", later::words!("Torque")),
    (Dimension::Volume, "volume", later::words!("Volume")),
];

/// A choice's own condition can never be that it is made itself.
pub(super) fn without(conditions: &[Choosable], key: &str) -> Vec<Choosable> {
    let own = |condition: &str| condition.split_once('=').is_some_and(|(of, _)| of == key);
    conditions.iter().filter(|(condition, _)| !own(condition)).cloned().collect()
}
