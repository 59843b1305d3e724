//! A record with an entry of every kind.

use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    About, AccuracyClass, Body, Deviation, DeviationAnswer, Digest, HoleMark, InstrumentKind, Mode, MovedAdjuster,
    OpenItem, Photo, Question, Remark, Reversal, Role, SpecValue, TimeSpent, Tolerance, ZeroError, day,
};

use super::{Logbook, instrument};

/// The invented high-wing airframe with something of everything.
pub(crate) fn every_kind() -> Logbook {
    let mut book = Logbook::example_without_run(0);
    let degrees = |value| Quantity::new(value, Unit::Degree, 0.1);
    book.put(Body::PersonNamed { name: "A. Builder".to_owned(), role: Role::Builder });
    book.put(Body::PersonNamed { name: "M. Mentor".to_owned(), role: Role::Mentor });
    book.make_key(1, Some("the phone was cleared"));
    let limits = Tolerance::Limits { lower: None, upper: Some(degrees(0.5)) };
    let value = SpecValue { nominal: Some(degrees(0.0)), tolerance: limits, words: None };
    let entry = book.specify("zero-limit", value, "page 4-2");
    book.put(Body::SpecificationReread { key: "zero-limit".to_owned(), entry });
    book.specify("acceptance", SpecValue { words: Some("plainly".to_owned()), ..SpecValue::default() }, "");
    let mut tape = instrument(InstrumentKind::Tape, Unit::Inch, 1.0 / 32.0, 1.0 / 16.0);
    tape.class = Some(AccuracyClass::II);
    tape.checked = day("2026-03-31");
    tape.due_after = Some(180);
    tape.zero = Some(ZeroError { value: 0.01, u: 0.005 });
    tape.mode = Some(Mode::Absolute);
    book.accept("tape", tape);
    let reversal = Reversal { first: degrees(0.1), turned: degrees(-0.1) };
    book.put(Body::InstrumentReversed { role: "protractor".to_owned(), reversal });
    let file: std::sync::Arc<str> = trammel::procedure::write_procedure(book.procedure()).into();
    let procedure = "mate-aft-fuselage".to_owned();
    book.put(Body::ProcedureKept { procedure: procedure.clone(), version: 1, file: file.clone() });
    book.begin("mate-aft-fuselage", 0xB);
    let run = book.run;
    book.put(Body::RunStarted { run, procedure, version: 1, file: Some(file) });
    let step = "set/pitch".to_owned();
    let about = About { run: Some(run), step: Some(step.clone()), entry: None };
    book.confirm("level-frame");
    let reading = book.read(&step, "direct", -2.6);
    book.moved(&step, "saddle", 1.0 / 16.0);
    book.count("set/pitch", 12, 0);
    book.lay_out("drill", &[12, 12]);
    book.mark("drill", (1, 3), HoleMark::Bad, "too near the edge");
    let of_reading = About { entry: Some(reading), ..about.clone() };
    let text = "Look at the clamp <b>first</b>".to_owned();
    book.put(Body::NoteMade { about: about.clone(), text, spoken: true });
    let photo = Photo { digest: Digest::of(b"a photo"), bytes: 300_000, width: 2000, height: 1500 };
    book.put(Body::PhotoAttached { about: of_reading.clone(), photo, caption: "the display".to_owned() });
    let deviation = book.put(Body::DeviationRaised(Deviation {
        about: about.clone(),
        found: "\u{2212}2.6\u{b0}".to_owned(),
        limit: "\u{2212}2.5\u{b0} to 2.5\u{b0}".to_owned(),
        reason: "the hole is drilled".to_owned(),
        asked: "M. Mentor".to_owned(),
    }));
    let (name, answer) = ("M. Mentor".to_owned(), "=It may stand, \"once\"".to_owned());
    book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted: true, name, answer }));
    let blocks = Some("drilled/pitch".to_owned());
    let item = book.put(Body::ItemOpened(OpenItem { about: about.clone(), what: "deburr".to_owned(), blocks }));
    book.put(Body::ItemClosed { item, how: "done by hand".to_owned() });
    let day = day("2026-03-04").expect("a day");
    book.put(Body::TimeSpent(TimeSpent { about: about.clone(), day, minutes: 45, what: "set up".to_owned() }));
    let (question, to) = ("Is that near enough?".to_owned(), "M. Mentor".to_owned());
    let question = book.put(Body::QuestionAsked(Question { about: about.clone(), question, to }));
    let amount = Quantity::new(0.125, Unit::Inch, 1.0 / 64.0);
    let proposes = Some(MovedAdjuster { run, step: step.clone(), adjuster: "saddle".to_owned(), amount });
    let text = "Raise it an eighth.".to_owned();
    book.put(Body::RemarkMade(Remark { about: of_reading, answers: Some(question), text, proposes }));
    let drawn = Some("10,20 30,40;50,60".into());
    book.put(Body::HoldSigned { run, step: "hold-drill".to_owned(), name: "A. Builder".to_owned(), drawn });
    book.put(Body::Struck { entry: reading, reason: "wrong side".to_owned() });
    book
}
