//! Every sentence about a run that a person reads: one place, so that the screen, the record and the export say the same.

use crate::language::{self, tr, words};
use crate::metrology::{
    Beyond, Budget, Estimate, Rule, Verdict, conformity_words, prints_as_zero, probability_of_conformity, rough,
};
use crate::procedure::{Adjuster, Check, CheckResult, FittedCheck, Formula, Missing, State, StepState};
use crate::quantity::{Quantity, Unit, print, print_number};
use crate::record::{SpecValue, Specification, SpecifiedItem, Tolerance};

/// What stops a correction that would open the joint too far.
pub(super) fn beyond_gap_limit() -> &'static str {
    words!(
        "Opening the joint that far would pass the manual's gap limit. Do not. Ask the kit's support what may be shimmed or moved."
    )
}

/// What stops a correction that would take an adjuster past what the sheet allows.
pub(super) fn beyond_the_most() -> &'static str {
    words!(
        "That would pass the limit on the sheet for what may be moved here: thread, shim or travel. Do not. Ask the kit's support."
    )
}

/// What is said when no adjuster within reach brings the check in.
pub(super) fn out_of_reach() -> &'static str {
    words!(
        "Nothing that may be moved here brings this in. Stop, look for what is holding it, and ask the kit's support."
    )
}

/// What is said of a correction that the limits of what may be moved leave little room.
pub(super) fn all_that_is_left() -> &'static str {
    words!(
        "That is about all that the limits leave, and it keeps little room. If it does not come in, do not force it: ask the kit's \
         support."
    )
}

/// What earlier airframes of the type say of how far a check answers: "2 earlier airframes of
/// this type answered such moves: counted on here is 0.83 times what geometry says."
pub(super) fn precedent(airframes: usize, ratio: f64) -> String {
    let times = print_number(ratio, Unit::One, 0.01);
    tr!(
        "An earlier airframe of this type answered such moves: counted on here is {times} times what geometry says."
            | "{n} earlier airframes of this type answered such moves: counted on here is {times} times what geometry says."
                % airframes as u64,
        times
    )
}

/// The words of a run that a screen asks for by what it shows.
#[derive(Debug)]
pub struct Words;

