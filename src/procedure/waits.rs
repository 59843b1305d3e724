//! What people said that bears on a step: a deviation that was accepted, what is left to do before it (docs/decisions/0018). A verdict is
//! never changed by it.

use crate::language::tr;
use crate::metrology::Verdict;
use crate::procedure::words::capitalised;
use crate::procedure::{Formula, Procedure, StepKind, StepState, Words};
use crate::record::{Airframe, Body, Deviation, DeviationAnswer, Entry, EntryId, OpenItem, RunId, same_person};

/// A deviation that may stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accepted {
    /// The entry that raised it.
    pub deviation: EntryId,
    /// Who said that it may stand.
    pub name: String,
}

/// Something that is left to do before a step opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unfinished {
    /// The entry that opened it.
    pub entry: EntryId,
    /// The step at which it was found, when it was found at one.
    pub found_at: Option<String>,
    /// What is to be done.
    pub what: String,
}

/// What was said of a step and bears on it now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Waits {
    /// What is out, or cannot be told, at the step was accepted as it is.
    pub accepted: Option<Accepted>,
    /// What keeps the step shut.
    pub shut_by: Vec<Unfinished>,
    /// Deviations raised here that nobody answered who may: they shut nothing.
    pub deviations: usize,
}

impl StepState {
    /// Who accepted what the step reads now although it is out or cannot be told, in words: "out, accepted by M. Mentor".
    #[must_use]
    pub fn accepted_words(&self) -> Option<String> {
        let accepted =
            self.waits.accepted.as_ref().filter(|_| self.attempt().is_some_and(|last| last.stale.is_none()))?;
        let verdict = Words::verdict(self.result()?.verdict);
        Some(tr!("{verdict}, accepted by {name}", verdict, name = accepted.name))
    }

    /// What bears on the step beside its readings, one sentence each: who accepted it as it is, what is left to do before it, which
    /// deviations wait for an answer.
    #[must_use]
    pub fn waits_words(&self) -> Vec<String> {
        let accepted = self.accepted_words().map(|words| format!("{}.", capitalised(&words)));
        let shut = self.waits.shut_by.iter().map(|item| tr!("Left to do before this: {what}", what = item.what));
        let mut words: Vec<String> = accepted.into_iter().chain(shut).collect();
        match self.waits.deviations {
            0 => {}
            count => words
                .push(tr!("A deviation waits for an answer." | "{n} deviations wait for an answer." % count as u64)),
        }
        words
    }
}

/// What was said in a run, gathered while its entries are folded.
#[derive(Default)]
pub(super) struct Heard<'e> {
    raised: Vec<(&'e Entry, &'e Deviation)>,
    answers: Vec<&'e DeviationAnswer>,
    opened: Vec<(EntryId, &'e OpenItem)>,
    closed: Vec<EntryId>,
}

impl<'e> Heard<'e> {
    /// Keeps what an entry says, if it is about the run or answers something.
    pub(super) fn hear(&mut self, run: RunId, entry: &'e Entry) {
        let own = || entry.about().is_some_and(|about| about.run == Some(run));
        match &entry.body {
            Body::DeviationRaised(deviation) if own() => self.raised.push((entry, deviation)),
            Body::DeviationAnswered(answer) => self.answers.push(answer),
            Body::ItemOpened(item) if own() => self.opened.push((entry.id, item)),
            Body::ItemClosed { item, .. } => self.closed.push(*item),
            _ => {}
        }
    }

    /// Puts what was heard beside the steps, whose results are known by now.
    pub(super) fn settle(&self, steps: &mut [StepState], procedure: &Procedure, airframe: &Airframe) {
        for (entry, deviation) in &self.raised {
            let Some(place) = place(steps, deviation.about.step.as_deref()) else { continue };
            let answer = self.answers.iter().rfind(|answer| counts(answer, entry));
            let stands = answer.is_some() && stands(steps, place, entry.id, (procedure, airframe));
            let waits = &mut steps[place].waits;
            match answer {
                None => waits.deviations += 1,
                Some(answer) if stands => {
                    waits.accepted =
                        answer.accepted.then(|| Accepted { deviation: entry.id, name: answer.name.trim().to_owned() });
                }
                Some(_) => {}
            }
        }
        for (entry, item) in self.opened.iter().filter(|(entry, _)| !self.closed.contains(entry)) {
            if let Some(place) = place(steps, item.blocks.as_deref()) {
                let (found_at, what) = (item.about.step.clone(), item.what.clone());
                steps[place].waits.shut_by.push(Unfinished { entry: *entry, found_at, what });
            }
        }
    }
}

fn place(steps: &[StepState], path: Option<&str>) -> Option<usize> {
    steps.iter().position(|step| Some(step.path.as_str()) == path)
}

/// Whether an answer is one to a deviation: nobody answers what they raised themselves.
pub(crate) fn counts(answer: &DeviationAnswer, raised: &Entry) -> bool {
    answer.deviation == raised.id && !same_person(&answer.name, &raised.by)
}

/// Whether a deviation is about what the step reads now: nothing that the value follows from was read, and no number that it is judged
/// by was changed, after it was raised.
fn stands(steps: &[StepState], place: usize, raised: EntryId, (procedure, airframe): (&Procedure, &Airframe)) -> bool {
    let StepKind::Measure { check, .. } = &steps[place].step.kind else { return false };
    let (Some(check), Some(result)) = (procedure.check(check), steps[place].result()) else { return false };
    // What is worked out from other checks follows from whatever was read before it, and from the whole sheet.
    let alone = match check.formula {
        Formula::Balance { .. } | Formula::Largest { .. } => true,
        Formula::Reckoned(_) => false,
        // Two people who read differently: one of them reads again.
        Formula::Agreement { .. } => return false,
    };
    let from = if alone { place } else { 0 };
    let read = steps[from..=place].iter().filter_map(StepState::attempt).flat_map(|attempt| &attempt.readings);
    let judged_by = |key: &str| check.judged_by.as_deref() == Some(key) || (!alone && procedure.item(key).is_some());
    matches!(result.verdict, Verdict::Out(_) | Verdict::CantTell)
        && read.into_iter().all(|reading| reading.entry < raised)
        && !airframe.specification.changed_since(raised, judged_by)
}

/// What a deviation begins with: the value as the screen says it, and what the sheet asks for. `None` where nothing is out or in doubt.
#[must_use]
pub fn departure(procedure: &Procedure, airframe: &Airframe, step: &StepState) -> Option<(String, String)> {
    let StepKind::Measure { check, .. } = &step.step.kind else { return None };
    let result = step.result().filter(|result| matches!(result.verdict, Verdict::Out(_) | Verdict::CantTell))?;
    if step.attempt()?.stale.is_some() {
        return None;
    }
    let item = airframe.specification.item(procedure.check(check)?.judged_by.as_deref()?)?;
    let (verdict, value) = (Words::verdict(result.verdict), Words::value(result));
    let found = tr!("{verdict}: {value}, {uncertainty}", verdict, value, uncertainty = Words::uncertainty(result));
    Some((found, Words::sheet(item)))
}
