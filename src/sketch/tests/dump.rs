//! Every drawing on one page, to be looked at: `cargo test --lib sketch::tests::dump -- --ignored`, with the file's name in
//! `TRAMMEL_DRAWINGS`.

use std::fmt::Write;

use super::Book;
use crate::procedure::{Progress, aircraft};
use crate::record::Units;
use crate::sketch::{Element, Sketch, whole_aircraft};

fn svg(sketch: &Sketch) -> String {
    let mut out =
        format!("<svg class='sketch' style='width:{0}px' viewBox='0 0 {0} {1}'>", sketch.width, sketch.height);
    for element in sketch.elements() {
        let _ = match element {
            Element::Path { d, class } => write!(out, "<path class='{class}' d='{d}'/>"),
            Element::Text { at: (x, y), anchor, class, text } => {
                write!(out, "<text class='{class}' x='{x}' y='{y}' text-anchor='{anchor}'>{text}</text>")
            }
        };
    }
    out + "</svg>"
}

#[test]
#[ignore = "writes a page to look at"]
fn every_drawing() {
    let mut page = format!(
        "<meta charset=utf-8><style>body{{font-family:sans-serif;background:#f7f5ee}}figure{{display:inline-block;width:328px;margin:6px;vertical-align:top;border:1px solid #ccc;font-size:11px}}{}</style>",
        include_str!("../../../style/30-drawings.css")
    );
    let mut put = |sketch: &Sketch, name: &str| {
        let _ = write!(page, "<figure>{}{name}: {}</figure>", svg(sketch), sketch.title);
    };
    let mixed = [Progress::Done, Progress::UnderWay, Progress::Stale, Progress::Waits, Progress::NotStarted];
    for book in [Book::example(0), Book::example(1), Book::blank(Units::Inches)] {
        let airframe = book.airframe();
        let mut works = aircraft(&airframe, &book.ledger);
        put(&whole_aircraft(&airframe, &works), "whole");
        for (place, work) in works.iter_mut().enumerate() {
            work.progress = mixed[place % 5];
        }
        put(&whole_aircraft(&airframe, &works), "mixed");
    }
    let mut last = String::new();
    super::figures::each(
        &Book::example(usize::from(std::env::var("TRAMMEL_SECOND").is_ok())),
        |procedure, path, slot, sketch| {
            let drawn = svg(sketch);
            if slot.is_some() && drawn != last {
                put(sketch, &format!("{} {path} {}", procedure.id, slot.unwrap_or_default()));
                last = drawn;
            }
        },
    );
    let file = std::env::var("TRAMMEL_DRAWINGS").expect("TRAMMEL_DRAWINGS names the page");
    std::fs::write(file, page).expect("written");
}
