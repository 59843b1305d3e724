//! A run's fresh readings as observations of where the cone sits.

use super::scene::MatingScene;
use crate::alignment::{Displacement, Observation, Observed, Placement, Taken};
use crate::language::tr;
use crate::metrology::half_step_uncertainty;
use crate::procedure::{Attempt, Run, Slot, StepKind, StepState, TakenReading, fill};
use crate::quantity::{Angle, Length, Quantity, Unit};
use crate::record::{EntryId, InstrumentKind, Specification};

/// One observation, with the reading that it comes from; what is only assumed comes from none.
#[derive(Clone, Debug)]
pub(super) struct Sighting {
    pub(super) entry: Option<EntryId>,
    /// The check that it is read for; empty for what is assumed.
    pub(super) check: &'static str,
    pub(super) title: String,
    /// The number as it was read, for the eye.
    pub(super) read: String,
    pub(super) observation: Observation,
    /// How it was taken, for guessing what went wrong.
    pub(super) taken: Taken,
}

impl Sighting {
    /// An amount in metres or radians in the unit that the reading was taken in, and that unit.
    pub(super) fn amount(&self, si: f64) -> (f64, Unit) {
        let unit = self.taken.unit;
        let number = match unit {
            Unit::Degree => Some(Angle::from_radians(si).degrees()),
            _ => Length::from_metres(si).in_unit(unit),
        };
        (number.unwrap_or(si), unit)
    }
}

/// Lifting an instrument off and laying it on again, one standard deviation (a judgement): 1/64 in and 0.04°, as the guards take it.
const LAID_AGAIN: (Length, Angle) = (Length::from_inches(1.0 / 64.0), Angle::from_degrees(0.04));
/// What a rule read off a string hides, one standard deviation (a judgement): 1/64 in.
pub(super) const BY_THE_STRING: Length = Length::from_inches(1.0 / 64.0);
/// How exactly the joint is held where the drawing puts it, one standard deviation (a judgement): 1/32 in.
const SEATED: Length = Length::from_inches(1.0 / 32.0);
/// How far from level the frame may stand, one standard deviation (a judgement): 3°.
const LEVELLED: Angle = Angle::from_degrees(3.0);

/// Slots that are read once each way round: an instrument's zero error goes with it, so that only the mean of the two is a reading of
/// the thing. Taken as two, each would contradict the other by twice that error.
const TURNED: [(&str, &str); 3] = [("direct", "reversed"), ("frame", "frame-reversed"), ("aft", "aft-reversed")];

/// Every fresh reading of the latest pass that is taken of the cone, then what the set-up itself says.
pub(super) fn sightings(mating: &MatingScene, run: &Run, specification: &Specification) -> Vec<Sighting> {
    let mut found = Vec::new();
    for check in CHECKS {
        let Some((step, sets)) = latest(run, check) else { continue };
        let StepKind::Measure { slots, .. } = &step.step.kind else { continue };
        for (set, slot) in sets.iter().flat_map(|set| slots.iter().map(move |slot| (set, slot))) {
            for (place, reading) in set.of(&slot.id).enumerate() {
                let both_ways = TURNED.iter().find(|(direct, turned)| *direct == slot.id || *turned == slot.id);
                let read = match both_ways {
                    None => Some((reading, None)),
                    // The pair stands where its first reading does.
                    Some((direct, turned)) if *direct == slot.id => {
                        set.of(turned).nth(place).map(|back| (reading, Some(back)))
                    }
                    Some(_) => None,
                };
                found.extend(read.and_then(|read| sighting(mating, check, slot, read, specification)));
            }
        }
    }
    pair_twins(&mut found, mating);
    if !found.is_empty() {
        let length = found.iter().map(|sighting| sighting.taken.unit).find(|unit| *unit != Unit::Degree);
        found.extend(assumed(mating, length.unwrap_or(Unit::Millimetre)));
    }
    found
}

/// The checks that [`sightings`] are of.
const CHECKS: [&str; 4] = ["pitch", "twist", "square", "offset"];

/// The checks that were read and not disturbed since.
pub(super) fn measured(run: &Run) -> Vec<&'static str> {
    CHECKS.into_iter().filter(|check| latest(run, check).is_some()).collect()
}

/// How far what was not read yet may be from where it is drawn, one standard deviation (a judgement): 3°, and 2 in at the tail.
const AS_DRAWN: (Angle, Length) = (Angle::from_degrees(3.0), Length::from_inches(2.0));

/// What stands in for the checks that were not read: about as drawn.
pub(super) fn as_drawn(mating: &MatingScene, read: &[&str]) -> Vec<Sighting> {
    let [left, right] = mating.forward;
    let across = |[left, right]: [crate::alignment::PointRef; 2]| Observed::Roll { left, right };
    let (turned, shifted) = (AS_DRAWN.0.radians(), AS_DRAWN.1.metres());
    let mut assumed = Vec::new();
    if !read.contains(&"pitch") {
        assumed.push((Observed::RelativeAngle { zeroed: mating.zeroed, read: mating.longeron }, turned));
    }
    if !read.contains(&"twist") {
        assumed.push((across(mating.frame_across), turned));
        assumed.push((across(mating.aft_across), turned));
    }
    if !read.contains(&"square") {
        assumed.push((Observed::Distance { from: left, to: mating.aft }, shifted));
        assumed.push((Observed::Distance { from: right, to: mating.aft }, shifted));
    }
    let drawn = Placement::as_drawn(&mating.scene, 0);
    let one = |(what, sigma): (Observed, f64)| {
        let value = what.value(&mating.scene, &drawn);
        let taken = Taken { unit: Unit::One, step: 0.0, tape: false, twin: None, surfaces: Vec::new() };
        let observation = Observation { what, value, sigma };
        Sighting { entry: None, check: "", title: tr!("As drawn"), read: String::new(), observation, taken }
    };
    assumed.into_iter().map(one).collect()
}

