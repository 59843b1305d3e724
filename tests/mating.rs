//! The mating procedure as a builder would go through it, folded from entries.
//!
//! Figures marked "trade" are plane geometry on the invented airframe's coordinates (common practice, no source).

mod support;

use support::Logbook;
use trammel::metrology::{Beyond, Verdict};
use trammel::procedure::{Hold, Missing, State, Words};
use trammel::record::{Body, SpecValue};

fn read_pitch(book: &mut Logbook, gate: &str, values: [f64; 4]) {
    let step = format!("{gate}/pitch");
    for (slot, value) in ["direct", "direct", "reversed", "reversed"].into_iter().zip(values) {
        book.read(&step, slot, value);
    }
}

fn read_twist(book: &mut Logbook, gate: &str, frame: f64, aft: f64) {
    let step = format!("{gate}/twist");
    for (slot, value) in [("frame", frame), ("frame-reversed", frame), ("aft", aft), ("aft-reversed", aft)] {
        book.read(&step, slot, value);
    }
}

fn read_square(book: &mut Logbook, gate: &str, left: f64, right: f64) {
    let step = format!("{gate}/square");
    for (slot, value) in [("left", left), ("right", right)] {
        for _ in 0..3 {
            book.read(&step, slot, value);
        }
    }
}

fn read_offset(book: &mut Logbook, gate: &str, value: f64) {
    for _ in 0..2 {
        book.read(&format!("{gate}/offset"), "string", value);
    }
}

fn good_pass(book: &mut Logbook, gate: &str) {
    read_pitch(book, gate, [-2.6; 4]);
    read_twist(book, gate, 0.1, 0.1);
    read_square(book, gate, 227.4375, 227.4375);
    read_offset(book, gate, 0.0);
}

fn to_first_pass() -> Logbook {
    let mut book = Logbook::example(0);
    book.confirm("cautions");
    book.read("reversal", "first", 0.3);
    book.read("reversal", "turned", -0.1);
    for step in ["level-frame", "centre-line", "aft-point", "offer-up"] {
        book.confirm(step);
    }
    book.read("twins", "twin-left", 17.25);
    book.read("twins", "twin-right", 17.25);
    for (slot, gap) in
        [("upper-left", 1.0 / 32.0), ("upper-right", 0.0), ("lower-left", 1.0 / 16.0), ("lower-right", 1.0 / 32.0)]
    {
        book.read("gaps", slot, gap);
    }
    book
}

#[test]
fn pitch_too_low_raises_the_saddle_five_eighths() {
    // Trade: −2.90° wants −2.60°, saddle 122 in behind the joint: 0.639 in, set as 41/64 → 5/8 in with a 1/32 in saddle.
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-2.9; 4]);
    let run = book.fold();
    let step = run.step("set/pitch").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::Out(Beyond::Low));
    let advice = step.advice.as_ref().expect("advice");
    let correction = advice.correction.as_ref().expect("a correction");
    assert_eq!(correction.moves[0].order, "Raise the saddle 5/8 in");
    assert!((correction.predicted.value + 2.607).abs() < 1e-3, "{:?}", correction.predicted);
    assert_eq!(correction.moves[0].instead("1/2").expect("a length").value, 0.5);
    assert_eq!(correction.moves[0].instead("-1/2").expect("the other way").value, -0.5);
    assert!(correction.moves[0].instead("half a turn").is_err());
    assert_eq!(run.current, run.place("set/pitch"));
}

#[test]
fn a_move_makes_stale_what_depends_on_it_and_the_second_move_is_better() {
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-3.6; 4]);
    read_twist(&mut book, "set", 0.1, 0.1);
    assert_eq!(book.fold().step("set/twist").expect("the step").state, State::Done);
    // Geometry says 1.0° of 2 1/8 in; the structure gives 0.7° of it.
    book.moved("set/pitch", "saddle", 2.125);
    let run = book.fold();
    assert_eq!(run.step("set/pitch").expect("the step").state, State::Stale);
    assert_eq!(run.step("set/twist").expect("the step").state, State::Stale, "twist depends on the saddle too");
    read_pitch(&mut book, "set", [-2.9; 4]);
    let run = book.fold();
    let advice = run.step("set/pitch").expect("the step").advice.clone().expect("advice");
    let correction = advice.correction.expect("a correction");
    // 0.3° at the learned 0.7 of geometry: 0.639 / 0.7 = 0.91 in.
    let amount = correction.moves[0].amount.value;
    assert!((amount - 0.91).abs() < 0.04, "learned: {amount}");
}

