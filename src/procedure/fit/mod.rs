//! Every fresh reading of a mating adjusted together: where the cone really sits, and how each reading agrees with the rest.

mod moves;
mod scene;
mod sightings;

use crate::alignment::{
    AdjustError, Adjusted, Candidate, Gravity, Levels, Line, Network, Observed, Placement, Snooped, adjust,
};
use crate::language::{tr, words};
use crate::metrology::{Estimate, Limits, Verdict, judge_by, rough};
use crate::procedure::check::rule_of;
use crate::procedure::{Procedure, Run, Words};
use crate::quantity::{Unit, print};
use crate::record::{Airframe, EntryId};
use moves::together;
pub use moves::{Forecast, Together, WhatIf};
use scene::MatingScene;
use sightings::{Sighting, as_drawn, latest, measured, sightings};

/// A check as all readings together give it.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedCheck {
    /// Its key in the procedure.
    pub check: String,
    /// What it is called.
    pub title: String,
    /// Value and uncertainty from all readings, in the unit that it is judged in.
    pub estimate: Estimate,
    /// Its limits on the sheet.
    pub limits: Option<Limits>,
    /// Its verdict, by the airframe's rule.
    pub verdict: Verdict,
    /// "−2.61° (give or take 0.05°): in".
    pub words: String,
}

/// A reading beside what the others say.
#[derive(Clone, Debug, PartialEq)]
pub struct FittedReading {
    /// Its entry; none for what the set-up itself says.
    pub entry: Option<EntryId>,
    /// What was read.
    pub title: String,
    /// As read.
    pub read: String,
    /// How it agrees with the rest.
    pub words: String,
}

/// Where the cone sits.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The checks, as far as their items are on the sheet or were read.
    pub checks: Vec<FittedCheck>,
    /// The readings.
    pub readings: Vec<FittedReading>,
    /// Readings that the others contradict, a sentence each; they are left out of the checks above.
    pub suspects: Vec<String>,
    /// What would help most to decide a check that cannot be told.
    pub next: Option<String>,
    /// What to move so that all of them come in.
    pub moves: Together,
}

/// Why readings give no place.
#[derive(Clone, Debug, PartialEq)]
pub enum NoFit {
    /// Nothing fresh was read yet.
    NothingRead,
    /// A dimension is missing on the sheet.
    NoDimensions,
    /// The readings leave a motion free; each in words, with what to measure.
    Free(Vec<String>),
    /// They contradict each other too much.
    Contradiction,
}

impl std::fmt::Display for NoFit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NothingRead => {
                f.write_str(words!("Nothing was read since the last move. Measure pitch, twist and square first."))
            },
            Self::NoDimensions => f.write_str(words!(
                "The sheet lacks dimensions for this: half the width of the forward points, their distance to the aft point, the \
                 joint's width and its distance to the tail."
            )),
            Self::Free(motions) => f.write_str(&motions.join(" ")),
            Self::Contradiction => f.write_str(words!(
                "These readings contradict each other so much that no place fits them. Look for a slip: a tape that began at another \
                 mark, left and right swapped, a sign."
            )),
        }
    }
}

/// Adjusts every fresh reading of a run together.
///
/// # Errors
/// Why they give no place.
pub fn fit(procedure: &Procedure, airframe: &Airframe, run: &Run) -> Result<Fit, NoFit> {
    let mating = MatingScene::of(&airframe.specification).ok_or(NoFit::NoDimensions)?;
    let sightings = sightings(&mating, run, &airframe.specification);
    adjusted_together(procedure, airframe, run, &mating, &sightings)
}

/// The same for somebody at a step, who has not read everything yet: what was not read is taken to be about as drawn, and only
/// what was read is planned for.
///
/// # Errors
/// Why they give no place.
pub(super) fn fit_so_far(procedure: &Procedure, airframe: &Airframe, run: &Run) -> Result<Fit, NoFit> {
    let mating = MatingScene::of(&airframe.specification).ok_or(NoFit::NoDimensions)?;
    let mut sightings = sightings(&mating, run, &airframe.specification);
    let read = measured(run);
    if !sightings.is_empty() {
        sightings.extend(as_drawn(&mating, &read));
    }
    adjusted_together(procedure, airframe, run, &mating, &sightings)
}

/// A plan of moves is only for what was read.
fn adjusted_together(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    mating: &MatingScene,
    sightings: &[Sighting],
) -> Result<Fit, NoFit> {
    if sightings.is_empty() {
        return Err(NoFit::NothingRead);
    }
    let observations = sightings.iter().map(|sighting| sighting.observation.clone()).collect();
    let network =
        Network::new(mating.scene.clone(), observations, Gravity::Unknown).map_err(|_| NoFit::Contradiction)?;
    let start = Placement::as_drawn(&mating.scene, 0);
    let all = adjust(&network, &start).map_err(no_fit)?;
    let taken: Vec<_> = sightings.iter().map(|sighting| sighting.taken.clone()).collect();
    let found = all.snoop(&taken, LEVELS);
    let again;
    let adjusted = if found.suspects.is_empty() {
        &all
    } else {
        again = adjust(&found.network, &found.placement).map_err(no_fit)?;
        &again
    };
    let checks = checks(procedure, airframe, mating, adjusted);
    let next = next(&checks, mating, sightings, adjusted);
    let read = measured(run);
    let slipped = |check: &str| found.suspects.iter().any(|suspect| sightings[suspect.reading].check == check);
    let to_plan: Vec<FittedCheck> = checks
        .iter()
        .filter(|check| check.limits.is_some() && read.contains(&check.check.as_str()))
        .map(|check| if slipped(&check.check) { check.clone() } else { as_judged(run, check) })
        .collect();
    let moves = together(procedure, airframe, run, mating, &to_plan, adjusted.placement());
    Ok(Fit {
        readings: readings(sightings, &all, &found),
        suspects: found.suspects.iter().map(|suspect| suspect.words(&network, &taken)).collect(),
        checks,
        next,
        moves,
    })
}

