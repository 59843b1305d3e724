use super::*;
use crate::procedure::{StepKind, faults, procedures, read_procedure, write_procedure};

fn say(procedure: &mut Procedure, part: Part, words: &[(&str, &str)]) {
    for (key, words) in words {
        set(procedure, part, key, words).unwrap_or_else(|why| panic!("{part} {key}: {why}"));
    }
}

fn option(procedure: &Procedure, part: Part, key: &str, words: &str) -> String {
    let found = fields(procedure, part).into_iter().find(|field| field.key == key).expect(key);
    let (FieldForm::One(options) | FieldForm::Any(options)) = found.form else { panic!("{key} is no choice") };
    options.into_iter().find(|(_, title)| title.contains(words)).expect(words).0
}

/// A bench that is levelled by a foot, written from nothing in the order in which somebody would.
fn written() -> Procedure {
    let mut procedure = blank();
    let all = &mut procedure;
    say(
        all,
        Part::About,
        &[
            ("title", "Level a bench"),
            ("purpose", "So that what is built on it is straight."),
            ("tools", "Digital protractor\nSpanner"),
            ("cautions", "Keep fingers from under the foot."),
        ],
    );
    let protractor = add(all, Kind::Instrument, "protractor");
    let limit = add(all, Kind::Number, "Level of the bench");
    say(all, limit, &[("form", "toleranced-angle"), ("help", "By the drawing.")]);
    let apart = add(all, Kind::Number, "Between the feet");
    say(all, apart, &[("form", "length"), ("help", "Measured.")]);
    let check = add(all, Kind::Check, "Level");
    say(all, check, &[("dimension", "angle"), ("plus", "Left end high"), ("minus", "Right end high")]);
    let foot = add(all, Kind::Adjuster, "Left foot");
    say(all, foot, &[("plus", "Raise the left foot"), ("minus", "Lower the left foot"), ("inches", "0.01")]);
    say(all, foot, &[("millimetres", "0,2")]);
    let accept = add(all, Kind::Step(None), "Accept the protractor");
    say(all, accept, &[("kind", "instrument"), ("role", "protractor")]);
    let read = add(all, Kind::Step(None), "Read the bench");
    say(all, read, &[("kind", "measure"), ("check", "level"), ("text", "Lay it along the bench.\nRead it.")]);
    let Part::Step(at) = read else { panic!("a step") };
    for title in ["One way round", "Turned round"] {
        let reading = add(all, Kind::Reading(at), title);
        say(
            all,
            reading,
            &[
                ("place", "In the middle of the bench."),
                ("question", "Which end is high?"),
                ("plus", "The LEFT end"),
                ("minus", "The RIGHT end"),
            ],
        );
    }
    say(all, check, &[("reading-one-way-round", "plus"), ("reading-turned-round", "plus"), ("error-cancels", "yes")]);
    let judged = option(all, check, "judged-by", "Level of the bench");
    let foot_key = option(all, check, "adjusters", "Left foot");
    say(all, check, &[("judged-by", &judged), ("adjusters", &foot_key)]);
    let base = option(all, foot, "base-level", "Between the feet");
    say(all, foot, &[("base-level", &base)]);
    let hold = add(all, Kind::Step(None), "Sign");
    say(all, hold, &[("kind", "hold"), ("statement", "The bench is level."), ("second-person", "yes")]);
    assert_eq!(protractor, Part::Instrument(0));
    procedure.id = "level-a-bench".to_owned();
    procedure.version = 1;
    procedure
}

#[test]
fn a_procedure_is_written_from_nothing_and_reads_back() {
    let procedure = written();
    assert_eq!(faults(&procedure), []);
    assert_eq!(read_procedure(&write_procedure(&procedure)).expect("reads"), procedure);
    assert_eq!(procedure.adjusters[0].disturbs, ["level"]);
}

