//! What is read and tapped: paragraphs, buttons, links, fields, choices, the entry pad.

mod field;
mod instrument;
mod leave;
mod own;
mod pad;
mod plain;
mod said;
mod sign;
mod talk;
mod typing;

pub(crate) use field::{choice_of, number_field, numbered_choice_of, text_field};
pub(crate) use instrument::instrument_form;
pub(crate) use leave::{Leave, leave_to_listen};
pub(crate) use pad::{PadWork, pad_panel};
pub(crate) use plain::{
    Keyed, Text, button, button_when, group, guide, keyed, latch, link, list, named, para, part, row, says, tick,
};
pub(crate) use sign::{drawn_field, drawn_view, who_field};
pub(crate) use talk::{Ears, talk};
