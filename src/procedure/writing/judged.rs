//! The fields of a check and of an adjuster.

use super::Choosable;
use super::cell::{Amount, Cell, FieldForm, Flag, Lines, Made, OneOf, Text, Visitor, options};
use super::form::{item, only_if, with_none};
use super::known::{FORM, Known, QUANTITIES, forms};
use crate::language::{later, ours, tr, words};
use crate::procedure::{Adjuster, Check, Effect, Effects, Formula, How, Input, LeverKind, Reckoned};
use crate::rigging::reckoning;

pub(super) fn check(check: &mut Check, known: &Known, visitor: &mut Visitor<'_>) {
    visitor.line("title", words!("What is it called?"), "", &mut check.title);
    let mut ways = vec![
        ("mean".to_owned(), words!("A mean of readings, less the mean of others").to_owned()),
        ("largest".to_owned(), words!("The largest of the readings").to_owned()),
        ("agreement".to_owned(), words!("Whether a second reader agrees with the first").to_owned()),
    ];
    ways.extend(forms());
    let formula = &mut Made { of: &mut check.formula, read: &way, write: &change_way };
    let hint = words!("Add the readings to a measuring step that names this, then come back here.");
    visitor.field("way", words!("How is it worked out?"), hint, FieldForm::One(ways), formula);
    let mut fixed = false;
    match &mut check.formula {
        Formula::Balance { plus, minus, error_cancels, zeroed } => {
            let mut lists = (plus, minus);
            for (key, title) in &known.readings {
                reading(key, title, &mut lists, visitor);
            }
            let hint = words!("The same tape on both sides; a protractor read both ways round.");
            let cell = &mut Flag(error_cancels);
            visitor.field("error-cancels", words!("The instrument's own error drops out"), hint, FieldForm::Yes, cell);
            zero(zeroed, visitor);
        }
        Formula::Largest { slots } => {
            let form = FieldForm::Any(known.readings.clone());
            visitor.field("readings", words!("The largest of which readings?"), "", form, &mut Lines(slots));
        }
        Formula::Agreement { with } => {
            let form = FieldForm::Any(known.measured.clone());
            visitor.field("with", words!("Which steps did the first reader take?"), "", form, &mut Lines(with));
        }
        Formula::Reckoned(reckoned) => {
            fixed = reckoning(&reckoned.by).is_some_and(|form| form.gives.is_some());
            inputs(reckoned, &known.sources(&check.id), visitor);
            opposed(reckoned, visitor);
            longer(reckoned, visitor);
            zero(&mut reckoned.zeroed, visitor);
        }
    }
    if !fixed && !matches!(check.formula, Formula::Agreement { .. }) {
        let cell = &mut OneOf(&mut check.dimension, &QUANTITIES);
        visitor.field("dimension", words!("What does it measure?"), "", options(&QUANTITIES), cell);
    }
    let none = words!("Nothing: it is recorded, not judged");
    item(
        "judged-by",
        words!("By which number of the manual is it judged?"),
        none,
        &known.items,
        visitor,
        &mut check.judged_by,
    );
    visitor.line(
        "plus",
        words!("What does a number above zero mean?"),
        words!("Tail end high, left side longer."),
        &mut check.plus,
    );
    visitor.line("minus", words!("And one below zero?"), "", &mut check.minus);
    if !known.adjusters.is_empty() {
        let (form, cell) = (FieldForm::Any(known.adjusters.clone()), &mut Lines(&mut check.adjusters));
        visitor.field("adjusters", words!("What may be moved to correct it?"), "", form, cell);
    }
    if check.adjusters.len() > 1 || check.shared {
        let hint = words!("Each takes an equal part of the correction; else the first that applies is moved.");
        let cell = &mut Flag(&mut check.shared);
        visitor.field("shared", words!("All of them are moved alike"), hint, FieldForm::Yes, cell);
    }
}

fn zero(zeroed: &mut bool, visitor: &mut Visitor<'_>) {
    let hint = words!("That costs one more step of its display.");
    visitor.field("zeroed", words!("The instrument was zeroed on the part"), hint, FieldForm::Yes, &mut Flag(zeroed));
}

type Lists<'l> = (&'l mut Vec<String>, &'l mut Vec<String>);