/// What a blank one says is missing, and what is said of each thing that is not chosen yet.
#[test]
fn what_is_missing_is_said_where_it_is() {
    let mut procedure = blank();
    let said = |procedure: &Procedure| -> Vec<(Part, String)> {
        faults(procedure).iter().map(|fault| (part_of(procedure, &fault.place).0, fault.what.clone())).collect()
    };
    let has = |procedure: &Procedure, part: Part, what: &str| {
        let all = said(procedure);
        assert!(all.iter().any(|(at, words)| *at == part && words.contains(what)), "{part} {what}: {all:?}");
    };
    has(&procedure, Part::About, "no title");
    has(&procedure, Part::About, "no steps");
    let step = add(&mut procedure, Kind::Step(None), "Read it");
    set(&mut procedure, step, "kind", "measure").expect("a kind");
    has(&procedure, step, "nothing is read");
    has(&procedure, step, "not chosen yet");
    let check = add(&mut procedure, Kind::Check, "Span");
    has(&procedure, check, "no step measures it");
    let adjuster = add(&mut procedure, Kind::Adjuster, "Shim");
    has(&procedure, adjuster, "no smallest amount");
    has(&procedure, adjuster, "one way and the other");
    set(&mut procedure, step, "title", " ").expect("words");
    has(&procedure, step, "no title");
}

/// Every field of every part of every procedure that comes with the app can be written back as it reads, and nothing changes.
#[test]
fn every_field_of_every_procedure_writes_back_what_it_reads() {
    let mut count = 0;
    for procedure in procedures() {
        let lists = outline(procedure).into_iter().flat_map(|section| section.parts);
        let mut parts: Vec<Part> = lists.map(|(part, _)| part).collect();
        for part in parts.clone() {
            if let Part::Step(at) = part {
                parts.extend(readings_of(procedure, at).into_iter().flat_map(|list| list.parts).map(|(part, _)| part));
            }
        }
        parts.push(Part::About);
        for part in parts {
            assert_eq!(part.to_string().parse(), Ok(part));
            for field in fields(procedure, part) {
                if let FieldForm::One(options) = &field.form {
                    let known = options.iter().any(|(key, _)| *key == field.value);
                    assert!(known, "{} {part} {}: {}", procedure.id, field.key, field.value);
                }
                let mut copy = procedure.clone();
                set(&mut copy, part, &field.key, &field.value).unwrap_or_else(|why| panic!("{part}: {why}"));
                sorted(&mut copy);
                let mut same = procedure.clone();
                sorted(&mut same);
                assert_eq!(copy, same, "{} {part} {}", procedure.id, field.key);
                count += 1;
            }
        }
    }
    assert!(count > 5_000, "{count}");
}

/// The order in which an adjuster names what it disturbs, and a mean its readings, means nothing.
fn sorted(procedure: &mut Procedure) {
    procedure.adjusters.iter_mut().for_each(|adjuster| adjuster.disturbs.sort());
    for check in &mut procedure.checks {
        if let crate::procedure::Formula::Balance { plus, minus, .. } = &mut check.formula {
            plus.sort();
            minus.sort();
        }
    }
}

#[test]
fn twins_name_each_other_and_nobody_else_does() {
    let mut procedure = written();
    let at = StepAt { group: None, place: 1 };
    add(&mut procedure, Kind::Reading(at), "Once more");
    set(&mut procedure, Part::Reading(at, 0), "partner", "turned-round").expect("a twin");
    let partners = |procedure: &Procedure| -> Vec<Option<String>> {
        at.slots(procedure).expect("readings").iter().map(|slot| slot.partner.clone()).collect()
    };
    let some = |key: &str| Some(key.to_owned());
    assert_eq!(partners(&procedure), [some("turned-round"), some("one-way-round"), None]);
    set(&mut procedure, Part::Reading(at, 2), "partner", "turned-round").expect("a twin");
    assert_eq!(partners(&procedure), [None, some("once-more"), some("turned-round")]);
    remove(&mut procedure, Part::Reading(at, 1));
    assert_eq!(partners(&procedure), [None, None]);
}

