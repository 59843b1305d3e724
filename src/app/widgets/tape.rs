//! The tape at the value that is being entered.

use crate::app::prelude::*;

use super::sketch::sheet;
use crate::quantity::Unit;
use crate::sketch::tape_picture;

/// The tape at a value of which the magnitude is shown; nothing where no tape shows such a value. `step`: the tape's resolution,
/// like the value in `unit`, inches or millimetres; anything else is not drawn.
pub(crate) fn tape_at(value: f64, step: f64, unit: Unit) -> Option<AnyView> {
    tape_picture(value, unit, step).map(|sketch| sheet(&sketch, "sketch sketch-tape".to_owned()))
}
