//! The drawings of what each measuring step reads.

use uuid::Uuid;

use super::{Book, check_apart, check_inside, points};
use crate::procedure::{Picture, Procedure, Run, StepKind, procedures};
use crate::record::{RunId, Units};
use crate::sketch::craft::Craft;
use crate::sketch::figure::{Pen, figure};
use crate::sketch::{Ink, Sketch, step_sketch};

const FILE: &str = include_str!("../figures.txt");

/// Every drawing of every measuring step, with nothing read now and with each reading read now.
pub(super) fn each(book: &Book, mut seen: impl FnMut(&Procedure, &str, Option<&str>, &Sketch)) {
    let airframe = book.airframe();
    for procedure in procedures() {
        let run = Run::fold(procedure, &airframe, RunId(Uuid::from_u128(0xC)), &book.ledger.in_force(airframe.id));
        for step in &run.steps {
            let StepKind::Measure { slots, .. } = &step.step.kind else { continue };
            let read = slots.iter().map(|slot| Some(slot.id.as_str()));
            for slot in std::iter::once(None).chain(read) {
                let sketch = step_sketch(procedure, &airframe, &run, step, slot)
                    .unwrap_or_else(|| panic!("{} {} has no drawing", procedure.id, step.path));
                seen(procedure, &step.path, slot, &sketch);
            }
        }
    }
}

fn books() -> [Book; 3] {
    [Book::example(0), Book::example(1), Book::blank(Units::Millimetres)]
}

/// Every step as the file has it, whether this airframe walks it or not.
fn every_step() -> impl Iterator<Item = (&'static str, String, crate::procedure::Step)> {
    procedures().flat_map(|found| found.laid_out().into_iter().map(|(path, _, step)| (found.id.as_str(), path, step)))
}

#[test]
fn every_measuring_step_of_every_procedure_has_a_picture() {
    for (id, path, step) in every_step() {
        let measures = matches!(step.kind, StepKind::Measure { .. });
        assert!(!measures || step.picture.is_some(), "{id} {path}");
        // Two assemblies before a joint are drawn only where there are such.
        let assemblies = step.picture.is_some_and(|picture| figure(picture).is_none());
        assert!(!assemblies || id == crate::procedure::MATE_AFT_FUSELAGE, "{id} {path}");
    }
}

#[test]
fn a_figure_has_its_pictures_name_and_every_line_reads() {
    let craft = Craft::of(&Book::example(0).airframe());
    let headings: Vec<&str> = FILE.split("\n= ").skip(1).filter_map(|figure| figure.lines().next()).collect();
    let mut names: Vec<&str> = Vec::new();
    for (id, path, step) in every_step() {
        let Some((picture, figure)) = step.picture.and_then(|picture| Some((picture, figure(picture)?))) else {
            continue;
        };
        let name = serde_json::to_value(picture).expect("a name");
        let heading = headings.iter().find(|heading| name == heading.split(' ').next().unwrap_or_default());
        let heading = heading.unwrap_or_else(|| panic!("no figure {name}"));
        assert!(
            heading.ends_with(figure.title) && figure.title.len() > 20,
            "{id} {path}: {name} draws “{}”",
            figure.title
        );
        if names.contains(heading) {
            continue;
        }
        names.push(heading);
        for line in figure.lines {
            // Whatever it depends on, it is drawn here.
            let bare =
                line.split(' ').skip_while(|part| part.starts_with(['?', '@', '%'])).collect::<Vec<_>>().join(" ");
            assert!(Pen::of(&craft, &[]).line(&bare).is_some(), "{name}: {line}");
        }
    }
    assert_eq!(names.len(), headings.len(), "every figure is used: {names:?}");
}

#[test]
fn the_published_schema_names_the_same_pictures() {
    let schema: serde_json::Value =
        serde_json::from_str(include_str!("../../../docs/schemas/procedure.schema.json")).expect("a schema");
    let names = &schema["$defs"]["step"]["properties"]["picture"]["enum"];
    let figures = FILE.split("\n= ").skip(1).filter_map(|figure| figure.split(' ').next());
    let known: Vec<&str> = ["side", "plan", "rear"].into_iter().chain(figures).collect();
    assert_eq!(*names, serde_json::json!(known));
    assert!(serde_json::from_str::<Picture>("\"portrait\"").is_err());
}

#[test]
fn everything_stays_on_the_sheet_and_apart() {
    for (which, book) in books().iter().enumerate() {
        each(book, |procedure, path, slot, sketch| {
            let context = format!("airframe {which}, {} {path} {slot:?}", procedure.id);
            check_inside(sketch, &context);
            if procedure.id != crate::procedure::MATE_AFT_FUSELAGE {
                check_apart(sketch, &context);
            }
        });
    }
}

#[test]
fn what_is_read_now_is_bold() {
    for book in books() {
        each(&book, |procedure, path, slot, sketch| {
            if procedure.id == crate::procedure::MATE_AFT_FUSELAGE {
                return;
            }
            let bold = points(sketch, Ink::Reading).len();
            assert_eq!(bold > 0, slot.is_some(), "{} {path} {slot:?}", procedure.id);
        });
    }
}

#[test]
fn left_is_left_and_right_is_right() {
    let mut sided = 0;
    for book in books() {
        each(&book, |procedure, path, slot, sketch| {
            let Some(slot) = slot.filter(|_| procedure.id != crate::procedure::MATE_AFT_FUSELAGE) else { return };
            // Seen from above or behind, with both sides on the sheet: they are lettered.
            let words = super::lettering(sketch);
            let side = slot.split('-').find(|word| matches!(*word, "left" | "right"));
            let (true, Some(side)) = (words.contains(&"L") && words.contains(&"R"), side) else { return };
            // A diagonal lies on both sides.
            if slot.contains("to-") {
                return;
            }
            let across: Vec<f64> = points(sketch, Ink::Reading).into_iter().flatten().map(|point| point.0).collect();
            let mean = across.iter().sum::<f64>() / across.len() as f64;
            assert_eq!(mean < 164.0, side == "left", "{} {path} {slot}: {mean}", procedure.id);
            sided += 1;
        });
    }
    assert!(sided > 60, "{sided} readings have a side");
}

#[test]
fn the_airframes_own_points_carry_the_tape() {
    let tape = |book: &Book| {
        let mut found = Vec::new();
        each(book, |procedure, path, slot, sketch| {
            if (procedure.id.as_str(), path, slot) == ("symmetry", "tips-tail", Some("left")) {
                found = points(sketch, Ink::Reading)[0].clone();
            }
        });
        found
    };
    // Half the span over the tip's distance along, from the invented sheets: 201/192.5 and 3905/3855.
    for (book, share) in [(Book::example(0), 201.0 / 192.5), (Book::example(1), 3905.0 / 3855.0)] {
        let [tip, post] = tape(&book)[..] else { panic!("a line") };
        assert!(((post.0 - tip.0) / (post.1 - tip.1) - share).abs() < 0.01, "{tip:?} {post:?} {share}");
    }
}
