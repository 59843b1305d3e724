//! What is wrong with a procedure file, in plain words.

use std::collections::BTreeSet;
use std::fmt;

use crate::language::{tr, words};
use crate::procedure::{
    Adjuster, Check, Effects, Formula, Input, LeverKind, Procedure, Reckoned, Slot, SpecForm, StepKind,
};
use crate::rigging::{Reckoning, reckoning};

/// Something that a procedure file has wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub place: Place,
    /// What, as the rest of a sentence about it.
    pub what: String,
}

/// Where a fault is; printed as its key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The procedure, by its id.
    Whole(String),
    /// An item of the specification.
    Number(String),
    /// A step, by its path.
    Step(String),
    /// A check.
    Check(String),
    /// An adjuster.
    Adjuster(String),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (Self::Whole(key) | Self::Number(key) | Self::Step(key) | Self::Check(key) | Self::Adjuster(key)) = self;
        f.write_str(key)
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&tr!("{place}: {fault}", place = self.place, fault = self.what))
    }
}

/// Everything that a procedure names is there, once, and of the right kind. Empty when there is nothing to mend.
#[must_use]
pub fn faults(procedure: &Procedure) -> Vec<Fault> {
    let mut found = Found { procedure, faults: Vec::new() };
    found.sheet();
    found.steps();
    for check in &procedure.checks {
        found.check(check);
    }
    for adjuster in &procedure.adjusters {
        found.adjuster(adjuster);
    }
    found.faults
}

/// Longest key, in bytes.
const LONGEST_KEY: usize = 60;

fn no_title() -> &'static str {
    words!("it has no title")
}

struct Found<'p> {
    procedure: &'p Procedure,
    faults: Vec<Fault>,
}