#[test]
fn a_response_that_cannot_be_stops_the_work() {
    // 1.0° predicted and 0.2° seen: something binds.
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-3.6; 4]);
    book.moved("set/pitch", "saddle", 2.125);
    read_pitch(&mut book, "set", [-3.4; 4]);
    let advice = book.fold().step("set/pitch").expect("the step").advice.clone().expect("advice");
    assert!(advice.correction.is_none(), "no further move is offered");
    assert!(advice.stop.expect("a stop").contains("springing"));
    // Reading it once more, with nothing moved in between, changes nothing of that.
    read_pitch(&mut book, "set", [-3.4; 4]);
    let advice = book.fold().step("set/pitch").expect("the step").advice.clone().expect("advice");
    assert!(advice.correction.is_none() && advice.stop.is_some_and(|stop| stop.contains("springing")));
}

#[test]
fn left_longer_means_tail_right_close_left_then_open_right() {
    // Trade: a difference of 1/16 in is 0.41 in at the tail and 0.096 in of joint.
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-2.6; 4]);
    read_twist(&mut book, "set", 0.1, 0.1);
    read_square(&mut book, "set", 227.0 + 15.0 / 32.0, 227.0 + 13.0 / 32.0);
    let run = book.fold();
    let step = run.step("set/square").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::CantTell, "at the limit, give or take");
    assert!(step.advice.as_ref().expect("advice").correction.is_none(), "first measure it again");
    read_square(&mut book, "set", 227.0 + 15.0 / 32.0, 227.0 + 13.0 / 32.0);
    let run = book.fold();
    let step = run.step("set/square").expect("the step");
    let advice = step.advice.as_ref().expect("advice");
    let correction = advice.correction.as_ref().expect("a correction");
    let orders: Vec<&str> = correction.moves.iter().map(|proposed| proposed.order.as_str()).collect();
    assert_eq!(orders, ["Close the LEFT side of the joint 1/32 in", "Open the RIGHT side of the joint 1/16 in"]);
    let closed = correction.moves[0].instead("1/64").expect("a length").value;
    assert_eq!(closed, -1.0 / 64.0, "closing counts negative without a minus being typed");
    assert!(advice.better[0].contains("RIGHT of the centre line by 0.41 in"), "{:?}", advice.better);
    assert!(correction.stale.contains(&"Pitch, set".to_owned()), "{:?}", correction.stale);
}

#[test]
fn the_joint_is_never_opened_past_the_manuals_limit() {
    let mut book = to_first_pass();
    // 1/4 in of difference wants 0.384 in of joint: the left has 1/32 to give, the right may open by 3/32.
    read_square(&mut book, "set", 227.0 + 19.0 / 32.0, 227.0 + 11.0 / 32.0);
    let run = book.fold();
    let step = run.step("set/square").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::Out(Beyond::High));
    let advice = step.advice.as_ref().expect("advice");
    assert!(advice.correction.is_none());
    let stop = advice.stop.as_ref().expect("a stop");
    assert!(stop.contains("the gap limit") && stop.contains("kit's support"), "{stop}");
}