#[test]
fn parts_are_added_moved_and_taken_out() {
    let mut procedure = written();
    shift(&mut procedure, Part::Step(StepAt { group: None, place: 0 }), true);
    assert_eq!(procedure.steps[0].title, "Read the bench");
    shift(&mut procedure, Part::Step(StepAt { group: None, place: 0 }), false);
    assert_eq!(procedure.steps[0].title, "Read the bench", "the first stays first");
    let again = add(&mut procedure, Kind::Step(None), "Read the bench");
    let Part::Step(at) = again else { panic!("a step") };
    assert_eq!(at.of(&procedure).expect("a step").id, "read-the-bench-2");
    remove(&mut procedure, Part::Adjuster(0));
    assert!(procedure.checks[0].adjusters.is_empty(), "nobody serves it any more");
    for part in
        [Part::Number(99), Part::Check(99), Part::Step(StepAt { group: Some(9), place: 0 }), Part::Reading(at, 9)]
    {
        remove(&mut procedure, part);
        shift(&mut procedure, part, true);
        assert_eq!(fields(&procedure, part), [], "what is not there has no fields");
        assert!(set(&mut procedure, part, "title", "x").is_err());
    }
}

#[test]
fn a_group_is_renamed_wherever_it_is_repeated() {
    let mut procedure = written();
    let group = add(&mut procedure, Kind::Group, "All of it");
    let inside = add(&mut procedure, Kind::Step(Some(0)), "Look");
    assert_eq!(inside, Part::Step(StepAt { group: Some(0), place: 0 }));
    let pass = add(&mut procedure, Kind::Step(None), "Again, bolted");
    say(&mut procedure, pass, &[("kind", "pass"), ("gate", "bolted"), ("of", "all-of-it")]);
    set(&mut procedure, group, "name", "Everything").expect("a name");
    let Part::Step(at) = pass else { panic!("a step") };
    assert!(matches!(&at.of(&procedure).expect("there").kind, StepKind::Pass { of, .. } if of == "everything"));
    assert_eq!(faults(&procedure), []);
}

#[test]
fn a_closed_form_says_itself_what_it_gives_and_asks_for_its_inputs() {
    let mut procedure = written();
    set(&mut procedure, Part::Check(0), "way", "form:difference").expect("a way");
    let asked: Vec<String> = fields(&procedure, Part::Check(0)).into_iter().map(|field| field.key).collect();
    assert!(asked.contains(&"from-a".to_owned()) && asked.contains(&"from-b".to_owned()), "{asked:?}");
    assert!(faults(&procedure).iter().any(|fault| fault.what.contains("missing")));
    for (input, reading) in [("from-a", "One way"), ("from-b", "Turned")] {
        let source = option(&procedure, Part::Check(0), input, reading);
        set(&mut procedure, Part::Check(0), input, &source).expect("a source");
    }
    assert_eq!(faults(&procedure), []);
    set(&mut procedure, Part::Check(0), "way", "mean").expect("a way");
    assert!(fields(&procedure, Part::Check(0)).iter().all(|field| !field.key.starts_with("from-")));
}

#[test]
fn what_cannot_be_is_refused_and_changes_nothing() {
    let mut procedure = written();
    let before = procedure.clone();
    for (part, key, words) in [
        (Part::Adjuster(0), "inches", "a little"),
        (Part::Adjuster(0), "inches", "-1"),
        (Part::Adjuster(0), "inches", "inf"),
        (Part::Reading(StepAt { group: None, place: 1 }, 0), "repeats", "0"),
        (Part::Check(0), "dimension", "colour"),
        (Part::About, "title", &"x".repeat(5_000)),
        (Part::About, "nothing", "x"),
    ] {
        let why = set(&mut procedure, part, key, words).expect_err(words);
        assert!(!why.is_empty());
        assert_eq!(procedure, before, "{key}");
    }
}

