//! A record in which every kind of entry stands, with photos: what files of a whole record are tried on.

#![allow(dead_code, reason = "each test crate uses its own part")]

use std::sync::Arc;

use chrono::NaiveDate;
use jpeg_encoder::{ColorType, Encoder};
use trammel::procedure::{procedure, write_procedure};
use trammel::quantity::{Quantity, Unit};
use trammel::record::{
    About, Body, Deviation, DeviationAnswer, Digest, HoleMark, InstrumentKind, MovedAdjuster, OpenItem, Photo,
    Question, Remark, Reversal, Role, SpecValue, TimeSpent,
};
use trammel::report::RecordFile;

use crate::support::{Logbook, instrument};

/// A drawn signature: two strokes.
pub(crate) const DRAWN: &str = "20,70 35,30 50,72 66,28 80,70;100,50 150,45 210,55";

/// A photo of grey bands, another one for each number, as an encoder of JPEG files writes it.
pub(crate) fn photo(number: u8) -> (Photo, Vec<u8>) {
    let (width, height) = (160_u16, 120_u16);
    let samples: Vec<u8> = (0..height)
        .flat_map(|y| (0..width).map(move |x| ((x / 8 + y / 6) as u8).wrapping_mul(23).wrapping_add(number)))
        .collect();
    let mut file = Vec::new();
    Encoder::new(&mut file, 80).encode(&samples, width, height, ColorType::Luma).expect("encodes");
    Photo::of(&file).expect("a photo")
}

/// A mating on its way, on an invented airframe, with one of every kind of entry, and the photos that it names.
pub(crate) fn every_kind() -> (Logbook, Vec<(Digest, Vec<u8>)>) {
    let mut book = Logbook::example(0);
    let mut files = Vec::new();
    let run = book.run;
    let at = |step: &str| About { run: Some(run), step: Some(step.to_owned()), entry: None };
    for (name, role) in [("A. Builder", Role::Builder), ("B. Helper", Role::Helper), ("C. Mentor", Role::Mentor)] {
        book.put(Body::PersonNamed { name: name.to_owned(), role });
    }
    book.make_key(1, None);
    let set = book.airframe().specification.items().next().map(|(key, item)| (key.to_owned(), item.entry));
    if let Some((key, entry)) = set {
        "B. Helper".clone_into(&mut book.by);
        book.put(Body::SpecificationReread { key, entry });
        "A. Builder".clone_into(&mut book.by);
    }
    let turned = |value| Quantity::new(value, Unit::Degree, 0.1);
    let reversal = Reversal { first: turned(0.1), turned: turned(-0.1) };
    book.put(Body::InstrumentReversed { role: "protractor".to_owned(), reversal });
    let own = write_procedure(procedure("level-jig").expect("built in"));
    book.put(Body::ProcedureKept { procedure: "level-jig".to_owned(), version: 2, file: Arc::from(own) });

    for step in ["cautions", "level-frame", "lay-cone", "centre-line"] {
        book.confirm(step);
    }
    let wrong = book.read("set/pitch", "direct", -26.0);
    book.put(Body::Struck { entry: wrong, reason: "the point was forgotten".to_owned() });
    for (slot, value) in [("direct", -3.4), ("direct", -3.4), ("reversed", -3.3), ("reversed", -3.4)] {
        book.read("set/pitch", slot, value);
    }
    let (shown, file) = photo(1);
    files.push((shown.digest, file));
    let caption = "The display, tail end low".to_owned();
    book.put(Body::PhotoAttached { about: at("set/pitch"), photo: shown, caption });
    let text = "The tail trestle stands on the seam of the floor.".to_owned();
    book.put(Body::NoteMade { about: at("set/pitch"), text, spoken: true });
    let (question, to) = ("Raise the saddle, or shim the block?".to_owned(), "C. Mentor".to_owned());
    let question = book.put(Body::QuestionAsked(Question { about: at("set/pitch"), question, to }));
    let amount = Quantity::new(0.625, Unit::Inch, 1.0 / 32.0);
    let proposes = Some(MovedAdjuster { run, step: "set/pitch".to_owned(), adjuster: "saddle".to_owned(), amount });
    let text = "Raise the saddle first; the block is for the last little.".to_owned();
    "C. Mentor".clone_into(&mut book.by);
    book.put(Body::RemarkMade(Remark { about: at("set/pitch"), answers: Some(question), text, proposes }));
    "A. Builder".clone_into(&mut book.by);
    book.moved("set/pitch", "saddle", 0.625);
    for (slot, value) in [("direct", -2.6), ("direct", -2.6), ("reversed", -2.6), ("reversed", -2.6)] {
        book.read("set/pitch", slot, value);
    }
    for (slot, value) in [("left", 227.71875), ("right", 227.6875)].repeat(3) {
        book.read("set/square", slot, value);
    }
    let deviation = Deviation {
        about: at("set/square"),
        found: "1/32 in between left and right".to_owned(),
        limit: "0 \u{b1} 1/64 in".to_owned(),
        reason: "The tape cannot show less.".to_owned(),
        asked: "C. Mentor".to_owned(),
    };
    let deviation = book.put(Body::DeviationRaised(deviation));
    let (name, answer) = ("C. Mentor".to_owned(), "It may stand; read it again once it is clamped.".to_owned());
    book.put(Body::DeviationAnswered(DeviationAnswer { deviation, accepted: true, name, answer }));
    let what = "Deburr the pilot's upper left corner".to_owned();
    let item = book.put(Body::ItemOpened(OpenItem { about: at("gaps"), what, blocks: Some("hold-a".to_owned()) }));
    book.put(Body::ItemClosed { item, how: "Filed and looked at.".to_owned() });
    let what = "Fetch the second trestle".to_owned();
    book.put(Body::ItemOpened(OpenItem { about: About::default(), what, blocks: None }));
    let day = NaiveDate::from_ymd_opt(2025, 10, 9).expect("a day");
    let what = "Built the two trestles".to_owned();
    book.put(Body::TimeSpent(TimeSpent { about: About::default(), day, minutes: 150, what }));
    book.count("pilot", 11, 1);
    book.lay_out("drill", &[12, 12, 8]);
    book.mark("drill", (2, 7), HoleMark::Bad, "elongated");
    book.mark("drill", (2, 7), HoleMark::Answered, "next size, asked");
    let drawn = Some(Arc::from(DRAWN));
    book.put(Body::HoldSigned { run, step: "hold-a".to_owned(), name: "B. Helper".to_owned(), drawn });
    book.specify("sheet-note", SpecValue::default(), "page 4-2");
    book.accept("wrench", instrument(InstrumentKind::TorqueWrench, Unit::InchPoundForce, 1.0, 2.0));
    (book, files)
}

/// The same as a record file.
pub(crate) fn whole_file() -> RecordFile {
    let (book, photos) = every_kind();
    RecordFile { entries: book.ledger.entries().cloned().collect(), photos, question: None }
}