/// How one reading counts in a mean.
fn reading(key: &str, title: &str, lists: &mut Lists<'_>, visitor: &mut Visitor<'_>) {
    let read = |lists: &Lists<'_>| {
        let has = |list: &[String]| list.iter().any(|other| other == key);
        if has(lists.0) {
            "plus"
        } else if has(lists.1) {
            "minus"
        } else {
            ""
        }
        .to_owned()
    };
    let write = |lists: &mut Lists<'_>, words: &str| {
        lists.0.retain(|other| other != key);
        lists.1.retain(|other| other != key);
        match words {
            "plus" => lists.0.push(key.to_owned()),
            "minus" => lists.1.push(key.to_owned()),
            _ => {}
        }
    };
    let options = [("", words!("Not used")), ("plus", words!("Counts plus")), ("minus", words!("Is taken off"))];
    let options = options.iter().map(|(key, words)| ((*key).to_owned(), (*words).to_owned())).collect();
    let cell = &mut Made { of: lists, read: &read, write: &write };
    visitor.field(
        format!("reading-{key}"),
        tr!("Reading: {reading}", reading = title),
        "",
        FieldForm::One(options),
        cell,
    );
}

/// Where each input of a closed form comes from.
fn inputs(reckoned: &mut Reckoned, sources: &[(Input, String)], visitor: &mut Visitor<'_>) {
    let Some(form) = reckoning(&reckoned.by) else { return };
    // What a file says that cannot be chosen here stays as it is.
    let other = |input: &&Input| !sources.iter().any(|(known, _)| known == *input);
    let others =
        reckoned.from.values().filter(other).map(|input| (input.clone(), words!("As the file says").to_owned()));
    let sources: Vec<(Input, String)> = sources.iter().cloned().chain(others).collect();
    let options: Vec<Choosable> =
        sources.iter().enumerate().map(|(place, (_, title))| (place.to_string(), title.clone())).collect();
    for given in form.given {
        let read = |reckoned: &Reckoned| {
            let input = reckoned.from.get(given.id);
            let place = input.and_then(|input| sources.iter().position(|(source, _)| source == input));
            place.map(|place| place.to_string()).unwrap_or_default()
        };
        let write = |reckoned: &mut Reckoned, words: &str| match words
            .parse::<usize>()
            .ok()
            .and_then(|place| sources.get(place))
        {
            Some((source, _)) => drop(reckoned.from.insert(given.id.to_owned(), source.clone())),
            None => drop(reckoned.from.remove(given.id)),
        };
        let none =
            if given.optional { words!("None: it may be left out") } else { words!("Choose where it comes from") };
        let options = FieldForm::One(with_none(none, &options));
        let cell = &mut Made { of: &mut *reckoned, read: &read, write: &write };
        visitor.field(format!("from-{}", given.id), given.title, "", options, cell);
    }
}

/// The inputs that come from such a source.
fn given(reckoned: &Reckoned, such: impl Fn(&Input) -> bool) -> Vec<Choosable> {
    let given = reckoning(&reckoned.by).map(|form| form.given).unwrap_or_default();
    let given = given.iter().filter(|given| reckoned.from.get(given.id).is_some_and(&such));
    given.map(|given| (given.id.to_owned(), given.title.to_owned())).collect()
}

/// Which inputs were read with the instrument the other way.
fn opposed(reckoned: &mut Reckoned, visitor: &mut Visitor<'_>) {
    let options = given(reckoned, |_| true);
    if options.len() > 1 {
        let label = words!("Which of these has its plus the other way round on the instrument?");
        let hint = words!(
            "Tail end high against leading edge high, the display facing the same side: what the instrument is off drops out."
        );
        visitor.field("opposed", label, hint, FieldForm::Any(options), &mut Lines(&mut reckoned.opposed));
    }
}

/// Which input is the length of a tool.
fn longer(reckoned: &mut Reckoned, visitor: &mut Visitor<'_>) {
    let options = given(reckoned, |input| matches!(input, Input::Sheet(_)));
    if !options.is_empty() {
        let read = |reckoned: &Reckoned| reckoned.longer.clone().unwrap_or_default();
        let write = |reckoned: &mut Reckoned, words: &str| {
            reckoned.longer = Some(words.to_owned()).filter(|words| !words.is_empty());
        };
        let label = words!("Which of these is the length of a tool that may be longer?");
        let hint = words!("A straightedge or a level: where its reading cannot tell, a longer one is proposed.");
        let form = FieldForm::One(with_none(words!("None of them"), &options));
        visitor.field("longer", label, hint, form, &mut Made { of: reckoned, read: &read, write: &write });
    }
}