/// The first pull on the left is easily swapped with the first on the right, and so on.
fn pair_twins(found: &mut [Sighting], mating: &MatingScene) {
    let of = |side: usize| -> Vec<usize> {
        let from = mating.forward[side];
        let is = |sighting: &Sighting| matches!(sighting.observation.what, Observed::Distance { from: its, .. } if its == from);
        found.iter().enumerate().filter(|(_, sighting)| is(sighting)).map(|(place, _)| place).collect()
    };
    let pairs: Vec<(usize, usize)> = of(0).into_iter().zip(of(1)).collect();
    for (left, right) in pairs {
        found[left].taken.twin = Some(right);
        found[right].taken.twin = Some(left);
    }
}

/// The last step of a check whose readings are complete with nothing moved since, and its complete sets between which nothing was
/// moved: they count together, as they do in the step's own verdict.
pub(super) fn latest<'r>(run: &'r Run, check: &str) -> Option<(&'r StepState, &'r [Attempt])> {
    let measures = |step: &&StepState| matches!(&step.step.kind, StepKind::Measure { check: its, blind: false, .. } if its == check);
    run.steps.iter().rev().filter(measures).find_map(|step| {
        let fresh = step.attempts.iter().rev().take_while(|set| set.complete && set.stale.is_none()).count();
        (fresh > 0).then(|| (step, &step.attempts[step.attempts.len() - fresh..]))
    })
}

fn sighting(
    mating: &MatingScene,
    check: &'static str,
    slot: &Slot,
    (reading, back): (&TakenReading, Option<&TakenReading>),
    specification: &Specification,
) -> Option<Sighting> {
    let [left, right] = mating.forward;
    let across = |[left, right]: [crate::alignment::PointRef; 2]| Observed::Roll { left, right };
    let what = match slot.id.as_str() {
        "direct" => Observed::RelativeAngle { zeroed: mating.zeroed, read: mating.longeron },
        "frame" => across(mating.frame_across),
        "aft" => across(mating.aft_across),
        "left" => Observed::Distance { from: left, to: mating.aft },
        "right" => Observed::Distance { from: right, to: mating.aft },
        "string" => Observed::StringOffset { point: mating.aft, string: mating.string },
        _ => return None,
    };
    let (mut value, mut sigma) = in_si(&reading.value)?;
    let mut read = reading.value.print();
    if let Some(back) = back {
        let (turned, its) = in_si(&back.value)?;
        (value, sigma) = (value.midpoint(turned), sigma.hypot(its) / 2.0);
        read = tr!("{one} and {other}", one = read, other = back.value.print());
    }
    Some(Sighting {
        entry: Some(reading.entry),
        check,
        title: fill(&slot.title, specification),
        read,
        observation: Observation { what, value, sigma },
        taken: Taken {
            unit: reading.value.unit,
            step: reading.value.step,
            tape: reading.instrument.kind == InstrumentKind::Tape,
            twin: None,
            surfaces: Vec::new(),
        },
    })
}

/// Value and standard uncertainty in metres or radians. The instrument's own error is left out: every angle here is read both ways
/// round, and a tape's is the same on both sides and only shifts the cone along its station.
fn in_si(value: &Quantity) -> Option<(f64, f64)> {
    let step = half_step_uncertainty(value.step);
    if value.unit == Unit::Degree {
        let sigma = Angle::from_degrees(step.hypot(LAID_AGAIN.1.degrees()));
        return Some((value.angle()?.radians(), sigma.radians()));
    }
    let of = |number| Quantity::new(number, value.unit, 0.0).length();
    Some((value.length()?.metres(), of(step)?.metres().hypot(LAID_AGAIN.0.metres())))
}

/// What the set-up itself says: the joint is where the drawing puts it, the frame is about level.
fn assumed(mating: &MatingScene, length: Unit) -> Vec<Sighting> {
    let taken = |unit| Taken { unit, step: 0.0, tape: false, twin: None, surfaces: Vec::new() };
    let [from, to] = mating.seat;
    let seated = |title: String, along| Sighting {
        entry: None,
        check: "",
        title,
        read: String::new(),
        observation: Observation { what: Observed::Gap { from, to, along }, value: 0.0, sigma: SEATED.metres() },
        taken: taken(length),
    };
    vec![
        seated(tr!("Joint seated sideways"), Displacement::y()),
        seated(tr!("Joint seated in height"), Displacement::z()),
        Sighting {
            entry: None,
            check: "",
            title: tr!("Frame about level"),
            read: String::new(),
            observation: Observation { what: Observed::Slope(mating.zeroed), value: 0.0, sigma: LEVELLED.radians() },
            taken: taken(Unit::Degree),
        },
    ]
}
