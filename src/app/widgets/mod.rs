//! Drawings on the screen: the library's sheets of shapes as inline SVG. No number is worked out here.

mod chart;
mod fitted;
mod mark;
mod sketch;
mod tape;

pub(crate) use chart::attempts;
pub(crate) use fitted::fitted;
pub(crate) use mark::mark_of;
pub(crate) use sketch::{alone, beside};
pub(crate) use tape::tape_at;
