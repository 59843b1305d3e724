//! Readings turned into an estimate with an uncertainty, and the estimate into a verdict.
//!
//! Everything here works in the unit that the check is judged in ([`crate::quantity::Unit`]): a check's readings, limits and
//! uncertainty carry the same one. Deliberately absent: rounding a value "to pass"; a verdict without a tolerance.

mod budget;
mod chart;
mod class;
mod conformity;
mod distribution;
mod estimate;
mod limits;
mod mark;
mod outlier;
mod propagate;
mod repeats;
mod reversal;
mod rough;
mod settle;
pub mod statistics;
pub mod tape;
mod verdict;

pub use budget::{Budget, Component, Source, half_step_uncertainty, limit_of_error_uncertainty};
pub use chart::{Chart, ChartError, ChartLimits, ChartPoint, OutsideChart};
pub use class::TapeClass;
pub use conformity::{conformity_words, probability_of_conformity};
pub use distribution::{coverage_factor, normal_cdf, normal_quantile, t_cdf, t_quantile};
pub use estimate::{COVERAGE, COVERAGE_PROBABILITY, Estimate};
pub use limits::Limits;
pub use mark::Mark;
pub use outlier::{Spread, StandsOut, critical_range, grubbs, grubbs_critical, grubbs_statistic, spread};
pub use propagate::{Propagated, angle_over_base, propagate};
pub use repeats::{Repeats, median_widening};
pub use reversal::Reversal;
pub(crate) use rough::{prints_as_zero, rough};
pub use settle::{Heights, Remedy, RepeatsNow, Settled, Situation, margin, settle};
pub use verdict::{Beyond, Rule, Verdict, judge, judge_by, normalised_difference};

pub(crate) use crate::quantity::{in_unit, scale};
