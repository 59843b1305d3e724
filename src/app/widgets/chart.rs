//! The attempts at a check.

use crate::app::prelude::*;

use super::sketch::sheet;
use crate::sketch::Chart;

/// Convergence: the reading of each attempt inside its tolerance band.
#[component]
pub(crate) fn AttemptsChart(
    /// What [`crate::sketch::attempts_chart`] made.
    chart: Chart,
) -> impl IntoView {
    sheet(&chart.sketch(), "sketch sketch-chart".to_owned())
}
