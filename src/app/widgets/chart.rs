//! The attempts at a check.

use super::sketch::sheet;
use crate::app::prelude::*;
use crate::sketch::Chart;

/// Convergence: the reading of each attempt inside its tolerance band, as [`crate::sketch::attempts_chart`] made it.
pub(crate) fn attempts(chart: &Chart) -> AnyView {
    sheet(&chart.sketch(), "sketch sketch-chart".to_owned())
}
