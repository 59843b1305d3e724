//! Changes of a procedure that is being written.

use super::known::Known;
use super::part::steps_mut;
use super::{Kind, Part, StepAt, visit};
use crate::language::words;
use crate::procedure::writing::cell::Visitor;
use crate::procedure::{
    Adjuster, Check, Effect, Effects, Formula, How, LeverKind, Pass, Procedure, Role, SettableStep, Slot, SpecForm,
    SpecItem, Step, StepKind, procedure, sheet_items,
};
use crate::quantity::Dimension;
use crate::record::{Airframe, InstrumentKind};
use crate::rigging::reckoning;

/// A procedure of which nothing is written yet. It gets its own id when it is first kept ([`free_id`]).
#[must_use]
pub fn blank() -> Procedure {
    Procedure {
        id: "new".to_owned(),
        version: 0,
        title: String::new(),
        purpose: String::new(),
        tools: Vec::new(),
        needs: Vec::new(),
        only_if: None,
        cautions: Vec::new(),
        specification: Vec::new(),
        roles: Vec::new(),
        checks: Vec::new(),
        adjusters: Vec::new(),
        passes: Vec::new(),
        steps: Vec::new(),
    }
}

/// Writes a field of a part.
///
/// # Errors
/// In plain words, when what was typed cannot be taken; the procedure is as it was.
pub fn set(procedure: &mut Procedure, part: Part, key: &str, words: &str) -> Result<(), String> {
    let known = Known::of(procedure, part);
    let served_by = served(procedure, part);
    let mut written = Err(words!("This is not asked here any more.").to_owned());
    visit(
        procedure,
        part,
        &known,
        &mut Visitor::new(&mut |field, cell| {
            if field.key == key {
                written = cell.write(words);
            }
        }),
    );
    if let (Part::Reading(at, place), "partner") = (part, key)
        && let Some(slots) = at.slots_mut(procedure)
    {
        pair(slots, place);
    }
    for (check, adjuster) in served_by {
        let left = procedure.check(&check).is_some_and(|check| !check.adjusters.contains(&adjuster));
        procedure
            .adjusters
            .iter_mut()
            .filter(|other| left && other.id == adjuster)
            .for_each(|left| forget(left, &check));
    }
    settle(procedure);
    written
}

/// The adjusters of a check, each beside it.
fn served(procedure: &Procedure, part: Part) -> Vec<(String, String)> {
    let Part::Check(place) = part else { return Vec::new() };
    let check = procedure.checks.get(place).into_iter();
    check.flat_map(|check| check.adjusters.iter().map(|id| (check.id.clone(), id.clone()))).collect()
}

/// An adjuster that serves a check no more has no effect on it.
fn forget(adjuster: &mut Adjuster, check: &str) {
    if let LeverKind::Effects(Effects { on, .. }) = &mut adjuster.lever {
        on.retain(|effect| effect.check != check);
    }
}

