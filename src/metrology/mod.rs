//! Readings turned into an estimate with an uncertainty, and the estimate into a verdict.
//!
//! Everything here works in the unit that the check is judged in ([`crate::quantity::Unit`]): a check's readings, limits and
//! uncertainty carry the same one. Deliberately absent: rounding a value "to pass"; a verdict without a tolerance.

mod estimate;
mod limits;
mod mark;
mod repeats;
mod verdict;

pub use estimate::{COVERAGE, Estimate};
pub use limits::Limits;
pub(crate) use limits::{in_unit, scale};
pub use mark::Mark;
pub use repeats::{Repeats, half_step_uncertainty, limit_of_error_uncertainty};
pub use verdict::{Beyond, Verdict, judge};
