//! What the one who helps does at a step: what to hold, where to look, how to call the number out. Nothing that could lead the eye:
//! no target, no earlier value, no verdict.

use crate::language::{tr, words};
use crate::procedure::{
    Context, Face, Procedure, Run, Slot, Step, StepKind, StepState, Words, context_of, doubt, fill, instrument_for,
    plausible,
};
use crate::quantity::{Dimension, Quantity, Unit};
use crate::record::{Airframe, Instrument, InstrumentKind};

/// What is said when the last reading of the step is in.
#[must_use]
pub fn handed_back() -> &'static str {
    words!("That was the last number of this step. Hand the phone back.")
}

/// What is asked of a number that is a long way off, without a word about what it should be.
#[must_use]
pub fn look_once_more() -> &'static str {
    words!(
        "Look at the instrument once more before this is kept: its number, its unit, where it sits, which side you are on."
    )
}

/// What is said of a number that cannot be what was read.
#[must_use]
pub fn cannot_be() -> &'static str {
    words!(
        "That cannot be this reading. Look at the instrument and its unit again. Nothing was kept; what you typed is still here."
    )
}

/// One thing for the helper to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HelperCard {
    /// The step.
    pub title: String,
    /// What is read, where something is.
    pub reading: Option<HelperReading>,
    /// What is done, where nothing is read.
    pub text: Vec<String>,
    /// What could hurt somebody or spoil the part.
    pub cautions: Vec<String>,
}

/// One number that the helper reads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HelperReading {
    /// The slot's key.
    pub slot: String,
    /// What it is called.
    pub title: String,
    /// What to hold.
    pub hold: String,
    /// Where to hold it.
    pub place: String,
    /// Where to look.
    pub look: &'static str,
    /// How to call the number out, a sentence each.
    pub call: Vec<String>,
}

/// What the helper does at a step, one card for each number; one card where nothing is read.
#[must_use]
pub fn helper_cards(procedure: &Procedure, airframe: &Airframe, step: &StepState) -> Vec<HelperCard> {
    let card = |reading: Option<HelperReading>| HelperCard {
        title: Words::step_title(step),
        text: if reading.is_some() { Vec::new() } else { filled(&step.step.text, airframe) },
        cautions: filled(&step.step.cautions, airframe),
        reading,
    };
    match &step.step.kind {
        StepKind::Measure { slots, .. } if !slots.is_empty() => {
            slots.iter().map(|slot| card(Some(reading(procedure, airframe, step, slot)))).collect()
        }
        _ => vec![card(None)],
    }
}

fn filled(texts: &[String], airframe: &Airframe) -> Vec<String> {
    texts.iter().map(|text| fill(text, &airframe.specification)).collect()
}

fn reading(procedure: &Procedure, airframe: &Airframe, step: &StepState, slot: &Slot) -> HelperReading {
    let role = procedure.roles.iter().find(|role| role.role == slot.role);
    let kind = role.map_or(InstrumentKind::Rule, |role| role.kind);
    let instrument = instrument_for(procedure, airframe, step, slot);
    let nominal = slot.near.as_deref().and_then(|key| airframe.specification.nominal(key));
    let mut call = Vec::new();
    if let Some(ask) = &slot.ask {
        let (question, plus, minus) = (&ask.question, &ask.plus, &ask.minus);
        call.push(tr!("First say: {question} “{plus}” or “{minus}”.", question, plus, minus));
    }
    call.push(match instrument.map(|instrument| example(&instrument, nominal)) {
        Some(example) => {
            let example = example.say();
            match slot.ask {
                Some(_) => tr!("Then call the number with its unit, like “{example}”.", example),
                None => tr!("Call the number with its unit, like “{example}”.", example),
            }
        }
        None => words!("Call the number with its unit.").to_owned(),
    });
    call.push(
        words!("Listen: it is read back to you. If it comes back wrong, say “wrong” and call it again.").to_owned(),
    );
    if slot.repeats > 1 {
        let times = slot.repeats;
        call.push(tr!("{times} times. Lift it off and lay it on anew each time, and forget the number before.", times));
    }
    HelperReading {
        slot: slot.id.clone(),
        title: fill(&slot.title, &airframe.specification),
        hold: role.map_or_else(|| slot.role.clone(), |role| role.title.clone()),
        place: fill(&slot.place, &airframe.specification),
        look: look(kind),
        call,
    }
}

