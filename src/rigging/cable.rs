//! Control cables: the tension for today's temperature, the user's own tensiometer, turnbuckles.

use std::fmt;

use super::error::{RiggingError, of, positive};
use crate::metrology::{Chart, ChartError, ChartLimits, ChartPoint, Estimate, Limits, OutsideChart, Verdict, judge};
use crate::quantity::{Dimension, Length, Quantity, Unit, in_unit, scale};

/// Why there is no tension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CableError {
    /// A number that is missing, or of another kind.
    Rigging(RiggingError),
    /// The points make no chart.
    Chart(ChartError),
    /// The chart or the table ends before this.
    Outside(OutsideChart),
}

impl fmt::Display for CableError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rigging(error) => error.fmt(f),
            Self::Chart(error) => error.fmt(f),
            Self::Outside(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CableError {}

impl From<RiggingError> for CableError {
    fn from(error: RiggingError) -> Self {
        Self::Rigging(error)
    }
}

/// Limits of a nominal value that may be exceeded and fallen short of by different amounts: +10/−2.
///
/// # Errors
/// When a number is missing or an allowance is below zero.
pub fn plus_minus(nominal: f64, plus: f64, minus: f64, unit: Unit) -> Result<Limits, RiggingError> {
    let limits = Limits { lower: Some(nominal - minus), upper: Some(nominal + plus), unit };
    let given = (nominal + plus + minus).is_finite() && plus >= 0.0 && minus >= 0.0;
    if given { Ok(limits) } else { Err(RiggingError::NotANumber) }
}

/// The manual's tension over temperature, for one cable: straight lines between its points and nothing beyond them.
#[derive(Clone, Debug, PartialEq)]
pub struct TensionChart {
    chart: Chart,
    temperature: Unit,
    plus: f64,
}

impl TensionChart {
    /// A chart of (temperature, tension) with the manual's tolerance, +`plus` and −`minus`, in the unit of tension.
    ///
    /// # Errors
    /// When the units are not a temperature and a force, the points make no chart, or an allowance is below zero.
    pub fn new(points: &[(f64, f64)], units: (Unit, Unit), plus: f64, minus: f64) -> Result<Self, CableError> {
        let (temperature, tension) = units;
        is(temperature, Dimension::Temperature)?;
        is(tension, Dimension::Force)?;
        plus_minus(0.0, plus, minus, tension)?;
        let point =
            |&(at, nominal): &(f64, f64)| ChartPoint { at, lower: Some(nominal - minus), upper: Some(nominal + plus) };
        let chart = Chart::new(points.iter().map(point).collect(), tension).map_err(CableError::Chart)?;
        Ok(Self { chart, temperature, plus })
    }

    /// The limits at the structure's temperature, with what the thermometer's uncertainty does to them.
    ///
    /// # Errors
    /// When the temperature is none, or outside the chart.
    pub fn limits(&self, temperature: Estimate) -> Result<ChartLimits, CableError> {
        let given = of(temperature, Dimension::Temperature)?;
        let wrong = RiggingError::WrongUnit { wanted: Dimension::Temperature, got: given.unit };
        let quantity = Quantity::new(given.value, given.unit, 0.0);
        let value = in_unit(&quantity, self.temperature).ok_or(wrong)?;
        let factor = scale(given.unit, self.temperature).ok_or(wrong)?;
        let place = Estimate { value, u: given.u * factor, unit: self.temperature, ..given };
        self.chart.at(place).map_err(CableError::Outside)
    }

    /// The tension to set at a temperature, in the chart's unit.
    ///
    /// # Errors
    /// As [`Self::limits`].
    pub fn target(&self, temperature: Estimate) -> Result<f64, CableError> {
        let upper = self.limits(temperature)?.limits.upper;
        upper.map(|upper| upper - self.plus).ok_or(CableError::Chart(ChartError::Uneven))
    }

    /// The verdict on a tension at a temperature, the uncertainties of both counted.
    ///
    /// # Errors
    /// As [`Self::limits`], and when the tension is no force.
    pub fn judge(&self, tension: Estimate, temperature: Estimate) -> Result<Verdict, CableError> {
        let at = self.limits(temperature)?;
        let tension = super::error::within(tension, at.limits.unit)?;
        Ok(judge(tension.widened(at.u, temperature.dof), Some(at.limits)))
    }
}

/// The conversion table of one tensiometer with one riser for one cable size, as the builder copies it from the instrument's own card.
/// No table is built in: they carry the instrument's serial number, and two published examples give 70 and 100 lb for one dial reading.
#[derive(Clone, Debug, PartialEq)]
pub struct TensiometerTable {
    chart: Chart,
}

impl TensiometerTable {
    /// A table of (dial, tension), the tensions in `tension`.
    ///
    /// # Errors
    /// When the unit is no force or the points make no table.
    pub fn new(points: &[(f64, f64)], tension: Unit) -> Result<Self, CableError> {
        is(tension, Dimension::Force)?;
        let point = |&(at, tension): &(f64, f64)| ChartPoint { at, lower: Some(tension), upper: Some(tension) };
        let chart = Chart::new(points.iter().map(point).collect(), tension).map_err(CableError::Chart)?;
        Ok(Self { chart })
    }

    /// The tension behind a reading of the dial, with the dial's uncertainty carried over. Straight between the table's points.
    ///
    /// # Errors
    /// When the reading is no plain number, or outside the table.
    pub fn tension(&self, dial: Estimate) -> Result<Estimate, CableError> {
        let at = self.chart.at(of(dial, Dimension::Count)?).map_err(CableError::Outside)?;
        let value = at.limits.lower.ok_or(CableError::Chart(ChartError::Uneven))?;
        Ok(Estimate { value, u: at.u, dof: dial.dof, unit: at.limits.unit })
    }
}

fn is(unit: Unit, wanted: Dimension) -> Result<(), RiggingError> {
    if unit.dimension() == wanted { Ok(()) } else { Err(RiggingError::WrongUnit { wanted, got: unit }) }
}

/// How much a turnbuckle's barrel shortens the run by `turns`: it has a right and a left thread, so twice the pitch for each turn.
/// To hold the neutral, the other cable of the pair goes out by as much.
///
/// # Errors
/// When a number is missing or the pitch is not above zero.
pub fn turnbuckle_shortens(turns: f64, pitch: Length) -> Result<Length, RiggingError> {
    super::error::finite(positive(pitch)? * (2.0 * turns))
}

/// How many threads may show outside a turnbuckle's barrel: the kit's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThreadsShowing {
    /// The fewest.
    pub least: u32,
    /// The most.
    pub most: u32,
}

