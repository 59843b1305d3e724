//! The same checks at one gate after another: what clamping, drilling and fastening have pulled.

use crate::language::{self, tr};
use crate::metrology::{Limits, Mark, Verdict, prints_as_zero};
use crate::procedure::words::rough_signed;
use crate::procedure::{CheckResult, Procedure, Run, State, StepKind, StepState, Words};
use crate::record::EntryId;

/// What the binary form of decimals may leave behind: far below anything that is read.
const ROUNDING: f64 = 1e-9;

/// A check across the gates.
#[derive(Clone, Debug, PartialEq)]
pub struct Drift {
    /// Its key in the procedure.
    pub check: String,
    /// What it is called.
    pub title: String,
    /// One for every gate at which any check was read, in the order of the work.
    pub gates: Vec<AtGate>,
}

/// A check at a gate.
#[derive(Clone, Debug, PartialEq)]
pub struct AtGate {
    /// Gate, value and verdict: "clamped: −2.60°, in"; "clamped: not read" where it was not.
    pub words: String,
    /// The verdict's mark and the verdict, where it was read.
    pub mark: Option<(Mark, Verdict)>,
    /// What changed since the gate before at which it was read, in words; empty at the first.
    pub change: String,
    /// The change alone is more than half the tolerance, and nothing was moved on purpose.
    pub large: bool,
}

/// Every check at every gate that was read; empty before the second gate, since one alone shows no change.
///
/// The change is from the last value at the gate before to what was first read at this one, before anything was moved there: what
/// the work in between did, whatever was corrected afterwards. Its uncertainty is taken as that of two independent sets; what the
/// instrument carries into both would make it smaller.
#[must_use]
pub fn drift(procedure: &Procedure, run: &Run) -> Vec<Drift> {
    let seen: Vec<Seen<'_>> = run.steps.iter().filter_map(Seen::of).collect();
    let mut gates: Vec<&str> = Vec::new();
    for one in &seen {
        if !gates.contains(&one.gate) {
            gates.push(one.gate);
        }
    }
    let mut rows = Vec::new();
    for check in procedure.checks.iter().filter(|_| gates.len() > 1) {
        let mut row = Drift { check: check.id.clone(), title: check.title.clone(), gates: Vec::new() };
        let mut before: Option<&Seen<'_>> = None;
        for gate in &gates {
            let found = seen.iter().find(|one| one.gate == *gate && one.check == check.id);
            row.gates.push(match found {
                Some(found) => found.at_gate(before),
                None => {
                    let words = tr!("{gate}: not read", gate = language::of_gate(gate));
                    AtGate { words, mark: None, change: String::new(), large: false }
                }
            });
            before = found.or(before);
        }
        if before.is_some() {
            rows.push(row);
        }
    }
    rows
}

/// A check as it was read at a gate.
struct Seen<'r> {
    gate: &'r str,
    check: &'r str,
    stale: bool,
    /// The last complete value, and the last before anything was moved at this gate; whether anything was.
    last: &'r CheckResult,
    first: &'r CheckResult,
    corrected: bool,
    /// The first reading, and the move after the last.
    from: EntryId,
    moved: Option<EntryId>,
}

impl<'r> Seen<'r> {
    fn of(step: &'r StepState) -> Option<Self> {
        let StepKind::Measure { check, blind: false, .. } = &step.step.kind else { return None };
        let gate = step.gate.as_deref()?;
        let stale = step.state == State::Stale;
        let mut found: Option<Self> = None;
        for (attempt, result) in step.attempts.iter().zip(&step.results) {
            let Some(last) = result else { continue };
            let from = attempt.readings.first()?.entry;
            let mut now = Self { gate, check, stale, last, first: last, corrected: false, from, moved: attempt.stale };
            if let Some(before) = found {
                now.from = before.from;
                now.corrected = before.corrected || before.moved.is_some();
                if now.corrected {
                    now.first = before.first;
                }
            }
            found = Some(now);
        }
        found
    }

    fn at_gate(&self, before: Option<&Self>) -> AtGate {
        let Self { gate, last, .. } = self;
        let (change, large) = before.map(|before| self.since(before)).unwrap_or_default();
        let gate = language::of_gate(gate);
        let (value, verdict) = (Words::value(last), Words::verdict(last.verdict));
        let words = if self.stale {
            tr!("{gate}: {value}, {verdict}, stale", gate, value, verdict)
        } else {
            tr!("{gate}: {value}, {verdict}", gate, value, verdict)
        };
        AtGate { words, mark: Some((last.mark, last.verdict)), change, large }
    }

    /// What changed since another gate, and whether that alone is too much.
    fn since(&self, before: &Self) -> (String, bool) {
        let change = self.first.estimate.minus(before.last.estimate);
        let moved = before.moved.is_some_and(|moved| moved < self.from);
        let tolerance = self.first.limits.and_then(Limits::half_width);
        let large = !moved && tolerance.is_some_and(|tolerance| change.value.abs() > tolerance / 2.0 + ROUNDING);
        let amount = rough_signed(change.value, change.unit);
        let unchanged = prints_as_zero(&amount);
        let gate = language::of_gate(before.gate);
        let mut words =
            if unchanged { tr!("unchanged since {gate}", gate) } else { tr!("{amount} since {gate}", amount, gate) };
        if moved {
            words = tr!("{change}, moved in between", change = words);
        }
        if large {
            words = tr!("{change}: more than half the tolerance", change = words);
        }
        if !moved && !unchanged && change.value.abs() <= change.expanded() {
            words = tr!("{change}, within what the readings leave open", change = words);
        }
        if self.corrected {
            words = tr!("{change}; corrected here", change = words);
        }
        (words, large)
    }
}