/// A check as its own step judges it, where it was read: what a plan has to bring in is the verdict that the step will give.
fn as_judged(run: &Run, check: &FittedCheck) -> FittedCheck {
    let own = latest(run, &check.check).and_then(|(step, _)| Some(step.result()?.estimate));
    FittedCheck { estimate: own.unwrap_or(check.estimate), ..check.clone() }
}

/// The published levels of the tests of single readings.
const LEVELS: Levels = Levels::USUAL;

/// A standardised residual below which a reading simply agrees.
const AGREES: f64 = 1.0;

fn no_fit(error: AdjustError) -> NoFit {
    match error {
        AdjustError::Free(motions) => NoFit::Free(motions.into_iter().map(|motion| motion.words).collect()),
        AdjustError::BadStart | AdjustError::NotConverged => NoFit::Contradiction,
    }
}

/// Each reading beside the rest: what the others say is the place without the suspects.
fn readings(sightings: &[Sighting], all: &Adjusted<'_>, found: &Snooped) -> Vec<FittedReading> {
    let suspected = |place: usize| found.suspects.iter().any(|suspect| suspect.reading == place);
    let one = |(place, sighting): (usize, &Sighting)| {
        let w = all.w(place);
        let (amount, unit) = sighting.amount(all.residual(place));
        let words = if suspected(place) {
            tr!("does not agree with the others")
        } else if w.is_none() {
            tr!("nothing else checks it")
        } else if w.is_some_and(|w| w.abs() < AGREES) {
            tr!("agrees")
        } else if amount < 0.0 {
            tr!("{amount} under what all together say", amount = rough(amount.abs(), unit))
        } else {
            tr!("{amount} over what all together say", amount = rough(amount.abs(), unit))
        };
        FittedReading { entry: sighting.entry, title: sighting.title.clone(), read: sighting.read.clone(), words }
    };
    sightings.iter().enumerate().map(one).collect()
}

/// The measurement that helps most for the first check that cannot be told: one more of what was read, or the string.
fn next(
    checks: &[FittedCheck],
    mating: &MatingScene,
    sightings: &[Sighting],
    adjusted: &Adjusted<'_>,
) -> Option<String> {
    let undecided = checks.iter().find(|check| check.verdict == Verdict::CantTell)?;
    let what = observed(&undecided.check, mating)?;
    let mut titles: Vec<&str> = Vec::new();
    let mut candidates: Vec<Candidate> = Vec::new();
    for sighting in sightings.iter().filter(|sighting| sighting.entry.is_some()) {
        let observation = &sighting.observation;
        if candidates.iter().all(|known| known.what != observation.what) {
            candidates.push(Candidate { what: observation.what.clone(), sigma: observation.sigma });
            titles.push(&sighting.title);
        }
    }
    let string = observed("offset", mating)?;
    if candidates.iter().all(|known| known.what != string) {
        candidates.push(Candidate { what: string, sigma: sightings::BY_THE_STRING.metres() });
        titles.push(words!("the tail beside the string"));
    }
    let found = adjusted.next(&what, &candidates)?;
    // The solver counts in metres or radians, the check in its own unit.
    let estimate = undecided.estimate;
    let after = rough(estimate.expanded() * found.after / found.before, estimate.unit);
    let before = rough(estimate.expanded(), estimate.unit);
    Some(tr!(
        "Once more would help most: {reading}. {check} is then known to {after} either way instead of {before}.",
        reading = titles[found.candidate],
        check = undecided.title,
        after,
        before
    ))
}

/// What each check is in the scene.
fn observed(check: &str, mating: &MatingScene) -> Option<Observed> {
    let [left, right] = mating.forward;
    // From right to left: the left end high is the right side low.
    let across = |[left, right]: [crate::alignment::PointRef; 2]| Line { from: right, to: left };
    Some(match check {
        "pitch" => Observed::RelativeAngle { zeroed: mating.zeroed, read: mating.longeron },
        "twist" => Observed::RelativeAngle { zeroed: across(mating.frame_across), read: across(mating.aft_across) },
        "square" => Observed::DistanceDifference { first: [left, mating.aft], second: [right, mating.aft] },
        "offset" => Observed::StringOffset { point: mating.aft, string: mating.string },
        _ => return None,
    })
}

fn checks(
    procedure: &Procedure,
    airframe: &Airframe,
    mating: &MatingScene,
    adjusted: &Adjusted<'_>,
) -> Vec<FittedCheck> {
    let rule = rule_of(&airframe.specification);
    let one = |check: &crate::procedure::Check| {
        let what = observed(&check.id, mating)?;
        let unit = crate::procedure::check::unit_of(check.dimension, airframe.details.units);
        let estimate = adjusted.estimate(&what, unit)?;
        let item = check.judged_by.as_deref().and_then(|key| airframe.specification.item(key));
        let limits = item.and_then(|item| Limits::of(&item.value, unit));
        let verdict = judge_by(rule, estimate, limits);
        let fine = if unit == Unit::Degree { 0.01 } else { 0.001 };
        let words = tr!(
            "{value} (give or take {amount}): {verdict}",
            value = print(estimate.value, unit, fine),
            amount = rough(estimate.expanded(), unit),
            verdict = Words::verdict(verdict)
        );
        Some(FittedCheck { check: check.id.clone(), title: check.title.clone(), estimate, limits, verdict, words })
    };
    procedure.checks.iter().filter_map(one).collect()
}