impl ThreadsShowing {
    /// Three at the most at each end once the tension is set (AC 43.13-1B, 7-179).
    pub const USUAL: Self = Self { least: 0, most: 3 };

    /// Whether as many may show at one end.
    #[must_use]
    pub fn allows(self, showing: u32) -> bool {
        (self.least..=self.most).contains(&showing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metrology::Beyond;
    use proptest::prelude::*;

    fn chart() -> TensionChart {
        let points = [(30.0, 22.0), (50.0, 27.0), (70.0, 32.0), (90.0, 37.0), (110.0, 42.0)];
        TensionChart::new(&points, (Unit::Fahrenheit, Unit::PoundForce), 5.0, 2.0).expect("a chart")
    }

    fn fahrenheit(value: f64) -> Estimate {
        Estimate::new(value, 0.0, Unit::Fahrenheit)
    }

    proptest! {
        #[test]
        fn straight_between_the_points(at in 30.0..110.0_f64) {
            let target = chart().target(fahrenheit(at)).expect("inside");
            prop_assert!((target - (22.0 + (at - 30.0) / 4.0)).abs() < 1e-9);
            let celsius = Estimate::new((at - 32.0) / 1.8, 0.0, Unit::Celsius);
            if let Ok(same) = chart().target(celsius) {
                prop_assert!((same - target).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn never_beyond_the_chart_or_the_table() {
        assert!(matches!(chart().target(fahrenheit(29.9)), Err(CableError::Outside(_))));
        assert!(matches!(chart().target(fahrenheit(110.1)), Err(CableError::Outside(_))));
        let table = TensiometerTable::new(&[(20.0, 30.0), (40.0, 60.0)], Unit::PoundForce).expect("a table");
        let read = |dial| table.tension(Estimate::new(dial, 0.5, Unit::One));
        let tension = read(30.0).expect("inside");
        assert!(
            (tension.value - 45.0).abs() < 1e-12 && (tension.u - 0.75).abs() < 1e-12,
            "1 1/2 lb a mark: {tension:?}"
        );
        assert!(matches!(read(19.9), Err(CableError::Outside(_))) && matches!(read(40.1), Err(CableError::Outside(_))));
    }

    #[test]
    fn more_is_allowed_above_than_below() {
        let verdict =
            |pounds| chart().judge(Estimate::new(pounds, 0.25, Unit::PoundForce), fahrenheit(70.0)).expect("inside");
        assert_eq!(verdict(36.0), Verdict::In, "32 +5/−2");
        // A thermometer that was read twice: what is not known of its own uncertainty counts too (Welch and Satterthwaite).
        let warm = Estimate { dof: 1.0, ..Estimate::new(70.0, 0.5, Unit::Fahrenheit) };
        let tension = Estimate::new(36.5, 0.2, Unit::PoundForce);
        assert_eq!(chart().judge(tension, warm).expect("inside"), Verdict::CantTell);
        assert_eq!(verdict(29.0), Verdict::Out(Beyond::Low));
        assert_eq!(verdict(29.8), Verdict::CantTell);
        // 20 daN are 45 lb.
        let newtons = chart().judge(Estimate::new(20.0, 0.1, Unit::Decanewton), fahrenheit(70.0));
        assert_eq!(newtons, Ok(Verdict::Out(Beyond::High)));
    }

    #[test]
    fn a_doubtful_thermometer_makes_a_doubtful_tension() {
        let tension = Estimate::new(36.5, 0.2, Unit::PoundForce);
        assert_eq!(chart().judge(tension, fahrenheit(70.0)), Ok(Verdict::In));
        assert_eq!(chart().judge(tension, Estimate::new(70.0, 2.0, Unit::Fahrenheit)), Ok(Verdict::CantTell));
    }

    #[test]
    fn a_barrel_has_two_threads() {
        let pitch = Length::from_inches(1.0 / 32.0);
        let shortened = turnbuckle_shortens(1.5, pitch).expect("a barrel");
        assert!((shortened.inches() - 3.0 / 32.0).abs() < 1e-12);
        assert!(matches!(TensiometerTable::new(&[(1.0, 2.0)], Unit::PoundForce), Err(CableError::Chart(_))));
        assert!(matches!(TensiometerTable::new(&[(1.0, 2.0), (2.0, 3.0)], Unit::Inch), Err(CableError::Rigging(_))));
    }
}
