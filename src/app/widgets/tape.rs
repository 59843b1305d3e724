//! The tape at the value that is being entered.

use crate::app::prelude::*;

use super::sketch::sheet;
use crate::quantity::Unit;
use crate::sketch::tape_picture;

/// The tape at a value; nothing where no tape shows such a value.
#[component]
pub(crate) fn TapePicture(
    /// The value, in `unit`; its magnitude is shown.
    value: f64,
    /// The tape's resolution, in `unit`.
    step: f64,
    /// Inches or millimetres; anything else is not drawn.
    unit: Unit,
) -> impl IntoView {
    tape_picture(value, unit, step).map(|sketch| sheet(&sketch, "sketch sketch-tape".to_owned()))
}