fn way(formula: &Formula) -> String {
    match formula {
        Formula::Balance { .. } => "mean".to_owned(),
        Formula::Largest { .. } => "largest".to_owned(),
        Formula::Agreement { .. } => "agreement".to_owned(),
        Formula::Reckoned(reckoned) => format!("{FORM}{}", reckoned.by),
    }
}

/// Another way begins empty; the same way keeps what it has.
fn change_way(formula: &mut Formula, words: &str) {
    if way(formula) == words {
        return;
    }
    *formula = match words {
        "largest" => Formula::Largest { slots: Vec::new() },
        "agreement" => Formula::Agreement { with: Vec::new() },
        _ => match words.strip_prefix(FORM) {
            Some(by) => Formula::Reckoned(Reckoned {
                by: by.to_owned(),
                from: Default::default(),
                zeroed: false,
                opposed: Vec::new(),
                longer: None,
            }),
            None => Formula::Balance { plus: Vec::new(), minus: Vec::new(), error_cancels: false, zeroed: false },
        },
    };
}

pub(super) fn adjuster(adjuster: &mut Adjuster, known: &Known, visitor: &mut Visitor<'_>) {
    let mating = !matches!(adjuster.lever, LeverKind::Effects(_));
    let hint = if mating { words!("How it moves the assembly is built in and stays as it is.") } else { "" };
    visitor.line("title", words!("What is it called?"), hint, &mut adjuster.title);
    visitor.line("plus", words!("The order to move it one way"), words!("Raise the left end."), &mut adjuster.plus);
    visitor.line("minus", words!("And the other way"), words!("Lower the left end."), &mut adjuster.minus);
    let settable = &mut adjuster.settable;
    item(
        "pitch",
        words!("Is it counted in turns of a thread?"),
        words!("No"),
        &known.items,
        visitor,
        &mut settable.pitch,
    );
    if settable.pitch.is_some() {
        let hint = words!("A half where the lugs of a fork must line up.");
        visitor.field(
            "turns",
            words!("Smallest part of a turn"),
            hint,
            FieldForm::Number,
            &mut Amount(&mut settable.turns),
        );
    } else {
        let hint = words!("What hands can set and repeat.");
        let cell = &mut Amount(&mut settable.inches);
        visitor.field("inches", words!("Smallest amount, inches"), hint, FieldForm::Number, cell);
        let cell = &mut Amount(&mut settable.millimetres);
        visitor.field("millimetres", words!("Smallest amount, millimetres"), hint, FieldForm::Number, cell);
    }
    if let LeverKind::Effects(Effects { on, most, with }) = &mut adjuster.lever {
        for effect in on {
            one_effect(effect, known, visitor);
        }
        let label = words!("The most that it may stand away from where it started");
        item("most", label, words!("The manual gives none"), &known.items, visitor, most);
        let others: Vec<Choosable> = known.adjusters.iter().filter(|(key, _)| *key != adjuster.id).cloned().collect();
        if most.is_some() && !others.is_empty() {
            let label = words!("What moves the same part, and counts towards that too?");
            visitor.field("with", label, "", FieldForm::Any(others), &mut Lines(with));
        }
    }
    disturbs(
        "disturbs",
        words!("What is measured again once it is moved?"),
        &known.checks,
        &mut adjuster.disturbs,
        visitor,
    );
    let label = words!("And of other procedures?");
    disturbs("elsewhere", label, &known.elsewhere, &mut adjuster.disturbs, visitor);
    only_if(&mut adjuster.only_if, &known.conditions, visitor);
}

/// What it does to one check.
fn one_effect(effect: &mut Effect, known: &Known, visitor: &mut Visitor<'_>) {
    let check = effect.check.clone();
    let title = known.checks.iter().find(|(key, _)| *key == check).map_or(check.as_str(), |(_, title)| title);
    let ways = HOW.iter().map(|(how, words)| (how_word(how), ours(words).to_owned())).collect();
    let write = |how: &mut How, words: &str| {
        if let Some((wanted, _)) = HOW.iter().find(|(wanted, _)| how_word(wanted) == words && how_word(how) != words) {
            *how = wanted.clone();
        }
    };
    let read = |how: &How| how_word(how);
    let cell = &mut Made { of: &mut effect.by, read: &read, write: &write };
    visitor.field(
        format!("how-{check}"),
        tr!("What it does to: {check}", check = title),
        "",
        FieldForm::One(ways),
        cell,
    );
    for (name, label, key) in effect.by.parts_mut() {
        let form = FieldForm::One(with_none(words!("Choose a number of the manual"), &known.items));
        visitor.field(
            format!("{name}-{check}"),
            tr!("{check}: {size}", check = title, size = label),
            "",
            form,
            &mut Text(key),
        );
    }
    let label = tr!("The first way makes it smaller: {check}", check = title);
    visitor.field(format!("reversed-{check}"), label, "", FieldForm::Yes, &mut Flag(&mut effect.reversed));
}