impl Words {
    /// The verdict in a word or two.
    #[must_use]
    pub fn verdict(verdict: Verdict) -> &'static str {
        match verdict {
            Verdict::In => words!("in"),
            Verdict::Out(_) => words!("out"),
            Verdict::CantTell => words!("can't tell"),
            Verdict::NotJudged => words!("not judged"),
        }
    }

    /// A step's state in a word or two.
    #[must_use]
    pub fn state(state: State) -> &'static str {
        match state {
            State::Open => words!("to do"),
            State::Done => words!("done"),
            State::Stale => words!("stale"),
            State::Blocked => words!("shut"),
        }
    }

    /// A value of a check, printed as finely as its readings are worth.
    #[must_use]
    pub fn value(result: &CheckResult) -> String {
        printed(result, result.estimate.value)
    }

    /// A number of a check's kind, printed to a step.
    #[must_use]
    pub fn number(number: f64, unit: Unit, step: f64) -> String {
        print(number, unit, step)
    }

    /// "give or take 0.08°".
    #[must_use]
    pub fn uncertainty(result: &CheckResult) -> String {
        tr!("give or take {amount}", amount = left_open(result))
    }

    /// What stands under a verdict: how sure it is and what most of that comes from, how probable it is that the value is
    /// inside, from how many sets, what the sheet asks for, and the rule where it is not the usual one.
    #[must_use]
    pub fn footing(result: &CheckResult, sheet: Option<String>) -> String {
        let mut sentences: Vec<String> = Vec::new();
        if result.estimate.u > 0.0 {
            let mut sure = Self::uncertainty(result);
            if let Some(sources) = sources(&result.budget) {
                sure = tr!("{uncertainty}, from {sources}", uncertainty = sure, sources);
            }
            if result.sets > 1 {
                let sets = result.sets;
                sure = tr!("{uncertainty}, from {sets} sets with nothing moved between", uncertainty = sure, sets);
            }
            sentences.push(format!("{}.", capitalised(&sure)));
            if let Some(limits) = result.limits {
                let probability = conformity_words(probability_of_conformity(result.estimate, limits));
                sentences.push(format!("{}.", capitalised(&probability)));
            }
        }
        sentences.extend(sheet.map(|sheet| tr!("The sheet: {sheet}.", sheet)));
        if result.rule == Rule::Plain && result.limits.is_some() {
            sentences.push(tr!("Judged plainly, as the sheet says: the number alone decides."));
        }
        sentences.join(" ")
    }

    /// An item of the specification with its page: "−2.60° ± 0.20° (page 4-2, revision A)".
    #[must_use]
    pub fn sheet(item: &SpecifiedItem) -> String {
        let page = if item.source.is_empty() { String::new() } else { format!(" ({})", item.source) };
        format!("{}{page}", Self::tolerance(&item.value))
    }

    /// What the check should read next: "expect −2.61° (give or take 0.09°)".
    #[must_use]
    pub fn prediction(predicted: Estimate, step: f64) -> String {
        tr!(
            "expect {value} (give or take {amount})",
            value = print(predicted.value, predicted.unit, step),
            amount = rough(predicted.expanded(), predicted.unit)
        )
    }

    /// The limits of an item as the sheet would print them: "−2.60° ± 0.20°", "0 in to 1/8 in", "at least 5/16 in".
    #[must_use]
    pub fn tolerance(item: &SpecValue) -> String {
        let text = |quantity: &Quantity| print(quantity.value, quantity.unit, 0.0);
        match (&item.nominal, &item.tolerance) {
            (Some(nominal), Tolerance::PlusMinus { by }) if nominal.value == 0.0 => format!("0 ± {}", text(by)),
            (Some(nominal), Tolerance::PlusMinus { by }) => format!("{} ± {}", text(nominal), text(by)),
            (None, Tolerance::PlusMinus { by }) => format!("± {}", text(by)),
            (_, Tolerance::Limits { lower: Some(lower), upper: Some(upper) }) => {
                tr!("{least} to {most}", least = text(lower), most = text(upper))
            }
            (_, Tolerance::Limits { lower: Some(lower), upper: None }) => {
                tr!("at least {amount}", amount = text(lower))
            }
            (_, Tolerance::Limits { lower: None, upper: Some(upper) }) => tr!("at most {amount}", amount = text(upper)),
            (Some(nominal), _) => text(nominal),
            // An option is a key; what was typed stays as it is.
            (None, _) => {
                item.words.as_deref().map_or_else(|| tr!("not entered: recorded, not judged"), language::of_file)
            }
        }
    }

    /// A step's title with its gate: "Pitch, clamped".
    #[must_use]
    pub fn step_title(step: &StepState) -> String {
        step_title(step)
    }

    /// What is said first at a hold point that may be signed; `accepted`: something before it is not in and was accepted as it is.
    #[must_use]
    pub fn ready(accepted: bool) -> &'static str {
        if accepted {
            words!("Everything before this is done.")
        } else {
            words!("Everything before this is done and in.")
        }
    }

    /// What keeps a hold point shut, one sentence.
    #[must_use]
    pub fn missing(missing: &Missing, steps: &[StepState]) -> String {
        let title = steps.get(missing.place()).map(step_title).unwrap_or_default();
        let why = match missing {
            Missing::NotDone(_) => tr!("not done yet."),
            Missing::NotIn(_, verdict) => format!("{}.", Self::verdict(*verdict)),
            Missing::Stale(_) => tr!("stale. Something was moved since; measure it again."),
            Missing::SamePerson(_) => tr!("the second reader is the first reader. Somebody else has to read it."),
            Missing::Item(_, what) => tr!("left to do: {what}", what),
            Missing::Holes(place) => steps.get(*place).map(|step| step.holes.missing()).unwrap_or_default(),
        };
        // A title that asks is a sentence of its own.
        if title.ends_with('?') { format!("{title} {}", capitalised(&why)) } else { tr!("{title}: {why}", title, why) }
    }
}