/// Adds something and says where it is. `title` is what it is called; for an instrument, the word of its kind; for a number that the
/// airframe's sheet has already, its key.
pub fn add(procedure: &mut Procedure, kind: Kind, title: &str) -> Part {
    let title = title.trim().to_owned();
    match kind {
        Kind::Number => {
            let known = sheet_items().find(|item| item.key == title && procedure.item(&title).is_none());
            let taken = |key: &str| procedure.item(key).is_some() || sheet_items().any(|item| item.key == key);
            let item = known.cloned().unwrap_or_else(|| SpecItem {
                key: slug(&title, taken),
                title,
                help: String::new(),
                form: SpecForm::TolerancedLength,
                of: Dimension::Length,
                options: Vec::new(),
                only_if: None,
            });
            procedure.specification.push(item);
            Part::Number(procedure.specification.len() - 1)
        }
        Kind::Instrument => {
            let kind = InstrumentKind::ALL.into_iter().find(|kind| kind.key() == title);
            let kind = kind.unwrap_or(InstrumentKind::Rule);
            let role = slug(kind.key(), |key| procedure.roles.iter().any(|role| role.role == key));
            procedure.roles.push(Role { role, title: kind.title().to_owned(), kind });
            Part::Instrument(procedure.roles.len() - 1)
        }
        Kind::Check => {
            let id = slug(&title, |key| procedure.check(key).is_some());
            let formula = Formula::Balance { plus: Vec::new(), minus: Vec::new(), error_cancels: false, zeroed: false };
            procedure.checks.push(Check {
                id,
                title,
                dimension: Dimension::Length,
                formula,
                judged_by: None,
                adjusters: Vec::new(),
                shared: false,
                reads_tail_directly: false,
                plus: String::new(),
                minus: String::new(),
            });
            Part::Check(procedure.checks.len() - 1)
        }
        Kind::Adjuster => {
            let id = slug(&title, |key| procedure.adjuster(key).is_some());
            procedure.adjusters.push(Adjuster {
                id,
                title,
                lever: LeverKind::Effects(Effects { on: Vec::new(), most: None, with: Vec::new() }),
                settable: SettableStep { inches: 0.0, millimetres: 0.0, turns: 0.0, pitch: None },
                plus: String::new(),
                minus: String::new(),
                disturbs: Vec::new(),
                only_if: None,
            });
            Part::Adjuster(procedure.adjusters.len() - 1)
        }
        Kind::Group => {
            let id = slug(&title, |key| procedure.passes.iter().any(|pass| pass.id == key));
            procedure.passes.push(Pass { id, steps: Vec::new() });
            Part::Group(procedure.passes.len() - 1)
        }
        Kind::Step(group) => {
            let Some(steps) = steps_mut(procedure, group) else { return Part::About };
            let id = slug(&title, |key| steps.iter().any(|step| step.id == key));
            steps.push(Step {
                id,
                title,
                text: Vec::new(),
                cautions: Vec::new(),
                picture: None,
                only_if: None,
                kind: StepKind::Confirm,
            });
            Part::Step(StepAt { group, place: steps.len() - 1 })
        }
        Kind::Reading(at) => {
            let role = procedure.roles.first().map(|role| role.role.clone()).unwrap_or_default();
            let Some(slots) = at.slots_mut(procedure) else { return Part::Step(at) };
            slots.push(Slot {
                id: slug(&title, |key| slots.iter().any(|slot| slot.id == key)),
                title,
                place: String::new(),
                role,
                repeats: 1,
                ask: None,
                near: None,
                partner: None,
            });
            Part::Reading(at, slots.len() - 1)
        }
    }
}

/// Takes a part out, and what stands beside it that only named it: an adjuster out of the checks that it served, a reading out of its
/// twin. What still names it is a fault that the person mends.
pub fn remove(procedure: &mut Procedure, part: Part) {
    match part {
        Part::About => {}
        Part::Number(place) => drop(taken(&mut procedure.specification, place)),
        Part::Instrument(place) => drop(taken(&mut procedure.roles, place)),
        Part::Check(place) => {
            if let Some(check) = taken(&mut procedure.checks, place) {
                for adjuster in &mut procedure.adjusters {
                    adjuster.disturbs.retain(|id| *id != check.id);
                    forget(adjuster, &check.id);
                }
            }
        }
        Part::Adjuster(place) => {
            if let Some(adjuster) = taken(&mut procedure.adjusters, place) {
                procedure.checks.iter_mut().for_each(|check| check.adjusters.retain(|id| *id != adjuster.id));
                for other in &mut procedure.adjusters {
                    if let LeverKind::Effects(Effects { with, .. }) = &mut other.lever {
                        with.retain(|id| *id != adjuster.id);
                    }
                }
            }
        }
        Part::Group(place) => drop(taken(&mut procedure.passes, place)),
        Part::Step(at) => {
            if let Some(steps) = steps_mut(procedure, at.group) {
                drop(taken(steps, at.place));
            }
        }
        Part::Reading(at, place) => {
            if let Some(slots) = at.slots_mut(procedure)
                && let Some(slot) = taken(slots, place)
            {
                slots.iter_mut().filter(|other| other.partner.as_ref() == Some(&slot.id)).for_each(|other| {
                    other.partner = None;
                });
            }
        }
    }
    settle(procedure);
}

fn taken<T>(list: &mut Vec<T>, place: usize) -> Option<T> {
    (place < list.len()).then(|| list.remove(place))
}

/// Moves a step or a reading one place, later or earlier; at the end of its list it stays.
pub fn shift(procedure: &mut Procedure, part: Part, later: bool) {
    let swap = |len: usize, place: usize| {
        let other = if later { place.checked_add(1) } else { place.checked_sub(1) };
        other.filter(|other| place < len && *other < len)
    };
    match part {
        Part::Step(at) => {
            if let Some(steps) = steps_mut(procedure, at.group)
                && let Some(other) = swap(steps.len(), at.place)
            {
                steps.swap(at.place, other);
            }
        }
        Part::Reading(at, place) => {
            if let Some(slots) = at.slots_mut(procedure)
                && let Some(other) = swap(slots.len(), place)
            {
                slots.swap(place, other);
            }
        }
        _ => {}
    }
}