/// 1/8 in of difference wants 0.192 in of joint for the middle, which the limit forbids; 1/8 in, all that the gaps leave, brings the
/// difference to 0.043 in of the 1/16 that the sheet allows. The closed form, which aims at the middle, gives up here.
#[test]
fn what_the_gaps_leave_is_used_and_said_to_be_all() {
    let mut book = to_first_pass();
    read_square(&mut book, "set", 227.0 + 17.0 / 32.0, 227.0 + 13.0 / 32.0);
    let run = book.fold();
    let advice = run.step("set/square").expect("the step").advice.as_ref().expect("advice");
    let correction = advice.correction.as_ref().expect("a correction");
    let orders: Vec<&str> = correction.moves.iter().map(|proposed| proposed.order.as_str()).collect();
    assert_eq!(orders, ["Close the LEFT side of the joint 1/32 in", "Open the RIGHT side of the joint 3/32 in"]);
    assert!((correction.predicted.value - 0.043).abs() < 2e-3, "{:?}", correction.predicted);
    assert!(advice.better[0].contains("ask the kit's support"), "{:?}", advice.better);
}

/// Pitch was read before square is: what the joint's move does to it stands beside the order.
#[test]
fn the_other_checks_that_were_read_are_foretold() {
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-2.6; 4]);
    read_square(&mut book, "set", 227.5, 227.4375);
    read_square(&mut book, "set", 227.5, 227.4375);
    let run = book.fold();
    let advice = run.step("set/square").expect("the step").advice.as_ref().expect("advice");
    let others = &advice.correction.as_ref().expect("a correction").others;
    assert!(others.len() == 1 && others[0].starts_with("Pitch \u{2212}2.6"), "{others:?}");
}

#[test]
fn equal_distances_are_in_but_cannot_prove_the_tail() {
    let mut book = to_first_pass();
    read_square(&mut book, "set", 227.4375, 227.4375);
    let run = book.fold();
    let step = run.step("set/square").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::In);
    let advice = step.advice.as_ref().expect("notes");
    assert!(advice.correction.is_none());
    assert!(advice.better[0].contains("cannot prove the sheet's 1/8 in"), "{:?}", advice.better);
    assert!(advice.better[1].contains("string") && advice.better[1].contains("10 ft bar"), "{:?}", advice.better);
}

#[test]
fn near_the_limit_the_protractor_cannot_tell_and_says_what_could() {
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-2.4; 4]);
    let run = book.fold();
    let step = run.step("set/pitch").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::CantTell);
    let advice = step.advice.as_ref().expect("advice");
    assert!(advice.better[0].contains("Measure it again"), "{:?}", advice.better);
    assert!(advice.better[1].contains("two heights"), "{:?}", advice.better);
    assert!(advice.correction.is_none(), "a move now would chase noise");
    read_pitch(&mut book, "set", [-2.4; 4]);
    let run = book.fold();
    let step = run.step("set/pitch").expect("the step");
    assert_eq!(step.result().expect("complete").sets, 2, "nothing was moved: the two sets count together");
    let correction = step.advice.as_ref().expect("advice").correction.clone().expect("now a move to the middle");
    // The middle would be 7/16 in; a longer move leaves more open, and 13/32 in is likelier to come in.
    assert_eq!(correction.moves[0].order, "Lower the saddle 13/32 in");
}

/// Just inside the limit of −2.4°: with a guard band nobody can tell; judged plainly, the number alone decides, and the words under
/// the verdict say so.
#[test]
fn a_sheet_that_judges_plainly_lets_the_number_decide_and_says_so() {
    let mut book = to_first_pass();
    read_pitch(&mut book, "set", [-2.45; 4]);
    let judged =
        |book: &Logbook| book.fold().step("set/pitch").and_then(|step| step.result().cloned()).expect("complete");
    let guarded = judged(&book);
    assert_eq!(guarded.verdict, Verdict::CantTell);
    let words = Words::footing(&guarded, None);
    assert_eq!(
        words,
        "Give or take 0.08°, from the graduation and the zero as it was set. About 90 in 100 that it is inside."
    );
    let plainly = SpecValue { words: Some("plainly".to_owned()), ..SpecValue::default() };
    book.specify("acceptance", plainly, "");
    let plain = judged(&book);
    assert_eq!((plain.verdict, plain.estimate), (Verdict::In, guarded.estimate), "the same number, another rule");
    assert!(Words::footing(&plain, None).ends_with("Judged plainly, as the sheet says: the number alone decides."));
}