/// Where to look, by instrument. Common practice, no source.
fn look(kind: InstrumentKind) -> &'static str {
    match kind {
        InstrumentKind::Protractor => {
            words!("Lay it on and take the hand away. Wait until the display stands still, then read it.")
        }
        InstrumentKind::Tape => {
            words!("Eye square above the mark. The tape straight, pulled as you agreed, its hook where it belongs.")
        }
        InstrumentKind::Rule => words!("Rule flat and square, the eye straight above the edge that is read."),
        InstrumentKind::WaterLevel => {
            words!("Wait until the water stands. Read the bottom of its curve, the eye level with it.")
        }
        InstrumentKind::Laser => {
            words!("Read the middle of the line, where it crosses the rule. Never look into the beam.")
        }
        InstrumentKind::Tensiometer => {
            words!("Hands off the cable beside it. Let the pointer come to rest, and look at it squarely.")
        }
        InstrumentKind::Scales => {
            words!("Nobody leans on anything. Wait until the display stands still, then read it.")
        }
        InstrumentKind::TorqueWrench => {
            words!("Pull slowly and square until it gives. Read the setting, the eye square to the scale.")
        }
        InstrumentKind::Thermometer => {
            words!("Hold it to the metal, not in the air. Wait until it stands still, then read it.")
        }
    }
}

/// A number as this instrument shows them, to say how one is called. It leads nobody: of the two the one that lies further from what
/// the sheet gives.
fn example(instrument: &Instrument, nominal: Option<&Quantity>) -> Quantity {
    let of = |value: f64| {
        let step = if instrument.step > 0.0 { instrument.step } else { 1.0 };
        Quantity::new((value / step).round() * step, instrument.unit, instrument.step)
    };
    let (one, other) = match instrument.unit {
        Unit::Inch if instrument.kind == InstrumentKind::Rule => (5.64, 2.27),
        Unit::Millimetre if instrument.kind == InstrumentKind::Rule => (143.5, 57.0),
        Unit::Inch => (45.64, 8.27),
        Unit::Metre => (1.143, 7.62),
        unit if unit.dimension() == Dimension::Angle => (12.34, 33.71),
        Unit::Millimetre => (1143.0, 86.0),
        _ => (45.0, 160.0),
    };
    let near = nominal.filter(|nominal| nominal.unit == instrument.unit).map_or(0.0, |nominal| nominal.value.abs());
    of(if (near - one).abs() >= (near - other).abs() { one } else { other })
}

/// What somebody who reads for another may enter now.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadBlind {
    /// Which number.
    pub slot: Slot,
    /// The how many-th of its repeats, from 1.
    pub repeat: usize,
    /// How many attempts there were before.
    pub attempt: usize,
    /// What it is read with.
    pub instrument: Instrument,
    context: Context,
}

impl ReadBlind {
    /// Whether a number cannot be what was read: it is not kept.
    #[must_use]
    pub fn refuses(&self, value: &Quantity, airframe: &Airframe) -> bool {
        plausible(value, &self.slot, airframe).is_err()
    }

    /// Whether a number has to be looked at once more before it is kept. What it is held against stays hidden.
    #[must_use]
    pub fn doubts(&self, value: &Quantity) -> bool {
        doubt(value, &self.context).is_some()
    }
}

/// What is to be read next at a step, by somebody who sees nothing of what was read before. `None` where nothing is, and where the
/// instrument was not accepted yet.
#[must_use]
pub fn read_blind(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    step: &StepState,
    by: &str,
) -> Option<ReadBlind> {
    let Face::Read { slot, repeat, attempt } = Face::of(run, step, false, Some(by)) else { return None };
    let instrument = instrument_for(procedure, airframe, step, &slot)?;
    let hidden = StepState { step: blind(&step.step), ..step.clone() };
    let context = context_of(procedure, airframe, run, &hidden, &slot, &instrument);
    Some(ReadBlind { slot, repeat, attempt, instrument, context })
}

/// The same step, as one that is read blind.
fn blind(step: &Step) -> Step {
    let mut step = step.clone();
    if let StepKind::Measure { blind, .. } = &mut step.kind {
        *blind = true;
    }
    step
}