/// Twins name each other, and nobody else names either.
fn pair(slots: &mut [Slot], place: usize) {
    let Some((id, partner)) = slots.get(place).map(|slot| (slot.id.clone(), slot.partner.clone())) else { return };
    for other in slots.iter_mut().filter(|other| other.id != id) {
        if Some(&other.id) == partner.as_ref() {
            other.partner = Some(id.clone());
        } else if other.partner.as_ref() == Some(&id) || (other.partner.is_some() && other.partner == partner) {
            other.partner = None;
        }
    }
}

/// What follows from what was chosen, so that nobody has to say it twice: what an adjuster serves it disturbs and has an effect on, and
/// a closed form says itself what it gives.
fn settle(procedure: &mut Procedure) {
    for check in &mut procedure.checks {
        match &mut check.formula {
            Formula::Reckoned(reckoned) => {
                if let Some(form) = reckoning(&reckoned.by) {
                    check.dimension = form.gives.unwrap_or(check.dimension);
                    reckoned.from.retain(|name, _| form.given.iter().any(|given| given.id == name));
                    reckoned.longer = reckoned.longer.take().filter(|name| reckoned.from.contains_key(name));
                }
            }
            Formula::Agreement { .. } => check.dimension = Dimension::Count,
            Formula::Balance { .. } | Formula::Largest { .. } => {}
        }
    }
    let checks = &procedure.checks;
    for adjuster in &mut procedure.adjusters {
        let served: Vec<&Check> = checks.iter().filter(|check| check.adjusters.contains(&adjuster.id)).collect();
        for check in &served {
            if !adjuster.disturbs.contains(&check.id) {
                adjuster.disturbs.push(check.id.clone());
            }
        }
        let LeverKind::Effects(Effects { on, .. }) = &mut adjuster.lever else { continue };
        for check in served {
            if !on.iter().any(|effect| effect.check == check.id) {
                let angle = check.dimension == Dimension::Angle;
                let by = if angle { How::OverBase { base: String::new() } } else { How::Along };
                on.push(Effect { check: check.id.clone(), by, reversed: false });
            }
        }
    }
}

/// The id of a new procedure of this title, which none of the airframe's has.
#[must_use]
pub fn free_id(airframe: &Airframe, title: &str) -> String {
    let kept = |key: &str| airframe.procedures.iter().any(|own| own.procedure == key);
    slug(title, |key| key == "new" || procedure(key).is_some() || kept(key))
}

/// A key out of a title: its letters and digits in small, without their marks, words joined by hyphens, and a number behind when it is
/// taken.
pub(super) fn slug(title: &str, taken: impl Fn(&str) -> bool) -> String {
    let mut base = String::new();
    for letter in title.chars() {
        match plain(letter) {
            Some(letters) => base.push_str(letters),
            None if letter.is_ascii_alphanumeric() => base.push(letter.to_ascii_lowercase()),
            None if !base.is_empty() && !base.ends_with('-') => base.push('-'),
            None => {}
        }
    }
    base.truncate(40);
    let base = base.trim_end_matches('-');
    let base = if base.is_empty() { "part" } else { base };
    let numbered = (2_u32..).map(|number| format!("{base}-{number}"));
    std::iter::once(base.to_owned()).chain(numbered).find(|key| !taken(key)).unwrap_or_default()
}

/// A marked letter of western European languages without its mark.
const fn plain(letter: char) -> Option<&'static str> {
    Some(match letter {
        '\u{e4}' | '\u{c4}' | '\u{e6}' => "ae",
        '\u{f6}' | '\u{d6}' | '\u{f8}' => "oe",
        '\u{fc}' | '\u{dc}' => "ue",
        '\u{df}' => "ss",
        '\u{e0}'..='\u{e3}' | '\u{e5}' => "a",
        '\u{e7}' => "c",
        '\u{e8}'..='\u{eb}' | '\u{c8}'..='\u{cb}' => "e",
        '\u{ec}'..='\u{ef}' => "i",
        '\u{f1}' => "n",
        '\u{f2}'..='\u{f5}' => "o",
        '\u{f9}'..='\u{fb}' => "u",
        _ => return None,
    })
}