fn to_hold_a() -> Logbook {
    let mut book = to_first_pass();
    good_pass(&mut book, "set");
    book.confirm("clamp");
    good_pass(&mut book, "clamped");
    book.read("edge", "worst", 0.375);
    book
}

fn blind(book: &mut Logbook, by: &str, pitch: f64, right: f64) {
    let builder = std::mem::replace(&mut book.by, by.to_owned());
    book.read("reread", "direct", pitch);
    book.read("reread", "reversed", pitch);
    book.read("reread", "left", 227.4375);
    book.read("reread", "right", right);
    book.by = builder;
}

#[test]
fn the_hold_before_drilling_lists_what_is_missing_and_wants_a_second_person() {
    let mut book = to_hold_a();
    let run = book.fold();
    let place = run.place("hold-a").expect("the hold");
    let Some(Hold::Shut(missing)) = &run.steps[place].hold else { panic!("{:?}", run.steps[place].hold) };
    assert_eq!(
        missing,
        &[Missing::NotDone(run.place("reread").expect("the step"))],
        "only the second reader is missing"
    );
    assert_eq!(run.step("pilot").expect("the step").state, State::Blocked);

    blind(&mut book, "a.  builder", -2.6, 227.4375);
    let run = book.fold();
    let Some(Hold::Shut(missing)) = &run.step("hold-a").expect("the hold").hold else { panic!("the same person") };
    assert!(matches!(missing[0], Missing::SamePerson(_)), "{}", Words::missing(&missing[0], &run.steps));

    blind(&mut book, "B. Helper", -2.6, 227.4375 + 1.0 / 32.0);
    assert!(matches!(book.fold().step("hold-a").expect("the hold").hold, Some(Hold::Ready(_))));
    book.sign("hold-a", "A. Builder");
    assert!(
        matches!(book.fold().step("hold-a").expect("the hold").hold, Some(Hold::Ready(_))),
        "who read may not sign as the second person"
    );
    book.sign("hold-a", "B. Helper");
    assert_eq!(book.fold().step("hold-a").expect("the hold").hold, Some(Hold::Signed));
    assert_eq!(book.fold().step("pilot").expect("the step").state, State::Open);
}

#[test]
fn an_accented_name_in_other_case_is_the_same_person() {
    let mut book = to_first_pass();
    book.by = "émile".to_owned();
    good_pass(&mut book, "set");
    book.confirm("clamp");
    good_pass(&mut book, "clamped");
    book.read("edge", "worst", 0.375);
    blind(&mut book, "ÉMILE", -2.6, 227.4375);
    let run = book.fold();
    let Some(Hold::Shut(missing)) = &run.step("hold-a").expect("the hold").hold else { panic!("the same person") };
    assert!(matches!(missing[0], Missing::SamePerson(_)), "{missing:?}");
}

#[test]
fn a_second_reader_who_disagrees_keeps_the_hold_shut() {
    let mut book = to_hold_a();
    blind(&mut book, "B. Helper", -2.6, 227.4375 + 3.0 / 32.0);
    let run = book.fold();
    let Some(Hold::Shut(missing)) = &run.step("hold-a").expect("the hold").hold else { panic!("shut") };
    assert!(matches!(missing[0], Missing::NotIn(_, Verdict::Out(_))), "{missing:?}");
}

#[test]
fn a_move_after_the_signature_voids_it_until_measured_again() {
    let mut book = to_hold_a();
    blind(&mut book, "B. Helper", -2.6, 227.4375);
    book.sign("hold-a", "B. Helper");
    book.moved("clamped/pitch", "saddle", 0.0625);
    let run = book.fold();
    assert!(matches!(run.step("hold-a").expect("the hold").hold, Some(Hold::Void(_))));
    assert_eq!(run.step("pilot").expect("the step").state, State::Blocked);
    assert_eq!(run.current, run.place("clamped/pitch"), "back to the clamped pass, not to the one before it");

    good_pass(&mut book, "clamped");
    blind(&mut book, "B. Helper", -2.6, 227.4375);
    let hold = book.fold().step("hold-a").expect("the hold").hold.clone();
    assert!(matches!(hold, Some(Hold::Void(_))), "the edge distance was read before the move: {hold:?}");
    book.read("edge", "worst", 0.375);
    assert!(matches!(book.fold().step("hold-a").expect("the hold").hold, Some(Hold::Ready(_))), "to be signed again");
    book.sign("hold-a", "B. Helper");
    assert_eq!(book.fold().step("pilot").expect("the step").state, State::Open);
}

