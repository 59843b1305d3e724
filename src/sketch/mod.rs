//! Drawings as plain numbers: the two assemblies beside a step, the attempts at a check, the verdict's mark, the tape.
//!
//! A [`Sketch`] is a sheet of shapes, each marked with what it stands for ([`Ink`]); a screen or a printed page gives every
//! kind its line. Everything lies inside the sheet whatever the numbers are, misfits are drawn larger than life by a factor
//! that the sheet states, and the sheet's title says in words what it shows. Deliberately absent: colours, and any rule of the
//! trade; a drawing shows what the run says.

mod aircraft;
mod chart;
mod craft;
mod figure;
mod hatch;
mod instrument;
mod joint_gaps;
mod mark;
mod misfit;
mod orders;
mod path;
mod plan;
mod proportions;
mod rear;
mod shape;
mod sheet;
mod side;
mod sits;
mod spot;
mod tape;
#[cfg(test)]
mod tests;
mod zone;

pub use aircraft::whole_aircraft;
pub use chart::{Chart, ChartPoint, attempts_chart};
pub use mark::verdict_mark;
pub use shape::{Anchor, Element, Ink, Lettering, Shape};
pub use sheet::Sketch;
pub use sits::seat_sketches;
pub use tape::tape_picture;

use crate::procedure::{Picture, Procedure, Run, StepKind, StepState};
use crate::record::Airframe;
use craft::Craft;
use misfit::{Misfit, Sense};
use orders::Order;
use spot::Spot;

/// The drawing beside a step; `None` for a step that has none. `slot` is the reading being taken now: it is drawn bold.
///
/// A misfit and the moves against it are drawn once a reading is in (no `slot`) and while it is fresh; beside a step that
/// measures nothing, the misfit is the last fresh one of the run. A second person's blind reading is drawn without one.
#[must_use]
pub fn step_sketch(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    step: &StepState,
    slot: Option<&str>,
) -> Option<Sketch> {
    let picture = step.step.picture?;
    if figure::figure(picture).is_some() {
        return figured(procedure, airframe, run, step, slot);
    }
    let spots = spot::spots(procedure, run, step);
    let now = slot.and_then(|slot| spots.iter().find(|(id, _)| id == slot)).map(|(_, spot)| *spot);
    // A step that reads several kinds of thing shows the one that is read now.
    let draw = match (now, picture) {
        (Some(Spot::Pitch { .. }), _) => side::draw,
        (Some(Spot::Roll { .. }), _) => rear::draw,
        (Some(Spot::Distance(_) | Spot::String | Spot::Gap(..) | Spot::Twin(_)), _) => plan::draw,
        (None, Picture::SIDE) => side::draw,
        (None, Picture::PLAN) => plan::draw,
        (None, Picture::REAR) => rear::draw,
        (None, _) => return None,
    };
    Some(draw(&View { procedure, airframe, run, step, spots: &spots, now }))
}

/// A figure beside a step. A reading that somebody reads again is drawn as where it was read first.
fn figured(
    procedure: &Procedure,
    airframe: &Airframe,
    run: &Run,
    step: &StepState,
    slot: Option<&str>,
) -> Option<Sketch> {
    let StepKind::Measure { check, slots, .. } = &step.step.kind else {
        return Some(figure::draw(&figure::figure(step.step.picture?)?, &Craft::of(airframe), &[], None));
    };
    let reading = slots.iter().find(|found| Some(found.id.as_str()) == slot);
    let first = reading.and_then(|slot| spot::read_first(run, procedure.check(check)?, slot)).unwrap_or(step);
    let path = first.path.rsplit('/').next().unwrap_or_default();
    let mut words: Vec<&str> = path.split('-').collect();
    // Where the reading's own key says which side or which end, the step's does not count.
    for place in [&["left", "right"][..], &["front", "middle", "rear"]] {
        if reading.is_some_and(|slot| slot.id.split('-').any(|word| place.contains(&word))) {
            words.retain(|word| !place.contains(word));
        }
    }
    words.extend(
        slots.iter().filter(|slot| reading.is_none_or(|reading| reading.id == slot.id)).map(|slot| slot.role.as_str()),
    );
    // With nothing read now, only a step of one reading is drawn as that.
    if let (Some(slot), _) | (None, [slot]) = (reading, slots.as_slice()) {
        words.extend(std::iter::once(slot.id.as_str()).chain(slot.id.split('-')));
    }
    let figure = first.step.picture.and_then(figure::figure).or_else(|| figure::figure(step.step.picture?))?;
    Some(figure::draw(&figure, &Craft::of(airframe), &words, reading.map(|slot| slot.title.as_str())))
}

/// What a drawing is made from.
struct View<'a> {
    procedure: &'a Procedure,
    airframe: &'a Airframe,
    run: &'a Run,
    step: &'a StepState,
    /// Where each of the step's readings is taken.
    spots: &'a [(String, Spot)],
    /// The one that is taken now.
    now: Option<Spot>,
}

impl<'a> View<'a> {
    /// The misfit to draw; none while something is read, so that no earlier value leads the eye.
    fn misfit(&self, sense: Sense) -> Option<Misfit> {
        if self.now.is_some() { None } else { misfit::misfit(self, sense) }
    }

    /// The moves to draw: after the reading, not during it.
    fn orders(&self) -> Vec<Order<'a>> {
        if self.now.is_some() { Vec::new() } else { orders::orders(self.procedure, self.step) }
    }

    /// Whether the step reads something at such a spot.
    fn reads(&self, wanted: fn(&Spot) -> bool) -> bool {
        self.spots.iter().any(|(_, spot)| wanted(spot))
    }
}