impl Found<'_> {
    fn say(&mut self, place: &Place, what: String) {
        self.faults.push(Fault { place: place.clone(), what });
    }

    fn needs(&mut self, holds: bool, place: &Place, what: impl FnOnce() -> String) {
        if !holds {
            self.say(place, what());
        }
    }

    fn item(&mut self, place: &Place, key: &str) {
        self.needs(self.procedure.item(key).is_some(), place, || {
            if key.is_empty() {
                return tr!("a number from the manual is not chosen yet");
            }
            tr!("it asks for “{key}”, which is not among the numbers from the manual", key)
        });
    }

    fn words(&mut self, place: &Place, words: &str, what: &str) {
        self.needs(!words.trim().is_empty(), place, || what.to_owned());
    }

    fn sheet(&mut self) {
        let procedure = self.procedure;
        let whole = Place::Whole(procedure.id.clone());
        self.words(&whole, &procedure.title, no_title());
        self.keys(&whole);
        let mut seen = BTreeSet::new();
        for item in &procedure.specification {
            let place = Place::Number(item.key.clone());
            self.words(&place, &item.title, no_title());
            self.needs(seen.insert(&item.key), &place, || tr!("it is asked for twice"));
            let choice = item.form == SpecForm::Choice;
            self.needs(!choice || item.options.len() > 1, &place, || tr!("a choice needs at least two options"));
            if let Some(condition) = &item.only_if {
                self.item(&place, &condition.key);
            }
        }
        if let Some(condition) = &procedure.only_if {
            self.item(&whole, &condition.key);
        }
    }

    /// Keys stand in addresses and in tables: small letters, digits, hyphens.
    fn keys(&mut self, place: &Place) {
        let procedure = self.procedure;
        let steps = procedure.steps.iter().chain(procedure.passes.iter().flat_map(|pass| &pass.steps));
        let inside = steps.flat_map(|step| {
            let of_kind: Vec<&String> = match &step.kind {
                StepKind::Measure { slots, .. } => slots.iter().map(|slot| &slot.id).collect(),
                StepKind::Pass { gate, .. } => vec![gate],
                _ => Vec::new(),
            };
            std::iter::once(&step.id).chain(of_kind)
        });
        let all = std::iter::once(&procedure.id)
            .chain(procedure.specification.iter().map(|item| &item.key))
            .chain(procedure.roles.iter().map(|role| &role.role))
            .chain(procedure.checks.iter().map(|check| &check.id))
            .chain(procedure.adjusters.iter().map(|adjuster| &adjuster.id))
            .chain(procedure.passes.iter().map(|pass| &pass.id))
            .chain(inside);
        for key in all {
            let letters = key.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-');
            self.needs(letters && (1..=LONGEST_KEY).contains(&key.len()), place, || {
                tr!("the key “{key}” is not of small letters, digits and hyphens", key)
            });
        }
    }

    fn steps(&mut self) {
        let procedure = self.procedure;
        for step in &procedure.steps {
            if let StepKind::Pass { of, .. } = &step.kind {
                let known = procedure.passes.iter().any(|pass| pass.id == *of);
                self.needs(known, &Place::Step(step.id.clone()), || tr!("there is no pass “{pass}”", pass = of));
            }
        }
        let steps = procedure.laid_out();
        self.needs(!steps.is_empty(), &Place::Whole(procedure.id.clone()), || tr!("it has no steps"));
        let paths: BTreeSet<&str> = steps.iter().map(|(path, ..)| path.as_str()).collect();
        let mut seen = BTreeSet::new();
        for (path, _, step) in &steps {
            let place = &Place::Step(path.clone());
            self.needs(seen.insert(path), place, || tr!("two steps have this key"));
            self.words(place, &step.title, no_title());
            if let Some(condition) = &step.only_if {
                self.item(place, &condition.key);
            }
            match &step.kind {
                StepKind::Instrument(role) => self.role(place, role),
                StepKind::Count { expected, .. } => self.item(place, expected),
                StepKind::Holes { expected, reasons, .. } => self.holes(place, expected, reasons),
                StepKind::Measure { check, slots, .. } => {
                    for slot in slots {
                        self.slot(place, slot, slots);
                    }
                    let worked_out = procedure.check(check).is_some_and(Check::worked_out);
                    self.needs(!slots.is_empty() || worked_out, place, || tr!("nothing is read at it"));
                    match procedure.check(check) {
                        None if check.is_empty() => self.say(place, tr!("what it works out is not chosen yet")),
                        None => self.say(place, tr!("there is no check “{check}”", check)),
                        Some(check) => self.formula_at(place, check, slots, &paths),
                    }
                }
                StepKind::Hold { statement, .. } => self.words(place, statement, words!("its signature says nothing")),
                StepKind::Confirm | StepKind::Pass { .. } => {}
            }
        }
    }

    fn holes(&mut self, place: &Place, expected: &str, reasons: &[String]) {
        self.item(place, expected);
        let counted = self.procedure.item(expected).is_none_or(|item| item.form == SpecForm::Count);
        self.needs(counted, place, || tr!("“{key}” is no number of things", key = expected));
        let mut seen = BTreeSet::new();
        for reason in reasons {
            self.needs(!reason.trim().is_empty(), place, || tr!("a reason has no words"));
            self.needs(seen.insert(reason), place, || tr!("the reason “{reason}” is there twice", reason));
        }
    }

    fn role(&mut self, place: &Place, role: &str) {
        if role.is_empty() {
            return self.say(place, tr!("its instrument is not chosen yet"));
        }
        let known = self.procedure.roles.iter().any(|known| known.role == role);
        self.needs(known, place, || tr!("there is no instrument “{instrument}”", instrument = role));
    }

    fn slot(&mut self, place: &Place, slot: &Slot, slots: &[Slot]) {
        self.role(place, &slot.role);
        self.words(place, &slot.title, words!("a reading has no title"));
        self.needs(slot.repeats > 0, place, || tr!("“{reading}” is never read", reading = slot.title));
        self.needs(slots.iter().filter(|other| other.id == slot.id).count() == 1, place, || {
            tr!("two readings have the key “{key}”", key = slot.id)
        });
        if let Some(near) = &slot.near {
            self.item(place, near);
        }
        if let Some(partner) = &slot.partner {
            let back = slots.iter().find(|other| other.id == *partner).and_then(|other| other.partner.as_ref());
            self.needs(back == Some(&slot.id), place, || {
                tr!("“{key}” and “{partner}” have to name each other as partners", key = slot.id, partner)
            });
        }
    }

    /// The formula's readings are taken at the step.
    fn formula_at(&mut self, place: &Place, check: &Check, slots: &[Slot], paths: &BTreeSet<&str>) {
        let read = |id: &str| slots.iter().any(|slot| slot.id == id);
        let wanted: Vec<&str> = match &check.formula {
            Formula::Balance { plus, minus, .. } => plus.iter().chain(minus).map(String::as_str).collect(),
            Formula::Largest { slots } => slots.iter().map(String::as_str).collect(),
            Formula::Reckoned(reckoned) => reckoned.slots().collect(),
            Formula::Agreement { with } => {
                for other in with {
                    self.needs(paths.contains(other.as_str()), place, || {
                        tr!("there is no step “{step}”", step = other)
                    });
                }
                Vec::new()
            }
        };
        for slot in wanted {
            self.needs(read(slot), place, || tr!("its check needs a reading “{reading}”", reading = slot));
        }
    }

    fn check(&mut self, check: &Check) {
        let place = &Place::Check(check.id.clone());
        self.words(place, &check.title, no_title());
        if let Some(key) = &check.judged_by {
            self.item(place, key);
        }
        let measured = self.procedure.laid_out().iter().any(
            |(_, _, step)| matches!(&step.kind, StepKind::Measure { check: measured, .. } if *measured == check.id),
        );
        self.needs(measured, place, || tr!("no step measures it"));
        let from_nothing = match &check.formula {
            Formula::Balance { plus, minus, .. } => plus.is_empty() && minus.is_empty(),
            Formula::Largest { slots: none } | Formula::Agreement { with: none } => none.is_empty(),
            Formula::Reckoned(_) => false,
        };
        self.needs(!from_nothing, place, || tr!("it does not say from which readings it is worked out"));
        for id in &check.adjusters {
            let Some(adjuster) = self.procedure.adjuster(id) else {
                self.say(place, tr!("there is no adjuster “{adjuster}”", adjuster = id));
                continue;
            };
            self.needs(adjuster.disturbs.contains(&check.id), place, || {
                tr!("“{adjuster}” has to make it stale", adjuster = id)
            });
            if let LeverKind::Effects(Effects { on, .. }) = &adjuster.lever {
                self.needs(on.iter().any(|effect| effect.check == check.id), place, || {
                    tr!("“{adjuster}” does not say what it does to it", adjuster = id)
                });
            }
        }
        if let Formula::Reckoned(reckoned) = &check.formula {
            match reckoning(&reckoned.by) {
                None => {
                    self.say(place, tr!("“{way}” is not a known way to work it out", way = reckoned.by));
                }
                Some(form) => self.reckoned(check, reckoned, form),
            }
        }
    }

    fn reckoned(&mut self, check: &Check, reckoned: &Reckoned, form: &Reckoning) {
        let (from, place) = (&reckoned.from, &Place::Check(check.id.clone()));
        if let Some(longer) = &reckoned.longer {
            self.needs(reckoned.longer().is_some(), place, || {
                tr!("“{way}” has no “{input}”", way = form.id, input = longer)
            });
        }
        for given in form.given.iter().filter(|given| !given.optional) {
            self.needs(from.contains_key(given.id), place, || tr!("“{input}” is missing", input = given.id));
        }
        for (name, input) in from {
            self.needs(form.given.iter().any(|given| given.id == name), place, || {
                tr!("“{way}” has no “{input}”", way = form.id, input = name)
            });
            match input {
                Input::Slot(_) => {}
                Input::Mean(mean) => {
                    self.needs(mean.of.len() > 1, place, || tr!("“{input}” is a mean of fewer than two", input = name));
                }
                Input::Sheet(key) => self.item(place, key),
                Input::Chart(chart) => self.item(place, &chart.sheet),
                Input::Check(other) => {
                    let known = self.procedure.check(other).is_some() && *other != check.id;
                    self.needs(known, place, || tr!("there is no other check “{check}”", check = other));
                }
            }
        }
        self.needs(form.gives.is_none_or(|gives| gives == check.dimension), place, || {
            tr!("“{way}” gives another kind of quantity", way = form.id)
        });
    }

    fn adjuster(&mut self, adjuster: &Adjuster) {
        let (procedure, place) = (self.procedure, &Place::Adjuster(adjuster.id.clone()));
        self.words(place, &adjuster.title, no_title());
        let orders = !adjuster.plus.trim().is_empty() && !adjuster.minus.trim().is_empty();
        self.needs(orders, place, || tr!("it does not say how it is moved one way and the other"));
        for disturbed in adjuster.disturbs.iter().filter(|disturbed| !disturbed.contains('/')) {
            self.needs(procedure.check(disturbed).is_some(), place, || {
                tr!("there is no check “{check}”", check = disturbed)
            });
        }
        if let Some(condition) = &adjuster.only_if {
            self.item(place, &condition.key);
        }
        let step = &adjuster.settable;
        let has = if step.pitch.is_some() { step.turns > 0.0 } else { step.inches > 0.0 && step.millimetres > 0.0 };
        self.needs(has, place, || tr!("it has no smallest amount that hands can set"));
        if let Some(pitch) = &step.pitch {
            self.item(place, pitch);
        }
        for key in keys_of(&adjuster.lever) {
            self.item(place, key);
        }
        match &adjuster.lever {
            LeverKind::Joint { gaps, .. } => {
                let read = |gap: &String| {
                    procedure.laid_out().iter().any(|(_, _, step)| {
                        matches!(&step.kind, StepKind::Measure { slots, .. } if slots.iter().any(|slot| slot.id == *gap))
                    })
                };
                for gap in gaps {
                    self.needs(read(gap), place, || tr!("its gap “{gap}” is never read", gap));
                }
            }
            LeverKind::Effects(Effects { on, with, .. }) => {
                for other in with {
                    self.needs(procedure.adjuster(other).is_some(), place, || {
                        tr!("there is no adjuster “{adjuster}”", adjuster = other)
                    });
                }
                for effect in on {
                    let check = procedure.check(&effect.check);
                    self.needs(check.is_some_and(|check| effect.by.changes() == check.dimension), place, || {
                        tr!("what it does to “{check}” is of another kind than that check", check = effect.check)
                    });
                }
            }
            _ => {}
        }
    }
}

/// The items of the specification that an adjuster's geometry needs.
fn keys_of(lever: &LeverKind) -> Vec<&String> {
    match lever {
        LeverKind::SlopingTube { distance, below, slope } => vec![distance, below, slope],
        LeverKind::Saddle { distance } => vec![distance],
        LeverKind::Rock { width, .. } => vec![width],
        LeverKind::Joint { width, to_tail, half_width, distance, limit, offset, .. } => {
            vec![width, to_tail, half_width, distance, limit, offset]
        }
        LeverKind::Effects(Effects { on, most, .. }) => {
            on.iter().flat_map(|effect| effect.by.keys()).chain(most).collect()
        }
    }
}
