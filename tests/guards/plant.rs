//! The slips, planted in honest readings. Written without the guards' own arithmetic: digits are moved as text, fractions by the
//! trade's list.

use trammel::procedure::{Context, LastTyped, Slip, StepKind, TakenReading, WrongMode, context_of};
use trammel::quantity::{Quantity, Unit, print_number};
use trammel::record::Mode;

use super::bench::{Bench, Chance, to_step};
use super::walk::Moment;

/// The rows of the table, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Planted {
    WrongDigit,
    TapeStart,
    WholeSet,
    Fraction,
    Transposed,
    WrongSide,
    BothSides,
    Sign,
    LeftRelative,
    LeftAbsolute,
    ZeroedHere,
    SameAgain,
    Point,
    OtherUnit,
}

impl Planted {
    pub(crate) const ALL: [Self; 14] = [
        Self::WrongDigit,
        Self::TapeStart,
        Self::WholeSet,
        Self::Fraction,
        Self::Transposed,
        Self::WrongSide,
        Self::BothSides,
        Self::Sign,
        Self::LeftRelative,
        Self::LeftAbsolute,
        Self::ZeroedHere,
        Self::SameAgain,
        Self::Point,
        Self::OtherUnit,
    ];

    /// What happened at the instrument or the keys.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Self::WrongDigit => "one digit wrong",
            Self::TapeStart => "one pull from the 1 or the 10 mark, nothing taken off",
            Self::WholeSet => "every pull of the set from that mark (asked at the first)",
            Self::Fraction => "another fraction: mirrored about the half, or of another division",
            Self::Transposed => "two neighbouring digits changed places",
            Self::WrongSide => "read on the other side of the airframe",
            Self::BothSides => "left and right both typed for each other",
            Self::Sign => "the question of sign answered the wrong way round",
            Self::LeftRelative => "protractor left relative after a step that zeroed it",
            Self::LeftAbsolute => "protractor left absolute where it has to be zeroed first",
            Self::ZeroedHere => "protractor zeroed on the face that it is read on",
            Self::SameAgain => "the last number typed again, for another reading",
            Self::Point => "decimal point left out",
            Self::OtherUnit => "read in the other unit of length",
        }
    }

    /// Whether a doubt names it.
    pub(crate) const fn named_by(self, slip: Slip) -> bool {
        match self {
            Self::WrongDigit => false,
            Self::TapeStart | Self::WholeSet => matches!(slip, Slip::TapeStart(_)),
            Self::Fraction => matches!(slip, Slip::Fraction),
            Self::Transposed => matches!(slip, Slip::Transposed),
            Self::WrongSide | Self::BothSides => matches!(slip, Slip::Swapped),
            Self::Sign => matches!(slip, Slip::Sign),
            Self::LeftRelative => matches!(slip, Slip::Mode(WrongMode::LeftRelative)),
            Self::LeftAbsolute => matches!(slip, Slip::Mode(WrongMode::LeftAbsolute)),
            Self::ZeroedHere => matches!(slip, Slip::Mode(WrongMode::ZeroedHere)),
            Self::SameAgain => matches!(slip, Slip::SameAgain),
            Self::Point => matches!(slip, Slip::Point),
            Self::OtherUnit => matches!(slip, Slip::OtherUnit),
        }
    }

    /// Whether there is a name for it.
    pub(crate) const fn is_named(self) -> bool {
        !matches!(self, Self::WrongDigit)
    }

    /// Whether the doubt can know what was meant.
    pub(crate) const fn knows(self) -> bool {
        !matches!(
            self,
            Self::WrongDigit
                | Self::WrongSide
                | Self::BothSides
                | Self::LeftRelative
                | Self::LeftAbsolute
                | Self::ZeroedHere
                | Self::SameAgain
                | Self::OtherUnit
        )
    }
}

/// A slip planted: what is typed, and what is known at that moment when that differs from the honest moment.
pub(crate) struct Plant {
    pub(crate) what: Planted,
    pub(crate) typed: f64,
    pub(crate) context: Option<Context>,
}

/// Every slip that could happen to this reading, once each.
pub(crate) fn plants(moment: &Moment<'_>, bench: &mut Bench) -> Vec<Plant> {
    let honest = moment.honest;
    let (unit, step, role) = (moment.instrument.unit, moment.instrument.step, moment.slot.role.as_str());
    let mut found = Vec::new();
    let mut plant = |what, typed: Option<f64>| {
        // A slip that types the honest number is none.
        found.extend(typed.filter(|typed| *typed != honest).map(|typed| Plant { what, typed, context: None }));
    };
    let shown = print_number(honest.abs(), unit, step);
    plant(Planted::WrongDigit, wrong_digit(&shown, &mut bench.chance).map(|size| size.copysign(honest)));
    let first = moment.run.steps[moment.place].begun().is_none_or(|set| set.readings.is_empty());
    if role == "tape" {
        let start =
            if unit == Unit::Inch { bench.chance.pick(&[1.0, 10.0]) } else { bench.chance.pick(&[10.0, 100.0]) };
        plant(if first { Planted::WholeSet } else { Planted::TapeStart }, Some(honest + start));
    }
    if unit == Unit::Inch {
        plant(Planted::Fraction, other_fraction(&shown, step, &mut bench.chance).map(|size| size.copysign(honest)));
    }
    plant(Planted::Transposed, transposed(&shown, &mut bench.chance).map(|size| size.copysign(honest)));
    if let Some(partner) = &moment.slot.partner {
        plant(Planted::WrongSide, Some(bench.read(moment.check, partner, role)));
    }
    if moment.slot.ask.is_some() {
        plant(Planted::Sign, Some(-honest));
    }
    if role == "protractor" {
        let zeroed_first = matches!(moment.slot.id.as_str(), "direct" | "reversed");
        // The face that it was, or should have been, zeroed on stands at any angle.
        let zero = bench.chance.within(8.0);
        match moment.context.switched_to {
            Some(Mode::Relative) => plant(Planted::LeftAbsolute, Some(to_step(honest + zero, step))),
            Some(Mode::Absolute) => plant(Planted::LeftRelative, Some(to_step(honest - zero, step))),
            None => {}
        }
        if zeroed_first {
            let nothing = bench.chance.normal(bench.scatter(role, &moment.slot.id));
            plant(Planted::ZeroedHere, Some(to_step(nothing, step)));
        }
        plant(Planted::Point, shown.replacen('.', "", 1).parse::<f64>().ok().map(|size| size.copysign(honest)));
    } else {
        let other = if unit == Unit::Inch { (honest * 25.4).round() } else { (honest / 25.4 * 10.0).round() / 10.0 };
        plant(Planted::OtherUnit, Some(other));
    }
    // The other side's number is the slip of the wrong side.
    let other_quantity = |last: &&LastTyped| last.value.unit == unit && last.title != moment.context.other_side;
    let last = moment.context.last.as_ref().filter(other_quantity);
    plant(Planted::SameAgain, last.map(|last| last.value.value));
    found.extend(both_sides(moment, bench));
    found
}