/// Fills `{key}` with the words of an item of the specification; a key that has none becomes "the one that the manual names".
#[must_use]
pub fn fill(text: &str, specification: &Specification) -> String {
    let mut filled = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        filled.push_str(before);
        let Some((key, after)) = after.split_once('}') else {
            filled.push('{');
            rest = after;
            continue;
        };
        let known = specification.words(key).filter(|words| !words.is_empty());
        filled.push_str(&known.map_or_else(|| tr!("the manual's"), language::of_file));
        rest = after;
    }
    filled.push_str(rest);
    // A sentence that begins with the manual's word begins large.
    if text.starts_with('{') { capitalised(&filled) } else { filled }
}

/// What an uncertainty comes from: every source that makes up a tenth of it (of its square, which is what adds), each once.
fn sources(budget: &Budget) -> Option<String> {
    let all = budget.combined().powi(2);
    let mut found: Vec<(String, f64)> = Vec::new();
    for component in &budget.components {
        let (words, share) = (component.source.words().to_owned(), component.contribution().powi(2));
        match found.iter_mut().find(|(known, _)| *known == words) {
            Some((_, sum)) => *sum += share,
            None => found.push((words, share)),
        }
    }
    let large = found.into_iter().filter(|(_, share)| *share >= all / 10.0).map(|(words, _)| words);
    large.reduce(|one, other| tr!("{one} and {other}", one, other))
}

/// The words with a large first letter.
pub(super) fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

pub(super) fn step_title(step: &StepState) -> String {
    let title = &step.step.title;
    let at_gate = |gate: &String| tr!("{title}, {gate}", title, gate = language::of_gate(gate));
    step.gate.as_ref().map_or_else(|| title.clone(), at_gate)
}

/// A move in words: "Slide the block aft 3/4 in". A whole number and its fraction stay on one line.
#[must_use]
pub fn order(adjuster: &Adjuster, amount: &Quantity) -> String {
    let order = if amount.value < 0.0 { &adjuster.minus } else { &adjuster.plus };
    let printed = print(amount.value.abs(), amount.unit, amount.step);
    let amount_printed = match printed.rsplit_once(' ') {
        Some((number, unit)) => format!("{} {unit}", number.replace(' ', "\u{a0}")),
        None => printed,
    };
    match amount.unit {
        Unit::One if amount.value.abs() == 1.0 => tr!("{order} 1 turn", order),
        Unit::One => tr!("{order} {amount} turns", order, amount = amount_printed),
        _ => tr!("{order} {amount}", order, amount = amount_printed),
    }
}

/// What a check's reading means to somebody standing there: "0.30° too far tail end low", with the limits left to the mark.
pub(super) fn meaning(check: &Check, result: &CheckResult) -> Option<String> {
    let limits = result.limits?;
    let aim = limits.middle().or(limits.lower).or(limits.upper)?;
    let off = result.estimate.value - aim;
    let word = if off < 0.0 { &check.minus } else { &check.plus };
    let amount = printed(result, off.abs());
    if prints_as_zero(&amount) || word.is_empty() { None } else { Some(tr!("{word} by {amount}", word, amount)) }
}

/// What is said where a check's own reading is not in, and all readings together are.
pub(super) fn in_by_all(fitted: &FittedCheck) -> String {
    tr!(
        "By all readings together it is {value}. Nothing has to be moved: measure this once more, with the instrument laid on anew.",
        value = fitted.words
    )
}

/// What is said where nothing may be moved for a check.
pub(super) fn no_adjuster(check: &Check, verdict: Verdict) -> Option<String> {
    match verdict {
        Verdict::Out(_) if matches!(check.formula, Formula::Agreement { .. }) => Some(tr!(
            "The two readers differ by more than their readings leave open. Both read again, each without the other's number. If they \
             differ again, look for the cause: the place, how the instrument lies, which way it is read."
        )),
        Verdict::Out(Beyond::Low | Beyond::High) => Some(tr!(
            "{check}: outside the manual's limit and there is nothing to adjust for it here. Stop. Read it again, look for the \
             cause, and ask the kit's support. Do not drill.",
            check = check.title
        )),
        Verdict::CantTell => Some(tr!(
            "{check}: cannot be shown to be inside the manual's limit. Measure it with something finer, or ask the kit's support.",
            check = check.title
        )),
        Verdict::In | Verdict::NotJudged => None,
    }
}

