//! An uncertainty budget: what each source contributes, and what they come to.

use std::borrow::Cow;

use super::{Estimate, coverage_factor};
use crate::language::words;
use crate::quantity::Unit;

/// Where an uncertainty comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// Rounding to the graduation or the last figure of the display.
    Resolution,
    /// The instrument's stated limit of error.
    LimitOfError,
    /// What zeroing or a reversal check leaves of the zero error.
    ZeroLeft,
    /// Scatter of repeated readings.
    Repeats,
    /// Another, named in words.
    Other(Cow<'static, str>),
}

impl Source {
    /// Its name in words, as it stands after "from"; one that is named in words by that name alone.
    #[must_use]
    pub fn words(&self) -> &str {
        match self {
            Self::Resolution => words!("the graduation"),
            Self::LimitOfError => words!("the maker's limit of error"),
            Self::ZeroLeft => words!("the zero as it was set"),
            Self::Repeats => words!("the scatter of the repeats"),
            Self::Other(words) => words,
        }
    }
}

/// One line of a budget.
#[derive(Clone, Debug, PartialEq)]
pub struct Component {
    /// Where it comes from.
    pub source: Source,
    /// Standard uncertainty, in the unit of its own input; not negative.
    pub u: f64,
    /// Degrees of freedom; infinite for one that is taken as known.
    pub dof: f64,
    /// Sensitivity coefficient c: change of the result per change of the input.
    pub sensitivity: f64,
}

impl Component {
    /// A component that is taken as known, in the unit of the result.
    #[must_use]
    pub const fn known(source: Source, u: f64) -> Self {
        Self { source, u, dof: f64::INFINITY, sensitivity: 1.0 }
    }

    /// What a graduation or display step hides ([`half_step_uncertainty`]).
    #[must_use]
    pub fn resolution(step: f64) -> Self {
        Self::known(Source::Resolution, half_step_uncertainty(step))
    }

    /// A maker's limit of error ±`limit` ([`limit_of_error_uncertainty`]).
    #[must_use]
    pub fn limit_of_error(limit: f64) -> Self {
        Self::known(Source::LimitOfError, limit_of_error_uncertainty(limit))
    }

    /// A zero error that was taken off with the standard uncertainty `u`.
    #[must_use]
    pub const fn zero_left(u: f64) -> Self {
        Self::known(Source::ZeroLeft, u)
    }

    /// What it contributes to the result: |c|·u.
    #[must_use]
    pub fn contribution(&self) -> f64 {
        self.sensitivity.abs() * self.u
    }
}

/// The lines of a budget, independent of one another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Budget {
    /// In the order in which they are shown.
    pub components: Vec<Component>,
}

impl Budget {
    /// Combined standard uncertainty u_c = √Σ(cᵢ·uᵢ)² (JCGM 100:2008, eq. 11a).
    #[must_use]
    pub fn combined(&self) -> f64 {
        self.components.iter().fold(0.0, |sum, component| f64::hypot(sum, component.contribution()))
    }

    /// Effective degrees of freedom by Welch and Satterthwaite, not cut; infinite when every component is known
    /// (JCGM 100:2008, eq. G.2b).
    #[must_use]
    pub fn effective_dof(&self) -> f64 {
        self.estimate(0.0, Unit::One).dof
    }

    /// Coverage factor for about 95 %: as [`Estimate::coverage`].
    #[must_use]
    pub fn coverage(&self) -> f64 {
        self.estimate(0.0, Unit::One).coverage()
    }

    /// Expanded uncertainty for a coverage probability of the caller's, with t of the degrees of freedom cut to a whole number.
    /// [`Self::expanded`] is the one that verdicts use.
    #[must_use]
    pub fn expanded_at(&self, probability: f64) -> f64 {
        coverage_factor(probability, self.effective_dof()) * self.combined()
    }

    /// Expanded uncertainty at about 95 %.
    #[must_use]
    pub fn expanded(&self) -> f64 {
        self.coverage() * self.combined()
    }

    /// The budget as the uncertainty of `value`; both in `unit`.
    #[must_use]
    pub fn estimate(&self, value: f64, unit: Unit) -> Estimate {
        let start = Estimate::new(value, 0.0, unit);
        self.components.iter().fold(start, |sum, component| sum.widened(component.contribution(), component.dof))
    }

    /// The line that contributes most.
    #[must_use]
    pub fn largest(&self) -> Option<&Component> {
        self.components.iter().max_by(|a, b| a.contribution().total_cmp(&b.contribution()))
    }
}

/// Standard uncertainty that a graduation or display step hides: rectangular over ± half a step, a/√3 = step/√12
/// (JCGM 100:2008, F.2.2.1).
#[must_use]
pub fn half_step_uncertainty(step: f64) -> f64 {
    step / 12_f64.sqrt()
}

/// Standard uncertainty of a maker's limit of error ±a with nothing else known: a/√3 (JCGM 100:2008, 4.3.7).
#[must_use]
pub fn limit_of_error_uncertainty(limit: f64) -> f64 {
    limit / 3_f64.sqrt()
}
