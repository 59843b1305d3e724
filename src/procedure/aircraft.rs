//! The whole aircraft: every procedure that applies to it, and how far each has come.

use crate::language::{tr, words};
use crate::procedure::{Procedure, Run, State, all_in_use, fold};
use crate::record::{Airframe, Ledger, RunId};

/// How far a procedure has come on an airframe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Progress {
    /// Not begun, and nothing stands in its way.
    NotStarted,
    /// Not begun, and something that it builds on is not done.
    Waits,
    /// Begun.
    UnderWay,
    /// Something that it measured was moved since.
    Stale,
    /// Every step is done.
    Done,
}

impl Progress {
    /// In a word or two.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NotStarted => words!("not started"),
            Self::Waits => words!("waits"),
            Self::UnderWay => words!("under way"),
            Self::Stale => words!("stale"),
            Self::Done => words!("done"),
        }
    }

    /// Its name in the page's markup.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::NotStarted => "not-started",
            Self::Waits => "waits",
            Self::UnderWay => "under-way",
            Self::Stale => "stale",
            Self::Done => "done",
        }
    }
}

/// A procedure on an airframe.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// The procedure.
    pub procedure: &'static Procedure,
    /// Its latest run.
    pub run: Option<RunId>,
    /// How far it has come.
    pub progress: Progress,
    /// Steps that are done, of how many.
    pub steps: (usize, usize),
    /// Titles of what it waits for, or of the steps that went stale.
    pub because: Vec<String>,
}

impl Work {
    /// How far it has come, in a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        let because = self.because.join(", ");
        match self.progress {
            Progress::NotStarted => tr!("Not started."),
            Progress::Waits => tr!("Best after: {procedures}.", procedures = because),
            Progress::UnderWay => tr!("{done} of {all} steps done.", done = self.steps.0, all = self.steps.1),
            Progress::Stale => tr!("Stale: {steps}.", steps = because),
            Progress::Done => tr!("Done."),
        }
    }
}

/// Whether a procedure applies to an airframe: while nobody has said otherwise on its sheet, it does.
#[must_use]
pub fn applies_to(procedure: &Procedure, airframe: &Airframe) -> bool {
    procedure
        .only_if
        .as_ref()
        .is_none_or(|condition| airframe.specification.words(&condition.key).is_none_or(|words| words == condition.is))
}

/// Every procedure that applies to the airframe, in the version that it is at: those that come with the app in their order, then its own.
#[must_use]
pub fn aircraft(airframe: &Airframe, ledger: &Ledger) -> Vec<Work> {
    let mut works: Vec<Work> = all_in_use(airframe)
        .into_iter()
        .filter(|found| applies_to(found, airframe))
        .map(|found| work(found, airframe, ledger))
        .collect();
    let done: Vec<&str> =
        works.iter().filter(|work| work.progress == Progress::Done).map(|work| work.procedure.id.as_str()).collect();
    let there: Vec<&Procedure> = works.iter().map(|work| work.procedure).collect();
    let waits: Vec<Vec<String>> = works
        .iter()
        .map(|work| {
            let missing = work.procedure.needs.iter().filter(|needed| !done.contains(&needed.as_str()));
            let title =
                |needed: &String| there.iter().find(|other| other.id == *needed).map(|other| other.title.clone());
            missing.filter_map(title).collect()
        })
        .collect();
    for (work, waits) in works.iter_mut().zip(waits) {
        if work.progress == Progress::NotStarted && !waits.is_empty() {
            work.progress = Progress::Waits;
            work.because = waits;
        }
    }
    works
}

/// What to do next: what went stale, else what was begun, else the first that nothing stands in the way of.
#[must_use]
pub fn next_work(works: &[Work]) -> Option<&Work> {
    [Progress::Stale, Progress::UnderWay, Progress::NotStarted, Progress::Waits]
        .into_iter()
        .find_map(|wanted| works.iter().find(|work| work.progress == wanted))
}

fn work(procedure: &'static Procedure, airframe: &Airframe, ledger: &Ledger) -> Work {
    let Some(run) = airframe.latest_run(&procedure.id).map(|started| started.run) else {
        let steps =
            procedure.laid_out().iter().filter(|(_, _, step)| fold::applies(step.only_if.as_ref(), airframe)).count();
        return Work { procedure, run: None, progress: Progress::NotStarted, steps: (0, steps), because: Vec::new() };
    };
    let folded = Run::without_advice(procedure, airframe, run, &ledger.of_run(airframe.id, run));
    let stale = folded.steps.iter().filter(|step| step.state == State::Stale);
    let mut because: Vec<String> = Vec::new();
    for step in stale {
        if !because.contains(&step.step.title) {
            because.push(step.step.title.clone());
        }
    }
    let progress = if folded.current.is_none() {
        Progress::Done
    } else if because.is_empty() {
        Progress::UnderWay
    } else {
        Progress::Stale
    };
    Work { procedure, run: Some(run), progress, steps: (folded.done(), folded.steps.len()), because }
}