pub(super) fn strange_response(predicted: f64, seen: f64, unit: Unit) -> String {
    tr!(
        "The last move should have changed this by {predicted} and changed it by {seen}. Something is springing, slipping or pivoting \
         elsewhere: look at the clamps, the joint and the supports before you move anything again. If the move was entered \
         wrongly, strike it out in the record.",
        predicted = rough_signed(predicted, unit),
        seen = rough_signed(seen, unit)
    )
}

pub(super) fn tail_offset(offset: Estimate, limit: Option<f64>, sensitivity: f64) -> String {
    let (by, amount) = (rough(offset.value.abs(), offset.unit), rough(offset.expanded(), offset.unit));
    let times = format!("{sensitivity:.1}");
    let position = if offset.value.abs() < offset.expanded() / 100.0 {
        tr!(
            "These two distances put the tail on the centre line, give or take {amount}: a tape error counts {times} times.",
            amount,
            times
        )
    } else if offset.value > 0.0 {
        tr!(
            "These two distances put the tail to the RIGHT of the centre line by {by}, give or take {amount}: a tape error counts \
             {times} times.",
            by,
            amount,
            times
        )
    } else {
        tr!(
            "These two distances put the tail to the LEFT of the centre line by {by}, give or take {amount}: a tape error counts \
             {times} times.",
            by,
            amount,
            times
        )
    };
    let weak = limit.map(|limit| {
        let limit = print(limit, offset.unit, fine_step(offset.unit));
        tr!("That cannot prove the sheet's {limit} at the tail.", limit)
    });
    weak.map_or(position.clone(), |weak| format!("{position} {weak}"))
}

pub(super) fn better_distances(bar: f64, string: f64, unit: Unit) -> String {
    let length = if unit == Unit::Inch { "10 ft" } else { "3 m" };
    tr!(
        "Better: a string or laser on the centre line, read with a rule (give or take {string}), or the same two distances from the \
         ends of a {length} bar clamped square across the front (give or take {bar}).",
        string = rough(string, unit),
        length,
        bar = rough(bar, unit)
    )
}

pub(super) fn once_more(result: &CheckResult) -> String {
    tr!(
        "Between the limits, but one of them lies inside what the readings leave open (give or take {amount}). Measure it again \
         before you move anything: the two sets count together.",
        amount = left_open(result)
    )
}

pub(super) fn measure_again(result: &CheckResult) -> String {
    tr!(
        "The limit lies inside what the readings leave open (give or take {amount}). Read again with a finer instrument.",
        amount = left_open(result)
    )
}

/// A number of a check's kind, as finely as its readings are worth; of an agreement as a percentage of what is allowed.
fn printed(result: &CheckResult, number: f64) -> String {
    if result.agreement {
        tr!("{percent} % of what two readers may differ", percent = format!("{:.0}", number * 100.0))
    } else {
        print(number, result.estimate.unit, result.step)
    }
}

/// What the readings leave open on either side.
fn left_open(result: &CheckResult) -> String {
    let expanded = result.estimate.expanded();
    if result.agreement { format!("{:.0} %", expanded * 100.0) } else { rough(expanded, result.estimate.unit) }
}

fn fine_step(unit: Unit) -> f64 {
    match unit {
        Unit::Inch => 1.0 / 64.0,
        Unit::Metre => 0.0001,
        Unit::Degree => 0.01,
        Unit::One => 1.0,
        _ => 0.1,
    }
}

pub(super) fn rough_signed(number: f64, unit: Unit) -> String {
    let sign = if number < 0.0 { "\u{2212}" } else { "+" };
    format!("{sign}{}", rough(number.abs(), unit))
}