/// The whole step with left and right typed for each other, at the first reading of the second side.
fn both_sides(moment: &Moment<'_>, bench: &mut Bench) -> Option<Plant> {
    let partner = moment.slot.partner.as_ref()?;
    let mut step = moment.run.steps[moment.place].clone();
    let blind = matches!(step.step.kind, StepKind::Measure { blind: true, .. });
    let set = step.attempts.last_mut().filter(|set| !blind && set.of(&moment.slot.id).next().is_none())?;
    set.of(partner).next()?;
    let role = &moment.slot.role;
    for TakenReading { slot, value, .. } in &mut set.readings {
        if slot == partner {
            *value = Quantity::new(bench.read(moment.check, &moment.slot.id, role), value.unit, value.step);
        }
    }
    let Moment { procedure, airframe, run, slot, instrument, .. } = moment;
    let context = context_of(procedure, airframe, run, &step, slot, instrument);
    let typed = bench.read(moment.check, partner, role);
    (typed != moment.honest).then_some(Plant { what: Planted::BothSides, typed, context: Some(context) })
}

/// The number with one of its digits another; of a fraction only the whole inches.
fn wrong_digit(shown: &str, chance: &mut Chance) -> Option<f64> {
    let (whole, fraction) = split(shown);
    let places: Vec<usize> = whole.char_indices().filter(|(_, sign)| sign.is_ascii_digit()).map(|(at, _)| at).collect();
    let at = *places.get(chance.below(places.len().max(1)))?;
    let digit = char::from(b'0' + u8::try_from(chance.below(10)).ok()?);
    let changed = format!("{}{digit}{}", &whole[..at], &whole[at + 1..]);
    Some(changed.parse::<f64>().ok()? + fraction)
}

/// Two neighbouring digits, of a fraction only of the whole inches, with their places changed; a decimal point stays.
fn transposed(shown: &str, chance: &mut Chance) -> Option<f64> {
    let (whole, fraction) = split(shown);
    let mut signs: Vec<char> = whole.chars().collect();
    let places: Vec<usize> = (0..signs.len()).filter(|at| signs[*at].is_ascii_digit()).collect();
    let at = chance.below(places.len().checked_sub(1).filter(|pairs| *pairs > 0)?);
    if signs[places[at]] == '0' {
        return None;
    }
    signs.swap(places[at], places[at + 1]);
    Some(signs.into_iter().collect::<String>().parse::<f64>().ok()? + fraction)
}

/// Fractions that the trade takes for each other (job knowledge, common practice, no source): eighths, quarters and sixteenths
/// counted from the wrong inch, and the right number of lines of the wrong kind.
fn other_fraction(shown: &str, step: f64, chance: &mut Chance) -> Option<f64> {
    let (whole, _) = split(shown);
    let (top, bottom) = shown.rsplit(' ').next()?.split_once('/')?;
    let (top, bottom) = (top.parse::<f64>().ok()?, bottom.parse::<f64>().ok()?);
    let mut choices = Vec::new();
    if (4.0..=16.0).contains(&bottom) {
        choices.push((bottom - top) / bottom);
    }
    if top < bottom / 2.0 && bottom >= 4.0 {
        choices.push(top / (bottom / 2.0));
    }
    if bottom * 2.0 * step <= 1.0 {
        choices.push(top / (bottom * 2.0));
    }
    let fraction = *choices.get(chance.below(choices.len().max(1)))?;
    Some(if whole.is_empty() { 0.0 } else { whole.parse::<f64>().ok()? } + fraction)
}

/// "227 7/16" into "227" and 0.4375; "2.6" into "2.6" and 0.
fn split(shown: &str) -> (&str, f64) {
    let part = |text: &str| {
        text.split_once('/')
            .map_or(0.0, |(top, bottom)| top.parse::<f64>().unwrap_or(0.0) / bottom.parse::<f64>().unwrap_or(1.0))
    };
    match shown.split_once(' ') {
        Some((whole, fraction)) => (whole, part(fraction)),
        None if shown.contains('/') => ("", part(shown)),
        None => (shown, 0.0),
    }
}