const NONE: String = String::new();

/// The geometries, as they begin, and what they are called.
const HOW: [(How, &str); 8] = [
    (How::Along, later::words!("It changes the length by as much")),
    (How::InRatio { of: NONE, to: NONE }, later::words!("It changes the length in the ratio of two lengths")),
    (How::OverBase { base: NONE }, later::words!("It raises one end of a base: an angle")),
    (
        How::HalfTurn { spacing: NONE },
        later::words!("It turns one wing of two: their mean and half their difference change by half"),
    ),
    (How::ThreadOnArm { arm: NONE }, later::words!("A rod turns an arm: an angle")),
    (How::StrutRise { elevation: NONE, strut_station: NONE, station: NONE }, later::words!("A strut raises a station")),
    (
        How::StrutWashout { elevation: NONE, strut_station: NONE, station: NONE, spacing: NONE },
        later::words!("A strut twists the wing: an angle"),
    ),
    (
        How::SwingToMark { arm: NONE, spacing: NONE, along: NONE, distance: NONE },
        later::words!("It swings a part about its front root, read to a mark"),
    ),
];

fn how_word(how: &How) -> String {
    match how {
        How::Along => "along",
        How::InRatio { .. } => "in-ratio",
        How::OverBase { .. } => "over-base",
        How::HalfTurn { .. } => "half-turn",
        How::ThreadOnArm { .. } => "thread-on-arm",
        How::StrutRise { .. } => "strut-rise",
        How::StrutWashout { .. } => "strut-washout",
        How::SwingToMark { .. } => "swing-to-mark",
    }
    .to_owned()
}

impl How {
    /// Its sizes: a name, what it is, and the key of the specification.
    fn parts_mut(&mut self) -> Vec<(&'static str, &'static str, &mut String)> {
        let elevation_words = words!("the strut's slope above the horizon");
        let strut_words = words!("from the wing's pins to the strut's fitting");
        let station_words = words!("from the wing's pins to where it is read");
        match self {
            Self::Along => Vec::new(),
            Self::OverBase { base } => vec![("base", words!("length of the base"), base)],
            Self::HalfTurn { spacing } => vec![("spacing", words!("front root to rear root"), spacing)],
            Self::ThreadOnArm { arm } => vec![("arm", words!("length of the arm"), arm)],
            Self::InRatio { of, to } => {
                vec![("of", words!("the amount times this"), of), ("to", words!("divided by this"), to)]
            }
            Self::SwingToMark { arm, spacing, along, distance } => vec![
                ("arm", words!("from the root to the point, across"), arm),
                ("spacing", words!("front root to rear root"), spacing),
                ("along", words!("from the point to the mark, along the fuselage"), along),
                ("distance", words!("from the point to the mark, as the tape goes"), distance),
            ],
            Self::StrutRise { elevation, strut_station, station } => vec![
                ("elevation", elevation_words, elevation),
                ("strut-station", strut_words, strut_station),
                ("station", station_words, station),
            ],
            Self::StrutWashout { elevation, strut_station, station, spacing } => vec![
                ("elevation", elevation_words, elevation),
                ("strut-station", strut_words, strut_station),
                ("station", station_words, station),
                ("spacing", words!("front spar to rear spar"), spacing),
            ],
        }
    }
}

/// Some of what an adjuster disturbs: those of the options; the others stay.
fn disturbs(
    key: &'static str,
    label: &'static str,
    options: &[Choosable],
    all: &mut Vec<String>,
    visitor: &mut Visitor<'_>,
) {
    if options.is_empty() {
        return;
    }
    let among = |check: &String| options.iter().any(|(option, _)| option == check);
    let read = |all: &Vec<String>| all.iter().filter(|check| among(check)).cloned().collect::<Vec<_>>().join("\n");
    let write = |all: &mut Vec<String>, words: &str| {
        all.retain(|check| !among(check));
        let mut chosen = Vec::new();
        // Lines cannot fail here: keys are short.
        let _ = Lines(&mut chosen).write(words);
        all.append(&mut chosen);
    };
    let cell = &mut Made { of: all, read: &read, write: &write };
    visitor.field(key, label, "", FieldForm::Any(options.to_vec()), cell);
}