#[test]
fn a_changed_number_of_the_specification_asks_for_a_new_signature() {
    let mut book = to_hold_a();
    blind(&mut book, "B. Helper", -2.6, 227.4375);
    book.sign("hold-a", "B. Helper");
    let item = book.airframe().specification.item("twist").expect("entered").value.clone();
    let changed = book.specify("twist", item, "invented sheet, page 4-2, revision B");
    let hold = |book: &Logbook| book.fold().step("hold-a").expect("the hold").clone();
    assert!(matches!(hold(&book).hold, Some(Hold::Ready(_))));
    assert_eq!(hold(&book).state, State::Stale, "what was signed is stale");
    assert_eq!(book.fold().step("pilot").expect("the step").state, State::Blocked);
    book.sign("hold-a", "B. Helper");
    assert_eq!(hold(&book).state, State::Done);
    book.put(Body::Struck { entry: changed, reason: "another airframe's revision".to_owned() });
    assert!(matches!(hold(&book).hold, Some(Hold::Ready(_))), "set back is changed too");
    assert_eq!(hold(&book).state, State::Stale);
}

#[test]
fn to_the_end() {
    let mut book = to_hold_a();
    blind(&mut book, "B. Helper", -2.6, 227.4375);
    book.sign("hold-a", "B. Helper");
    book.count("pilot", 3, 0);
    assert_eq!(book.fold().step("pilot").expect("the step").state, State::Open, "one corner is missing");
    book.count("pilot", 4, 0);
    good_pass(&mut book, "piloted");
    book.sign("hold-b", "A. Builder");
    book.count("drill", 47, 1);
    assert_eq!(book.fold().step("drill").expect("the step").state, State::Open, "a bad hole keeps it open");
    book.count("drill", 48, 0);
    good_pass(&mut book, "drilled");
    book.confirm("clean");
    good_pass(&mut book, "reassembled");
    book.sign("hold-c", "A. Builder");
    book.count("fasten", 48, 0);
    good_pass(&mut book, "settled");
    book.sign("sign", "A. Builder");
    let run = book.fold();
    assert_eq!(run.current, None, "open: {:?}", run.current.map(|place| &run.steps[place].path));
    assert_eq!(run.done(), run.steps.len());
}

#[test]
fn a_struck_reading_is_passed_over() {
    let mut book = to_first_pass();
    for value in [-2.6, -2.6, -2.6] {
        book.read("set/pitch", if value == -2.6 { "direct" } else { "reversed" }, value);
    }
    let wrong = book.read("set/square", "left", 228.4375);
    book.put(trammel::record::Body::Struck { entry: wrong, reason: "tape started at 1".to_owned() });
    read_square(&mut book, "set", 227.4375, 227.4375);
    let run = book.fold();
    assert_eq!(run.step("set/square").expect("the step").result().expect("complete").verdict, Verdict::In);
    assert_eq!(run.step("set/square").expect("the step").attempts.len(), 1);
}

#[test]
fn without_numbers_nothing_is_judged_and_nothing_is_guessed() {
    let mut book = Logbook::example(0);
    book.specify("pitch", trammel::record::SpecValue::default(), "");
    book.specify("saddle-distance", trammel::record::SpecValue::default(), "");
    read_pitch(&mut book, "set", [-3.1; 4]);
    let run = book.fold();
    let step = run.step("set/pitch").expect("the step");
    assert_eq!(step.result().expect("complete").verdict, Verdict::NotJudged);
    assert_eq!(step.state, State::Done, "recorded, not judged");
}
