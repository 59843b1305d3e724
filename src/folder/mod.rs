//! A folder on somebody's server, spoken to by WebDAV (RFC 4918), as the place where records are kept in step.
//!
//! Every phone writes files of its own and reads everybody's, so that no two phones ever write the same file:
//!
//! | in the folder | what it is |
//! |---|---|
//! | `AIRFRAME_DEVICE.json` | a record file: every entry of the airframe that the device held when it wrote it |
//! | `photos/DIGEST.jpg` | a photo, put once, never changed |
//!
//! Merging is set union, so that it does not matter in which order files are read, or how often. A file is written only over the version
//! of it that was read (`If-Match`). A file that is damaged is refused whole. What answers is hostile until it is parsed: of a listing
//! only names of the two forms above are taken, and the addresses in it are never followed.
//!
//! Deliberately absent: deleting anything in the folder.

mod listing;
mod memory;
mod patient;
mod photos;
mod place;
mod step;
mod trouble;
mod wire;
mod words;

pub use listing::{Listed, listing};
pub use memory::Memory;
pub use patient::TRIES;
pub use place::{NoPlace, basic_authorization, folder_address};
pub use step::{Local, Outcome, bring_into_step};
pub use trouble::Trouble;
pub use wire::{Answer, Dropped, Method, Request, Wire};
pub use words::{asking, other_tab, outbox_words, waits_words};
