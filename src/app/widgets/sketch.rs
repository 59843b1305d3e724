//! A sheet of shapes as inline SVG: one drawing by itself, or several beside each other.

use crate::app::prelude::*;

use crate::app::controls::group;
use crate::sketch::{Element, Sketch};

/// A sheet as one image with one accessible name. Lines and lettering get their look from the stylesheet by class.
pub(super) fn sheet(sketch: &Sketch, class: String) -> AnyView {
    let view_box = format!("0 0 {} {}", sketch.width, sketch.height);
    let shapes: Vec<AnyView> = sketch.elements().into_iter().map(element).collect();
    view! {
        <svg class=class viewBox=view_box role="img" aria-label=sketch.title.clone()>
            {shapes}
        </svg>
    }
}

fn element(element: Element) -> AnyView {
    match element {
        Element::Path { d, class } => view! { <path d=d class=class></path> },
        Element::Text { at: (x, y), anchor, class, text } => view! {
            <text x=format!("{x:.1}") y=format!("{y:.1}") text-anchor=anchor class=class>{text}</text>
        },
    }
}

/// A drawing that stands by itself: beside a step, or of the whole aircraft.
pub(crate) fn alone(sketch: &Sketch) -> AnyView {
    sheet(sketch, "sketch sketch-step".to_owned())
}

/// Several views of one thing, beside each other as far as there is room.
pub(crate) fn beside(views: &[Sketch]) -> AnyView {
    group("views", views.iter().map(|view| sheet(view, "sketch".to_owned())).collect())
}