/// Whatever somebody does in whatever order: every part can be asked for its fields, what is wrong can be said, a page can show it,
/// and what is written reads back as it is.
#[test]
fn no_order_of_changes_breaks_a_procedure() {
    let mut random = fastrand::Rng::with_seed(1);
    let mut below = move |most: usize| random.usize(..most.max(1));
    let built_in = |place| procedures().nth(place).expect("a procedure").clone();
    let starts = [blank(), written(), built_in(4), built_in(9)];
    for mut procedure in starts {
        for _ in 0..200 {
            let place = below(4);
            let at = StepAt { group: (below(3) == 0).then_some(below(2)), place };
            let kinds = [
                Kind::Number,
                Kind::Instrument,
                Kind::Check,
                Kind::Adjuster,
                Kind::Group,
                Kind::Step(at.group),
                Kind::Reading(at),
            ];
            let parts = [
                Part::About,
                Part::Number(place),
                Part::Instrument(place),
                Part::Check(place),
                Part::Adjuster(place),
                Part::Group(place),
                Part::Step(at),
                Part::Reading(at, below(3)),
            ];
            let part = parts[below(parts.len())];
            match below(12) {
                0 | 1 => drop(add(
                    &mut procedure,
                    kinds[below(kinds.len())],
                    ["Left", "", "Left / right", "wing-span"][place],
                )),
                2 => remove(&mut procedure, part),
                3 => shift(&mut procedure, part, place > 1),
                _ => {
                    let asked = fields(&procedure, part);
                    let Some(field) = asked.get(below(asked.len())) else { continue };
                    let words = match &field.form {
                        FieldForm::One(options) => options.get(below(options.len())).map(|(key, _)| key.clone()),
                        FieldForm::Any(options) => Some(
                            options
                                .iter()
                                .filter(|_| below(2) == 0)
                                .map(|(key, _)| key.as_str())
                                .collect::<Vec<_>>()
                                .join("\n"),
                        ),
                        FieldForm::Yes => Some("yes".to_owned()),
                        FieldForm::Number | FieldForm::Line | FieldForm::Lines => Some(place.to_string()),
                    };
                    // What cannot be is refused; that is an answer too.
                    let _ = set(&mut procedure, part, &field.key, &words.unwrap_or_default());
                }
            }

            for fault in faults(&procedure) {
                let (at, _) = part_of(&procedure, &fault.place);
                assert!(!fields(&procedure, at).is_empty(), "a fault leads to what can be mended: {fault}");
            }
            assert!(!outline(&procedure).is_empty());
            let text = write_procedure(&procedure);
            assert_eq!(crate::record::from_json::<Procedure>(&text).expect("reads"), procedure);
        }
    }
}

#[test]
fn keys_stand_in_addresses_whatever_the_title_is_written_in() {
    for (title, key) in [
        ("Fl\u{fc}gel: Schr\u{e4}nkung, gro\u{df}", "fluegel-schraenkung-gross"),
        ("  Empennage \u{e0} l'\u{e9}querre ", "empennage-a-l-equerre"),
        ("\u{7ffc}", "part"),
        ("--", "part"),
    ] {
        assert_eq!(change::slug(title, |_| false), key);
        assert_eq!(change::slug(title, |taken| taken == key), format!("{key}-2"));
    }
    let long = change::slug(&"word ".repeat(40), |_| false);
    assert!(long.len() <= 40 && !long.ends_with('-'), "{long}");
    for id in ["", "a b", "A", "a/b", "\u{e4}", &"x".repeat(61)] {
        let mut procedure = written();
        procedure.id = id.to_owned();
        assert!(faults(&procedure).iter().any(|fault| fault.what.contains("small letters")), "{id}");
    }
}
